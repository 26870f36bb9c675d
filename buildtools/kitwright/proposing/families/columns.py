"""Columns: strips and panels side by side, as high as the field, or over a free band where one is asked for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import counts, crossed, lines, spread, upto
from kitwright.proposing.makeable import MOST_ROWS
from kitwright.proposing.records import Side


class ColumnsFamily:
    """All columns are of one height; their widths add up to the field's."""

    name = "columns"
    place = 2

    def batches(self, field: Field) -> Iterator[Batch]:
        if field.card.fold != "gate":
            yield from side_by_side(field)

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        items: list[Item] = [InRow(kind) for kind in spread(batch.each)]
        front = walk.laid([items, BAND]) if field.band else walk.laid(items, down=False)
        return walk.side(self.name, front)


def side_by_side(field: Field, doors: int = 1) -> Iterator[Batch]:
    """Columns of one height.

    Args:
        field: the front, or a door.
        doors: how many fields are filled alike.
    """
    heights = heights_over_band(field)
    apart = field.apart
    for columns in range(2, MOST_ROWS + 1):
        room = field.room("x", columns)
        if room is None or not field.takes(columns * doors):
            continue
        for kinds in range(1, min(columns, field.wish.kinds) + 1):
            for each in counts(columns, kinds):
                params = crossed(lines(room, each, field.asked_of[0], apart, every=field.every), heights)
                widths, high = params[:, :-1], params[:, -1:]
                sizes = np.stack([widths, np.broadcast_to(high, widths.shape)], axis=2)
                good = field.kept(sizes, each)
                if good.any():
                    yield Batch(each, sizes[good], tuple(doors * n for n in each), params[good])


def heights_over_band(field: Field) -> np.ndarray:
    """Heights in steps that one row of pieces may have: all of the field's, or whatever leaves the band that is asked for; n × 1."""
    if field.band:
        return upto(field.asked_of[0], field.most("y", 1, field.band), field.every)
    whole = field.room("y", 1)
    return upto(whole, whole) if whole and whole > 0 else upto(1, 0)


FAMILY = ColumnsFamily()
