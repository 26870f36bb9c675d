"""Doors of a gate fold: the left door and the right door alike, strips and panels on each."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.proposing.families.face import Walk, mirrored
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.rows import in_rows, stacked
from kitwright.proposing.records import Side

DOORS = ("left door", "right door")
"""The faces that they are, as the file calls them."""


class DoorsFamily:
    """Rows on a door, and the same on the other. The greeting stands inside, so no band is free."""

    name = "gate doors"
    place = 9

    def batches(self, field: Field) -> Iterator[Batch]:
        if field.card.fold == "gate" and not field.band:
            yield from stacked(field, doors=len(DOORS))

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        front = walk.laid(in_rows(batch.shape, False))
        walk.spots += mirrored(walk.spots, field.card.closed.width)
        return walk.side(self.name, dict.fromkeys(DOORS, front))


FAMILY = DoorsFamily()
