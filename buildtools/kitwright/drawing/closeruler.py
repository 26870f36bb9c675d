"""The ruler of a guide that has little room: in full ink, round the corner of the sheet, its figures thinned out."""

from __future__ import annotations

from fractions import Fraction

from kitwright.drawing import fonts
from kitwright.drawing.dimensions import RULER, figure_height, ruler_steps
from kitwright.drawing.labels import SEMIBOLD
from kitwright.drawing.scene import Box, Draft, Frame, Point
from kitwright.exact import Exact

SIZE = 8
"""Of figures, points."""
OVER = Exact(6)
"""How far figures may reach past the end of the sheet, points."""
_CLEAR = Exact(2)
"""From tick to tick, at least, points: closer ones run into one another in a copy."""
_FROM_EDGE = Exact(17, 2)
"""From the edge of the sheet to upright figures beside it, points."""


def close_ruler(draft: Draft, frame: Frame, across: Fraction, along: Fraction, unit: str) -> None:
    """A ruler along the top edge and the left one of a sheet at the frame's origin.

    Args:
        across, along: how far it reaches, points.
        unit: `in` or `mm`.
    """
    if draft.bare:
        return
    x, y = frame.x, frame.y
    draft.box(Box(x - RULER, y - RULER, x + across, y), None, "surface")
    draft.box(Box(x - RULER, y, x, y + along), None, "surface")
    for vertical, long in ((False, across), (True, along)):
        _edge(draft, frame, long, unit, vertical)


def _edge(draft: Draft, frame: Frame, long: Fraction, unit: str, vertical: bool) -> None:
    """Ticks and figures along one edge."""
    step, marks = ruler_steps(unit, frame.scale, _CLEAR)
    apart, every = step * 72 * frame.scale, marks[-1][0]
    last = int(long / apart)
    each = 1 if unit == "in" else 10
    widest = fonts.width(str(last // every * each), SIZE, SEMIBOLD)
    # Three figures beside one another are wider than the ruler is deep.
    upward = vertical and last // every * each >= 100
    need = figure_height(SIZE) + 5 if vertical and not upward else widest * Exact(3, 2)
    skip = next((k for k in (1, 2, 5, 10, 20) if k * every * apart >= need), 50)
    ticks: list[tuple[Point, Point]] = []
    for i in range(last + 1):
        at = i * apart
        depth = next(d for n, d in reversed(marks) if i % n == 0)
        ticks.append(
            ((frame.x, frame.y + at), (frame.x - depth, frame.y + at))
            if vertical
            else ((frame.x + at, frame.y), (frame.x + at, frame.y - depth))
        )
        number = i // every
        if i % every == 0 and number % skip == 0:
            text = str(number * each)
            # The last one stands on its mark as well, but never past the picture's margin.
            half = fonts.width(text, SIZE, SEMIBOLD) / 2
            _figure(draft, frame, at if vertical and not upward else min(at, long + OVER - half), text, vertical, upward)
    draft.lines("tick", ticks)


def _figure(draft: Draft, frame: Frame, at: Fraction, text: str, vertical: bool, upward: bool) -> None:
    """A figure in line with its mark."""
    if upward:
        draft.text(text, frame.x - Exact(21, 2), frame.y + at + fonts.width(text, SIZE, SEMIBOLD) / 2, SIZE, weight="semibold", upward=True)
    elif vertical:
        draft.text(text, frame.x - _FROM_EDGE, frame.y + at + figure_height(SIZE) / 2, SIZE, anchor="end", weight="semibold")
    else:
        draft.text(text, frame.x + at, frame.y - Exact(21, 2), SIZE, anchor="middle", weight="semibold")
