"""What is told of the sizes near a kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from kitwright.proposing.freedom import Why
from kitwright.proposing.near.figures import Figures, Gain
from kitwright.units import Length, Size
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class Moved:
    """One size of a kit that changes."""

    what: Literal["width", "height", "border", "gap", "band"]
    label: str
    """The piece; empty for a border, gap or band."""
    design: str
    """Whose border, gap or band; empty in a kit of one design, and for a piece."""
    path: tuple[str | int, ...]
    """Where the spec says a border, gap or band."""
    before: Length
    after: Length


@dataclass(frozen=True)
class Nearby:
    """A kit with a few sizes changed, tried whole."""

    moved: tuple[Moved, ...]
    figures: Figures
    gains: tuple[Gain, ...]
    """In what it is better, the one that it was taken for first."""
    losses: tuple[Gain, ...]
    """In what it is worse."""
    same_cuts: bool
    """Whether it is cut as the kit is, stroke for stroke; else its sheets are planned anew."""
    changed: Worked
    """The kit so."""

    def sizes(self, worked: Worked) -> dict[str, tuple[Size, Size]]:
        """Each piece that changes, by label: its size before and after."""
        old, new = worked.kit.spec.pieces, self.changed.kit.spec.pieces
        return {label: (old[label].size, new[label].size) for label in old if old[label].size != new[label].size}


@dataclass(frozen=True, slots=True)
class Shows:
    """Something that is seen on a face of the finished card, and is wider or narrower than it was."""

    what: Literal["border", "gap", "band", "shows"]
    """`shows`: how much of what lies below is seen round a full layer."""
    design: str
    face: str
    """By its name; empty for the one that leads."""
    label: str
    """Of a layer; empty else."""
    before: Length
    after: Length


@dataclass(frozen=True)
class Improved:
    """What was found near a kit."""

    worked: Worked
    step: Length
    """The step of its own sizes on the ruler."""
    reach: int
    """How many steps a size was moved at most."""
    now: Figures
    nearby: tuple[Nearby, ...]
    """The best for each kind of gain in turn; empty where nothing better was found."""
    looked: int
    """Moves of sizes that keep every sum."""
    come_out: int
    """Of those, how many come out of the sheets by the kit's own cuts."""
    tried: int
    """Of those, how many were tried on the whole kit."""
    kept: Mapping[str, Why]
    """Labels of pieces whose size was not moved, and why."""
    whole: bool
    """Whether every move within reach of up to three sizes that may be chosen freely was looked at."""
