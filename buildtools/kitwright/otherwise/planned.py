"""A kit's papers planned otherwise: for another number of cards, from another sheet, or one-way."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.face import Placed
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand, PaperPlan
from kitwright.cutting.stock import Misfit, OtherSheet, for_cards, from_sheet
from kitwright.otherwise.changed import Change, fitting
from kitwright.units import Size
from kitwright.work.worked import Worked


def other_stock(worked: Worked, plan: PaperPlan) -> list[OtherSheet]:
    """The batch of one paper from every usual sheet of its kind but its own."""
    sold = worked.kit.papers[plan.paper].material.sold
    return [from_stock(worked, plan, name, sheet) for name, sheet in sold if sheet != plan.demand.sheet]


def from_stock(worked: Worked, plan: PaperPlan, name: str, sheet: Size, one_way: bool = False) -> OtherSheet:
    """The batch of one paper from another sheet, or with every piece kept upright."""
    return from_sheet(plan.demand, name, sheet, worked.planner.plan, one_way, worked.planner.sheets)


def one_way(worked: Worked, plan: PaperPlan) -> OtherSheet | None:
    """The batch of one patterned paper were it one-way; None where it is so already, and for what has no pattern."""
    if not worked.kit.papers[plan.paper].material.printed or set(plan.demand.needs) <= set(plan.demand.lies):
        return None
    return from_stock(worked, plan, worked.kit.papers[plan.paper].name, plan.demand.sheet, one_way=True)


def upright_sheets(plan: PaperPlan, other: OtherSheet) -> Fraction | None:
    """Sheets of a paper were it one-way; None where a piece does not fit then. An up never saves a sheet: that a new plan beats a guide is not told here."""
    return max(other.sheets, plan.sheets) if other.fits else None


def shows_turned(worked: Worked) -> tuple[str, ...]:
    """Pieces that a paper with an up would show turned: triangles that do not stand as their rectangle does."""
    shown = {p.label: None for design in worked.designs for face in design.faces for side in face.every for p in side.stack if _shows(p)}
    return (*shown,)


def _shows(placed: Placed) -> bool:
    """Whether it is a triangle that a pattern with an up shows turned: one upside down is the other half of its rectangle, and stands."""
    return bool(placed.diagonal and (placed.turned or placed.point))


@dataclass(frozen=True, slots=True)
class Planned:
    """One paper as it was asked for."""

    demand: Demand
    plan: PaperPlan | None
    """None when a piece does not fit."""
    upright: bool
    """Whether its pattern has an up, or was asked to have one."""
    misfits: tuple[Misfit, ...] = ()
    change: Change | None = None
    """Where a piece does not fit: the sizes that would, tried on the whole kit."""


def planned(
    worked: Worked, cards: int | None = None, papers: Mapping[str, Size] | None = None, upright: Collection[str] = ()
) -> list[Planned]:
    """Every paper's plan: the kit's own, or, where something is asked differently, planned anew.

    Args:
        worked: the kit.
        cards: for so many cards.
        papers: other sheets, by paper.
        upright: papers that are one-way.
    """
    return [_planned(worked, plan, cards, (papers or {}).get(plan.paper), plan.paper in upright) for plan in worked.plans]


def _planned(worked: Worked, plan: PaperPlan, cards: int | None, sheet: Size | None, upright: bool) -> Planned:
    paper, demand = worked.kit.papers[plan.paper], plan.demand
    if not (cards or sheet or upright):
        return Planned(demand, plan, bool(paper.front.up))
    wanted = for_cards(demand, cards, worked.kit.spec.cards) if cards else demand
    other = from_sheet(wanted, paper.name, sheet or demand.sheet, plan_paper, upright)
    return Planned(other.demand, other.plan, upright or bool(paper.front.up), other.misfits, fitting(worked, other))
