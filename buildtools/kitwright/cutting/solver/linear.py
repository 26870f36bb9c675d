"""Linear programmes, by HiGHS: floats that propose, never an answer.

HiGHS's simplex method is asked for a best point, or for multipliers of the rows, and nothing
else: no presolve, no search for whole numbers, one thread. Whoever asks checks in whole
numbers what is made of them (`batch.prices`, `solver.whole`), so no answer rests on HiGHS;
another version, or another processor, could only propose something else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from kitwright.cutting.solver.constraint import Constraint

OPTIONS: dict[str, bool | int | float | str] = {
    "output_flag": False,
    "solver": "simplex",
    "presolve": "off",
    "parallel": "off",
    "threads": 1,
    "random_seed": 0,
    "simplex_iteration_limit": 20_000,
}
"""The same steps in every run; far more of them than a programme of ours takes."""


class _Silent(highspy.Highs):
    """HiGHS without callbacks: setting those up greets on standard output, before that can be silenced."""

    def enableCallbacks(self) -> None:
        pass


@dataclass(frozen=True, slots=True)
class Proposed:
    """What HiGHS proposes."""

    point: list[float] | None
    """A best point; None where it found none."""
    multipliers: list[float]
    """One for each row: of a best bound, or where there is no point, of a contradiction; may be all zero."""
    iterations: int
    """Steps of the simplex method that it took."""


class Linear:
    """Minimise a goal over variables within bounds, under rows."""

    def __init__(self, bounds: Sequence[tuple[int, int | None]], rows: Sequence[Constraint]) -> None:
        """Args:
        bounds: the least and the most of each variable; None: no most.
        rows: what must hold besides.
        """
        self._bounds = list(bounds)
        self._rows = len(rows)
        self._goal: Mapping[int, float] = {}
        self._highs = _Silent()
        for name, value in OPTIONS.items():
            self._highs.setOptionValue(name, value)
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(bounds), len(rows)
        model.col_cost_ = np.zeros(len(bounds))
        model.col_lower_ = np.array([low for low, _ in bounds], dtype=float)
        model.col_upper_ = np.array([_or_infinite(high, 1) for _, high in bounds])
        model.row_lower_ = np.array([_or_infinite(row.least, -1) for row in rows])
        model.row_upper_ = np.array([_or_infinite(row.most, 1) for row in rows])
        model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        model.a_matrix_.start_ = np.cumsum([0, *(len(row.terms) for row in rows)])
        model.a_matrix_.index_ = np.array([j for row in rows for j in row.terms], dtype=np.int32)
        model.a_matrix_.value_ = np.array([float(a) for row in rows for a in row.terms.values()])
        self._highs.passModel(model)

    def aim(self, goal: Mapping[int, float]) -> None:
        """Minimise Σ cost · variable from now on."""
        for j in goal.keys() | self._goal.keys():
            if goal.get(j, 0) != self._goal.get(j, 0):
                self._highs.changeColCost(j, float(goal.get(j, 0)))
        self._goal = goal

    def within(self, bounds: Sequence[tuple[int, int]]) -> None:
        """Hold the variables within these bounds from now on."""
        for j, (new, old) in enumerate(zip(bounds, self._bounds)):
            if new != old:
                self._highs.changeColBounds(j, float(new[0]), float(new[1]))
                self._bounds[j] = new

    def proposed(self) -> Proposed:
        """A best point and its multipliers."""
        self._highs.run()
        status = self._highs.getModelStatus()
        iterations = self._highs.getInfo().simplex_iteration_count
        if status == highspy.HighsModelStatus.kOptimal:
            found = self._highs.getSolution()
            return Proposed(list(found.col_value), list(found.row_dual), iterations)
        ray = None
        if status == highspy.HighsModelStatus.kInfeasible:
            ray = self._highs.getDualRay()[2]  # type: ignore[attr-defined]  # HiGHS's types leave it out
        return Proposed(None, [0.0] * self._rows if ray is None else [float(y) for y in ray], iterations)


def _or_infinite(bound: int | None, sign: int) -> float:
    return sign * highspy.kHighsInf if bound is None else float(bound)
