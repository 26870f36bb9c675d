"""What one drawing of a fold takes of the picture, and what it can be asked."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Protocol

from kitwright.drawing import fonts
from kitwright.drawing.caption import CaptionNote
from kitwright.drawing.folds.plate import HEAD
from kitwright.drawing.scene import Point


@dataclass(frozen=True, slots=True)
class Room:
    """How far a drawing reaches from its corner, points."""

    left: Fraction
    above: Fraction
    right: Fraction
    below: Fraction


class Part(Protocol):
    """One drawing beside others."""

    @property
    def heading(self) -> str:
        """What stands over it."""

    def room(self, scale: Fraction) -> Room:
        """What it takes at a scale, its heading aside."""

    def draw(self, corner: Point, scale: Fraction) -> list[CaptionNote]:
        """Draw it; returns what the key says of it."""


def wide_enough(room: Room, heading: str) -> Room:
    """Room that holds its heading too, which begins where the drawing does."""
    wide = fonts.width(heading, HEAD, fonts.Font("sans", "semibold")) + 2
    return replace(room, right=max(room.right, wide - room.left))
