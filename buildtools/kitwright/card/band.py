"""A belly band: a strip round the closed card, fixed to itself alone, so that it slides off.

It runs once round the card with all that lies on it, and over itself: both faces, both edges
as thick as the card is at its thickest, what the strip's own thickness takes at four corners,
and the overlap. It is scored where it turns: at both ends of each edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.units import HALF_MM, SIXTEENTH, Length, rounded

USUAL_OVERLAP = {"in": Length(Fraction(1, 2)), "mm": Length.mm(12)}
"""How far a band reaches over itself, where it is not said."""
MARK = {"in": Length(Fraction(1, 8)), "mm": Length.mm(1)}
"""What a band's length is rounded up to: it is cut to an easy mark, since the overlap takes up the rest."""
_SCORED = {"in": SIXTEENTH, "mm": HALF_MM}
"""What places of score lines are rounded to."""


@dataclass(frozen=True, slots=True)
class Band:
    """A belly band as it is worked out."""

    width: Length
    """The closed card, along the band."""
    thick: Length
    """The closed card at its thickest place, as far as that is known: at most."""
    own: Length
    """How thick the band's own paper is, at most."""
    overlap: Length
    """How far it reaches over itself at least."""
    unit: str = "in"
    """On whose ruler it is cut and scored."""

    @property
    def exact(self) -> Length:
        """What it takes: 2 (width + thick) + 4 own + overlap."""
        return (self.width + self.thick) * 2 + self.own * 4 + self.overlap

    @property
    def length(self) -> Length:
        """How long it is cut: the same, up to the next mark."""
        mark = MARK[self.unit]
        return mark * -((-self.exact) // mark)

    @property
    def edge(self) -> Length:
        """How far apart the two score lines at an edge are: as thick as the card, to the nearest mark; nothing for a thin one."""
        return Length(rounded(self.thick.inches, _SCORED[self.unit]))

    @property
    def ends(self) -> tuple[Length, Length]:
        """What meets on the back: the first part, and the last, which reaches over it."""
        rest = self.length - self.width - self.edge * 2
        mark = Length(_SCORED[self.unit])
        first = mark * (rest / 2 // mark)
        return first, rest - first

    @property
    def lapped(self) -> Length:
        """How far it reaches over itself, cut as it is."""
        first, last = self.ends
        return first + last - self.width

    @property
    def scores(self) -> tuple[Length, ...]:
        """Where the score lines are, from one end; one instead of two at an edge of no thickness."""
        first, _ = self.ends
        near = first + self.edge
        far = near + self.width
        return tuple(dict.fromkeys((first, near, far, far + self.edge)))
