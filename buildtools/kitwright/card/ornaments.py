"""The outlines of decorations that are drawn as what they are, exact, each within the place that is kept for it.

A new one is a function here and its name in `kit.model.front`.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from kitwright.card import outlines
from kitwright.card.outlines import CORNERS, Edge, Outline
from kitwright.geometry import Rect
from kitwright.kit.model.front import OrnamentShape
from kitwright.units import Length


def ornament(shape: OrnamentShape, rect: Rect) -> Outline:
    """The outline of a decoration that fills a rectangle."""
    return _SHAPES[shape](rect)


def _round(rect: Rect) -> Outline:
    return Outline(outlines.oval(rect))


def _rectangle(rect: Rect) -> Outline:
    return Outline(outlines.rectangle(rect))


def _tag(rect: Rect) -> Outline:
    """Both corners of one short end snipped, a hole between them: at the top of an upright one, else at the left."""
    short = min(rect.width, rect.height)
    snip, radius, upright = short / 4, short / 14, rect.height >= rect.width
    ends = CORNERS[:2] if upright else (CORNERS[0], CORNERS[3])
    x, y = rect.centre
    hole = outlines.circle(x if upright else rect.x + snip, rect.y + snip if upright else y, radius)
    return Outline(outlines.softened(rect, dict.fromkeys(ends, snip), False), (outlines.opening(hole),))


_STAR = ((233, 0), (288, 89), (466, 89), (322, 144), (377, 233), (233, 178), (89, 233), (144, 144), (0, 89), (178, 89))
"""Corners of a five-pointed star, from its tip: 466ths across and 233rds down. The golden section of a true one is 89 : 144 here, off by less than 1/10000."""


def _star(rect: Rect) -> Outline:
    return Outline(outlines.polygon(*((rect.x + rect.width * Fraction(x, 466), rect.y + rect.height * Fraction(y, 233)) for x, y in _STAR)))


def _leaf(rect: Rect) -> Outline:
    """Two quarters of an ellipse, from tip to tip: bottom left and top right."""
    tip, stem = (rect.right, rect.y), (rect.x, rect.bottom)
    return Outline((Edge(stem, tip, (rect.right, rect.bottom)), Edge(tip, stem, (rect.x, rect.y))))


_SHAPES: dict[OrnamentShape, Callable[[Rect], Outline]] = {
    "circle": _round,
    "oval": _round,
    "rectangle": _rectangle,
    "tag": _tag,
    "star": _star,
    "leaf": _leaf,
}


def vein(rect: Rect) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
    """The middle of a leaf, from its stem nearly to its tip."""
    ninth = Fraction(8, 9)
    return (rect.x, rect.bottom), (rect.x + rect.width * ninth, rect.bottom - rect.height * ninth)
