"""The drawn motifs of the paper looks, each in hundredths of an inch around its own origin.

x runs right and y runs down, as everywhere; a motif with an up points to smaller y.
"""

from __future__ import annotations

from fractions import Fraction

from kitwright.drawing.scene import Number, circle
from kitwright.exact import Exact

Spot = tuple[Number, Number]
"""Hundredths of an inch, across and down."""
Outline = tuple[Spot, ...]
Motif = tuple[Outline, ...]


def curve(start: Spot, pull: Spot, end: Spot, steps: int = 5) -> Outline:
    """Points on the parabola from `start` to `end` that leaves and arrives towards `pull`."""

    def at(t: Fraction, a: Number, p: Number, b: Number) -> Fraction:
        return (1 - t) ** 2 * a + 2 * t * (1 - t) * p + t**2 * b

    times = [Fraction(i, steps) for i in range(steps + 1)]
    return tuple((at(t, start[0], pull[0], end[0]), at(t, start[1], pull[1], end[1])) for t in times)


def blade(start: Spot, end: Spot, belly: int) -> Outline:
    """A leaf from `start` to `end`, bulging by about half of `belly` each way."""
    (ax, ay), (bx, by) = ((Exact(x), Exact(y)) for x, y in (start, end))
    # Pull the two sides apart at right angles to the leaf; the longer axis stands in for its length.
    size = max(abs(bx - ax), abs(by - ay)) or Exact(1)
    mx, my = (ax + bx) / 2, (ay + by) / 2
    ox, oy = (by - ay) * belly / size, (ax - bx) * belly / size
    return curve(start, (mx + ox, my + oy), end) + curve(end, (mx - ox, my - oy), start)[1:-1]


def turned(motif: Motif, quarters: int) -> Motif:
    """The motif after so many quarter turns, clockwise."""
    for _ in range(quarters % 4):
        motif = tuple(tuple((-y, x) for x, y in contour) for contour in motif)
    return motif


def bar(left: int, top: int, right: int, bottom: int) -> Outline:
    """A small upright rectangle."""
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _wave(waves: int) -> Outline:
    """A band of so many whole waves; both ends reach a hair over, so that bands set end to end show no seam."""
    crest: list[Spot] = []
    for i in range(2 * waves):
        x = 24 * i
        crest += curve((x, 0), (x + 12, 12 if i % 2 else -12), (x + 24, 0), 4)[bool(i) :]
    crest = [(-1, 1), *crest[1:-1], (48 * waves + 1, -1)]
    return tuple(crest) + tuple((x, y + 8) for x, y in reversed(crest))


WAVE: Motif = (_wave(2),)
SPRIG: Motif = (
    bar(-1, -14, 1, 18),
    blade((0, -10), (0, -24), 6),
    blade((1, 0), (13, -12), 6),
    blade((-1, 0), (-13, -12), 6),
    blade((1, 12), (13, 0), 6),
    blade((-1, 12), (-13, 0), 6),
)
LEAF: Motif = (blade((0, 14), (-1, -24), 13), bar(-1, 14, 1, 26))
VEIN: Motif = (((-1, 13), (0, -14), (1, 13)), ((0, 4), (6, -5), (0, 6)), ((0, 4), (-6, -5), (0, 6)))
PETALS: Motif = tuple(circle(6, x, y) for x, y in ((0, -9), (9, -3), (6, 8), (-6, 8), (-9, -3)))
HEART: Motif = (circle(4),)
WALLS: Motif = (bar(-13, -5, 13, 20),)
ROOF: Motif = (((-18, -4), (0, -22), (18, -4)), bar(7, -22, 11, -12))
DOOR: Motif = (bar(-3, 7, 3, 20), bar(-9, 1, -5, 5), bar(5, 1, 9, 5))
FLAG: Motif = (((-9, 0), (9, 0), (0, 20)),)
SCRAPS: tuple[Motif, ...] = (
    (((-7, 5), (0, -8), (7, 5)),),
    (circle(5),),
    (((-9, -4), (-7, -7), (9, 4), (7, 7)),),
    (((-6, 0), (0, -6), (6, 0), (0, 6)),),
    (((7, -5), (-1, 8), (-7, -5)),),
)
