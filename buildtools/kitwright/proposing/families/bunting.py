"""Bunting: a row of triangles on their points over a free band, strips and panels below.

The long side of a triangle is a root (`card/pointed.py`), so a row of them never fills the width to
the last hair, and what is below never adds up with them: the band between takes what is left.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np

from kitwright.card.pointed import drop, long_side
from kitwright.geometry import Diagonal
from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import counts, lines
from kitwright.proposing.makeable import LEAST
from kitwright.proposing.records import Side
from kitwright.units import Length, Size

if TYPE_CHECKING:
    from collections.abc import Sequence

FLAGS = range(3, 9)
"""How many flags hang in a row."""
ENDS = Length(Fraction(1, 2))
"""As much may stand free at each end of the row: more, and one flag is missing."""
SKY = Length(Fraction(1, 2))
"""The least free band under the flags, where none is asked for."""
BELOW = 3
"""Strips and panels below, at most."""


class BuntingFamily:
    """Flags are halves of squares, point down. Paper with an up hangs askew then, so it makes none."""

    name = "bunting"
    place = 8

    def batches(self, field: Field) -> Iterator[Batch]:
        wide = field.room("x", 1)
        if field.card.fold == "gate" or wide is None or not field.turns:
            return
        narrow, apart = field.asked_of[0], field.apart
        for flags, leg in _flags(field):
            square = Size(field.step * leg, field.step * leg)
            free = drop(square) + max(field.band or SKY, SKY)
            for below in range(1, BELOW + 1):
                if not field.takes(flags + below):
                    continue
                room = field.most("y", below + 1, free)
                for kinds in range(1, min(below, field.wish.kinds - 1) + 1):
                    for each in counts(below, kinds):
                        yield from _batch(field, (flags, leg, wide), each, lines(room, each, narrow, apart, every=field.every, exact=False))

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        flags: list[Item] = [InRow(0, "down")] * batch.shape[0]
        below: list[Item] = [InRow(1 + kind) for kind, n in reversed(list(enumerate(batch.shape[1]))) for _ in range(n)]
        return walk.side(self.name, walk.laid([flags, BAND, *below]))


def _flags(field: Field) -> Iterator[tuple[int, int]]:
    """How many flags of which leg, in steps, hang from end to end of the field."""
    width, least = field.side("x"), field.up(LEAST[field.wish.unit].flag)
    for flags in FLAGS:
        if field.gap * (flags - 1) >= width:
            return
        each = (width - field.gap * (flags - 1)) / flags
        for leg in range(least, each // field.step + 1):
            long = long_side(Size(field.step * leg, field.step * leg))
            if long <= each and (each - long) * flags <= ENDS * 2:
                yield flags, leg


def _batch(field: Field, row: tuple[int, int, int], each: Sequence[int], heights: np.ndarray) -> Iterator[Batch]:
    flags, leg, wide = row
    square = np.full((len(heights), 1, 2), leg, dtype=np.int64)
    sizes = np.concatenate([square, np.stack([np.full_like(heights, wide), heights], axis=2)], axis=1)
    good = field.kept(sizes, (flags, *each), (flags, *(2 * n for n in each)), flags=1)
    if good.any():
        halved: tuple[Diagonal | None, ...] = ("falling", *(None for _ in each))
        yield Batch((flags, tuple(each)), sizes[good], (flags, *each), heights[good], halved)


FAMILY = BuntingFamily()
