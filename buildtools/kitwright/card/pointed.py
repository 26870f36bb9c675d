"""Right triangles set on their point: the long side level or upright, the right angle opposite.

The long side of such a triangle is the root of a sum of squares, s√2 from a square of side s,
and the point lies s/√2 from it; neither is a fraction. The card is laid out in fractions, so
the long side is taken up to the next thousandth of an inch, a fiftieth of what a hand can cut,
and the rest with it: the room is never too small, and the right angle stays one.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from kitwright.card.outlines import Outline, Point, polygon, root
from kitwright.geometry import Diagonal
from kitwright.kit.model.text import Pointing
from kitwright.units import ZERO, Length, Size

POINTS: tuple[Pointing, ...] = ("down", "left", "up", "right")
"""Where the right angle may point, by quarter turns to the right."""


def long_side(legs: Size) -> Length:
    """The side from corner to corner of a rectangle (Pythagoras): exact where it is a fraction, otherwise taken up (`outlines.root`)."""
    return root(_square(legs))


def drop(legs: Size) -> Length:
    """How far the right angle lies from the long side: taken up in the same measure, so that the triangle keeps its shape to the last."""
    return long_side(legs) * (legs.area / _square(legs))


def _square(legs: Size) -> Fraction:
    """The long side, squared; square inches."""
    return legs.width.inches**2 + legs.height.inches**2


def size(legs: Size, way: Diagonal, point: Pointing) -> Size:
    """The room that a triangle on its point takes.

    Args:
        legs: the rectangle that it is half of.
        way: the diagonal of that, as its size is written.
        point: where the right angle is.
    """
    lying = Size(long_side(legs), drop(legs))
    return lying if point in ("down", "up") else lying.turned


@lru_cache(maxsize=64)
def outline(legs: Size, way: Diagonal, point: Pointing) -> Outline:
    """The triangle on its point, the top left corner of the room that it takes at the origin; it is turned, never mirrored."""
    long, deep = long_side(legs), drop(legs)
    # Of the two legs the one at the left of the long side, as the point lies at the bottom; by its square the point lies along that (Elements I.47).
    beside = legs.height if way == "falling" else legs.width
    foot = long * (beside.inches**2 / _square(legs))
    found = Outline(polygon((ZERO, ZERO), (long, ZERO), (foot, deep)))
    height = deep
    for _ in range(POINTS.index(point)):
        found = found.turned(height)
        height = long if height == deep else deep
    return found


def turn(ring: Sequence[Point], way: Diagonal) -> tuple[Fraction, Fraction]:
    """Cosine and sine of the turn to the right that set a triangle on its point; rational, near enough to draw by.

    Args:
        ring: the ends of its long side and its right angle, as `outline` has them, wherever it lies.
        way: the diagonal, as its size is written.
    """
    left, right, corner = ring
    # The leg that was level, from its left end to its right.
    start, end = (corner, right) if way == "falling" else (left, corner)
    dx, dy = (end[0] - start[0]).inches, (end[1] - start[1]).inches
    long = root((dx**2 + dy**2) * 1000**2).inches / 1000
    half = Fraction(dy / (long + dx)).limit_denominator(60)
    return Fraction(1 - half**2) / (1 + half**2), 2 * half / (1 + half**2)
