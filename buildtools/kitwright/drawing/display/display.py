"""The finished cards on a plain ground, with soft shadows and room around them, and with a title where one is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from kitwright.card.face import Face
from kitwright.drawing import front
from kitwright.drawing.display.ratios import PIXELS, Ratio
from kitwright.drawing.display.spread import LyingCard, Spread, fanned, in_rows
from kitwright.drawing.display.title import DisplayTitle, TitleBlock, title_blocks, words_on
from kitwright.drawing.display.turned import Turn, turned
from kitwright.drawing.front import Looks
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import Box, Contour, Draft, Frame, Point, Scene, SceneShape
from kitwright.drawing.sketch import LIFT, picture
from kitwright.drawing.styles import SHADOW
from kitwright.exact import Exact

GROUND = Ink("#E4DAC8")
"""What cards lie on where nothing else is said: calm, the colour of oats, darker than the cardstock that most bases are cut from."""
_ALONE, _TOGETHER = Exact(22, 25), Exact(24, 25)
"""How much of the room one card takes at most, and several."""
_APART = Exact(1, 14)
"""Between a title and the cards: of the picture's shorter side."""


class Exhibit(Protocol):
    """What is shown on a picture, in inches of its own."""

    @property
    def width(self) -> Fraction: ...
    @property
    def height(self) -> Fraction: ...
    @property
    def share(self) -> Fraction:
        """How much of the room it may take."""

    def worth(self, inch: Fraction) -> Fraction:
        """How good it is to look at, an inch being so many points."""

    def draw(self, draft: Draft, corner: Point, inch: Fraction) -> None:
        """Draw it with its shadows, its left and top where it is told."""


def display(
    exhibits: Iterable[Exhibit],
    ratio: Ratio,
    *,
    ground: Ink | None = GROUND,
    title: DisplayTitle | None = None,
    name: str = "",
    alt: str = "",
) -> Scene | None:
    """What is to be shown in the middle of a picture, as large as suits it.

    Args:
        exhibits: the ways in which it can be shown; the best one is taken.
        ratio: the picture's shape.
        ground: what it lies on; nothing where it is to be composed with.
        title: words to set with it.
        name, alt: what to call it, and what it shows.

    Returns:
        None where the title's longest word is too long for the picture.
    """
    draft, (width, height), ways = Draft(), ratio.size, list(exhibits)
    if ground:
        draft.box(Box(Exact(0), Exact(0), width, height), None, ground)
    blocks: list[TitleBlock | None] = [*title_blocks(title, ratio)] if title else [None]
    if not blocks:
        return None
    best = max((_Layout.of(block, way, ratio) for block in blocks for way in ways), key=lambda layout: layout.exhibit.worth(layout.inch))
    corner = best.draw_title(draft, words_on(ground or GROUND))
    best.exhibit.draw(draft, corner, best.inch)
    return draft.scene(width, height, name, alt)


@dataclass(frozen=True, slots=True)
class _Layout:
    """What is shown and a title on a picture."""

    ratio: Ratio
    block: TitleBlock | None
    exhibit: Exhibit
    inch: Fraction
    """Points."""
    apart: Fraction
    """Between the two, points."""

    @classmethod
    def of(cls, block: TitleBlock | None, exhibit: Exhibit, ratio: Ratio) -> _Layout:
        """As large as there is room for."""
        safe, apart = ratio.safe, min(ratio.size) * _APART
        wide, high = safe.width, safe.height
        if block and block.beside:
            wide -= block.width + apart
        elif block:
            high -= block.height + apart
        return cls(ratio, block, exhibit, min(wide / exhibit.width, high / exhibit.height) * exhibit.share, apart)

    def draw_title(self, draft: Draft, roles: tuple[str, str]) -> Point:
        """Draw the title; both together stand in the middle. Returns the left and the top of what is shown."""
        (x, y), wide, high = self.ratio.safe.centre, self.exhibit.width * self.inch, self.exhibit.height * self.inch
        block = self.block
        if block is None:
            return x - wide / 2, y - high / 2
        if block.beside:
            left = x - (block.width + self.apart + wide) / 2
            block.draw(draft, left, y - block.height / 2, roles)
            return left + block.width + self.apart, y - high / 2
        top = y - (block.height + self.apart + high) / 2
        block.draw(draft, x, top, roles)
        return x - wide / 2, top + block.height + self.apart


@dataclass(frozen=True, slots=True)
class Hand:
    """Cards as they lie on the ground."""

    faces: Sequence[Face]
    """As `spread` numbers them."""
    spread: Spread
    looks: Sequence[Looks]
    """How each paper is drawn, by (paper, face), card by card."""

    @property
    def width(self) -> Fraction:
        return self.spread.width

    @property
    def height(self) -> Fraction:
        return self.spread.height

    @property
    def share(self) -> Fraction:
        return _ALONE if len(self.spread.lying) == 1 else _TOGETHER

    def worth(self, inch: Fraction) -> Fraction:
        """Much paper seen, on large cards, in even rows."""
        return self.spread.seen * inch * inch * inch * (Exact(6, 5) if self.spread.even else 1)

    def draw(self, draft: Draft, corner: Point, inch: Fraction) -> None:
        for lying in self.spread.lying:
            _card(draft, self.faces[lying.card], self.looks[lying.card], lying, corner, inch)


def alone(face: Face, looks: Looks) -> list[Exhibit]:
    """One card by itself."""
    return in_rows_of([face], [looks])


def in_rows_of(faces: Sequence[Face], looks: Sequence[Looks]) -> list[Exhibit]:
    """Cards in rows."""
    return [Hand(faces, spread, looks) for spread in in_rows([face.size for face in faces])]


def fanned_out(faces: Sequence[Face], looks: Sequence[Looks]) -> list[Exhibit]:
    """Cards as a fan; the first of them lies on top."""
    return [Hand(faces, spread, looks) for spread in fanned([face.size for face in faces])]


_ROOM = Exact(1, 5)
"""Around a card on nothing, for its shadow; inches."""
_WIDE, _LONG = 1280, 1600
"""Pixels: a card on nothing is at least so wide, and at least so long along its longer side."""


def on_nothing(face: Face, looks: Looks, *, name: str = "", alt: str = "") -> Scene:
    """One card with its shadow and a little room around it, without a ground: to be composed with."""
    reach = [placed.rect for placed in face.stack] + [place.rect for place in face.spots]
    left, top = (min(edge.inches for edge in edges) - _ROOM for edges in ([r.x for r in reach], [r.y for r in reach]))
    wide = max(r.right.inches for r in reach) + _ROOM - left
    high = max(r.bottom.inches for r in reach) + _ROOM - top
    inch = max(_WIDE / wide, _LONG / max(wide, high)) / PIXELS
    draft = Draft()
    _card(draft, face, looks, LyingCard(0, face.size.width.inches / 2, face.size.height.inches / 2), (-left * inch, -top * inch), inch)
    return draft.scene(wide * inch, high * inch, name, alt)


def _card(draft: Draft, face: Face, looks: Looks, lying: LyingCard, corner: Point, inch: Fraction) -> None:
    """One card with its shadow, where it lies."""
    middle, scale = (corner[0] + lying.x * inch, corner[1] + lying.y * inch), inch / 72
    frame = Frame(middle[0] - face.size.width.inches * inch / 2, middle[1] - face.size.height.inches * inch / 2, scale)
    own = Draft()
    picture(own, face, looks, frame, lift=LIFT * scale, off_ground=0)
    draft.shapes += soft_shadow(front.outline(face.stack[0], frame), lying.turn, middle, inch)
    # What lies over its words covers them.
    draft.shapes += [turned(item, lying.turn, middle) for item in (*own.shapes, *own.texts)]


_SOFT = tuple(Exact(i, 100) for i in range(-4, 15, 2))
"""How far each layer of a soft shadow reaches beyond the card, inches at the card's scale; the nearest is the darkest, since most lie there."""
_FALLS = (Exact(3, 100), Exact(9, 100))
"""How far it falls to the right and down, inches; it is soft all round."""


def soft_shadow(contour: Contour, turn: Turn, about: Point, inch: Fraction) -> list[SceneShape]:
    """The shadow of a whole card on the ground; light falls from the same side however the card is turned."""
    xs, ys = zip(*contour)
    box = Box(min(xs), min(ys), max(xs), max(ys))
    found = []
    for reach in _SOFT:
        if {*contour} == {*box.corners}:
            layer = _cornered(box.grown(reach * inch), max(reach, Exact(0)) * inch)
        else:
            # Of another outline: as much larger all over.
            (x, y), across, along = box.centre, 1 + 2 * reach * inch / box.width, 1 + 2 * reach * inch / box.height
            layer = tuple((x + (px - x) * across, y + (py - y) * along) for px, py in contour)
        item = turned(SceneShape((layer,)), turn, about)
        assert isinstance(item, SceneShape)
        fall = tuple((x + _FALLS[0] * inch, y + _FALLS[1] * inch) for x, y in item.contours[0])
        found.append(SceneShape((fall,), None, SHADOW))
    return found


_BEND = Exact(3, 10)
"""Where a corner of a quarter circle lies whose ends are one apart from it, each way."""


def _cornered(box: Box, cut: Fraction) -> Contour:
    """A rectangle with corners taken off: in layers that makes them round, with a third of the points."""
    if not cut:
        return box.corners
    found: list[Point] = []
    for (x, y), across, along in zip(box.corners, (cut, -cut, -cut, cut), (cut, cut, -cut, -cut)):
        ends = [(x, y + along), (x + across * _BEND, y + along * _BEND), (x + across, y)]
        found += ends if across * along > 0 else reversed(ends)
    return tuple(found)
