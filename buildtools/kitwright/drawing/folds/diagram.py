"""The three drawings of a fold on one picture, at one scale: the base flat, the card closed, the card opened."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import figure_height, fitted, round_scale, scale_text
from kitwright.drawing.folds.flat import Flat
from kitwright.drawing.folds.opened import Opened
from kitwright.drawing.folds.part import Part
from kitwright.drawing.folds.plate import HEAD, OnPanel, Plate
from kitwright.drawing.folds.shut import Shut
from kitwright.drawing.front import Looks
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.scene import Number, Scene
from kitwright.exact import Exact
from kitwright.folding import Closed
from kitwright.telling import panels as words
from kitwright.units import Length

EDGE = Exact(6)
_GAP, _APART = Exact(22), Exact(16)
"""Between drawings beside one another, and between rows of them, points."""
_ONE_ROW = 400
"""A picture at least so wide has all three beside one another, points."""
_MOST, _LEAST = Exact(1, 2), Exact(4, 100)
"""The largest and the smallest scale that is looked for."""


def fold_diagram(
    closed: Closed,
    breadth: Length,
    *,
    unit: str = "in",
    width: Number = 500,
    height: Number | None = None,
    look: DrawnLook | None = None,
    lies: Sequence[OnPanel] = (),
    looks: Looks | None = None,
    grain: str | None = None,
    name: str = "",
    scale: Fraction | None = None,
) -> Scene:
    """How a card folds.

    Args:
        closed: the base, folded.
        breadth: the side of the base that no score line parts.
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points; all is drawn smaller for it.
        look: the cardstock, shown as a faint tint.
        lies: what lies on the panels, shown on the closed and on the open card.
        looks: how each paper is drawn, by (paper, face).
        grain: which way the grain should run, when that is to be said.
        name: what to call the fold.
        scale: at most this scale, so that several can share one.
    """

    def plate() -> Plate:
        return Plate(closed, breadth, unit, look, lies, looks or {})

    def rows(plate: Plate) -> list[list[Part]]:
        flat, shut, opened = Flat(plate), Shut(plate), Opened(plate)
        return [[flat, shut, opened]] if width >= _ONE_ROW else [[flat], [shut, opened]]

    def draw(scale: Fraction) -> Scene:
        found = plate()
        heading = words.fold_title(closed, breadth, unit, name)
        return _drawn(found, rows(found), scale, Exact(width), heading, words.fold_alt(closed, breadth, unit, grain), grain)

    asked = rows(plate())
    widest = _widest(asked, Exact(width) - 2 * EDGE, min(scale or _MOST, _MOST))
    return fitted(draw, widest, _drawn_high(asked), height)


def flat_alone(
    closed: Closed,
    breadth: Length,
    *,
    unit: str = "in",
    width: Number = 320,
    height: Number | None = None,
    look: DrawnLook | None = None,
    grain: str | None = None,
    name: str = "",
    alt: str = "",
    scale: Fraction | None = None,
) -> Scene:
    """The flat base by itself, under its size; for the rest see `fold_diagram`.

    Args:
        name: what to call it.
        alt: what it shows, in words.
    """

    def draw(scale: Fraction) -> Scene:
        plate = Plate(closed, breadth, unit, look)
        return _drawn(plate, [[Flat(plate)]], scale, Exact(width), words.fold_title(closed, breadth, unit, name), alt, grain)

    asked = [[Flat(Plate(closed, breadth, unit))]]
    widest = _widest(asked, Exact(width) - 2 * EDGE, min(scale or Exact(1), Exact(1)))
    return fitted(draw, widest, _drawn_high(asked), height)


def _drawn_high(rows: Sequence[Sequence[Part]]) -> Length:
    """The true height of what the rows show."""
    most = (max(part.room(Exact(1)).below - part.room(Exact(0)).below for part in row) for row in rows)
    return Length(sum(most, Exact(0)) / 72)


def _widest(rows: Sequence[Sequence[Part]], room: Fraction, most: Fraction) -> Fraction:
    """The largest whole percentage at which every row fits."""

    def fits(percent: int) -> bool:
        return all(_wide(row, Exact(percent, 100)) <= room for row in rows)

    low, high = int(_LEAST * 100), int(round_scale(most) * 100)
    if high <= low or fits(high):
        return round_scale(most)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return Exact(low, 100)


def _wide(row: Sequence[Part], scale: Fraction) -> Fraction:
    rooms = [part.room(scale) for part in row]
    return sum((room.left + room.right for room in rooms), _GAP * (len(rooms) - 1))


def _drawn(
    plate: Plate, rows: Sequence[Sequence[Part]], scale: Fraction, width: Fraction, title: str, alt: str, grain: str | None
) -> Scene:
    draft = plate.draft
    y = EDGE + figure_height(10)
    draft.text(title, EDGE, y, 10, "title", weight="semibold")
    y += 8
    key: list[CaptionNote] = []
    for row in rows:
        rooms = [part.room(scale) for part in row]
        headed = figure_height(HEAD) + 6 if any(part.heading for part in row) else Exact(0)
        top = y + headed + max(room.above for room in rooms)
        left = EDGE
        for part, room in zip(row, rooms):
            if part.heading:
                plate.heading(part.heading, left, y + figure_height(HEAD))
            key += part.draw((left + room.left, top), scale)
            left += room.left + room.right + _GAP
        y = top + max(room.below for room in rooms) + _APART
    signs = [CaptionNote(words.SCORE, line="score")] if plate.closed.base.scores else []
    if plate.hides:
        signs.append(CaptionNote(words.HIDDEN, line="hidden"))
    if plate.folds:
        signs.append(CaptionNote(words.FOLD_EDGE, line="fold"))
    if plate.insides:
        signs.append(CaptionNote(words.INSIDE, line="inside"))
    if unnamed := [name for name, there in plate.named.items() if not there]:
        signs.append(CaptionNote(words.too_narrow(unnamed)))
    if grain:
        signs.append(CaptionNote(words.grain_text(grain)))
    signs.append(CaptionNote(scale_text(scale)))
    bottom = notes(draft, [key, signs], EDGE, width - EDGE, y - _APART / 2)
    return draft.scene(width, bottom + EDGE, title, alt, scale)
