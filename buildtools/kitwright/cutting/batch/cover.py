"""How many sheets by which pattern: the whole-number part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from kitwright.cutting.batch.paper import Counts
from kitwright.cutting.solver.whole import Programme
from kitwright.cutting.solver.work import Work

STEPS = 4_000_000
"""Steps of work (`solver.work`) that one question may take."""
LAST_STEPS = 400_000
"""And those that it may take even when the work allowed for the whole search is done."""


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
) -> Cover | Literal[False] | None:
    """Patterns for so many half sheets.

    Args:
        units: None for as few as these patterns allow; then `fewest` is not looked at.
        work: what the whole search may take.
        fewest: as few different ones as can be, and each of few labels; otherwise any that do.

    Returns:
        False when it is proved that these patterns can't do it; None when it is not known.
    """
    sheets, odd = (sum(needs), 1) if units is None else divmod(units, 2)
    # In an order of their own: which of several answers it is should not depend on what was found first.
    whole, half = sorted(whole, reverse=True), sorted(half, reverse=True) if odd else []
    programme = Programme(work, int(max(LAST_STEPS, min(STEPS, work.left))))
    # More sheets of a pattern than give all that is needed of each of its pieces are of no use.
    times = [programme.variable(min(sheets, max((-(-n // c) for n, c in zip(needs, p) if c), default=0))) for p in whole]
    halved = [programme.variable(1) for _ in half]
    for k, n in enumerate(needs):
        programme.must({x: p[k] for x, p in zip((*times, *halved), (*whole, *half)) if p[k]}, least=n)
    programme.must(dict.fromkeys(times, 1), most=sheets)
    programme.must(dict.fromkeys(halved, 1), most=odd)
    taken = dict.fromkeys(times, 2) | dict.fromkeys(halved, 1)
    kinds: dict[int, int] = {}
    if units is None:
        answer = programme.in_turn([taken])
    elif not fewest:
        answer = programme.least(taken, limit=units, first=True)
    elif not programme.tighten(taken, units):
        return False
    else:
        for x, p in zip(times, whole):
            if sheets_of := programme.bounds[x][1]:
                used = programme.variable(1)
                programme.must({x: 1, used: -sheets_of}, most=0)
                kinds[used] = sum(map(bool, p))
        answer = programme.in_turn([dict.fromkeys(kinds, 1), kinds])
    values = answer.values
    if values is None:
        return False if answer.proved else None
    picked = tuple((p, values[x]) for x, p in zip(times, whole) if values[x])
    return Cover(picked, next((p for x, p in zip(halved, half) if values[x]), None), answer.bound if kinds else 0)
