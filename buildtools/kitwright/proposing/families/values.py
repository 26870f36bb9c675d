"""Whole numbers that families are made of: sizes in a line that add up, each multiset once.

A line of pieces is a few different sizes, the largest first, each so many times. All such lines of
one total are written at once, size by size: every line so far is repeated for each value that its
next size may take (`spans`), and the last one follows from the total.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np


def counts(pieces: int, kinds: int) -> Iterator[tuple[int, ...]]:
    """All ways to give so many pieces to so many kinds, none of them without any."""
    if kinds == 1:
        yield (pieces,)
        return
    for first in range(1, pieces - kinds + 2):
        for rest in counts(pieces - first, kinds - 1):
            yield (first, *rest)


def spans(low: np.ndarray, high: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Every whole number from `low` to `high`, both included, entry by entry: of which entry, and which number."""
    length = np.maximum(high - low + 1, 0)
    which = np.repeat(np.arange(len(low)), length)
    first = np.cumsum(length) - length
    return which, np.arange(len(which)) - first[which] + low[which]


def lines(total: int, each: Sequence[int], least: int, apart: int, *, every: int = 1, exact: bool = True) -> np.ndarray:
    """Sizes in a line, the largest first, that add up.

    Args:
        total: what they share, in steps.
        each: how many pieces are of each size.
        least: the least size.
        apart: how much a size is larger than the next, at least.
        every: a size is a whole number of these, but for the last where it follows from the others.
        exact: whether they take all of it; otherwise at most that.

    Returns:
        n × sizes, in rising order of the first, then of the second …
    """
    kinds = len(each)
    # What the sizes from one on take at least.
    floor = [sum(n * (least + apart * (kinds - 1 - k)) for k, n in enumerate(each) if k >= first) for first in range(kinds + 1)]
    found = np.zeros((1, 0), dtype=np.int64)
    left = np.array([total], dtype=np.int64)
    for k, n in enumerate(each):
        smallest = np.full(len(found), least + apart * (kinds - 1 - k), dtype=np.int64)
        largest = (left - floor[k + 1]) // n
        if k:
            largest = np.minimum(largest, found[:, -1] - apart)
        if exact and k == kinds - 1:
            value = left // n
            good = (value * n == left) & (value >= smallest) & (value <= largest)
            return np.column_stack([found[good], value[good]])
        which, value = spans(-(-smallest // every), largest // every)
        value = value * every
        found, left = np.column_stack([found[which], value]), left[which] - value * n
    return found


def crossed(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """Every row of one beside every row of the other."""
    return np.column_stack([np.repeat(one, len(other), axis=0), np.tile(other, (len(one), 1))])


def upto(least: int, most: int, every: int = 1) -> np.ndarray:
    """The whole numbers from one to another, both included, as rows of one; of those, each that is a whole number of `every`."""
    first = -(-least // every)
    return np.arange(first, max(most // every, first - 1) + 1, dtype=np.int64)[:, None] * every


def spread(each: Sequence[int]) -> list[int]:
    """An order of kinds that is the same from both ends where there is one, with the largest in the middle; else the largest first."""
    odd = [k for k, n in enumerate(each) if n % 2]
    if len(odd) > 1 or len(each) == 1:
        return [k for k, n in enumerate(each) for _ in range(n)]
    half = [k for k in reversed(range(len(each))) for _ in range(each[k] // 2)]
    return [*half, *odd, *reversed(half)]
