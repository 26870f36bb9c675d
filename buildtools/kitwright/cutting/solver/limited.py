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
from fractions import Fraction

import numpy as np

from kitwright.cutting.solver import rough
from kitwright.cutting.solver.pieces import Build, PieceKind
from kitwright.cutting.solver.table import Clock, Grid, OutOfTime, Table, density_bound

FINE = 256
"""Prices are whole numbers of 1/256 of a unit of value."""
ROUNDS = 24
"""At most so many price rounds."""
CAPPED_SIZES = 6_000
"""The capped table is computed for at most so many sheet sizes: its steps are slow."""
GROW_EVERY = 16
"""Every so many steps of the search, the build in hand is filled up to a whole sheet."""
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
        if FINE * (self.bound + density_bound(width, height, self.kinds, self.values)) >= 2**62:
            raise ValueError("values are too large for a search with limits: scale them down")

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

    def _all(self) -> Counter[int]:
        """How many there are of each kind."""
        return Counter(dict(enumerate(self.limits)))

    def _trim(self, build: Build | None) -> None:
        """Keep a build, cut down to the limits, if it is the best so far."""
        self._offer(rough.trim(build, self.kinds, self._all()))

    def _grow(self, build: Build) -> None:
        """Keep a build, filled up greedily, if it is the best so far."""
        left = self._all()
        left.subtract(build.kinds())
        for dense in (False, True):
            self._offer(rough.grow(build, self.grid.x.length, self.grid.y.length, self.kinds,
                                   left.copy(), dense))

    # --- 1 ------------------------------------------------------------------------------

    def _quick(self) -> None:
        for dense in (False, True):
            self._offer(rough.fill(self.grid.x.length, self.grid.y.length, self.kinds,
                                   self._all(), dense))
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
        """Subgradient steps; the best prices are kept for the search.

        A step runs along the kinds cut too often, mixed with the step before so that the
        prices don't swing to and fro, and is as long as the gap to be closed asks for.
        """
        dear = np.array(self.values, object) * FINE * np.array(self.scarce, object)
        starts = [0 * dear, np.minimum(self._area_prices(), dear)]
        prices = min(starts, key=lambda p: self._fixed(p) + self._priced(p).best)
        least, bold, worse, course = None, 1.0, 0, np.zeros(len(self.kinds))
        self.prices = [prices]
        visited = []
        for _ in range(ROUNDS):
            table = self._priced(prices)
            total = self._fixed(prices) + table.best
            worse += 1
            visited.append(prices)
            if least is None or total < least:
                least, worse = total, 0
                self.prices[0] = prices
                self.bound = min(self.bound, total // FINE)
            elif worse == 3:
                bold, worse = bold / 2, 0
            build = table.build()
            self._trim(build)
            used = Counter(build.kinds() if build else ())
            slope = np.array([used[i] - n if s else 0
                              for i, (n, s) in enumerate(zip(self.limits, self.scarce))])
            if self.done or bold < 0.05 or not slope.any():
                break
            gap = total - max(self.value, self.above) * FINE
            # Steps need no exactness: any prices give a true bound.
            course = slope + 0.7 * course
            step = np.rint(bold * gap / float(slope @ slope) * course)
            prices = np.array([min(max(p + int(s), 0), d) for p, s, d in zip(prices, step, dear)], object)
        # Other prices bound other builds better: the mean of all tried, and none at all.
        self.prices += [sum(visited) // len(visited), starts[0]]

    def _area_prices(self) -> np.ndarray:
        """Prices from area alone: what a piece is worth beyond the going rate for its area.

        Fill the sheet's area with the pieces worth most per area, as if cut into crumbs: the
        rate is that of the kind with which it is full.
        """
        area = [k.width * k.height for k in self.kinds]
        room, rate = self.grid.x.length * self.grid.y.length, Fraction(0)
        for i in sorted(range(len(area)), key=lambda i: Fraction(-self.values[i], area[i])):
            if room <= area[i] * self.limits[i]:
                rate = Fraction(self.values[i], area[i])
                break
            room -= area[i] * self.limits[i]
        return np.array([max(0, int(FINE * (v - rate * a))) for v, a in zip(self.values, area)], object)

    def _priced(self, prices: np.ndarray) -> Table:
        """The table without limits at these prices."""
        table = Table(self.grid, [v * FINE - int(p) for v, p in zip(self.values, prices)], self.clock)
        if not table.whole:
            raise OutOfTime
        return table

    def _fixed(self, prices: np.ndarray) -> int:
        return sum(int(p) * n for p, n in zip(prices, self.limits))

    # --- 3 ------------------------------------------------------------------------------

    def _around(self, f: np.ndarray) -> np.ndarray:
        """The most, at the prices of table f, that can be cut around a box of each raster size.

        A box in the sheet grows to the whole by having parts put beside it and below it.
        """
        x, y = self.grid.x, self.grid.y
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
        while not self.done:
            self.clock.check()
            if len(forest.made) > MOST_BUILDS:
                return
            popped = forest.pop()
            if popped is None:
                self.bound = max(self.value, self.above)
                return
            number, hope = popped
            self.bound = min(self.bound, hope // FINE)
            forest.expand(number)
            if forest.closed.count % GROW_EVERY == 0:
                self._grow(forest.build(number))


class Forest:
    """All builds made so far. Each has, at every set of prices, what it gains itself, and a
    hope: the most that a sheet with it in it can be worth, in 1/256 of a unit of value."""

    def __init__(self, search: LimitedSearch) -> None:
        self.search = search
        x, y = search.grid.x, search.grid.y
        self.x_up = np.append(x.up(np.arange(x.length + 1)), 0)
        self.y_up = np.append(y.up(np.arange(y.length + 1)), 0)
        self.around = [search._around(search._priced(prices).f) + search._fixed(prices)
                       for prices in search.prices]
        """For each set of prices: the most around a box, with the limits paid for."""
        gains = np.array([[v * FINE - int(p) for p in each]
                          for v, each in zip(search.values, zip(*search.prices))], np.int64)
        self.limits = np.array(search.limits, np.int32)
        kinds = len(search.kinds)
        self.made: list[tuple] = []
        """For each build, (kind, turned), or (axis, first, second) by their numbers."""
        self.open: list[tuple] = []
        self.fresh: dict[int, tuple] = {}
        """What is known of each open build."""
        self.boxes: dict[bytes, list[tuple[int, int]]] = {}
        """For each set of pieces, the boxes that hold it, none of which holds another."""
        self.closed = _Columns(kinds, len(search.prices))
        for index, across, down, turned in search.grid.ways:
            if search.limits[index] > 0 and search.values[index] > 0:
                counts = np.zeros(kinds, np.int32)
                counts[index] = 1
                hope = self._hopes(np.array([across]), np.array([down]), gains[index:index + 1])
                self._add((index, turned), across, down, search.values[index], gains[index],
                          int(hope[0]), counts)

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

    def _add(self, made: tuple, width: int, height: int, value: int, gain: np.ndarray,
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
        number = len(self.made)
        self.made.append(made)
        self.fresh[number] = (width, height, value, gain, counts, key)
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
            width, height, *_, key = self.fresh[number]
            if (width, height) in self.boxes[key]:
                return number, -hope
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
            if len(pick):
                total = c.counts[fit[pick]] + counts
                pick = pick[(total <= self.limits).all(axis=1)]
            for k, other in zip(pick.tolist(), fit[pick].tolist()):
                self._add((axis, int(c.number[other]), number), int(w[k]), int(h[k]),
                          int(c.value[other]) + value, gains[k], int(hopes[k]),
                          c.counts[other] + counts)

    def build(self, number: int) -> Build:
        """The build with this number."""
        made = self.made[number]
        if len(made) == 2:
            return Build.piece(self.search.kinds, *made)
        return Build.join(made[0], [self.build(made[1]), self.build(made[2])])


class _Columns:
    """The expanded builds, in arrays that grow."""

    def __init__(self, kinds: int, prices: int) -> None:
        self.count = 0
        self.number = np.zeros(1024, np.int64)
        self.width = np.zeros(1024, np.int64)
        self.height = np.zeros(1024, np.int64)
        self.value = np.zeros(1024, np.int64)
        self.gain = np.zeros((1024, prices), np.int64)
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
