"""Bounds on the number of sheets: by area, by one label alone, and by prices.

Put a price on every piece. If no sheet can yield more than V at these prices, and no half
sheet more than U, then n sheets and a half never yield a batch worth more than n·V + U,
whatever the prices are. Good prices come from a linear programme over the patterns known
so far (Gilmore and Gomory 1961); its floats only propose: prices are rounded to whole
numbers, and V and U are found exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from kitwright.cutting.batch.builds import piece
from kitwright.cutting.batch.exact import Region
from kitwright.cutting.batch.paper import Counts, Lattice
from kitwright.cutting.solver.constraint import Constraint
from kitwright.cutting.solver.linear import Linear
from kitwright.cutting.solver.pieces import Build
from kitwright.cutting.solver.work import Work

FINE = 10_000
"""The dearest piece costs this, when prices are sought."""
ROUND = (*range(1, 13), 15, 16, 18, 20, 24, 30, 36, 40, 48, 60, 72, 96, 100, 120)
"""What the dearest piece costs when prices are told: the first that still proves."""
ROUNDS = 60
"""Prices tried for one question."""
MANY = 24
"""Half sheets from which the one half among them hardly matters to a bound."""
ALONE = 8
"""Labels above which a single one is looked at on a lattice of its own: that of all is large by then."""
FEW = 9
"""Half sheets up to which limits on pieces are taken into account."""


@dataclass(frozen=True)
class Tariff:
    """Prices that rule out numbers of sheets."""

    each: Counts
    whole: int
    """The most that a sheet can be worth."""
    half: int
    """The most that half a sheet can be worth, halved either way."""
    limits: Counts | None = None
    """Reckoned with at most so many pieces of each kind; None for any number."""

    def worth(self, needs: Counts) -> int:
        """What a batch is worth."""
        return sum(p * n for p, n in zip(self.each, needs))

    def forbid(self, needs: Counts, units: int) -> bool:
        """Whether so many half sheets can't give a batch."""
        if self.limits is not None and any(n > m for n, m in zip(needs, self.limits)):
            return False
        whole, half = divmod(units, 2)
        return self.worth(needs) > whole * self.whole + half * self.half


@dataclass
class Patterns:
    """Pieces that a sheet, or half of one, was found to yield, and a build for each."""

    whole: dict[Counts, Build] = field(default_factory=dict)
    half: dict[Counts, tuple[Build, int]] = field(default_factory=dict)
    """And by which of the two ways of halving."""

    def add(self, counts: Counts, build: Build, way: int | None) -> bool:
        """Keep one, unless it is known; `way` for a half sheet."""
        if counts in (self.whole if way is None else self.half):
            return False
        if way is None:
            self.whole[counts] = build
        else:
            self.half[counts] = build, way
        return True


class Pricing:
    """Everything known about bounds for one paper, whatever the batch."""

    def __init__(self, paper: Lattice, work: Work) -> None:
        self.paper = paper
        self.work = work
        self.sheet = Region(paper, paper.width, paper.height, work)
        self.halves = [Region(paper, *half, work) for half in paper.halves]
        self.patterns = Patterns()
        self.known: list[Tariff] = []
        n = len(paper.kinds)
        for kind in range(n):
            # Of one kind alone: a bound, and a pattern for every kind, in rows if need be.
            self._priced(tuple(int(k == kind) for k in range(n)))
            for way, (w, h) in ((None, (paper.width, paper.height)), *enumerate(paper.halves)):
                if build := _rows(paper, kind, w, h):
                    self.patterns.add(self.paper.counted(build.kinds()), build, way)

    def _most(self, region: Region, each: Counts, limits: Counts | None, way: int | None) -> int:
        """The most that a region can be worth at some prices; keeps the pattern found."""
        area = region.width * region.height
        dense = max((p * area // (k.width * k.height) for p, k in zip(each, self.paper.kinds) if p), default=0)
        if limits is None:
            value, build = self._of_one(region, each) if len(each) > ALONE and sum(map(bool, each)) == 1 else region.most(each)
            value = dense if value is None else value
        else:
            dense = min(dense, sum(p * n for p, n in zip(each, limits)))
            _, value, build = region.most_within(each, limits)
        if build is not None:
            self.new |= self.patterns.add(self.paper.counted(build.kinds()), build, way)
        return min(value, dense)

    @staticmethod
    def _of_one(region: Region, each: Counts) -> tuple[int | None, Build | None]:
        """The most of a single label: nothing but its own sizes matters to it."""
        kind = next(k for k, price in enumerate(each) if price)
        paper = region.paper
        own = replace(paper, labels=paper.labels[kind : kind + 1], kinds=paper.kinds[kind : kind + 1], turned=paper.turned[kind : kind + 1])
        value, build = Region(own, region.width, region.height, region.work).most((each[kind],))
        return value, build and _as_kind(build, kind)

    def _priced(self, each: Counts, limits: Counts | None = None, units: int = 0) -> Tariff:
        """What sheets can be worth at some prices, exactly; for many half sheets, half of one roughly."""
        self.new = False
        whole = self._most(self.sheet, each, limits, None)
        # Two halves make a whole, where pieces don't run out: half a sheet is worth half as much at most.
        half = whole // 2 if limits is None else whole
        if units < MANY:
            half = min(half, max(self._most(half, each, limits, way) for way, half in enumerate(self.halves)))
        prices = Tariff(each, whole, half, limits)
        self.known.append(prices)
        return prices

    def forbid(self, needs: Counts, units: int) -> bool:
        """Whether what is known already rules out so many half sheets."""
        if self.paper.area_of(needs) * 2 > units * self.paper.area:
            return True
        return any(prices.forbid(needs, units) for prices in self.known)

    def least(self, needs: Counts) -> int:
        """The fewest half sheets that what is known does not rule out."""
        low, high = 0, 1
        while self.forbid(needs, high):
            low, high = high, high * 2
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self.forbid(needs, middle) else (low, middle)
        return high

    def rule_out(self, needs: Counts, units: int) -> bool:
        """Whether prices can be found that rule out so many half sheets."""
        return self.forbid(needs, units) or self._seek(needs, units, None) or units <= FEW and self._seek(needs, units, needs)

    def _seek(self, needs: Counts, units: int, limits: Counts | None) -> bool:
        proving: Tariff | None = None
        for _ in range(ROUNDS):
            self.work.charge(400 + 4 * len(needs) * (len(self.patterns.whole) + len(self.patterns.half)))
            floats = _propose(self.patterns, needs, units, limits)
            if floats is None:
                break
            dearest = max(floats)
            prices = self._priced(tuple(round(p / dearest * FINE) for p in floats), limits, units)
            if prices.forbid(needs, units):
                proving = prices
                if units < MANY:
                    break
            # Many sheets: the same prices, made better, rule out more of them at once.
            if not self.new or self.work.over:
                break
        if proving:
            self._simplify(proving, needs, max(units, self.least(needs) - 1))
        return proving is not None

    def _simplify(self, prices: Tariff, needs: Counts, units: int) -> None:
        """Keep rounder prices where they do as well: they are easier to tell."""
        if not prices.forbid(needs, units):
            return
        dearest = max(prices.each)
        for most in ROUND:
            each = tuple(round(p * most / dearest) for p in prices.each)
            if any(each) and self._priced(each, prices.limits, units).forbid(needs, units):
                return

    def reason(self, needs: Counts, units: int) -> Tariff | None:
        """The simplest prices that rule out so many half sheets; None when area alone does."""
        if self.paper.area_of(needs) * 2 > units * self.paper.area:
            return None
        proving = [prices for prices in self.known if prices.forbid(needs, units)]
        return min(proving, key=lambda p: (sum(map(bool, p.each)), max(p.each), p.limits is not None), default=None)


def _as_kind(build: Build, kind: int) -> Build:
    """A build of one label, whose number is `kind` among all of them."""
    if build.kind is not None:
        return build._replace(kind=kind)
    return build._replace(parts=tuple(_as_kind(part, kind) for part in build.parts))


def _rows(paper: Lattice, kind: int, w: int, h: int) -> Build | None:
    """Rows of one kind, as many as fit the better way round."""
    ways = [((w // a) * (h // b), (a, b, t)) for a, b, t in paper.ways(kind, w, h)]
    if not ways:
        return None
    _, way = max(ways)
    row = Build.join("x", [piece(kind, way)] * (w // way[0]))
    return Build.join("y", [row] * (h // way[1]))


def _propose(patterns: Patterns, needs: Counts, units: int, limits: Counts | None) -> Sequence[float] | None:
    """Prices at which the known patterns fall farthest short of the batch; None when they don't."""
    whole, half = divmod(units, 2)
    # The variables: a price for each label, then the most that a sheet is worth, and half of one.
    most, most_half = len(needs), len(needs) + 1
    rows = [Constraint({most: whole, most_half: half}, least=1, most=1)]
    for known, value in ((patterns.whole, most), (patterns.half, most_half)):
        for counts in known:
            capped = counts if limits is None else tuple(map(min, counts, limits))
            rows.append(Constraint({**{k: c for k, c in enumerate(capped) if c}, value: -1}, most=0))
    linear = Linear([*((0, None) for _ in needs), (0, 1), (0, 1)], rows)
    # Of prices that do as well always the same: a hair more for each label than for the one before.
    linear.aim({k: -n * (1 + 1e-5 * (k + 1)) for k, n in enumerate(needs)})
    point = linear.proposed().point
    if point is None:
        return None
    found = point[:most]
    return found if sum(p * n for p, n in zip(found, needs)) > 1 + 1e-7 else None
