"""A pocket: a piece glued along three of its edges, and what is pushed in through the fourth.

Glue takes a strip along the closed end and along both sides, so there is less room inside than
the piece is large. What goes in needs air on both sides, else it rubs and sticks; and something
of it has to show, or the pocket's open edge a thumb notch, else there is nothing to pull by.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.geometry import Rect
from kitwright.kit.model.text import Edge
from kitwright.units import ZERO, Length, Size

USUAL_GLUE = {"in": Length(Fraction(1, 4)), "mm": Length.mm(6)}
"""How wide the strip is that is glued, where it is not said."""
CLEARANCE = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""Air on each side of what goes into a pocket."""
LEAST_SHOWN = {"in": Length(Fraction(1, 2)), "mm": Length.mm(12)}
"""How much has to show to pull by, where there is no thumb notch."""
OPPOSITE: dict[Edge, Edge] = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
_RIGHT: dict[Edge, Edge] = {"top": "right", "right": "bottom", "bottom": "left", "left": "top"}


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket where it lies."""

    rect: Rect
    """The whole piece."""
    open: Edge
    """The edge that is not glued."""
    glue: Length
    """How wide the glued strip is along the other three."""

    @property
    def upright(self) -> bool:
        """Whether it opens at the top or the bottom."""
        return self.open in ("top", "bottom")

    @property
    def across(self) -> Length:
        """How wide the piece is along its open edge."""
        return self.rect.width if self.upright else self.rect.height

    @property
    def deep(self) -> Length:
        """How far it is from the open edge to the closed one."""
        return self.rect.height if self.upright else self.rect.width

    @property
    def mouth(self) -> Length:
        """How wide the room inside is; nothing or less where the glue leaves none."""
        return self.across - self.glue * 2

    @property
    def depth(self) -> Length:
        """How deep the room inside is; nothing or less where the glue leaves none."""
        return self.deep - self.glue

    @property
    def run(self) -> Length:
        """How much adhesive holds it: the closed end, and both sides."""
        return self.across + self.deep * 2

    @property
    def glued(self) -> tuple[Edge, Edge, Edge]:
        """The edges that are glued: the closed end, then both sides."""
        side = _RIGHT[self.open]
        return OPPOSITE[self.open], OPPOSITE[side], side

    def takes(self, clearance: Length) -> Length:
        """The widest thing that goes in with so much air on each side."""
        return self.mouth - clearance * 2

    def width_of(self, size: Size) -> Length:
        """How much of the mouth something takes that lies so."""
        return size.width if self.upright else size.height

    def length_of(self, size: Size) -> Length:
        """How long something is that lies so, from the open edge inward."""
        return size.height if self.upright else size.width

    def shows(self, size: Size) -> Length:
        """How much of something still shows when it is pushed home; nothing where it goes in whole."""
        return max(self.length_of(size) - self.depth, ZERO)

    def home(self, size: Size) -> Rect:
        """Where something of this size lies once it is pushed home: in the middle of the mouth, down on the glue."""
        box, glue = self.rect, self.glue
        x, y = box.x + (box.width - size.width) / 2, box.y + (box.height - size.height) / 2
        if self.open == "top":
            y = box.bottom - glue - size.height
        elif self.open == "bottom":
            y = box.y + glue
        elif self.open == "left":
            x = box.right - glue - size.width
        else:
            x = box.x + glue
        return Rect(x, y, size.width, size.height)
