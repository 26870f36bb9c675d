"""What every page of one printable shares: the kit, the page, the ink, and how papers look."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any, Literal, TypeVar

from kitwright.drawing.front import Looks
from kitwright.drawing.looks import DrawnLook, look_of, stand_in
from kitwright.drawing.styles import Level
from kitwright.kit.model import Paper
from kitwright.otherwise.edition import EditionNote, in_edition
from kitwright.printable.edition import EDITIONS, Edition, EditionName
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.telling.words import date_text
from kitwright.work.worked import Worked

T = TypeVar("T")


@dataclass(frozen=True)
class Job:
    """One printable in the making."""

    worked: Worked
    edition: Edition
    level: Level
    stamp: Stamp | PreviewStamp
    edition_note: EditionNote | None = None
    """What changes for a reader of this edition, where its sheet is not the kit's."""
    made: dict[tuple, Any] = field(default_factory=dict, compare=False, repr=False)
    """Pictures drawn so far, and what was slow to find, so that none is made twice."""

    @classmethod
    def for_edition(cls, worked: Worked, edition: EditionName, level: Level, stamp: Stamp | PreviewStamp | None) -> Job:
        """A printable of one edition: of the kit as it is cut there.

        Args:
            worked: the kit as a whole.
            edition: `letter` or `a4`.
            level: how much ink.
            stamp: None for a preview without a code.
        """
        page = EDITIONS[edition]
        shown = in_edition(worked, page.name)
        return cls(shown.worked, page, level, stamp or PreviewStamp(), edition_note=shown.note)

    def of(self, design: str) -> Job:
        """The same for one design of the kit; itself where there is none of that name."""
        return replace(self, worked=self.worked.of(design))

    @property
    def designs(self) -> tuple[Job, ...]:
        """The same for each design; itself for a kit of one."""
        return tuple(self if each is self.worked else replace(self, worked=each) for each in self.worked.designs)

    def once(self, key: tuple, make: Callable[[], T]) -> T:
        """What is known by this key, made if need be."""
        if key not in self.made:
            self.made[key] = make()
        return self.made[key]

    @property
    def unit(self) -> Literal["in", "mm"]:
        """The unit shown first."""
        return self.worked.unit

    @property
    def units(self) -> tuple[str, str]:
        """Both, the kit's own first."""
        return ("mm", "in") if self.unit == "mm" else ("in", "mm")

    def paper(self, key: str) -> Paper:
        return self.worked.kit.papers[key]

    def look(self, key: str, side: str = "front") -> DrawnLook:
        """How a paper's face is drawn: never by its scan, since ink counts."""
        return stand_in(look_of(self.paper(key), side))

    def shown(self, label: str, paper: str) -> DrawnLook:
        """How a piece of this paper looks on the card: by the face that shows there."""
        stack = (placed for face in self.worked.every_face for placed in face.stack)
        side = next((p.face for p in stack if (p.label, p.paper) == (label, paper)), "front")
        return self.look(paper, side)

    @property
    def looks(self) -> Looks:
        """How every face of every paper is drawn, by paper and face."""
        return {
            (key, side): self.look(key, side)
            for key, paper in self.worked.kit.papers.items()
            for side in ("front", "back")
            if paper.face(side)
        }


def state_text(job: Job) -> str:
    """Revision and date in one line."""
    if isinstance(job.stamp, PreviewStamp):
        return f"{job.stamp.mark}, not released"
    code = f", code {job.stamp.code}" if job.stamp.code else ""
    return f"Revision {job.stamp.revision}, released {date_text(job.stamp.date)}{code}"
