"""The three drawings of a fold on one picture, at one scale: the base flat, the card closed, the card opened."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import figure_height, fitted, round_scale, scale_text
from kitwright.drawing.folds.flat import Flat
from kitwright.drawing.folds.opened import Opened
from kitwright.drawing.folds.part import Part
from kitwright.drawing.folds.plate import HEAD, OnPanel, Plate
from kitwright.drawing.folds.shut import Shut
from kitwright.drawing.front import Looks
from kitwright.drawing.fullink import in_full_ink
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.scene import Number, Scene
from kitwright.exact import Exact
from kitwright.folding import Closed, Runs
from kitwright.telling import panels as words
from kitwright.units import Length

EDGE = Exact(6)
_GAP, _APART = Exact(22), Exact(16)
"""Between drawings beside one another, and between rows of them, points."""
_ONE_ROW = 400
"""A picture at least so wide has all three beside one another, points."""
_MOST, _MOST_BELOW, _LEAST = Exact(1, 2), Exact(9, 25), Exact(4, 100)
"""The largest scale, that of a wide picture where some stand below others, and the smallest that is looked for."""
_ENOUGH = Exact(6, 25)
"""Smaller than this, another way of standing beside one another is tried."""


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

    def draw(scale: Fraction, grid: _Grid) -> Scene:
        found = plate()
        heading, alt = words.fold_title(closed, breadth, unit, name), words.fold_alt(closed, breadth, unit, grain)
        return _drawn(found, _laid(found, grid), scale, Exact(width), heading, alt, grain)

    def largest(grid: _Grid) -> Scene:
        asked = _laid(plate(), grid)
        most = _MOST_BELOW if width >= _ONE_ROW and (len(grid) > 1 or any(len(column) > 1 for column in grid[0])) else _MOST
        widest = _widest(asked, Exact(width) - 2 * EDGE, min(scale or most, most))
        return fitted(lambda at: draw(at, grid), widest, _drawn_high(asked), height)

    first, *others = _grids(closed.base.runs, width >= _ONE_ROW)
    scene = largest(first)
    if scene.stated_scale < _ENOUGH:
        scene = max([scene, *map(largest, others)], key=lambda each: each.stated_scale)
    return scene


_Grid = list[list[list[Callable[[Plate], Part]]]]
"""Rows of columns of drawings."""
_Laid = Sequence[Sequence[Sequence[Part]]]


def _grids(runs: Runs, wide: bool) -> list[_Grid]:
    """How the three may stand on a picture, the most usual first."""
    in_rows: _Grid = [[[Flat]], [[Shut], [Opened]]]
    if not wide:
        return [in_rows]
    if runs == "across":
        # The flat base is high then: what is lower stands beside it, one below the other.
        return [[[[Flat], [Shut, Opened]]], [[[Flat], [Shut], [Opened]]]]
    return [[[[Flat], [Shut], [Opened]]], in_rows]


def _laid(plate: Plate, grid: _Grid) -> _Laid:
    return [[[part(plate) for part in column] for column in row] for row in grid]


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
        return _drawn(plate, [[[Flat(plate)]]], scale, Exact(width), words.fold_title(closed, breadth, unit, name), alt, grain)

    asked = [[[Flat(Plate(closed, breadth, unit))]]]
    widest = _widest(asked, Exact(width) - 2 * EDGE, min(scale or Exact(1), Exact(1)))
    return fitted(draw, widest, _drawn_high(asked), height)


def fold_in_short(
    closed: Closed,
    breadth: Length,
    *,
    unit: str = "in",
    width: Number = 240,
    height: Number | None = None,
    look: DrawnLook | None = None,
    lies: Sequence[OnPanel] = (),
    looks: Looks | None = None,
    name: str = "",
) -> Scene:
    """How a card folds, small: the base flat with its lines numbered as they are folded, and the card standing open.

    Where the lines are, what is done at each and what the fold is called are said elsewhere on the page.
    """

    def plate() -> Plate:
        return Plate(closed, breadth, unit, look, lies, looks or {}, sized=False)

    def laid(plate: Plate) -> _Laid:
        return [[[Flat(plate)], [Opened(plate)]]]

    heading, alt = words.fold_title(closed, breadth, unit, name), words.fold_alt(closed, breadth, unit, None)

    def draw(scale: Fraction) -> Scene:
        found = plate()
        return _drawn(found, laid(found), scale, Exact(width), heading, alt, None, short=True)

    asked = laid(plate())
    return in_full_ink(fitted(draw, _widest(asked, Exact(width) - 2 * EDGE, _MOST), _drawn_high(asked), height))


def _drawn_high(rows: _Laid) -> Length:
    """The true height of what the rows show."""

    def drawn(column: Sequence[Part]) -> Fraction:
        return sum((part.room(Exact(1)).below - part.room(Exact(0)).below for part in column), Exact(0))

    return Length(sum((max(map(drawn, row)) for row in rows), Exact(0)) / 72)


def _widest(rows: _Laid, room: Fraction, most: Fraction) -> Fraction:
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


def _wide(row: Sequence[Sequence[Part]], scale: Fraction) -> Fraction:
    return sum((_across(column, scale) for column in row), _GAP * (len(row) - 1))


def _across(column: Sequence[Part], scale: Fraction) -> Fraction:
    rooms = [part.room(scale) for part in column]
    return max(room.left for room in rooms) + max(room.right for room in rooms)


def _drawn(
    plate: Plate, rows: _Laid, scale: Fraction, width: Fraction, title: str, alt: str, grain: str | None, short: bool = False
) -> Scene:
    draft = plate.draft
    y = EDGE
    if not short:
        y += figure_height(10)
        draft.text(title, EDGE, y, 10, "title", weight="semibold")
        y += 8
    key: list[CaptionNote] = []
    for row in rows:
        # What heads the columns of a row stands on one line, with its upper edges.
        above, left = max(column[0].room(scale).above for column in row), EDGE
        bottoms = []
        for column in row:
            inset, top = max(part.room(scale).left for part in column), y
            for part in column:
                room = part.room(scale)
                if part.heading:
                    plate.heading(part.heading, left, top + figure_height(HEAD))
                    top += figure_height(HEAD) + 6
                top += above if part is column[0] else room.above
                key += part.draw((left + inset, top), scale)
                top += room.below + _APART
            bottoms.append(top)
            left += _across(column, scale) + _GAP
        y = max(bottoms)
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
    if short:
        key, signs = [], signs[:1]
    signs.append(CaptionNote(scale_text(scale)))
    bottom = notes(draft, [key, signs], EDGE, width - EDGE, y - _APART / 2)
    return draft.scene(width, bottom + EDGE, title, alt, scale)
