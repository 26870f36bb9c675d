"""All that pages ask of the planner about a kit beside how it is cut, for a revision to keep the answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from kitwright.cutting.asked import Answers, Elsewhere
from kitwright.cutting.plan import PaperPlan
from kitwright.otherwise.arrangements.variations import variations_of
from kitwright.otherwise.changed import fitting, two_bases
from kitwright.otherwise.edition import in_edition
from kitwright.otherwise.planned import from_stock, one_way
from kitwright.otherwise.yields import kept_of
from kitwright.work.batches import alike
from kitwright.work.compared import comparisons
from kitwright.work.worked import Worked


def answers_of(worked: Worked) -> Answers:
    """The planner's answers, the same whatever was asked of this kit before."""
    asking = replace(worked)
    vars(asking)["answers"] = worked.answers
    sheets = tuple(answer for plans in alike(asking) for answer in _of_paper(asking, plans[0]))
    # What is tried is looked over, and that asks as well.
    comparisons(asking)
    variations_of(asking, turned_is_free=True)
    for sheet in asking.kit.spec.also_from:
        in_edition(asking, sheet)
    yields = kept_of(asking)
    return Answers(sheets, tuple(replace(plan, proof=tuple(filter(None, (plan.fewest,)))) for plan in asking.planner.found), yields)


def _of_paper(worked: Worked, plan: PaperPlan) -> Iterator[Elsewhere]:
    """Of one paper from every sheet that its kind is sold as, or that another paper of the kit is; and were it one-way."""
    material = worked.kit.papers[plan.paper].material
    stock = [size for _, size in material.sold]
    stock += [other.demand.sheet for other in worked.plans if worked.kit.papers[other.paper].material is material]
    for size in dict.fromkeys(stock):
        if size == plan.demand.sheet:
            continue
        other = from_stock(worked, plan, "", size)
        if other.fits:
            yield Elsewhere(plan.paper, size, other.sheets)
            two_bases(worked, other)
        else:
            fitting(worked, other)
    if (upright := one_way(worked, plan)) and upright.fits:
        yield Elsewhere(plan.paper, plan.demand.sheet, upright.sheets, one_way=True)
