"""Exact search when some kinds run out.

Three steps, each of which may already prove its best build to be the best of all:

1. Quick builds (`rough`) against two easy bounds: the table without limits, and all
   pieces together.
2. A price on each limited kind (Lagrangian relaxation). With prices p, no build is worth
   more than  Σ pₖ·limitₖ + (the table without limits for values vₖ − pₖ).  Prices rise on
   kinds that the table cuts too often, and fall on kinds that it leaves.
3. Best-first search from the pieces up: small builds are put side by side or one above
   the other, the most promising first (Viswanathan and Bagchi 1993; from memory). A build
   is dropped when, at the prices found, even the best completion around it can't beat what
   is known; or when the same pieces were already put into a box no larger either way.
   Every part of a best tree stays promising, so the search can't miss it.
"""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Sequence

import numpy as np

from kitwright.cutting.solver import rough
from kitwright.cutting.solver.pieces import Build, PieceKind
from kitwright.cutting.solver.table import Clock, Grid, OutOfTime, Table

FINE = 256
"""Prices are whole numbers of 1/256 of a unit of value."""
ROUNDS = 60
"""At most so many price rounds."""
CAPPED_SIZES = 6_000
"""The capped table is computed for at most so many sheet sizes: its steps are slow."""
MOST_BUILDS = 1_500_000
"""The search gives up beyond this many builds, to stay well below 1 GiB."""


class LimitedSearch:
    """The best build within limits, and a bound; better and tighter as it runs."""

    def __init__(self, width: int, height: int, kinds: Sequence[PieceKind],
                 above: int, clock: Clock) -> None:
        """Args:
            width, height: the sheet in lattice steps.
            kinds: all kinds; those worth nothing have been given a limit of 0.
            above: only builds worth more than this matter.
            clock: when to stop.
        """
        self.clock = clock
        self.kinds = [k if k.limit != 0 else PieceKind(k.width, k.height, 0, 0) for k in kinds]
        self.grid = Grid(width, height, self.kinds)
        self.values = [k.value for k in self.kinds]
        area = width * height
        room = [area // (k.width * k.height) if k.ways(width, height) else 0 for k in self.kinds]
        self.limits = [most if k.limit is None else min(k.limit, most) for k, most in zip(self.kinds, room)]
        self.scarce = [k.limit is not None and k.limit < most for k, most in zip(self.kinds, room)]
        self.above = above
        self.best: Build | None = None
        self.value = 0
        self.bound = sum(v * n for v, n in zip(self.values, self.limits))

    @property
    def done(self) -> bool:
        """Whether nothing better is left to find."""
        return self.bound <= max(self.value, self.above)

    def run(self) -> None:
        """Search until done or out of time; the bound is true at every moment."""
        try:
            for step in (self._quick, self._price, self._search):
                if not self.done:
                    step()
        except OutOfTime:
            pass
        self.bound = max(self.bound, self.value)

    def _offer(self, build: Build | None) -> None:
        """Keep a build if it is the best so far."""
        value = rough.worth(build, self.kinds)
        if value > self.value:
            self.value, self.best = value, build

    def _trim(self, build: Build | None) -> None:
        left = Counter(dict(enumerate(self.limits)))
        self._offer(rough.trim(build, self.kinds, left))

    # --- 1 ------------------------------------------------------------------------------

    def _quick(self) -> None:
        self._offer(rough.fill(self.grid.x.length, self.grid.y.length, self.kinds,
                               Counter(dict(enumerate(self.limits)))))
        if self.done:
            return
        table = Table(self.grid, self.values, self.clock)
        if table.whole:
            self.bound = min(self.bound, table.best)
        self._trim(table.build())
        if not self.done and len(self.grid.x) * len(self.grid.y) <= CAPPED_SIZES:
            self._trim(rough.capped(self.grid, self.limits, self.values, self.clock))

    # --- 2 ------------------------------------------------------------------------------

    def _price(self) -> None:
        """Subgradient steps; the best prices are kept for the search."""
        prices = np.zeros(len(self.kinds), np.int64)
        least, bold, worse = None, 1.0, 0
        for _ in range(ROUNDS):
            table = self._priced(prices)
            fixed = self._fixed(prices)
            total = fixed + table.best
            if least is None or total < least:
                least, worse = total, 0
                self.prices, self.table = prices, table
                self.bound = min(self.bound, total // FINE)
            else:
                worse += 1
                if worse == 4:
                    bold, worse = bold / 2, 0
            build = table.build()
            self._trim(build)
            if self.done or bold < 0.05:
                return
            used = Counter(build.kinds() if build else ())
            slope = np.array([used[i] - n if s else 0
                              for i, (n, s) in enumerate(zip(self.limits, self.scarce))])
            length = int((slope * slope).sum())
            if length == 0:
                return
            gap = total - max(self.value, self.above) * FINE
            # Steps need no exactness: any prices give a true bound.
            step = np.rint(bold * gap / length * slope).astype(np.int64)
            prices = np.clip(prices + step, 0, np.array(self.values, np.int64) * FINE)

    def _priced(self, prices: np.ndarray) -> Table:
        """The table without limits at these prices."""
        table = Table(self.grid, [v * FINE - int(p) for v, p in zip(self.values, prices)], self.clock)
        if not table.whole:
            raise OutOfTime
        return table

    def _fixed(self, prices: np.ndarray) -> int:
        return sum(int(p) * n for p, n in zip(prices, self.limits))

    # --- 3 ------------------------------------------------------------------------------

    def _around(self) -> np.ndarray:
        """The most, at the prices found, that can be cut around a box of each raster size.

        A box in the sheet grows to the whole by having parts put beside it and below it.
        """
        f, x, y = self.table.f, self.grid.x, self.grid.y
        around = np.zeros(f.shape, f.dtype)
        for i in range(len(x) - 1, 0, -1):
            self.clock.check()
            column = around[i]
            wider = np.arange(i + 1, len(x))
            if len(wider):
                column[:] = (around[wider] + f[x.rest(wider, i)]).max(axis=0)
            for j in range(len(y) - 2, 0, -1):
                higher = np.arange(j + 1, len(y))
                column[j] = max(column[j], (column[higher] + f[i, y.rest(higher, j)]).max())
        return around

    def _search(self) -> None:
        forest = Forest(self)
        while forest.open and not self.done:
            self.clock.check()
            if forest.count > MOST_BUILDS:
                return
            number = forest.pop()
            if number is None:
                break
            self.bound = min(self.bound, forest.promise(number))
            if not self.done:
                forest.expand(number)
        if not self.done:
            self.bound = max(self.value, self.above)


class Forest:
    """All builds made so far, as columns of numbers; those expanded also closed up together."""

    def __init__(self, search: LimitedSearch) -> None:
        self.search = search
        self.around = search._around()
        x, y = search.grid.x, search.grid.y
        self.x_up = np.append(x.up(np.arange(x.length + 1)), 0)
        self.y_up = np.append(y.up(np.arange(y.length + 1)), 0)
        self.fixed = search._fixed(search.prices)
        self.limits = np.array(search.limits, np.int32)
        self.gains = [v * FINE - int(p) for v, p in zip(search.values, search.prices)]
        self.count = 0
        kinds = len(search.kinds)
        self.made: list[tuple] = []   # (kind, turned) or (axis, first, second)
        self.value: list[int] = []
        self.hopes: list[int] = []
        self.open: list[tuple] = []
        self.boxes: dict[bytes, list[tuple[int, int]]] = {}
        self.fresh: dict[int, tuple] = {}
        self.closed = _Columns(kinds)
        for index, across, down, turned in search.grid.ways:
            if search.limits[index] > 0 and search.values[index] > 0:
                counts = np.zeros(kinds, np.int32)
                counts[index] = 1
                hope = self.gains[index] + int(self.around[self.x_up[across], self.y_up[down]])
                self._add((index, turned), across, down, search.values[index],
                          self.gains[index], hope, counts)

    def promise(self, number: int) -> int:
        """No tree with this build in it is worth more."""
        return (self.hopes[number] + self.fixed) // FINE

    def _need(self) -> int:
        """The least hope worth following."""
        s = self.search
        return (max(s.value, s.above) + 1) * FINE - self.fixed

    def _add(self, made: tuple, width: int, height: int, value: int, gain: int,
             hope: int, counts: np.ndarray) -> None:
        if hope < self._need():
            return
        key = counts.tobytes()
        known = self.boxes.setdefault(key, [])
        for w, h in known:
            if w <= width and h <= height:
                return
        known[:] = [(w, h) for w, h in known if w < width or h < height]
        known.append((width, height))
        number = self.count
        self.count += 1
        self.made.append(made)
        self.hopes.append(hope)
        self.fresh[number] = (width, height, value, gain, counts, key)
        # Among equals the one worth most: it is nearest to a whole sheet.
        heapq.heappush(self.open, (-hope, -value, number))
        if value > self.search.value:
            self.search.value, self.search.best = value, self.build(number)

    def pop(self) -> int | None:
        """The most promising open build, unless a smaller box with its pieces came up since."""
        need = self._need()
        while self.open:
            hope, _, number = heapq.heappop(self.open)
            if -hope < need:
                return None
            width, height, *_, key = self.fresh[number]
            if (width, height) in self.boxes[key]:
                return number
            del self.fresh[number]
        return None

    def expand(self, number: int) -> None:
        """Put a build beside and below every build expanded before, and itself."""
        width, height, value, gain, counts, _ = self.fresh.pop(number)
        c = self.closed
        c.append(number, width, height, value, gain, counts)
        x, y = self.search.grid.x, self.search.grid.y
        n = c.count
        for axis in ("x", "y"):
            w = c.width[:n] + width if axis == "x" else np.maximum(c.width[:n], width)
            h = np.maximum(c.height[:n], height) if axis == "x" else c.height[:n] + height
            fit = np.flatnonzero((w <= x.length) & (h <= y.length))
            w, h = w[fit], h[fit]
            gains = c.gain[fit] + gain
            hopes = gains + self.around[self.x_up[w], self.y_up[h]]
            pick = np.flatnonzero(hopes >= self._need())
            if not len(pick):
                continue
            others = fit[pick]
            total = c.counts[others] + counts
            pick = pick[(total <= self.limits).all(axis=1)]
            others = fit[pick]
            for k, other in zip(pick.tolist(), others.tolist()):
                self._add((axis, int(c.number[other]), number), int(w[k]), int(h[k]),
                          int(c.value[other]) + value, int(gains[k]), int(hopes[k]),
                          c.counts[other] + counts)

    def build(self, number: int) -> Build:
        """The build with this number."""
        made = self.made[number]
        if len(made) == 2:
            return Build.piece(self.search.kinds, *made)
        return Build.join(made[0], [self.build(made[1]), self.build(made[2])])


class _Columns:
    """The expanded builds, in arrays that grow."""

    def __init__(self, kinds: int) -> None:
        self.count = 0
        self.number = np.zeros(1024, np.int64)
        self.width = np.zeros(1024, np.int64)
        self.height = np.zeros(1024, np.int64)
        self.value = np.zeros(1024, object)
        self.gain = np.zeros(1024, np.int64)
        self.counts = np.zeros((1024, kinds), np.int32)

    def append(self, number, width, height, value, gain, counts) -> None:
        n = self.count
        if n == len(self.number):
            for name in ("number", "width", "height", "value", "gain", "counts"):
                old = getattr(self, name)
                setattr(self, name, np.concatenate([old, np.zeros_like(old)]))
        self.number[n], self.width[n], self.height[n] = number, width, height
        self.value[n], self.gain[n], self.counts[n] = value, gain, counts
        self.count = n + 1
