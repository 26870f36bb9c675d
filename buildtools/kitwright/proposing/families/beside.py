"""Rows beside a panel, or a panel over columns."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.rows import in_rows
from kitwright.proposing.families.values import counts, crossed, lines, spread, upto
from kitwright.proposing.makeable import MOST_ROWS
from kitwright.proposing.records import Side


class BesideFamily:
    """A panel as high as the field at its left, rows of one width at its right; or a panel as wide as the field over columns of one height."""

    name = "rows beside a panel"
    place = 4

    def batches(self, field: Field) -> Iterator[Batch]:
        if field.card.fold != "gate":
            yield from _beside(field)
            yield from _over(field)

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        way, each = batch.shape
        if way == "beside":
            stack: list[Item] = [_next(item) for item in in_rows(each, bool(field.band))]
            return walk.side(self.name, walk.laid([InRow(0), stack], down=False))
        columns: list[Item] = [InRow(1 + kind) for kind in spread(each)]
        return walk.side(self.name, walk.laid([InRow(0), BAND, columns] if field.band else [InRow(0), columns]))


def _next(item: Item) -> Item:
    """The kinds of the rows come after the panel."""
    return InRow(item.kind + 1) if isinstance(item, InRow) else item


def _lines_of(field: Field, least: int) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Numbers of rows or columns beside a panel, by kind."""
    for pieces in range(least, MOST_ROWS):
        if field.takes(pieces + 1):
            for kinds in range(1, min(pieces, field.wish.kinds) + 1):
                for each in counts(pieces, kinds):
                    yield pieces, each


def _beside(field: Field) -> Iterator[Batch]:
    both, high = field.room("x", 2), field.room("y", 1)
    narrow, _, panel = field.asked_of
    if both is None or high is None:
        return
    apart = field.apart
    for rows, each in _lines_of(field, 1 if field.band else 2):
        room = field.most("y", rows, field.band) if field.band else field.room("y", rows)
        if room is None:
            continue
        # Words in a band stand in a row, which is as wide as a panel then.
        widths = upto(panel, both - (panel if field.band else narrow), field.every)
        params = crossed(widths, lines(room, each, narrow, apart, every=field.every, exact=not field.band))
        wide, heights = params[:, :1], params[:, 1:]
        rest = np.broadcast_to(both - wide, heights.shape)
        first = np.column_stack([wide, np.full_like(wide, high)])
        sizes = np.concatenate([first[:, None, :], np.stack([rest, heights], axis=2)], axis=1)
        good = field.kept(sizes, (1, *each))
        if good.any():
            yield Batch(("beside", each), sizes[good], (1, *each), params[good])


def _over(field: Field) -> Iterator[Batch]:
    wide, narrow, panel = field.room("x", 1), field.asked_of[0], field.asked_of[2]
    if wide is None:
        return
    apart = field.apart
    if field.band:
        both = field.most("y", 2, field.band)
        heights = lines(both, (1, 1), narrow, -both, every=field.every, exact=False)
    else:
        room = field.room("y", 2)
        if room is None:
            return
        panels = upto(panel, room - narrow, field.every)
        heights = np.column_stack([panels, room - panels])
    heights = heights[heights[:, 0] >= panel]
    for columns, each in _lines_of(field, 2):
        room = field.room("x", columns)
        # With a band there are three free measures; columns of one width keep the fronts to those that look meant.
        if room is None or field.band and len(each) > 1:
            continue
        params = crossed(heights, lines(room, each, narrow, apart, every=field.every))
        first = np.column_stack([np.full(len(params), wide, dtype=np.int64), params[:, 0]])
        widths = params[:, 2:]
        rest = np.stack([widths, np.broadcast_to(params[:, 1:2], widths.shape)], axis=2)
        sizes = np.concatenate([first[:, None, :], rest], axis=1)
        good = field.kept(sizes, (1, *each))
        if good.any():
            yield Batch(("over", each), sizes[good], (1, *each), params[good])


FAMILY = BesideFamily()
