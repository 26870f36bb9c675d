"""How many sheets by which pattern: the integer part, by CP-SAT."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitwright.cutting.batch.paper import Counts
from kitwright.cutting.solver.work import Work

EFFORT = 1.0
"""CP-SAT's own measure of work, the same on every machine; what one question may take."""
LAST_EFFORT = 0.1
"""And what it may take even when the work allowed for the whole search is done."""
STEPS = 4_000_000
"""Steps of work (`solver.work`) that come to 1 by that measure."""


@dataclass(frozen=True)
class Cover:
    """Sheets by pattern that give a batch."""

    whole: tuple[tuple[Counts, int], ...]
    """Pattern and number of sheets."""
    half: Counts | None
    """What half a sheet gives, when there is one."""
    least: int
    """Fewer different patterns for whole sheets than this can't do it."""


def cover(
    whole: Sequence[Counts], half: Sequence[Counts], needs: Counts, units: int | None, fewest: bool = True, *, work: Work
) -> Cover | bool | None:
    """Patterns for so many half sheets.

    Args:
        units: None for as few as these patterns allow; then `fewest` is not looked at.
        work: what the whole search may take.
        fewest: as few different ones as can be, and each of few labels; otherwise any that do.

    Returns:
        False when these patterns can't do it; None when it is not known.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    sheets, odd = (sum(needs), 1) if units is None else divmod(units, 2)
    times = [model.new_int_var(0, sheets, "") for _ in whole]
    used = [model.new_bool_var("") for _ in whole]
    halved = [model.new_bool_var("") for _ in half] if odd else []
    for t, u in zip(times, used):
        model.add(t <= sheets * u)
        model.add(t >= u)
    model.add(sum(times) <= sheets)
    if halved:
        model.add(sum(halved) <= 1)
    for k, n in enumerate(needs):
        given = [t * p[k] for t, p in zip(times, whole) if p[k]]
        given += [h * p[k] for h, p in zip(halved, half) if p[k]]
        model.add(sum(given) >= n)
    kinds = [sum(map(bool, p)) for p in whole]
    most = (len(needs) + 1) ** 2
    if units is None:
        model.minimize(2 * sum(times) + sum(halved))
    elif fewest:
        model.minimize(sum(u * (most + n) for u, n in zip(used, kinds)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = max(LAST_EFFORT, min(EFFORT, work.left / STEPS))
    state = solver.solve(model)
    work.charge(2000 + 20 * (len(whole) + len(half)) + int(solver.response_proto.deterministic_time * STEPS))
    if state == cp_model.INFEASIBLE:
        return False
    if state not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    picked = tuple((p, solver.value(t)) for p, t in zip(whole, times) if solver.value(t))
    least = -(-int(solver.best_objective_bound) // (most + max(kinds, default=0))) if fewest and units is not None else 0
    return Cover(picked, next((p for p, h in zip(half, halved) if solver.value(h)), None), least)
