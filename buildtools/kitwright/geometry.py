"""Rectangles in a flat frame: x to the right, y down, origin at the top left corner.

That is how a sheet or a card lies in front of the maker, and how rows are read.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.units import ZERO, Length, Size

Axis = Literal["x", "y"]
"""Across, or down."""
Diagonal = Literal["falling", "rising"]
"""From corner to corner of a rectangle: from top left to bottom right, or from bottom left to top right."""
HALVES = 2
"""How many triangles a cut from corner to corner makes of a rectangle, alike by half a turn (Euclid, Elements I.34)."""


def other_diagonal(way: Diagonal) -> Diagonal:
    """The diagonal that a rectangle shows once it is turned by a quarter, or over."""
    return "rising" if way == "falling" else "falling"


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle with its sides along the frame."""

    x: Length
    """Left edge."""
    y: Length
    """Top edge."""
    width: Length
    """Across."""
    height: Length
    """Down."""

    @classmethod
    def of(cls, size: Size) -> Rect:
        """A rectangle of this size with its top left corner at the origin."""
        return cls(ZERO, ZERO, size.width, size.height)

    @property
    def right(self) -> Length:
        return self.x + self.width

    @property
    def bottom(self) -> Length:
        return self.y + self.height

    @property
    def size(self) -> Size:
        return Size(self.width, self.height)

    @property
    def area(self) -> Fraction:
        """Square inches."""
        return self.width.inches * self.height.inches

    @property
    def centre(self) -> tuple[Length, Length]:
        return self.x + self.width / 2, self.y + self.height / 2

    @property
    def corners(self) -> tuple[tuple[Length, Length], ...]:
        """Clockwise from the top left."""
        return (self.x, self.y), (self.right, self.y), (self.right, self.bottom), (self.x, self.bottom)

    def moved(self, dx: Length, dy: Length) -> Rect:
        """The same rectangle, shifted."""
        return Rect(self.x + dx, self.y + dy, self.width, self.height)

    def inset(self, margin: Length) -> Rect:
        """What is left inside an even margin."""
        return Rect(self.x + margin, self.y + margin, self.width - margin * 2, self.height - margin * 2)

    def contains(self, other: Rect) -> bool:
        """Whether `other` lies within this, edges included."""
        return self.x <= other.x and self.y <= other.y and other.right <= self.right and other.bottom <= self.bottom

    def overlaps(self, other: Rect) -> bool:
        """Whether the two share any area."""
        return self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom
