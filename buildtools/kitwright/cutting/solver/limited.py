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

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from kitwright.cutting.solver import rough
from kitwright.cutting.solver.forest import FINE, Forest
from kitwright.cutting.solver.pieces import Build, PieceKind
from kitwright.cutting.solver.table import Grid, WorthTable, density_bound
from kitwright.cutting.solver.work import OutOfWork, Work

ROUNDS = 24
"""At most so many price rounds."""
CAPPED_SIZES = 6_000
"""The capped table is computed for at most so many sheet sizes: its steps are slow."""
GROW_EVERY = 16
"""Every so many steps of the search, the build in hand is filled up to a whole sheet."""
MOST_BUILDS = 1_000_000
"""The search gives up beyond this many builds, to stay well below 1 GiB."""


class LimitedSearch:
    """The best build within limits, and a bound; better and tighter as it runs."""

    def __init__(self, width: int, height: int, kinds: Sequence[PieceKind], above: int, work: Work) -> None:
        """Args:
        width, height: the sheet in lattice steps.
        kinds: all kinds; those worth nothing have been given a limit of 0.
        above: only builds worth more than this matter.
        work: what may be spent.
        """
        self.work = work
        self.kinds = [k if k.limit != 0 else PieceKind(k.width, k.height, 0, 0) for k in kinds]
        self.grid = Grid(width, height, self.kinds)
        self.values = [k.value for k in self.kinds]
        area = width * height
        room = [area // (k.width * k.height) if k.ways(width, height) else 0 for k in self.kinds]
        self.limits = [most if k.limit is None else min(k.limit, most) for k, most in zip(self.kinds, room)]
        self.scarce = [k.limit is not None and k.limit < most for k, most in zip(self.kinds, room)]
        self.above = above
        self.prices: list[np.ndarray] = []
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
        """Search until done or out of work; the bound is true at every moment."""
        try:
            for step in (self._quick, self._price, self._search):
                if not self.done:
                    step()
        except OutOfWork:
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
            self._offer(rough.grow(build, self.grid.x.length, self.grid.y.length, self.kinds, left.copy(), dense))

    # --- 1 ------------------------------------------------------------------------------

    def _quick(self) -> None:
        for dense in (False, True):
            self._offer(rough.fill(self.grid.x.length, self.grid.y.length, self.kinds, self._all(), dense))
            if self.done:
                return
        table = WorthTable(self.grid, self.values, self.work)
        if table.whole:
            self.bound = min(self.bound, table.best)
        self._trim(table.build())
        if not self.done and len(self.grid.x) * len(self.grid.y) <= CAPPED_SIZES:
            self._trim(rough.capped(self.grid, self.limits, self.values, self.work))

    # --- 2 ------------------------------------------------------------------------------

    def _price(self) -> None:
        """Subgradient steps; the best prices are kept for the search.

        A step runs along the kinds cut too often, mixed with the step before so that the
        prices don't swing to and fro, and is as long as the gap to be closed asks for.
        """
        dear = np.array(self.values, object) * FINE * np.array(self.scarce, object)
        starts = [0 * dear, np.minimum(self._area_prices(), dear)]
        prices = min(starts, key=lambda p: self.fixed(p) + self.priced(p).best)
        least, bold, worse, course = None, 1.0, 0, np.zeros(len(self.kinds))
        self.prices = [prices]
        visited = []
        for _ in range(ROUNDS):
            table = self.priced(prices)
            total = self.fixed(prices) + table.best
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
            slope = np.array(
                [used[i] - n if s and (p > 0 or used[i] > n) else 0 for i, (n, s, p) in enumerate(zip(self.limits, self.scarce, prices))]
            )
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

    def priced(self, prices: np.ndarray) -> WorthTable:
        """The table without limits at these prices."""
        table = WorthTable(self.grid, [v * FINE - int(p) for v, p in zip(self.values, prices)], self.work)
        if not table.whole:
            raise OutOfWork
        return table

    def fixed(self, prices: np.ndarray) -> int:
        return sum(int(p) * n for p, n in zip(prices, self.limits))

    # --- 3 ------------------------------------------------------------------------------

    def around(self, f: np.ndarray) -> np.ndarray:
        """The most that can be cut around a box of each raster size.

        A box in the sheet grows to the whole by having parts put beside it and below it.

        Args:
            f: tables without limits, one above the other, for several sets of prices.
        """
        x, y = self.grid.x, self.grid.y
        around = np.zeros_like(f)
        beside = [y.rest(np.arange(j + 1, len(y)), j) for j in range(len(y))]
        for i in range(len(x) - 1, 0, -1):
            self.work.spend(40 + len(y) * (12 + len(f) * (len(x) - i + len(y) // 2) // 600))
            column = around[:, i]
            wider = np.arange(i + 1, len(x))
            if len(wider):
                column[:] = (around[:, wider] + f[:, x.rest(wider, i)]).max(axis=1)
            for j in range(len(y) - 2, 0, -1):
                grown = column[:, j + 1 :] + f[:, i, beside[j]]
                column[:, j] = np.maximum(column[:, j], grown.max(axis=1))
        return around

    def _search(self) -> None:
        forest = Forest(self)
        while not self.done:
            self.work.spend(80 + forest.closed.count // 16)
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
