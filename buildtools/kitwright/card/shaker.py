"""A shaker: a frame with a window, film behind it, and foam all round that keeps what is inside.

Strips of foam are laid round the window like a pinwheel: each begins flush with the ring's corner
and runs into the side of the next, so that no end lies open and nothing falls out. They stand back
from the window a little, so that no foam shows; film reaches onto them, so that it is held.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.geometry import Rect
from kitwright.units import Length, total

USUAL_FOAM = {"in": Length(Fraction(1, 4)), "mm": Length.mm(6)}
"""How wide the strips of foam are, where it is not said."""
USUAL_SET_BACK = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""How far the foam stands back from the window, where it is not said."""
USUAL_LAP = {"in": Length(Fraction(1, 4)), "mm": Length.mm(6)}
"""How far film reaches past the window on each side, where it is not said."""


@dataclass(frozen=True, slots=True)
class Shaker:
    """A shaker where it lies."""

    frame: Rect
    """The whole frame."""
    window: Rect
    """Its opening."""
    set_back: Length
    """From the window to the foam."""
    foam: Length
    """How wide the strips of foam are."""
    lap: Length
    """How far the film reaches past the window on each side."""

    @property
    def border(self) -> Length:
        """The narrowest side of the frame."""
        frame, window = self.frame, self.window
        return min(window.x - frame.x, frame.right - window.right, window.y - frame.y, frame.bottom - window.bottom)

    @property
    def least_border(self) -> Length:
        """What the foam takes of it."""
        return self.set_back + self.foam

    @property
    def room(self) -> Rect:
        """What the foam shuts in: the window, and the set-back all round."""
        return self.window.inset(-self.set_back)

    @property
    def outer(self) -> Rect:
        """The ring of foam from outside."""
        return self.room.inset(-self.foam)

    @property
    def film(self) -> Rect:
        """The film behind the frame."""
        return self.window.inset(-self.lap)

    @property
    def strips(self) -> tuple[Rect, Rect, Rect, Rect]:
        """The four strips of foam: above, right, below, left of the window."""
        inner, outer, wide = self.room, self.outer, self.foam
        return (
            Rect(outer.x, outer.y, inner.right - outer.x, wide),
            Rect(inner.right, outer.y, wide, inner.bottom - outer.y),
            Rect(inner.x, inner.bottom, outer.right - inner.x, wide),
            Rect(outer.x, inner.y, wide, outer.bottom - inner.y),
        )

    @property
    def lengths(self) -> tuple[Length, Length]:
        """How long a strip above or below the window is, and one beside it."""
        above, beside, _, _ = self.strips
        return above.width, beside.height

    @property
    def run(self) -> Length:
        """All four strips end to end."""
        return total(self.lengths) * 2

    @property
    def foam_area(self) -> Fraction:
        """Square inches of foam."""
        return self.run.inches * self.foam.inches
