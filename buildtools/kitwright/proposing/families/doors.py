"""Doors of a gate fold: rows on each door, or columns, the right door the left one seen in a mirror."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from kitwright.folding.kinds.kind import Asked
from kitwright.proposing.families.columns import side_by_side
from kitwright.proposing.families.face import InRow, Walk, mirrored
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.rows import in_rows, stacked
from kitwright.proposing.families.values import spread
from kitwright.proposing.records import Side

DOORS = ("left door", "right door")
"""The faces that they are, as the file calls them."""


class DoorsFamily:
    """Rows or columns on a door, and the same on the other. The greeting stands inside, so no band is free."""

    name = "gate doors"
    place = 9

    def batches(self, field: Field) -> Iterator[Batch]:
        # Doors that end between two marks are scored a hair short, and what fills them by name would not.
        mark = Asked(None, field.wish.unit == "mm").mark
        if field.card.fold == "gate" and not field.band and not (field.card.closed.width / 2) % mark:
            for way, laid in (("rows", stacked), ("columns", side_by_side)):
                for batch in laid(field, doors=len(DOORS)):
                    yield replace(batch, shape=(way, tuple(n // len(DOORS) for n in batch.each)))

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk, (way, each) = Walk(field, batch, i), batch.shape
        if way == "rows":
            left = right = walk.laid(in_rows(each, False))
            lies = walk.spots
        else:
            left = walk.laid([InRow(kind) for kind in spread(each)], down=False)
            right, lies = {**left, way: left[way][::-1]}, walk.spots[::-1]
        walk.spots += mirrored(lies, field.card.closed.width)
        return walk.side(self.name, dict(zip(DOORS, (left, right))))


FAMILY = DoorsFamily()
