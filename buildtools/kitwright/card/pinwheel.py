"""A pinwheel: eight triangles around one point, from squares of one side, two to each quarter."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.geometry import Diagonal, Rect
from kitwright.units import Length

_ROUND = (
    ((0, 0), (1, 0)),
    ((1, 0), (0, 0)),
    ((1, 0), (1, 1)),
    ((1, 1), (1, 0)),
    ((1, 1), (0, 1)),
    ((0, 1), (1, 1)),
    ((0, 1), (0, 0)),
    ((0, 0), (0, 1)),
)
"""Clockwise, the quarter that each triangle lies in and the corner of that where its right angle is: right or not, lower or not."""
_LIES: dict[Diagonal, dict[tuple[int, int], tuple[bool, bool]]] = {
    "falling": {(0, 1): (False, False), (0, 0): (True, False), (1, 0): (False, True), (1, 1): (True, True)},
    "rising": {(1, 1): (False, False), (0, 1): (True, False), (0, 0): (False, True), (1, 0): (True, True)},
}
"""Whether a triangle is turned, and upside down, for its right angle to lie in a corner."""


def around(home: Rect, way: Diagonal) -> Iterator[tuple[Rect, bool, bool]]:
    """The square around each of the eight triangles, clockwise, and whether the piece lies turned and upside down in it.

    Args:
        home: what they fill together, twice a triangle's size each way.
        way: the diagonal of the piece, as its size is written.
    """
    side: Length = home.width / 2
    for (right, lower), corner in _ROUND:
        yield Rect(home.x + side * right, home.y + side * lower, side, side), *_LIES[way][corner]
