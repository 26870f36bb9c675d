"""The best of every smaller sheet, when no kind runs out.

F(x, y), the most that can be cut from x × y, is the best of: a single piece; F of two
parts left and right; F of two parts above and below (Gilmore and Gomory 1966; Beasley
1985). It is computed for raster sizes only (see `points`), one column of the table per
width, each column by whole-array steps.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kitwright.cutting.solver.pieces import Build, PieceKind
from kitwright.cutting.solver.points import Points
from kitwright.cutting.solver.work import OutOfWork, Work
from kitwright.geometry import Axis

BLOCK = 1 << 16
"""Numbers added at a time; about what a core's own cache holds."""


class Grid:
    """The raster sizes of a sheet for some kinds of piece, and where each kind first fits."""

    def __init__(self, width: int, height: int, kinds: Sequence[PieceKind]) -> None:
        self.kinds = kinds
        """All kinds, as asked."""
        self.ways = [(index, across, down, turned) for index, kind in enumerate(kinds) for across, down, turned in kind.ways(width, height)]
        """Every way in which a kind can lie on the sheet."""
        self.x = Points(width, (way[1] for way in self.ways))
        """Raster points across."""
        self.y = Points(height, (way[2] for way in self.ways))
        """Raster points down."""
        self.spots = [(self.x.holding(across), self.y.holding(down)) for _, across, down, _ in self.ways]
        """For each way, the smallest raster size that holds it."""
        self._shifts: dict[int, list[tuple[int, np.ndarray, int]]] = {}

    def shifts(self, b: int) -> list[tuple[int, np.ndarray, int]]:
        """How to add up to any number of parts of height point b to a column, by doubling.

        A list of (first row that gains, index of what is left of each row from there, number
        of parts added at once: 1, 2, 4 …).
        """
        if b not in self._shifts:
            found, copies = [], 1
            rest = np.maximum(self.y.down(self.y.at - self.y.at[b]), 0)
            while rest[-1] > 0:
                first = int(np.searchsorted(rest, 1))
                found.append((first, rest[first:], copies))
                rest, copies = rest[rest], copies * 2
            self._shifts[b] = found
        return self._shifts[b]


def number_type(most: int):
    """The narrowest exact kind of number for sums up to `most`; Python's own if need be."""
    return np.int32 if most < 2**31 else np.int64 if most < 2**62 else object


def density_bound(width: int, height: int, kinds: Sequence[PieceKind], values: Sequence[int]) -> int:
    """No cutting is worth more than the whole area at the best value per area."""
    return max(
        (values[i] * width * height // (k.width * k.height) for i, k in enumerate(kinds) if values[i] > 0 and k.ways(width, height)),
        default=0,
    )


class WorthTable:
    """F for all raster sizes of a sheet, and the builds behind it."""

    def __init__(self, grid: Grid, values: Sequence[int], work: Work) -> None:
        """Args:
        grid: the raster sizes.
        values: what one piece of each kind is worth here; zero or less: not cut.
        work: when it is spent, `whole` is False, and only the full height is sound.
        """
        self.grid = grid
        self.values = values
        most = density_bound(grid.x.length, grid.y.length, grid.kinds, values)
        self.f = np.zeros((len(grid.x), len(grid.y)), number_type(most))
        """f[i, j]: the most from raster size i × j."""
        self.whole = True
        """False when the work was spent before the table was full."""
        self._single()
        try:
            self._fill(work)
        except OutOfWork:
            self.whole = False
            self._close_top()

    @property
    def best(self) -> int:
        """The most from the whole sheet."""
        return int(self.f[-1, -1])

    def _single(self) -> None:
        """Start from the best single piece that fits."""
        for (index, *_), (i, j) in zip(self.grid.ways, self.grid.spots):
            self.f[i, j] = max(self.f[i, j], self.values[index])
        np.maximum.accumulate(self.f, axis=0, out=self.f)
        np.maximum.accumulate(self.f, axis=1, out=self.f)

    def _fill(self, work: Work) -> None:
        f, x = self.f, self.grid.x
        block = max(1, BLOCK // f.shape[1])
        useful = np.empty(len(x), np.intp)  # widths that beat all rows of narrower ones
        count = self._done = 0
        for i in range(1, len(x)):
            work.spend(40 + (count // 2 + 10) * f.shape[1] // 600)
            column = f[i]
            np.maximum(column, f[i - 1], out=column)
            # The narrowest part of a row is a useful width and at most half of the whole.
            a = useful[: np.searchsorted(useful[:count], x.down(x.at[i] // 2), "right")]
            rest = x.rest(i, a)
            side = f[i - 1].copy()
            for start in range(0, len(a), block):
                some = slice(start, start + block)
                np.maximum(side, (f[a[some]] + f[rest[some]]).max(axis=0), out=side)
            np.maximum(column, side, out=column)
            work.charge(self._stack(column) * (8 + f.shape[1] // 200))
            if (column > side).any():
                useful[count] = i
                count += 1
            self._done = i

    def _stack(self, column: np.ndarray) -> int:
        """Better a column by putting parts of its own one above the other; how many parts were looked at.

        A stack is a knapsack with no limit on the number of each item. Its items are the
        heights worth more than any stack of lower ones: few, whence the speed.
        """
        parts = (np.flatnonzero(column[1:] > column[:-1]) + 1).tolist()
        for b in parts:
            one = column[b]
            if one == column[b - 1]:
                continue  # a stack of lower ones does as well
            for first, rest, copies in self.grid.shifts(b):
                gain = column[rest]
                gain += one * copies
                np.maximum(column[first:], gain, out=column[first:])
        return len(parts)

    def _close_top(self) -> None:
        """Without the work for the rest: only parts of full height, side by side."""
        top, x = self.f[:, -1], self.grid.x
        for i in range(self._done + 1, len(x)):
            a = np.arange(1, x.down(x.at[i] // 2) + 1)
            most = (top[a] + top[x.rest(i, a)]).max() if len(a) else 0
            top[i] = max(top[i], top[i - 1], most)

    # --- builds -------------------------------------------------------------------------

    def build(self, i: int = -1, j: int = -1) -> Build | None:
        """A build worth f[i, j] that fits raster size i × j; None when nothing is cut.

        Nothing was stored on the way: the few sizes on the path are looked up again.
        """
        f, (width, height) = self.f, self.f.shape
        i, j = i % width, j % height
        worth = f[i, j]
        if worth == 0:
            return None
        if self.whole:  # shrink to the smallest size of the same worth
            i = int(np.searchsorted(f[:, j], worth))
            j = int(np.searchsorted(f[i, :], worth))
        for (index, _, _, turned), (a, b) in zip(self.grid.ways, self.grid.spots):
            if self.values[index] == worth and a <= i and b <= j:
                return Build.piece(self.grid.kinds, index, turned)
        return self._row("x", f[:, j], self.grid.x, i, lambda a: self.build(a, j)) or self._row(
            "y", f[i, :], self.grid.y, j, lambda b: self.build(i, b)
        )

    @staticmethod
    def _row(axis: Axis, line: np.ndarray, points: Points, i: int, part) -> Build | None:
        """Take point i of a line of the table apart, smallest part first, if a cut does it."""
        parts = []
        while True:
            i = int(np.searchsorted(line[: i + 1], line[i]))
            a = np.arange(1, i)
            hits = np.flatnonzero(line[a] + line[points.rest(i, a)] == line[i])
            if not len(hits):
                break
            cut = int(a[hits[0]])
            if line[cut]:
                parts.append(cut)
            i = int(points.rest(i, cut))
            if line[i] == 0:
                break
        if not parts:
            return None
        if line[i]:
            parts.append(i)
        return Build.join(axis, [part(p) for p in parts])
