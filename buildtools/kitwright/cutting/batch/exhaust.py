"""For a few pieces: the fewest leftovers, and the largest, of any way to cut them from a sheet.

Every tree is looked at, up to shifts that change neither. Where a cut has waste on both
sides, it can be shifted until what lies on one side is packed; where the one side can't
grow without another leftover, it is packed already. So one side of every cut measures a sum
of piece sides.
"""

from __future__ import annotations

from functools import cache
from itertools import product

from kitwright.cutting.batch.paper import Counts, Lattice

WORK = 10_000
"""Cuts that may be looked at."""
DEEP = 60
"""Cuts within cuts that may be looked at: fine lattices can be shaved off without end."""
FEW = 8
"""Pieces up to which it is tried at all."""


class _TooMuch(Exception):
    """More cuts than are allowed."""


def leftovers(paper: Lattice, counts: Counts) -> tuple[int, int] | None:
    """How many leftovers there are at least when just these pieces are cut, and the largest area that one can have.

    The two may need different trees. Returns None when that is too much work, or when the
    sheet does not yield the pieces.
    """
    if sum(counts) > FEW:
        return None
    work, depth = [WORK], [0]
    area = [k.width * k.height for k in paper.kinds]

    @cache
    def sums(counts: Counts, most: int) -> frozenset[int]:
        found = {0}
        for kind, n in enumerate(counts):
            sides = {paper.kinds[kind].width, paper.kinds[kind].height}
            for _ in range(n):
                found |= {at + side for at in found for side in sides if at + side <= most}
        return frozenset(found)

    @cache
    def best(counts: Counts, w: int, h: int) -> tuple[int, int] | None:
        depth[0] += 1
        try:
            if depth[0] > DEEP:
                raise _TooMuch
            return looked_at(counts, w, h)
        finally:
            depth[0] -= 1

    def looked_at(counts: Counts, w: int, h: int) -> tuple[int, int] | None:
        if not any(counts):
            return 1, w * h
        if sum(n * a for n, a in zip(counts, area)) > w * h:
            return None
        if sum(counts) == 1 and any((a, b) == (w, h) for a, b, _ in paper.ways(counts.index(1), w, h)):
            return 0, 0
        fewest, largest = None, 0
        for across in (True, False):
            whole = w if across else h
            ends = sums(counts, whole)
            for at in sorted(p for p in ends | {whole - p for p in ends} if 0 < 2 * p <= whole):
                for one in product(*(range(n + 1) for n in counts)):
                    work[0] -= 1
                    if work[0] < 0:
                        raise _TooMuch
                    first = best(one, at, h) if across else best(one, w, at)
                    if first is None:
                        continue
                    other = tuple(n - m for n, m in zip(counts, one))
                    second = best(other, whole - at, h) if across else best(other, w, whole - at)
                    if second is None:
                        continue
                    both = first[0] + second[0]
                    fewest = both if fewest is None else min(fewest, both)
                    largest = max(largest, first[1], second[1])
        return None if fewest is None else (fewest, largest)

    try:
        return best(counts, paper.width, paper.height)
    except _TooMuch:
        return None
