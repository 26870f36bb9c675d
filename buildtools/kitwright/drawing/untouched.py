"""What a first cut leaves untouched: a guide need not show all of it, and ends there in a break line."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.cutting.tree import Leaf, Node, Split
from kitwright.drawing.fonts import width
from kitwright.drawing.labels import SEMIBOLD, LabelBlock, alone
from kitwright.drawing.scene import Box, Draft, Point, points
from kitwright.exact import Exact
from kitwright.geometry import Axis
from kitwright.telling.drawn import stays_whole
from kitwright.units import Length, sides_text

_SHARE = Exact(1, 3)
"""Of the sheet: what is smaller is shown whole."""
STUB = Exact(20)
"""How much of it is shown, points."""
_TOOTH = Exact(4)
"""Half the height of a tooth of the break line, points."""
_OVER = Exact(4)
"""How far the break line runs past the edges, points."""


@dataclass(frozen=True, slots=True)
class Untouched:
    """The part of a sheet that no cut goes through, at its far end."""

    leaf: Leaf
    axis: Axis
    """`y`: it lies at the foot of the sheet; `x`: at its right."""

    @property
    def start(self) -> Length:
        """Where it begins."""
        return self.leaf.rect.y if self.axis == "y" else self.leaf.rect.x

    def text(self, unit: str) -> str:
        """What is said on it."""
        return stays_whole(sides_text(self.leaf.rect.size, unit))

    def block(self, unit: str) -> LabelBlock:
        """The same, to be set down on what is shown of it."""
        return alone(self.text(unit), 8, "figure", SEMIBOLD, upward=self.axis == "x", shows_size=True)


def untouched(node: Node, scale: Fraction, unit: str) -> Untouched | None:
    """The part that may be cut short at this scale; None where there is none, or where that would save nothing."""
    if not isinstance(node, Split):
        return None
    last, sheet = node.parts[-1], node.rect
    if not isinstance(last, Leaf) or last.label is not None:
        return None
    found = Untouched(last, node.axis)
    whole, part, beside = (
        (sheet.height, last.rect.height, last.rect.width) if node.axis == "y" else (sheet.width, last.rect.width, last.rect.height)
    )
    roomy = points(beside, scale) >= width(found.text(unit), 8, SEMIBOLD) + 8
    return found if part.inches >= whole.inches * _SHARE and points(part, scale) > STUB + 8 and roomy else None


def break_line(draft: Draft, sheet: Box, axis: Axis) -> None:
    """A thin line with two zigzags along the far edge of what is shown (ISO 128, long break)."""
    start, end = (sheet.left, sheet.right) if axis == "y" else (sheet.top, sheet.bottom)
    at = sheet.bottom if axis == "y" else sheet.right
    stops: list[Point] = [(start - _OVER, at)]
    for third in (1, 2):
        middle = start + (end - start) * Exact(third, 3)
        stops += [(middle - _TOOTH, at), (middle - _TOOTH / 2, at - _TOOTH), (middle + _TOOTH / 2, at + _TOOTH), (middle + _TOOTH, at)]
    stops.append((end + _OVER, at))
    draft.line("break", *(stops if axis == "y" else [(y, x) for x, y in stops]))
