"""Programmes in whole numbers, solved with proof: branch and bound.

HiGHS proposes points and multipliers (`solver.linear`); everything that is claimed is worked
out from them here, in whole numbers. Points are rounded, and every row is looked at. Multipliers
are rounded, whatever they are: the rows, each taken so often, add up to one row that holds
wherever they all hold, and that one, over the bounds of the variables, gives a true bound of the
goal, or a contradiction (weak duality; Farkas' lemma). So bad floats make a search longer,
never its answer wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor
from typing import TYPE_CHECKING

from kitwright.cutting.solver.constraint import Constraint
from kitwright.cutting.solver.work import Work

if TYPE_CHECKING:
    from kitwright.cutting.solver.linear import Linear

FINE = 2**26
"""Multipliers are rounded to so many parts of one."""
NEAR = 1e-6
"""As near as this to a whole number, a float means it."""
ASKED, COLUMN, PIVOT = 200, 4, 600
"""Steps of work for a question to HiGHS, and for each variable in it; entries of the table that one step does in each of HiGHS's rounds."""
TIES = 20
"""The part of the work that may go into choosing among answers equally good is one in so many."""

Goal = Mapping[int, int]
"""What is to be least: the cost of one of each variable."""
Bounds = tuple[tuple[int, int], ...]
"""The least and the most of each variable."""


@dataclass(frozen=True)
class Settled:
    """What was found, and what is proved of it."""

    values: tuple[int, ...] | None
    """The best found; None where there is none, or none was found."""
    bound: int
    """The goal can't be less than this: proved."""
    proved: bool
    """Whether nothing better exists; without values: whether there are none at all."""


class Programme:
    """Whole numbers from 0 up, each to its own most, under rows."""

    def __init__(self, work: Work, steps: int) -> None:
        """Args:
        work: where the work is charged.
        steps: what the programme may take, whatever is left of `work`.
        """
        self.bounds: Bounds = ()
        self.rows: list[Constraint] = []
        self._work = work
        self._steps = steps
        self._purse = Work(steps)
        self._linear: Linear | None = None
        self._columns: list[list[tuple[int, int]]] = []

    def variable(self, most: int) -> int:
        """A new variable, by its number."""
        self._linear = None
        self.bounds = (*self.bounds, (0, most))
        return len(self.bounds) - 1

    def must(self, terms: Mapping[int, int], least: int | None = None, most: int | None = None) -> None:
        """From now on `least` ≤ Σ multiplier · variable ≤ `most`."""
        self._linear = None
        self.rows.append(Constraint({j: a for j, a in terms.items() if a}, least, most))

    def tighten(self, goal: Goal, limit: int) -> bool:
        """Hold the variables within what they can be where the goal is at most `limit`; False: that is proved impossible."""
        _, narrowed, _ = self._look(self.bounds, goal, limit)
        if narrowed is None:
            return False
        self.bounds = narrowed
        return True

    def least(self, goal: Goal, start: tuple[int, ...] | None = None, limit: int | None = None, first: bool = False) -> Settled:
        """Values that make a goal least.

        Args:
            start: values that do.
            limit: values that make the goal more than this are of no use.
            first: the first values found are enough.
        """
        best = start
        if start is not None:
            limit = _sum(goal, start) - 1
        elif limit is None:
            limit = -_lowest({j: -cost for j, cost in goal.items()}, self.bounds)
        nodes = [(_lowest(goal, self.bounds), self.bounds)]
        while nodes and not self._purse.over and not (first and best):
            known, bounds = nodes.pop()
            if known > limit:
                continue
            bound, narrowed, point = self._look(bounds, goal, limit)
            if narrowed is None:
                continue
            for values in _rounded(point, narrowed):
                if _sum(goal, values) <= limit and self._holds(values):
                    best, limit = values, _sum(goal, values) - 1
            if bound <= limit:
                nodes += [(max(known, bound), part) for part in _parts(point, narrowed, goal)]
        bound = min([limit + 1, *(known for known, _ in nodes)])
        return Settled(best, bound, bound > limit)

    def in_turn(self, goals: Sequence[Goal]) -> Settled:
        """Values that make each goal least, as far as those before it allow.

        Of several, those that make the newest variable least, then the one before it and so on: so
        the answer does not depend on what HiGHS proposed, as long as the search came to its end.

        Returns:
            The values, and what is proved of the first goal.
        """
        first = self.least(goals[0])
        values = first.values
        for before, goal in zip(goals, goals[1:]):
            if values is not None:
                self.must(before, most=_sum(before, values))
                values = self.least(goal, start=values).values
        if values is None:
            return first
        self.must(goals[-1], most=_sum(goals[-1], values))
        self._purse = Work(self._steps // TIES)
        for j in reversed(range(len(self.bounds))):
            values = self.least({j: 1}, start=values).values or values
            self.bounds = (*self.bounds[:j], (values[j], values[j]), *self.bounds[j + 1 :])
        return replace(first, values=values)

    def _look(self, bounds: Bounds, goal: Goal, limit: int) -> tuple[int, Bounds | None, list[float] | None]:
        """A bound of the goal, the bounds of the variables narrowed (None: a contradiction), and a point that HiGHS proposes."""
        if self._linear is None:
            # Loaded late: it brings HiGHS, and many a kit asks nothing of it.
            from kitwright.cutting.solver.linear import Linear

            self._linear = Linear(self.bounds, self.rows)
            self._columns = [[] for _ in self.bounds]
            for i, row in enumerate(self.rows):
                for j, a in row.terms.items():
                    self._columns[j].append((i, a))
        self._linear.aim(goal)
        self._linear.within(bounds)
        found = self._linear.proposed()
        steps = ASKED + COLUMN * len(bounds) + found.iterations * len(self.rows) * len(bounds) // PIVOT
        self._purse.charge(steps)
        self._work.charge(steps)
        if found.point is not None:
            bound, narrowed = self._narrowed(found.multipliers, bounds, goal, limit)
            return bound, narrowed, found.point
        for sign in (1, -1):
            _, narrowed = self._narrowed([sign * y for y in found.multipliers], bounds, {}, 0)
            if narrowed is None:
                return limit + 1, None, None
        return _lowest(goal, bounds), bounds, None

    def _narrowed(self, multipliers: Sequence[float], bounds: Bounds, goal: Goal, limit: int) -> tuple[int, Bounds | None]:
        """What the sum of the rows, each taken so often, says of the goal, and of the variables where that is at most `limit`."""
        least = 0
        times = []
        for row, multiplier in zip(self.rows, multipliers):
            often = round(multiplier * FINE)
            side = row.least if often > 0 else row.most
            often = 0 if side is None else often
            least += often * (side or 0)
            times.append(often)
        # FINE · goal ≥ least + Σ rest · variable, for all values that the rows allow.
        rests = [FINE * goal.get(j, 0) - sum(times[i] * a for i, a in column) for j, column in enumerate(self._columns)]
        least += sum(rest * (low if rest > 0 else high) for rest, (low, high) in zip(rests, bounds))
        spare = FINE * limit - least
        if spare < 0:
            return -(-least // FINE), None
        return -(-least // FINE), tuple(
            (low, min(high, low + spare // rest)) if rest > 0 else (max(low, high - spare // -rest), high) if rest else (low, high)
            for rest, (low, high) in zip(rests, bounds)
        )

    def _holds(self, values: Sequence[int]) -> bool:
        """Whether values are within the rows."""
        for row in self.rows:
            total = _sum(row.terms, values)
            if row.least is not None and total < row.least or row.most is not None and total > row.most:
                return False
        return True


def _sum(terms: Mapping[int, int], values: Sequence[int]) -> int:
    return sum(a * values[j] for j, a in terms.items())


def _lowest(goal: Goal, bounds: Bounds) -> int:
    """The least that a goal could be if there were no rows."""
    return sum(cost * bounds[j][cost < 0] for j, cost in goal.items())


def _rounded(point: Sequence[float] | None, bounds: Bounds) -> Iterator[tuple[int, ...]]:
    """Whole numbers near a point; the only ones there are, where all bounds have met."""
    if point is None:
        if all(low == high for low, high in bounds):
            yield tuple(low for low, _ in bounds)
        return
    for rounding in (round, lambda x: ceil(x - NEAR), lambda x: floor(x + NEAR)):
        yield tuple(min(max(rounding(x), low), high) for x, (low, high) in zip(point, bounds))


def _parts(point: Sequence[float] | None, bounds: Bounds, goal: Goal) -> list[Bounds]:
    """Two parts of what is left, the more promising last; none where all bounds have met."""
    free = [j for j, (low, high) in enumerate(bounds) if low < high]
    if not free:
        return []
    fractions = [(j in goal, point[j] % 1, j) for j in free if NEAR < point[j] % 1 < 1 - NEAR] if point is not None else []
    if fractions and point is not None:
        _, _, j = max(fractions)
        middle = floor(point[j])
    else:
        j = max(free, key=lambda j: bounds[j][1] - bounds[j][0])
        middle = sum(bounds[j]) // 2
    (low, high), before, after = bounds[j], bounds[:j], bounds[j + 1 :]
    middle = min(max(middle, low), high - 1)
    return [(*before, part, *after) for part in ((low, middle), (middle + 1, high))]
