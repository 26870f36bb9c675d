"""The questions that followers ask, answered by computation.

How many sheets for another number of cards; the same kit from other paper, or from a
one-way paper; how far a sheet may fall short; what is left over and what it is good for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand, Layout, PaperPlan, sheets_for
from kitwright.cutting.stock import CARDSTOCK, PATTERNED_STOCK, Other, for_cards, from_sheet, halved
from kitwright.kit.names import BASE
from kitwright.units import SIXTEENTH, ZERO, Length, Size, figure, length_text, size_text
from kitwright.words import listed, number, sheets_text
from kitwright.worked import Worked

MOST = 60
"""Cards; the batches that the table answers for."""


@dataclass(frozen=True, slots=True)
class Use:
    """What a leftover is good for."""

    layout: Layout
    size: Size
    """The largest single leftover of the layout."""
    pieces: tuple[str, ...]
    """Labels of this kit that come out of it."""
    words: str
    """In a sentence."""


def guided_sheets(worked: Worked, plan: PaperPlan, cards: int) -> Fraction:
    """Sheets of a paper for a number of cards, cut by this kit's own guides.

    A layout gives what it gives: labels are counted up on the layouts that carry them.
    Where the kit leaves a paper to `auto`, it is planned anew for the number of cards.
    """
    demand = for_cards(plan.demand, cards, worked.kit.spec.cards)
    own = [run for run in plan.runs if run.layout.source == "author"]
    if len(own) != 1 or len(own) != len(plan.runs):
        return plan_paper(demand, plan.paper).sheets
    guide = own[0].layout
    if is_half(guide):
        # The guide is drawn for half a sheet; the other half is cut the same way.
        halves = max((-(-n // guide.yields[label]) for label, n in demand.needs.items() if n), default=0)
        return Fraction(halves, 2)
    return sheets_for(guide.tree, demand.needs) or Fraction(0)


def is_half(layout: Layout) -> bool:
    """Whether a layout leaves one half of its sheet whole."""
    sheet = layout.sheet
    return any(rest.size in (Size(sheet.width, sheet.height / 2), Size(sheet.width / 2, sheet.height)) for rest in layout.leftovers)


def batches(worked: Worked, upto: int = MOST) -> list[tuple[int, dict[str, Fraction]]]:
    """Sheets of each paper for every batch from 1 card to `upto`."""
    return [(cards, {plan.paper: guided_sheets(worked, plan, cards) for plan in worked.plans})
            for cards in range(1, upto + 1)]


def other_stock(worked: Worked, plan: PaperPlan) -> list[Other]:
    """The batch of one paper from every usual sheet of its kind but its own."""
    kind = worked.kit.papers[plan.paper].kind
    stock = PATTERNED_STOCK if kind == "patterned" else CARDSTOCK
    return [from_sheet(plan.demand, name, sheet, plan_paper) for name, sheet in stock if sheet != plan.demand.sheet]


def one_way(worked: Worked, plan: PaperPlan) -> Other | None:
    """The batch of one paper were it one-way; None where it is so already."""
    if set(plan.demand.needs) <= set(plan.demand.lies):
        return None
    return from_sheet(plan.demand, worked.kit.papers[plan.paper].name, plan.demand.sheet, plan_paper, one_way=True)


def other_text(worked: Worked, other: Other) -> str:
    """What comes of another sheet, in words."""
    unit = worked.kit.spec.unit
    if other.plan is not None:
        extra = ""
        half = halved(other.demand.sheet)
        own = worked.plan(other.demand.paper)
        two_at_home = own is not None and own.made.get(BASE, 0) > own.sheets
        if two_at_home and other.plan.made.get(BASE, 0) <= other.plan.sheets and other.demand.needs[BASE] > 1 and not (
                worked.base.cut.fits(half) or worked.base.cut.turned.fits(half)):
            extra = f"; a sheet gives one base, not two, since half of it is {size_text(half, unit)}"
        return f"{sheets_text(other.plan.sheets)}{extra}"
    said = [f"{m.label} is {length_text(m.over, unit)} too large; at {size_text(m.largest, unit)} it fits" for m in other.misfits]
    return "does not fit: " + listed(said)


def short_text(layout: Layout, unit: str) -> str:
    """How far each sheet may fall short before the guide fails."""
    slack = layout.slack
    if not slack.width and not slack.height:
        return "nothing: measure the sheet before you cut"
    return f"{length_text(slack.width, unit)} across, {length_text(slack.height, unit)} along"


def uses(worked: Worked) -> list[Use]:
    """The largest leftover of each layout and what it could become."""
    found = []
    for layout in worked.layouts:
        if not layout.leftovers:
            continue
        size = layout.leftovers[0].size
        labels = tuple(label for label in worked.sizes
                       if label != BASE and (wanted := [p for p in layout.papers if p in worked.counts(label)])
                       and all(_gives(worked, paper, label, size) for paper in wanted))
        found.append(Use(layout, size, labels, _use_text(worked, size, labels)))
    return found


def _gives(worked: Worked, paper: str, label: str, size: Size) -> bool:
    """Whether a leftover of a paper gives a piece of a label, lying as it may."""
    plan = worked.plan(paper)
    if plan is None or label not in plan.demand.needs:
        return False
    piece, lies = plan.demand.sizes[label], plan.demand.lies.get(label)
    return (lies is not True and piece.fits(size)) or (lies is not False and piece.turned.fits(size))


def _use_text(worked: Worked, size: Size, labels: tuple[str, ...]) -> str:
    unit, card = worked.kit.spec.unit, worked.base.finished
    if labels:
        return f"big enough for another {listed(list(labels), 'or')}"
    panel = Size(card.width - _INSIDE, card.height - _INSIDE)
    if panel.fits(size) or panel.turned.fits(size):
        return f"a panel of {size_text(panel, unit)} for the inside of the card"
    long, wide = max(size.width, size.height), min(size.width, size.height)
    if long >= panel.width and wide >= _TRIM:
        return f"trim for the inside, {figure(min(long, panel.width), unit)} {unit} long"
    return "scrap for test prints"


_INSIDE = Length(Fraction(1, 2))
"""A panel inside is this much smaller than the card, each way."""
_TRIM = Length(Fraction(1, 4))
"""The narrowest strip worth keeping as trim."""


# --- one question at a time ------------------------------------------------------------------

def asked(worked: Worked, cards: int | None, papers: dict[str, Size], upright: Iterable[str]) -> list[Other]:
    """The plan of every paper after a what-if: more cards, another sheet, a one-way paper."""
    upright = set(upright)
    found = []
    for plan in worked.plans:
        demand = for_cards(plan.demand, cards, worked.kit.spec.cards) if cards else plan.demand
        name = worked.kit.papers[plan.paper].name
        found.append(from_sheet(replace(demand), name, papers.get(plan.paper, demand.sheet), plan_paper, plan.paper in upright))
    return found


def as_json(worked: Worked) -> dict[str, Any]:
    """All answers as plain data, for the site."""
    unit = worked.kit.spec.unit
    return {
        "kit": worked.kit.id, "unit": unit, "cards": worked.kit.spec.cards,
        "sheets": [{"cards": cards, "sheets": {paper: str(n) for paper, n in each.items()}} for cards, each in batches(worked)],
        "other paper": {plan.paper: [{"sheet": o.name, "answer": other_text(worked, o), "sheets": str(o.plan.sheets) if o.plan else None}
                                     for o in other_stock(worked, plan)] for plan in worked.plans},
        "one-way": {plan.paper: other_text(worked, o) for plan in worked.plans if (o := one_way(worked, plan))},
        "may fall short": {layout.name: short_text(layout, unit) for layout in worked.layouts},
        "left over": [{"guide": use.layout.name, "size": size_text(use.size, unit), "good for": use.words} for use in uses(worked)],
    }


def is_tight(layout: Layout) -> bool:
    """Whether a sheet a sixteenth short fails the layout."""
    return min(layout.slack.width, layout.slack.height) < Length(SIXTEENTH)


# --- an author's own guides beside the planner's -----------------------------------------------

@dataclass(frozen=True, slots=True)
class Measured:
    """What counts in a way of cutting one paper."""

    sheets: Fraction
    measures: int
    """Distinct ruler marks."""
    cuts: int
    """Strokes on one sheet of each layout."""
    slack: Length
    """The least, over all layouts and both directions."""
    leftover: Size
    """The largest single one."""

    def words(self, unit: str) -> str:
        return (f"{sheets_text(self.sheets)}, {number(self.measures, 'measure', 'measures')}, {number(self.cuts, 'cut', 'cuts')}, "
                f"least slack {length_text(self.slack, unit)}, largest leftover {size_text(self.leftover, unit)}")


@dataclass(frozen=True, slots=True)
class Comparison:
    """An author's own guides for papers that are cut alike, beside the planner's."""

    papers: tuple[str, ...]
    guide: int
    """The first of the guides, counted from 0."""
    yours: Measured
    planned: Measured
    proved: bool
    """Whether no plan takes fewer sheets than the planner's."""

    @property
    def better(self) -> bool:
        """Whether the planner's is better in sheets, or as good in sheets and better in measures or cuts."""
        def rank(m: Measured) -> tuple:
            return m.sheets, m.measures, m.cuts
        return rank(self.planned) < rank(self.yours)

    def words(self, unit: str) -> str:
        return f"yours: {self.yours.words(unit)}; planned: {self.planned.words(unit)}{', proved the fewest sheets' if self.proved else ''}"


def measured(plan: PaperPlan) -> Measured:
    """What counts in a plan."""
    layouts = list(dict.fromkeys(run.layout for run in plan.runs))
    leftovers = [r for layout in layouts for r in layout.leftovers]
    return Measured(plan.sheets, len({m for each in layouts for m in each.measures}), sum(len(each.cuts) for each in layouts),
                    min((min(each.slack.width, each.slack.height) for each in layouts), default=ZERO),
                    max(leftovers, key=lambda r: r.area).size if leftovers else Size(ZERO, ZERO))


def comparisons(worked: Worked) -> list[Comparison]:
    """Every paper that the author's own guides cut, papers cut alike together."""
    found: dict[tuple, Comparison] = {}
    for plan in worked.plans:
        guides = tuple(run.layout.guide for run in plan.runs)
        if not guides or None in guides or plan.short:
            continue
        best = plan_paper(replace(plan.demand, given=None), worked.kit.papers[plan.paper].name)
        key = (guides, tuple(plan.demand.needs.items()), plan.sheets, tuple(sorted(plan.demand.lies.items())), plan.demand.sheet)
        papers = found[key].papers if key in found else ()
        proved = any(p.level == "sheets" and p.proved for p in best.proof)
        found[key] = Comparison((*papers, plan.paper), guides[0], measured(plan), measured(best), proved)
    return list(found.values())
