"""A grid: equal cells, or columns and rows of two sizes each that cross; over a free band where one is asked for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import counts, crossed, lines, spread
from kitwright.proposing.makeable import MOST_ROWS
from kitwright.proposing.records import Side

TWO_SIZES = 4
"""Columns, or rows, of two sizes: at most so many."""


class GridFamily:
    """Every column crosses every row."""

    name = "grid"
    place = 3

    def batches(self, field: Field) -> Iterator[Batch]:
        if field.card.fold == "gate":
            return
        narrow, apart = field.asked_of[0], field.apart
        for across, columns in _ways(field, "x"):
            widths = lines(columns, across, narrow, apart, every=field.every)
            for down, rows in _ways(field, "y"):
                more = len(across) * len(down) - field.wish.kinds
                if not field.takes(sum(across) * sum(down)) or more > field.turns:
                    continue
                heights = lines(rows, down, narrow, apart, every=field.every, exact=not field.band)
                params = crossed(widths, heights)
                if more > 0:
                    # Two sizes cross the same two: 2 × 1 and 1 × 2 are one kind.
                    params = params[(params[:, : len(across)] == params[:, len(across) :]).all(axis=1)]
                if not len(params):
                    continue
                pairs = [(a, len(across) + b) for a in range(len(across)) for b in range(len(down))]
                sizes = np.stack([params[:, pair] for pair in pairs], axis=1)
                each = tuple(n * m for n in across for m in down)
                good = field.kept(sizes, each)
                if good.any():
                    yield Batch((across, down), sizes[good], each, params[good])

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        across, down = batch.shape
        walk = Walk(field, batch, i)
        rows: list[Item] = [[InRow(a * len(down) + b) for a in spread(across)] for b in spread(down)]
        return walk.side(self.name, walk.laid([*rows, BAND] if field.band else rows))


def _ways(field: Field, axis: str) -> Iterator[tuple[tuple[int, ...], int]]:
    """How many columns (`x`) or rows of each size, and the steps that they share."""
    for n in range(2, MOST_ROWS + 1):
        if axis == "x":
            room = field.room("x", n)
        else:
            room = field.most("y", n, field.band) if field.band else field.room("y", n)
        if room is not None:
            for kinds in (1, 2) if n <= TWO_SIZES else (1,):
                for each in counts(n, kinds):
                    yield each, room


FAMILY = GridFamily()
