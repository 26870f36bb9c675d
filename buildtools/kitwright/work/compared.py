"""An author's own guides beside the planner's."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from kitwright.cutting.batch.proof import Proof
from kitwright.cutting.plan import HALF, LITTLE, Layout, PaperPlan
from kitwright.cutting.tree import holds
from kitwright.errors import UserError
from kitwright.units import ZERO, Length, Size
from kitwright.work.worked import Worked

ENOUGH = Length(HALF)
"""More slack than half an inch serves no crooked sheet (`sources.PRACTICE`)."""


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


@dataclass(frozen=True, slots=True)
class Comparison:
    """An author's own guides for papers that are cut alike, beside the planner's."""

    papers: tuple[str, ...]
    guide: int
    """The first of the guides, counted from 0."""
    yours: Measured
    planned: Measured
    fewest: Proof
    """What is known of the number of sheets that the planner's takes."""
    held: bool = True
    """Whether the club's trimmer holds the paper at each stroke of the planner's."""

    @property
    def proved(self) -> bool:
        """Whether no plan takes fewer sheets than the planner's."""
        return self.fewest.proved

    @property
    def better(self) -> bool:
        """Whether the planner's is better in sheets, or as good in sheets and slack and better in measures or cuts.

        Fewer sheets that may lack nothing, where hers may, are no better: one is had for the other, so `plan` and the page of
        numbers show both, and nobody is advised. Nor are fewer strokes for less slack, or such as her trimmer can't make; for
        those she would have to open a sheet less.
        """

        def rank(m: Measured) -> tuple:
            return m.sheets, m.measures, m.cuts

        fewer = self.planned.sheets < self.yours.sheets
        if not (ceil(self.planned.sheets) < ceil(self.yours.sheets) or self.held) or self.planned.slack < min(
            LITTLE if fewer else ENOUGH, self.yours.slack
        ):
            return False
        return rank(self.planned) < rank(self.yours)


def measured(plan: PaperPlan) -> Measured:
    """What counts in a plan."""
    layouts = list(dict.fromkeys(run.layout for run in plan.runs))
    leftovers = [r for layout in layouts for r in layout.leftovers]
    return Measured(
        plan.sheets,
        len({m for each in layouts for m in each.measures}),
        sum(each.strokes for each in layouts),
        min((min(each.slack.width, each.slack.height) for each in layouts), default=ZERO),
        max(leftovers, key=lambda r: r.area).size if leftovers else Size(ZERO, ZERO),
    )


def comparisons(worked: Worked) -> list[Comparison]:
    """Every paper that the author's own guides cut, papers cut alike together."""
    found: dict[tuple, Comparison] = {}
    for plan in worked.plans:
        guides = tuple(run.layout.guide for run in plan.runs if run.layout.guide is not None)
        if not guides or len(guides) < len(plan.runs) or plan.short:
            continue
        try:
            best = worked.planner.plan(replace(plan.demand, given=None), worked.kit.papers[plan.paper].name)
        except UserError:
            # A piece that no sheet can give: told at its own line, and nothing to compare with.
            continue
        key = (guides, tuple(plan.demand.needs.items()), plan.sheets, tuple(sorted(plan.demand.lies.items())), plan.demand.sheet)
        papers = found[key].papers if key in found else ()
        assert best.fewest is not None, "the planner tells it of every plan"
        held = all(holds(run.layout.tree, worked.kit.club.trimmer.least_hold) for run in best.runs)
        found[key] = Comparison((*papers, plan.paper), guides[0], measured(plan), measured(best), best.fewest, held)
    return list(found.values())


@dataclass(frozen=True, slots=True)
class Fewest:
    """That a guide takes as few sheets as can be."""

    sheets: Fraction
    papers: int
    """How many papers are cut so."""
    proof: Proof
    """Why no fewer do."""


def fewest(worked: Worked, layout: Layout) -> Fewest | None:
    """What a reader may be told of a guide; None where it is not certain that no fewer sheets do, and of half a sheet: nobody looks for less.

    Where a plan takes fewer than an author's own guide, or cuts it more shortly, that is for her
    alone: `check` and `kitwright plan` tell it.
    """
    if layout.source == "author":
        one = next((c for c in comparisons(worked) if set(c.papers) & set(layout.papers)), None)
        if one is None or one.planned.sheets < one.yours.sheets:
            return None
        found = Fewest(one.yours.sheets, len(one.papers), one.fewest)
    else:
        plan = worked.plan(layout.papers[0])
        if plan is None or plan.fewest is None:
            return None
        found = Fewest(plan.sheets, len(layout.papers), plan.fewest)
    return found if found.proof.proved and found.sheets > HALF else None
