"""Stacked rows: strips and panels of full width, one below the other; a free band where one is asked for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import counts, lines, spread
from kitwright.proposing.makeable import MOST_ROWS
from kitwright.proposing.records import Side


class RowsFamily:
    """Every row is as wide as the field; their heights add up to its own, or leave the band."""

    name = "rows"
    place = 1

    def batches(self, field: Field) -> Iterator[Batch]:
        if field.card.fold != "gate":
            yield from stacked(field, field.wish.pieces is None)

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        return walk.side(self.name, walk.laid(in_rows(batch.each, bool(field.band))))


def stacked(field: Field, several: bool = False, doors: int = 1) -> Iterator[Batch]:
    """Rows of a field's width.

    Args:
        field: the front, or a door.
        several: whether a single row that fills it is left out.
        doors: how many fields are filled alike.
    """
    width, apart = field.room("x", 1), field.apart
    if width is None or width <= 0:
        return
    for rows in range(1, MOST_ROWS + 1):
        room = field.most("y", rows, field.band) if field.band else field.room("y", rows)
        if room is None or not field.takes(rows * doors) or rows == 1 and several and not field.band:
            continue
        for kinds in range(1, min(rows, field.wish.kinds) + 1):
            for each in counts(rows, kinds):
                heights = lines(room, each, field.asked_of[0], apart, every=field.every, exact=not field.band)
                sizes = np.stack([np.full_like(heights, width), heights], axis=2)
                good = field.kept(sizes, each)
                if good.any():
                    yield Batch(each, sizes[good], tuple(doors * n for n in each), heights[good])


def in_rows(each: tuple[int, ...], band: bool) -> list[Item]:
    """The rows from the top: alike from both ends where they can be; with a band the largest first, and the band over the last."""
    if not band:
        return [InRow(kind) for kind in spread(each)]
    order: list[Item] = [InRow(kind) for kind, n in enumerate(each) for _ in range(n)]
    return [*order[:-1], BAND, order[-1]] if len(order) > 1 else [*order, BAND]


FAMILY = RowsFamily()
