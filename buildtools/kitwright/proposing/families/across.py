"""A strip laid across, over a panel or over columns, as a ribbon lies on a parcel."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.geometry import Rect
from kitwright.proposing.families.face import InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import counts, crossed, lines, spread, upto
from kitwright.proposing.records import Side

MOST_COLUMNS = 4
"""Columns under the strip."""
SHARE = 3
"""The strip takes at most such a part of the height."""


class AcrossFamily:
    """Columns fill the field, one or several; the strip lies a third up, from edge to edge. Where a band is asked for there is none free."""

    name = "band across"
    place = 7

    def batches(self, field: Field) -> Iterator[Batch]:
        wide, high = field.room("x", 1), field.room("y", 1)
        if field.card.fold == "gate" or field.band or wide is None or high is None:
            return
        narrow, apart = field.asked_of[0], field.apart
        for columns in range(1, MOST_COLUMNS + 1):
            room = field.room("x", columns)
            if room is None or not field.takes(columns + 1):
                continue
            for kinds in range(1, min(columns, field.wish.kinds, 2) + 1):
                for each in counts(columns, kinds):
                    params = crossed(lines(room, each, narrow, apart, every=field.every), upto(narrow, high // SHARE, field.every))
                    widths, strip = params[:, :-1], params[:, -1]
                    under = np.stack([widths, np.full_like(widths, high)], axis=2)
                    over = np.column_stack([np.full_like(strip, wide), strip])
                    sizes = np.concatenate([under, over[:, None, :]], axis=1)
                    good = field.kept(sizes, (*each, 1), (*(2 * n for n in each), 0))
                    if good.any():
                        yield Batch(each, sizes[good], (*each, 1), params[good])

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        items: list[Item] = [InRow(kind) for kind in spread(batch.shape)]
        front = walk.laid(items, down=False)
        strip, inner = walk.sizes[-1], field.inner
        up = field.step * int((inner.height - strip.height) / 3 / field.step // 1)
        rect = Rect(inner.x, inner.bottom - up - strip.height, strip.width, strip.height)
        said = walk.put(InRow(len(walk.sizes) - 1), rect, over=True)
        return walk.side(self.name, front | {"over": [said | {"on": "front", "bottom": field.border + up}]})


FAMILY = AcrossFamily()
