"""What was drawn upright, carried to where it lies: turned exactly, by the turns of whole-numbered triangles, or leaning as the panels of an open card do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.drawing.looks import Patch, Up, lay, turn_of_up
from kitwright.drawing.scene import Box, Carry, Clip, Contour, Item, Marks, Number, PhotoShape, Places, Point, SceneShape, Stamps, Text
from kitwright.exact import Exact

Turn = tuple[Fraction, Fraction]
"""Cosine and sine of a turn, clockwise."""

UPRIGHT: Turn = Exact(1), Exact(0)


def turn_of(half: Fraction) -> Turn:
    """The turn of whose half this is the tangent; every rational one gives an exact turn."""
    over = 1 + half * half
    return (1 - half * half) / over, 2 * half / over


def turned(item: Item, turn: Turn, about: Point) -> Item:
    """A part of a scene, turned about a place."""
    (cos, sin), (x, y) = turn, about
    return item if turn == UPRIGHT else carried(item, (cos, sin, -sin, cos), (x - x * cos + y * sin, y - x * sin - y * cos))


def carried(item: Item, carry: Carry, start: Point) -> Item:
    """A part of a scene, carried: `start` is where the picture's own corner goes."""
    way = _Way(carry, start)
    if isinstance(item, Text):
        x, y = way.point((item.x, item.y))
        return replace(item, x=x, y=y, carry=carry)
    if isinstance(item, Patch):
        look, outline, origin, scale, up, strength = item.made_from
        if way.turns or look.scan:
            # A photo of a paper is turned, but does not lean.
            return lay(look, way.all(outline), way.point(origin), scale, _up(up, carry) if way.turns else up, strength)
    if isinstance(item, Clip):
        return Clip(way.all(item.outline), tuple(_inside(each, way) for each in item.items))
    return _inside(item, way)


@dataclass(frozen=True, slots=True)
class _Way:
    carry: Carry
    start: Point

    @property
    def turns(self) -> bool:
        """Whether it does no more than turn."""
        a, b, c, d = self.carry
        return a == d and b == -c

    def point(self, at: Point) -> Point:
        (x, y), (a, b, c, d) = at, self.carry
        return self.start[0] + x * a + y * c, self.start[1] + x * b + y * d

    def all(self, contour: Iterable[Point]) -> Contour:
        return tuple(map(self.point, contour))

    def places(self, places: Places) -> Places:
        """Places of a pattern, which are only as near as a float."""
        a, b, c, d, x0, y0 = map(float, (*self.carry, *self.start))
        return tuple((x0 + float(x) * a + float(y) * c, y0 + float(x) * b + float(y) * d) for x, y in places)


def _inside(item: SceneShape | Stamps | Marks | PhotoShape, way: _Way) -> SceneShape | Stamps | Marks | PhotoShape:
    if isinstance(item, PhotoShape):
        xs, ys = zip(*way.all(item.box.corners))
        turn = _turned(item.turn, way.carry) if way.turns else item.turn
        return replace(item, box=Box(min(xs), min(ys), max(xs), max(ys)), origin=way.point(item.origin), turn=turn)
    if isinstance(item, SceneShape):
        return replace(item, contours=tuple(way.all(contour) for contour in item.contours))
    if isinstance(item, Marks):
        return replace(item, outlines=tuple(way.places(outline) for outline in item.outlines))
    around = _Way(way.carry, (Exact(0), Exact(0)))
    return replace(item, motif=tuple(around.all(contour) for contour in item.motif), at=way.places(item.at))


def _up(up: Up, carry: Carry) -> Up:
    """Which way a pattern runs once what it is on is turned."""
    return _turned(turn_of_up(up), carry)


def _turned(one: tuple[Number, Number], carry: Carry) -> Turn:
    (a, b), (c, d) = one, carry[:2]
    return Exact(a * c - b * d), Exact(a * d + b * c)
