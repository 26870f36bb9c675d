"""Words in a column beside a drawing, each with a thin line to what it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.drawing import fonts
from kitwright.drawing.dimensions import figure_height
from kitwright.drawing.labels import dot, leader
from kitwright.drawing.placing import Board, spread
from kitwright.drawing.scene import Draft, Point
from kitwright.exact import Exact

SIZE, LEADING = Exact(17, 2), Exact(21, 2)
_APART = Exact(7)
"""Between one callout and the next, points."""


@dataclass(frozen=True, slots=True)
class Callout:
    """What is said of a place on a drawing."""

    start: Point
    """The place; a dot marks it."""
    words: Sequence[str]
    """Its lines, broken further where the column is narrow."""
    role: str = "figure"


def column_width(callouts: Sequence[Sequence[str]], most: Fraction) -> Fraction:
    """What a column of these takes, at most `most` points."""
    return min(most, max((fonts.width(line, SIZE) for words in callouts for line in words), default=Exact(0)) + 1)


def set_beside(draft: Draft, board: Board, callouts: Sequence[Callout], left: Fraction, wide: Fraction, top: Fraction) -> Fraction:
    """Set them in one column, in the order of their places from above; returns the y below."""
    ordered = sorted(callouts, key=lambda c: (c.start[1], c.start[0]))
    lines = [[part for line in c.words for part in fonts.wrap(line, SIZE, wide)] for c in ordered]
    high = [figure_height(SIZE) + LEADING * (len(each) - 1) for each in lines]
    # A line ends at the first words, so these should stand where the place is.
    wanted = [c.start[1] + (h - figure_height(SIZE)) / 2 for c, h in zip(ordered, high)]
    bottom = top
    for callout, words, h, middle in zip(ordered, lines, high, spread(wanted, [h + _APART for h in high], top)):
        first = middle - h / 2 + figure_height(SIZE)
        for i, line in enumerate(words):
            text = draft.text(line, left, first + LEADING * i, SIZE, callout.role)
            bottom = max(bottom, text.box.bottom)
        end = (left - 3, first - figure_height(SIZE) / 2)
        leader(draft, callout.start, end)
        board.rule(callout.start, end)
        dot(draft, callout.start)
    return bottom
