"""An envelope liner, worked out from its envelope: it slides in to the bottom and folds over with the flap.

It is a little narrower than the envelope, so that it goes in, and stops short of the gum of the
flap, so that the envelope still closes. Where the flap is pointed its end is trimmed along it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.kit.kit import Kit
from kitwright.kit.model import LinerSpec
from kitwright.units import HALF_MM, SIXTEENTH, Length, Size

USUAL_LESS = {"in": Length(Fraction(1, 4)), "mm": Length.mm(6)}
"""How much narrower a liner is than its envelope, over both sides."""
USUAL_GUM = {"in": Length(Fraction(1, 2)), "mm": Length.mm(12)}
"""How wide the gummed edge of a flap is, where it is not said."""
_MARK = {"in": Length(SIXTEENTH), "mm": Length(HALF_MM)}
"""What a liner's sides are rounded down to."""


@dataclass(frozen=True, slots=True)
class Liner:
    """A liner as it is worked out, its flap end at the top."""

    envelope: Size
    """Closed, whichever way it was typed; its flap is at a longer side."""
    flap: Length
    """From the fold of the flap to its tip."""
    gum: Length
    """Of that, what stays free for the gum."""
    unit: str = "in"
    """On whose ruler it is cut."""

    @property
    def size(self) -> Size:
        """Narrower than the envelope; as high as that with its flap, less the gum; down to the next mark of the ruler."""
        wide = max(self.envelope.width, self.envelope.height) - USUAL_LESS[self.unit]
        high = min(self.envelope.width, self.envelope.height) + self.covers
        mark = _MARK[self.unit]
        return Size(mark * (wide // mark), mark * (high // mark))

    def lines(self, envelope: Size) -> bool:
        """Whether it is for this envelope, whichever way that is typed."""
        return self.envelope in (envelope, envelope.turned)

    @property
    def covers(self) -> Length:
        """How much of the flap it covers; its adhesive lies there alone."""
        return self.flap - self.gum


def liner_of(said: LinerSpec, unit: str) -> Liner:
    """The liner that a kit in this unit says."""
    return Liner(said.envelope.size, said.flap, USUAL_GUM[unit] if said.gum is None else said.gum, unit)


def liners_of(kit: Kit) -> dict[str, Liner]:
    """Every liner of a kit, by its label."""
    return {label: liner_of(piece.liner, kit.spec.unit) for label, piece in kit.spec.pieces.items() if piece.liner}
