"""The planner behind `auto`: the one place that says which it is."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from kitwright import cache
from kitwright.cutting.plan import Demand, PaperPlan


def plan_paper(demand: Demand, name: str) -> PaperPlan:
    """The best plan for one paper; asked twice, it is worked out once.

    Raises:
        UserError: a piece that no sheet of this paper can give, or nothing to cut.
    """
    return _planned(*asked(demand), name)


def count_sheets(demand: Demand, name: str) -> Fraction:
    """How many sheets that plan takes, where nobody asks how they are cut; `name` is not looked at.

    Raises:
        UserError: as for `plan_paper`.
    """
    return _counted(*asked(demand))


def asked(demand: Demand) -> tuple:
    """The question itself."""
    needs, sizes, lies = tuple(demand.needs.items()), tuple(demand.sizes.items()), tuple(sorted(demand.lies.items()))
    return demand.paper, demand.sheet, needs, sizes, lies, demand.given, tuple(sorted(demand.halves.items()))


@lru_cache(maxsize=4096)
def _counted(paper, sheet, needs, sizes, lies, given, halves) -> Fraction:
    demand = Demand(paper=paper, sheet=sheet, needs=dict(needs), sizes=dict(sizes), lies=dict(lies), given=given, halves=dict(halves))

    def counted() -> Fraction:
        from kitwright.cutting.batch.plan import count_sheets as count

        return count(demand)

    return cache.value("sheets", cache.digest(demand), counted)


@lru_cache(maxsize=4096)
def _planned(paper, sheet, needs, sizes, lies, given, halves, name) -> PaperPlan:
    demand = Demand(paper=paper, sheet=sheet, needs=dict(needs), sizes=dict(sizes), lies=dict(lies), given=given, halves=dict(halves))

    def planned() -> PaperPlan:
        # Loaded late: what was planned before needs no solver.
        from kitwright.cutting.batch.plan import plan_batch

        return plan_batch(demand, name)

    return cache.value("plan", cache.digest(demand, name), planned)
