"""What was drawn upright, turned about a place: exactly, since turns are those of whole-numbered triangles."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction

from kitwright.drawing.looks import Patch, Up, lay, turn_of_up
from kitwright.drawing.scene import Box, Clip, Contour, Item, Marks, Number, Photo, Places, Point, SceneShape, Stamps, Text
from kitwright.exact import Exact

Turn = tuple[Fraction, Fraction]
"""Cosine and sine of a turn, clockwise."""

UPRIGHT: Turn = Exact(1), Exact(0)


def turn_of(half: Fraction) -> Turn:
    """The turn of whose half this is the tangent; every rational one gives an exact turn."""
    over = 1 + half * half
    return (1 - half * half) / over, 2 * half / over


def turned(item: Item, turn: Turn, about: Point) -> Item:
    """A part of a scene, turned."""
    if turn == UPRIGHT:
        return item
    to = _about(turn, about)
    if isinstance(item, Text):
        (cos, sin), (x, y) = turn, to((item.x, item.y))
        return replace(item, x=x, y=y, carry=(cos, sin, -sin, cos))
    if isinstance(item, Patch):
        look, outline, origin, scale, up, strength = item.made_from
        return lay(look, _all(outline, to), to(origin), scale, _up(up, turn), strength)
    if isinstance(item, Clip):
        return Clip(_all(item.outline, to), tuple(_inside(each, turn, about) for each in item.items))
    return _inside(item, turn, about)


def _inside(item: SceneShape | Stamps | Marks | Photo, turn: Turn, about: Point) -> SceneShape | Stamps | Marks | Photo:
    to = _about(turn, about)
    if isinstance(item, Photo):
        xs, ys = zip(*_all(item.box.corners, to))
        run = _turned(item.turn, turn)
        return replace(item, box=Box(min(xs), min(ys), max(xs), max(ys)), origin=to(item.origin), turn=run)
    if isinstance(item, SceneShape):
        return replace(item, contours=tuple(_all(contour, to) for contour in item.contours))
    if isinstance(item, Marks):
        return replace(item, outlines=tuple(_places(outline, to) for outline in item.outlines))
    around = _about(turn, (Exact(0), Exact(0)))
    return replace(item, motif=tuple(_all(contour, around) for contour in item.motif), at=_places(item.at, to))


def _about(turn: Turn, about: Point) -> Callable[[Point], Point]:
    (cos, sin), (left, top) = turn, about

    def to(point: Point) -> Point:
        x, y = point[0] - left, point[1] - top
        return left + x * cos - y * sin, top + x * sin + y * cos

    return to


def _all(contour: Iterable[Point], to: Callable[[Point], Point]) -> Contour:
    return tuple(map(to, contour))


def _places(places: Places, to: Callable[[Point], Point]) -> Places:
    return tuple(to((Exact(x), Exact(y))) for x, y in places)


def _up(up: Up, turn: Turn) -> Up:
    """Which way a pattern runs once what it is on is turned."""
    return _turned(turn_of_up(up), turn)


def _turned(one: tuple[Number, Number], turn: Turn) -> Turn:
    (a, b), (c, d) = one, turn
    return Exact(a * c - b * d), Exact(a * d + b * c)
