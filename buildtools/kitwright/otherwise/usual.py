"""The usual questions of readers, worked out: the cardstock from A4 or Letter, one sheet of each paper, the other fold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.card.base import doubled, other_way, parted
from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.stock import OtherSheet, from_sheet
from kitwright.findings import Finding
from kitwright.materials import MATERIALS
from kitwright.otherwise.arrangements.changing import refolded
from kitwright.otherwise.changed import new_findings, remade
from kitwright.otherwise.planned import from_stock
from kitwright.units import Length, Size
from kitwright.work.batches import counts_of, from_one_sheet, guided_sheets
from kitwright.work.worked import Worked


def printed(worked: Worked) -> list[PaperPlan]:
    """The plans of the patterned papers."""
    return [p for p in worked.plans if worked.kit.papers[p.paper].material.printed]


def cardstock_from(worked: Worked, name: str) -> list[tuple[PaperPlan, OtherSheet | None]]:
    """Every cardstock from sheets of that name; None for one that is such already."""
    cardstock = MATERIALS["cardstock"]
    sheet = dict(cardstock.sold)[name]
    return [
        (plan, None if plan.demand.sheet in (sheet, sheet.turned) else from_stock(worked, plan, name, sheet))
        for plan in worked.plans
        if worked.kit.papers[plan.paper].material is cardstock
    ]


@dataclass(frozen=True, slots=True)
class OneSheet:
    """What a sheet of each patterned paper makes; of each paper, where none is patterned."""

    papers: tuple[str, ...]
    """Their keys."""
    cards: int
    rest: tuple[tuple[str, Fraction], ...]
    """Sheets of the others for so many cards, by key."""


def one_sheet(worked: Worked) -> OneSheet:
    """How many cards a sheet of each patterned paper makes."""
    plans = printed(worked) or list(worked.plans)
    most = min(from_one_sheet(counts_of(worked, p).sheets) for p in plans)
    rest = tuple((p.paper, guided_sheets(worked, p, most)) for p in worked.plans if p not in plans) if most else ()
    return OneSheet(tuple(p.paper for p in plans), most, rest)


@dataclass(frozen=True, slots=True)
class OtherFold:
    """The same card with its fold at the other edge."""

    fold: str
    size: Size
    """Of the base that it takes."""
    score: Length
    """From the left or the top."""
    plan: PaperPlan
    """The base's paper as it is cut now."""
    other: PaperPlan | None
    """As it would be; None where the base does not come out of a sheet."""
    broken: tuple[Finding, ...]
    """What stands in the way then."""


def other_fold(worked: Worked) -> OtherFold:
    """What the other fold takes, tried on the whole kit."""
    worked = worked.designs[0]
    front, paper = worked.base.front, worked.kit.spec.card.base.paper
    fold = other_way(worked.base.fold)
    size = doubled(front, fold)
    plan = worked.cut(paper)
    demand = replace(plan.demand, sizes={**plan.demand.sizes, worked.kit.base: size}, given=None)
    found = from_sheet(demand, worked.kit.papers[paper].name, plan.demand.sheet, worked.planner.plan).plan
    broken = tuple(new_findings(worked, remade(worked, refolded(worked.kit.spec, front, fold)))) if found else ()
    return OtherFold(fold=fold, size=size, score=parted(front, fold), plan=plan, other=found, broken=broken)
