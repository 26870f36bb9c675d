"""Exact tables for many candidates at once: what every part of a sheet's pieces takes, cut edge to edge in as many stages as it takes.

A candidate asks a sheet for so many pieces of each of its kinds, a vector of counts. For every vector
up to it there is F, the least height for each width, and G, the least width for each height. Pieces
of a part that is cut right across lie on both sides of the cut; so F of a vector is the least of F + F
over all ways to part it in two, one above the other, and of what G + G says, side by side, read the
other way round. That is all: no cut is left out, since a cut that meets no sum of sizes can be moved to one
without loss (Christofides and Whitlock 1977; from memory). Candidates that ask for as many pieces of
each kind are reckoned at once, in arrays of small whole numbers.
"""

from __future__ import annotations

from itertools import product
from math import prod

import numpy as np

Vector = tuple[int, ...]
"""Pieces of each kind."""
PACE = 2800
"""Sums of two entries of a table that count as one step of work."""
OVERHEAD = 25
"""Steps for each vector, however few candidates there are."""
BLOCK = 4096
"""Entries of one line of a table, all candidates together: what stays in a core's own cache for all vectors."""
MEMORY = 1 << 25
"""Bytes of all tables that are reckoned at once."""


def joins(most: Vector) -> int:
    """In how many ways vectors up to this one come apart in two, each once: what a candidate's table costs."""
    return prod((n + 1) * (n + 2) // 2 for n in most) // 2


def cost(width: int, height: int, most: Vector, candidates: int) -> int:
    """Steps of work that the tables of so many candidates take."""
    vectors = prod(n + 1 for n in most)
    return vectors * OVERHEAD + (joins(most) + 4 * vectors) * (width + height + 2) * candidates // PACE


def held(width: int, height: int, most: Vector) -> int:
    """Bytes that one candidate's tables take."""
    side = max(width, height) + 1
    return prod(n + 1 for n in most) * 2 * side * (1 if side < 127 else 2)


def at_once(width: int, height: int, most: Vector) -> int:
    """How many candidates are reckoned at once: as many as fill a line, within `MEMORY`."""
    return max(1, min(BLOCK // (max(width, height) + 1), MEMORY // held(width, height, most)))


class ExactTables:
    """F and G of some candidates of one shape on one sheet."""

    def __init__(self, width: int, height: int, sizes: np.ndarray, most: Vector, turns: bool) -> None:
        """Args:
        width: of the sheet, in steps.
        height: the same.
        sizes: candidates × kinds × 2, width × height in steps.
        most: pieces of each kind; every vector up to it is in the tables.
        turns: whether pieces may lie turned on the sheet.
        """
        self.sizes, self.most, self.turns = sizes, most, turns
        self.none = max(width, height) + 1
        """Stands where it does not fit at all."""
        candidates = len(sizes)
        kind = np.uint8 if 2 * self.none < 256 else np.uint16 if 2 * self.none < 65536 else np.uint32
        shape = tuple(n + 1 for n in most)
        self.f = np.full((*shape, candidates, width + 1), self.none, kind)
        """f[v][c, x]: the least height in which vector v of candidate c comes out of width x."""
        self.g = np.full((*shape, candidates, height + 1), self.none, kind)
        """g[v][c, y]: the least width in which it comes out of height y."""
        self._offset = (np.arange(candidates) * (self.none + 1))[:, None]
        self.f[(0,) * len(most)] = 0
        self.g[(0,) * len(most)] = 0
        for vector in product(*(range(n + 1) for n in most)):
            pieces = sum(vector)
            if pieces == 1:
                self._single(vector)
            elif pieces:
                self._join(vector)

    def fits(self, width: int, height: int) -> np.ndarray:
        """Which candidates come out of a sheet of this size, whole."""
        if min(width, height) < 0:
            return np.zeros(len(self.sizes), bool)
        fits: np.ndarray = self.f[self.most][:, width] <= height
        return fits

    def box(self, candidate: int, width: int, height: int) -> np.ndarray:
        """For each vector, whether a sheet of this size gives it."""
        held: np.ndarray = self.f[..., candidate, max(width, 0)] <= height
        return held

    def any_fits(self, width: int, height: int) -> np.ndarray:
        """Which candidates' single pieces all fit, so that sheets may share what one can't give whole."""
        kinds = range(len(self.most))
        ones = [tuple(int(k == kind) for k in kinds) for kind in kinds if self.most[kind]]
        held: np.ndarray = np.all([self.f[one][:, max(width, 0)] <= height for one in ones], axis=0)
        return held

    def _single(self, vector: Vector) -> None:
        kind = vector.index(1)
        across, down = self.sizes[:, kind, 0][:, None], self.sizes[:, kind, 1][:, None]
        for table, one, other in ((self.f, across, down), (self.g, down, across)):
            at = np.arange(table.shape[-1])
            line = np.where(at >= one, other, self.none)
            if self.turns:
                line = np.minimum(line, np.where(at >= other, one, self.none))
            self._put(table, vector, line)

    def _join(self, vector: Vector) -> None:
        """The best of every way to part a vector in two; each way is looked at from one side alone."""
        halved = max(range(len(vector)), key=vector.__getitem__)
        ends = tuple(n // 2 if kind == halved else n for kind, n in enumerate(vector))
        one = tuple(slice(0, end + 1) for end in ends)
        other = tuple(slice(n, None if end == n else n - end - 1, -1) for n, end in zip(vector, ends))
        lines = []
        for table in (self.f, self.g):
            both = table[one] + table[other]
            lines.append(np.minimum.reduce(both.reshape(-1, *both.shape[-2:]), axis=0))
        across, down = lines
        self._put(self.f, vector, np.minimum(across, self._read_back(down, self.f.shape[-1])))
        self._put(self.g, vector, np.minimum(down, self._read_back(across, self.g.shape[-1])))

    def _put(self, table: np.ndarray, vector: Vector, line: np.ndarray) -> None:
        limit = (self.g if table is self.f else self.f).shape[-1]
        line[line >= limit] = self.none
        table[vector] = line

    def _read_back(self, line: np.ndarray, length: int) -> np.ndarray:
        """The least width for each height, from the least height for each width; or the other way round.

        A line falls from left to right, so that is how many of its entries are above.
        """
        held = np.minimum(line, self.none) + self._offset
        counts = np.bincount(held.ravel(), minlength=len(line) * (self.none + 1)).reshape(len(line), -1)
        back = line.shape[1] - counts[:, :length].cumsum(axis=1)
        back[back >= line.shape[1]] = self.none
        return back
