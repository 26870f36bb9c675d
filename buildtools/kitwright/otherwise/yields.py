"""How many cards a kit gives from any number of sheets: each paper from every usual sheet of its kind, as drawn and all upright.

Finder, kit page and printable read the same tables, so they can't disagree. On a paper's own
sheet they follow the author's guide where she has one, elsewhere the planner; what pages say of
the kit's own batch from another sheet, or of one-way paper, the tables keep to.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.cutting.asked import Yielded
from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.stock import Misfit, OtherSheet
from kitwright.cutting.yields import MOST, Yields, counted, planned, read
from kitwright.materials import Kind, Material
from kitwright.otherwise.planned import from_stock, shows_turned, upright_sheets
from kitwright.units import Size
from kitwright.work.batches import alike, counts_of, own_guide
from kitwright.work.traits import stands_upright
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class SheetYields:
    """What one kind of sheet gives of papers that are cut alike."""

    name: str
    """As it is sold; empty for one that nobody sells."""
    sheet: Size
    drawn: Yields | None
    """With the paper as the kit has it; None where a piece does not fit."""
    upright: Yields | None
    """Every piece kept upright, since the pattern has an up; None where that can't be (see `misfits_upright`, and `GroupYields.turned`)."""
    misfits: tuple[Misfit, ...] = ()
    """The pieces that the sheet can't give as drawn."""
    misfits_upright: tuple[Misfit, ...] = ()
    """And upright."""


@dataclass(frozen=True, slots=True)
class GroupYields:
    """Papers that are cut alike: each of them takes so many sheets."""

    papers: tuple[str, ...]
    """Their keys."""
    names: tuple[str, ...]
    kind: Kind
    printed: bool
    """Whether it has a pattern, so that an up matters."""
    upright: bool
    """Whether every piece lies upright as the kit has it: then an up changes nothing."""
    turned: tuple[str, ...]
    """Pieces that lie turned on the card and would show an up: the paper must have none."""
    own: Size
    """The kit's own sheet."""
    sheets: tuple[SheetYields, ...]
    """The kit's own first, then as they are sold."""


@dataclass(frozen=True, slots=True)
class KitYields:
    """All tables of a kit."""

    cards: int
    """The kit's own batch."""
    groups: tuple[GroupYields, ...]


def yields_of(worked: Worked) -> KitYields:
    """The tables of a kit; of one of several designs those of the whole kit, since it is cut together."""
    return worked.whole.once("yields", lambda: _yields(worked.whole))


def kept_of(worked: Worked) -> tuple[Yielded, ...]:
    """What the planner found of them, for a revision to keep; what is counted by a guide follows from that."""
    found = yields_of(worked)
    return tuple(
        Yielded(group.papers[0], one.sheet, table.written, bool(table.proved), one_way)
        for group in found.groups
        for one in group.sheets
        for one_way, table in ((False, one.drawn), (True, one.upright))
        if table is not None and _is_planned(group, one, one_way)
    )


def _is_planned(group: GroupYields, one: SheetYields, one_way: bool) -> bool:
    """Whether it is asked of the planner for this page alone: not what is counted on the kit's own sheet, and no way that comes to the same."""
    return group.printed and not group.upright if one_way else one.sheet != group.own


def _yields(worked: Worked) -> KitYields:
    groups = alike(worked)
    return KitYields(worked.kit.spec.cards, tuple(_group(worked, plans, shows_turned(worked)) for plans in groups))


def _group(worked: Worked, plans: list[PaperPlan], turned: tuple[str, ...]) -> GroupYields:
    plan, papers = plans[0], worked.kit.papers
    paper, demand = papers[plan.paper], plan.demand
    wrong = tuple(label for label in turned if label in demand.needs) if paper.material.printed else ()
    upright = set(demand.needs) <= set(demand.lies)
    return GroupYields(
        tuple(each.paper for each in plans),
        tuple(papers[each.paper].name for each in plans),
        paper.kind,
        paper.material.printed,
        upright,
        wrong,
        demand.sheet,
        tuple(_sheet(worked, plan, name, sheet, paper.material, upright, bool(wrong)) for sheet, name in _stock(worked, plan).items()),
    )


def _stock(worked: Worked, plan: PaperPlan) -> dict[Size, str]:
    """The kit's own sheet, those that are sold, and those of its other papers of this kind: each with its name."""
    papers = worked.kit.papers
    material = papers[plan.paper].material
    names = {sheet: name for name, sheet in reversed(material.sold)}
    mine = [plan.demand.sheet, *(sheet for _, sheet in material.sold)]
    mine += [other.demand.sheet for other in worked.plans if papers[other.paper].material is material]
    return {sheet: names.get(sheet, "") for sheet in mine}


def _sheet(worked: Worked, plan: PaperPlan, name: str, sheet: Size, material: Material, upright: bool, never: bool) -> SheetYields:
    """One sheet, both ways.

    Args:
        worked: the kit.
        plan: of the papers.
        name: how the sheet is sold.
        sheet: its size.
        material: of the papers.
        upright: whether it is cut upright as it is.
        never: whether an up can't be.
    """
    other = from_stock(worked, plan, name, sheet)
    own = sheet == plan.demand.sheet
    drawn = _own(worked, plan) if own else _planned(worked, plan, other, False, other.sheets) if other.fits else None
    if not material.printed or upright or own and own_guide(plan) and stands_upright(plan) and not never:
        return SheetYields(name, sheet, drawn, drawn, other.misfits, other.misfits)
    held = from_stock(worked, plan, name, sheet, one_way=True)
    table = None
    if held.fits and not never:
        table = _planned(worked, plan, held, True, upright_sheets(plan, held) if own else None, drawn)
    return SheetYields(name, sheet, drawn, table, other.misfits, held.misfits)


def _own(worked: Worked, plan: PaperPlan) -> Yields:
    counts = counts_of(worked, plan, MOST)
    return counted(counts.sheets, counts.proved)


def _planned(
    worked: Worked, plan: PaperPlan, other: OtherSheet, one_way: bool, own: Fraction | None, least: Yields | None = None
) -> Yields:
    for kept in worked.answers.yields if worked.answers else ():
        if (kept.paper, kept.sheet, kept.one_way) == (plan.paper, other.demand.sheet, one_way):
            return read(kept.most, kept.proved)
    return planned(other.demand, worked.kit.spec.cards, own, least)
