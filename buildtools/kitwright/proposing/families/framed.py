"""A framed panel: four strips with butted ends around it; around a free middle where a band is asked for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import crossed, upto
from kitwright.proposing.records import Side


class FramedFamily:
    """The strips at top and bottom are alike, and those at the sides; either pair runs from edge to edge."""

    name = "framed panel"
    place = 5

    def batches(self, field: Field) -> Iterator[Batch]:
        wide, high, inside, between = field.room("x", 1), field.room("y", 1), field.room("x", 3), field.room("y", 3)
        pieces = 4 if field.band else 5
        if field.card.fold == "gate" or not field.takes(pieces) or wide is None or high is None or inside is None or between is None:
            return
        narrow, _, panel = field.asked_of
        tall = max(panel, -(-field.band // field.step)) if field.band else panel
        params = crossed(upto(narrow, (inside - panel) // 2, field.every), upto(narrow, (between - tall) // 2, field.every))
        aside, above = params[:, 0], params[:, 1]
        middle = np.column_stack([inside - 2 * aside, between - 2 * above])
        for way in ("top", "sides"):
            if way == "top":
                level, upright = np.column_stack([np.full_like(above, wide), above]), np.column_stack([aside, middle[:, 1]])
            else:
                level, upright = np.column_stack([middle[:, 0], above]), np.column_stack([aside, np.full_like(aside, high)])
            sizes = np.stack([level, upright] if field.band else [middle, level, upright], axis=1)
            each = (2, 2) if field.band else (1, 2, 2)
            good = field.kept(sizes, each)
            if good.any():
                yield Batch(way, sizes[good], each, params[good])

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        level, upright = (InRow(0), InRow(1)) if field.band else (InRow(1), InRow(2))
        middle: Item = BAND if field.band else InRow(0)
        if batch.shape == "top":
            return walk.side(self.name, walk.laid([level, [upright, middle, upright], level]))
        return walk.side(self.name, walk.laid([upright, [level, middle, level], upright], down=False))


FAMILY = FramedFamily()
