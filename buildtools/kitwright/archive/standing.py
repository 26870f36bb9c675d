"""Which state of a kit a page shows: its revision or preview, and the revisions that were replaced.

The printable of a replaced revision keeps its very bytes, since readers and links may rely
on them; so what replaced it is told beside it: by its address, `r1/`, by a page at that
address, and on the kit's own page. Its own foot says which revision it is, and the code page
says what became of that.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from kitwright.archive.content import Content
from kitwright.archive.downloads import Download, printables_of, workbooks_of
from kitwright.archive.drawn import handed
from kitwright.drawing.styles import Level
from kitwright.kit.kit import Kit
from kitwright.release.calendar import REVEAL, due, moment
from kitwright.release.history import History
from kitwright.release.record import Revision, released
from kitwright.release.revisions import as_published, day_of
from kitwright.release.state import preview_code
from kitwright.telling.lookup import ToldCopy, told
from kitwright.telling.moments import when_text
from kitwright.telling.words import date_text, led
from kitwright.work.worked import Worked

IN_INK: dict[Level, str] = {"full": "", "light": "light ink", "outline": "outline"}
"""What is said after the edition of an old printable."""
WORKBOOK = "the workbook"


@dataclass(frozen=True)
class State:
    """Which state of a kit a page shows."""

    line: str
    """`Revision 2, released 9 May 2027`, or that it is a preview."""
    code: str
    """The code on its printables."""
    preview: bool
    """Whether it was not released yet."""
    number: int = 0
    """Of the revision that it is; 0 of a preview."""
    older: tuple[OldRevision, ...] = ()
    """Revisions that were replaced, newest first."""


@dataclass(frozen=True)
class OldRevision:
    """A revision that was replaced, at its own address below the kit's page."""

    number: int
    line: str
    """`Revision 1, released 9 May 2027`."""
    code: str
    replaced: str
    """By what: `revision 2, released 16 May 2027`."""
    newest: int
    told: ToldCopy
    """What the newest says otherwise, and what somebody who has this one does."""
    folder: str
    """Where its printables lie: `r1/`."""
    downloads: tuple[Download, ...]
    errata: tuple[str, ...]
    """Places on the page of errata that concern it, newest first."""


def line_of(kit: Kit, revision: Revision) -> str:
    """`revision 2, released 9 May 2027`, the day in the club's own time as it was then."""
    return f"revision {revision.number}, released {date_text(day_of(kit, revision))}"


def upcoming(kit: Kit, as_of: dt.datetime | None) -> str:
    """When a kit will be public, in the club's own time; empty once it is, or where no moment counts."""
    if as_of is None or due(kit, kit.club, as_of):
        return ""
    return when_text(moment(kit, kit.club, REVEAL).local)


def standing(kit: Kit, worked: Worked, revision: Revision | None) -> tuple[State, dict[str, Content]]:
    """The state that a kit's page shows, and the printables of replaced revisions.

    Args:
        kit: as it is now.
        worked: what is shown of it.
        revision: which revision that is; None before its release.

    Returns:
        The state, and those printables by their path beside the page.
    """
    if revision is None:
        return State("Preview, not released", preview_code(worked), True), {}
    files: dict[str, Content] = {}
    older = []
    history = History(kit, released(kit)[: revision.number])
    for old in reversed(history.revisions[:-1]):
        folder, kept = f"r{old.number}/", handed(was := as_published(kit, old), old.stamp(was.kit.club.time_zone), old)
        rows = [
            replace(row, name=", ".join(filter(None, (row.name, IN_INK[ink]))))
            for ink, each in printables_of(kit, kept).items()
            for row in each
        ]
        rows += [replace(row, name=f"{row.name}, {WORKBOOK}") for row in workbooks_of(kit, kept)]
        files |= {folder + row.file: kept[row.file] for row in rows}
        older.append(
            OldRevision(
                number=old.number,
                line=led(line_of(kit, old)),
                code=old.code,
                replaced=line_of(kit, revision),
                newest=revision.number,
                told=told(history.groups[old.number - 1]),
                folder=folder,
                downloads=tuple(rows),
                errata=tuple(f"{kit.id}-r{r.number}" for r in reversed(history.revisions[old.number :]) if r.record.erratum),
            )
        )
    return State(led(line_of(kit, revision)), revision.code, False, revision.number, tuple(older)), files
