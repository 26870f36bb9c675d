"""Every set of pieces that a sheet can yield and that no other set contains.

A table like the one-sheet solver's, but each size holds all such sets instead of one
value. It grows fast: for small kits only, and given up beyond a set amount of work.
"""

from __future__ import annotations

import numpy as np

from kitwright.cutting.batch.exact import Region
from kitwright.cutting.batch.paper import Counts

PAIRS = 2_000_000
"""Sums of two sets that may be looked at."""
LOOKS = 60_000
"""Pairs of sizes that may be looked at."""
COUNTS = 32_000_000
"""Counts of single pieces in those sums: of many labels a sum is long."""
COMPARED = 200_000_000
"""Counts that may be compared to find which sets are within others."""
SOME = 32
"""Sets compared with one another at once."""


def frontier(region: Region, limits: Counts) -> list[Counts] | None:
    """All maximal yields, none above the limits; None when that is too much work."""
    if region.grid is None or region.coarse > 1:
        return None
    grid, n = region.grid, len(limits)
    x, y = grid.x, grid.y
    if len(x) * len(y) * (len(x) + len(y)) // 4 > LOOKS:
        return None
    most = np.array(limits, np.int32)
    empty = np.zeros((1, n), np.int32)
    sets = [[empty] * len(y) for _ in range(len(x))]
    spots: dict[tuple[int, int], list[int]] = {}
    for way, spot in zip(grid.ways, grid.spots):
        spots.setdefault(spot, []).append(way[0])
    work = sizes = 0
    left = COMPARED
    for i in range(1, len(x)):
        for j in range(1, len(y)):
            sizes += len(x) + len(y)
            parts = [sets[i - 1][j], sets[i][j - 1]]
            parts += [np.eye(n, dtype=np.int32)[[k]] for k in spots.get((i, j), [])]
            pairs = [(sets[a][j], sets[int(x.rest(i, a))][j]) for a in range(1, x.down(x.at[i] // 2) + 1)]
            pairs += [(sets[i][b], sets[i][int(y.rest(j, b))]) for b in range(1, y.down(y.at[j] // 2) + 1)]
            for one, other in pairs:
                work += len(one) * len(other)
                if work > PAIRS or work * n > COUNTS:
                    region.work.charge(4 * sizes + work // 10)
                    return None
                parts.append((one[:, None, :] + other[None, :, :]).reshape(-1, n))
            sets[i][j], left = _largest(np.minimum(np.concatenate(parts), most), most, left)
            if left < 0:
                region.work.charge(4 * sizes + work // 10)
                return None
    region.work.charge(4 * sizes + work // 10)
    return [tuple(int(c) for c in row) for row in sets[-1][-1]]


def _largest(rows: np.ndarray, most: np.ndarray, purse: int) -> tuple[np.ndarray, int]:
    """The rows that no other row contains, none above `most`, in the order of their sums; and what is left of the purse of
    counts to compare: below zero it was given up."""
    # As one number each: these sort as the rows do, and many times faster.
    radix = np.cumprod([1, *(most[:0:-1].astype(np.int64) + 1)])[::-1]
    if float(radix[0]) * (int(most[0]) + 1) < 2**62:
        rows = rows[np.unique(rows @ radix, return_index=True)[1]]
    else:
        rows = np.unique(rows, axis=0)
    rows = rows[np.argsort(-rows.sum(axis=1), kind="stable")]
    start = 0
    while start < len(rows) and purse >= 0:
        # What the next rows contain goes; among these few themselves, one by one.
        few = rows[start : start + SOME]
        inside = (few[None, :, :] >= few[:, None, :]).all(axis=2)
        kept = few[~np.tril(inside, -1).any(axis=1)]
        rest = rows[start + len(few) :]
        beaten = np.zeros(len(rest), bool)
        purse -= len(kept) * rest.size
        for row in kept:
            beaten |= (rest <= row).all(axis=1)
        rows = np.concatenate([rows[:start], kept, rest[~beaten]])
        start += len(kept)
    return rows, purse
