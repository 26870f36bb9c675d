"""The third step of the limited search: every build that may be part of a better sheet."""

from __future__ import annotations

import heapq
from typing import Protocol

import numpy as np

from kitwright.cutting.solver.pieces import Build, PieceKind
from kitwright.cutting.solver.table import Grid, WorthTable
from kitwright.cutting.solver.work import Work

FINE = 256
"""Prices are whole numbers of 1/256 of a unit of value."""


class Grower(Protocol):
    """For whom a forest grows: the limited search."""

    grid: Grid
    kinds: list[PieceKind]
    values: list[int]
    limits: list[int]
    prices: list[np.ndarray]
    """What a piece of each kind costs, in 1/`FINE`, each way that was tried."""
    work: Work
    above: int
    """Only builds worth more than this matter."""
    value: int
    """The best so far."""
    best: Build | None

    def priced(self, prices: np.ndarray) -> WorthTable:
        """The best of every smaller sheet where pieces cost so much."""

    def fixed(self, prices: np.ndarray) -> int:
        """What the limits are worth at these prices."""

    def around(self, tables: np.ndarray) -> np.ndarray:
        """For each table, the most around a box."""


class Forest:
    """All builds made so far. Each has, at every set of prices, what it gains itself, and a
    hope: the most that a sheet with it in it can be worth, in 1/256 of a unit of value."""

    def __init__(self, search: Grower) -> None:
        self.search = search
        x, y = search.grid.x, search.grid.y
        self.x_up = np.append(x.up(np.arange(x.length + 1)), 0)
        self.y_up = np.append(y.up(np.arange(y.length + 1)), 0)
        tables = np.array([search.priced(prices).f for prices in search.prices], np.int64)
        fixed = np.array([search.fixed(prices) for prices in search.prices], np.int64)
        self.around = search.around(tables) + fixed[:, None, None]
        """For each set of prices: the most around a box, with the limits paid for."""
        self.gains = np.array([[v * FINE - int(p) for p in each] for v, each in zip(search.values, zip(*search.prices))], np.int64)
        """For each kind (row) and set of prices (column), what a piece gains."""
        self.limits = np.array(search.limits, np.int16 if max(search.limits) < 2**14 else np.int64)
        self.made: list[tuple] = []
        """For each build, (kind, turned), or (axis, first, second) by their numbers."""
        self.open: list[tuple] = []
        self.fresh: dict[int, tuple[int, int, int, bytes]] = {}
        """Width, height, value and set of pieces of each open build."""
        self.boxes: dict[bytes, list[tuple[int, int]]] = {}
        """For each set of pieces, the boxes that hold it, none of which holds another."""
        self.closed = _Columns(self.limits, len(search.prices))
        for index, across, down, turned in search.grid.ways:
            if search.limits[index] > 0 and search.values[index] > 0:
                counts = np.zeros_like(self.limits)
                counts[index] = 1
                hope = self._hopes(np.array([across]), np.array([down]), self.gains[index : index + 1])
                self._add((index, turned), across, down, search.values[index], int(hope[0]), counts.tobytes())

    def _hopes(self, w: np.ndarray, h: np.ndarray, gains: np.ndarray) -> np.ndarray:
        """For boxes w × h with these gains (a row each, a column per set of prices), the hopes."""
        i, j = self.x_up[w], self.y_up[h]
        hopes = gains[:, 0] + self.around[0][i, j]
        for k in range(1, len(self.around)):
            np.minimum(hopes, gains[:, k] + self.around[k][i, j], out=hopes)
        return hopes

    def _need(self) -> int:
        """The least hope worth following."""
        return (max(self.search.value, self.search.above) + 1) * FINE

    def _add(self, made: tuple, width: int, height: int, value: int, hope: int, pieces: bytes) -> None:
        if hope < self._need():
            return
        known = self.boxes.setdefault(pieces, [])
        for w, h in known:
            if w <= width and h <= height:
                return
        known[:] = [(w, h) for w, h in known if w < width or h < height]
        known.append((width, height))
        number = len(self.made)
        self.made.append(made)
        self.fresh[number] = (width, height, value, pieces)
        # Among equals the one worth most: it is nearest to a whole sheet.
        heapq.heappush(self.open, (-hope, -value, number))
        if value > self.search.value:
            self.search.value, self.search.best = value, self.build(number)

    def pop(self) -> tuple[int, int] | None:
        """Number and hope of the most promising open build that no smaller box has replaced."""
        need = self._need()
        while self.open:
            hope, _, number = heapq.heappop(self.open)
            if -hope < need:
                return None
            width, height, _, pieces = self.fresh[number]
            if (width, height) in self.boxes[pieces]:
                return number, -hope
            del self.fresh[number]
        return None

    def expand(self, number: int) -> None:
        """Put a build beside and below every build expanded before, and itself."""
        width, height, value, pieces = self.fresh.pop(number)
        counts = np.frombuffer(pieces, self.limits.dtype)
        gain = counts.astype(np.int64) @ self.gains
        c = self.closed
        c.append(number, width, height, value, gain, counts)
        x, y = self.search.grid.x, self.search.grid.y
        n = c.count
        for axis in ("x", "y"):
            if axis == "x":
                w, h = c.width[:n] + width, np.maximum(c.height[:n], height)
                fit = np.flatnonzero(w <= x.length)
            else:
                w, h = np.maximum(c.width[:n], width), c.height[:n] + height
                fit = np.flatnonzero(h <= y.length)
            w, h = w[fit], h[fit]
            gains = c.gain[fit] + gain
            hopes = self._hopes(w, h, gains)
            pick = np.flatnonzero(hopes >= self._need())
            if not len(pick):
                continue
            total = c.counts[fit[pick]] + counts
            enough = (total <= self.limits).all(axis=1)
            pick, total = pick[enough], total[enough]
            self.search.work.charge(6 * len(pick))
            for k, other, both in zip(pick.tolist(), fit[pick].tolist(), total):
                self._add(
                    (axis, int(c.number[other]), number), int(w[k]), int(h[k]), int(c.value[other]) + value, int(hopes[k]), both.tobytes()
                )

    def build(self, number: int) -> Build:
        """The build with this number."""
        wanted, stack = {number}, [number]
        while stack:
            made = self.made[stack.pop()]
            parts = set(made[1:]) if len(made) == 3 else set()
            stack += parts - wanted
            wanted |= parts
        built: dict[int, Build] = {}
        for n in sorted(wanted):  # parts come before what is made of them
            made = self.made[n]
            built[n] = Build.piece(self.search.kinds, *made) if len(made) == 2 else Build.join(made[0], [built[made[1]], built[made[2]]])
        return built[number]


class _Columns:
    """The expanded builds, in arrays that grow."""

    def __init__(self, limits: np.ndarray, prices: int) -> None:
        self.count = 0
        self.number = np.zeros(1024, np.int64)
        self.width = np.zeros(1024, np.int64)
        self.height = np.zeros(1024, np.int64)
        self.value = np.zeros(1024, np.int64)
        self.gain = np.zeros((1024, prices), np.int64)
        self.counts = np.zeros((1024, len(limits)), limits.dtype)

    def append(self, number, width, height, value, gain, counts) -> None:
        n = self.count
        if n == len(self.number):
            for name in ("number", "width", "height", "value", "gain", "counts"):
                old = getattr(self, name)
                setattr(self, name, np.concatenate([old, np.zeros_like(old)]))
        self.number[n], self.width[n], self.height[n] = number, width, height
        self.value[n], self.gain[n], self.counts[n] = value, gain, counts
        self.count = n + 1
