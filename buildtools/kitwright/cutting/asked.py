"""What is asked of the planner about one kit, beside how it is cut: each question answered once, and from what was answered before.

A revision keeps the answers, so that what was published of other sheets stays as it was
published, and nothing is planned for it again. They go by the question itself, the demand,
so a question that nobody asked then is planned now.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.cutting import auto
from kitwright.cutting.plan import Demand, PaperPlan
from kitwright.cutting.stock import from_sheet
from kitwright.units import Size


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """How many sheets the batch takes of one paper where that comes in another sheet, or has an up."""

    paper: str
    """Its key."""
    sheet: Size
    sheets: Fraction
    one_way: bool = False


@dataclass(frozen=True, slots=True)
class Yielded:
    """How many cards so many sheets of one paper give, where that comes in another sheet, or has an up (`cutting.yields`)."""

    paper: str
    """Its key."""
    sheet: Size
    most: str
    """The table as it is written there."""
    proved: bool = True
    one_way: bool = False


@dataclass(frozen=True, slots=True)
class Answers:
    """What the planner said of a kit beside how it is cut."""

    sheets: tuple[Elsewhere, ...] = ()
    plans: tuple[PaperPlan, ...] = ()
    """Of papers cut otherwise: the kit with another base, from another sheet, by no guide of the author's. Nobody asks more of them than that no fewer sheets do."""
    yields: tuple[Yielded, ...] = ()
    """Of any number of cards; none in what was published before these were kept."""


class KitPlanner:
    """The planner, asked about one kit and whatever that is changed to."""

    def __init__(self, own: Iterable[PaperPlan], answers: Answers | None = None) -> None:
        """Args:
        own: how the kit is cut.
        answers: what is known besides.
        """
        own, answers = tuple(own), answers or Answers()
        by_auto = (plan for plan in own if all(run.layout.source == "auto" for run in plan.runs))
        self._plans = {_question(plan.demand): plan for plan in by_auto}
        self._kept = {_question(plan.demand): plan for plan in answers.plans}
        demands = {plan.paper: plan.demand for plan in own}
        self._sheets = {_question(_elsewhere(demands, one)): one.sheets for one in answers.sheets if one.paper in demands}
        self.found: list[PaperPlan] = []
        """What was asked for and is not the kit's own, in the order in which it was."""

    def plan(self, demand: Demand, name: str) -> PaperPlan:
        """The best plan for one paper; see `auto.plan_paper`."""
        question = _question(demand)
        if question not in self._plans:
            self._plans[question] = self._kept.get(question) or auto.plan_paper(demand, name)
            self.found.append(self._plans[question])
        return _called(self._plans[question], demand, name)

    def sheets(self, demand: Demand, name: str) -> Fraction:
        """How many sheets that takes; see `auto.count_sheets`."""
        question = _question(demand)
        if question not in self._sheets:
            self._sheets[question] = auto.count_sheets(demand, name)
        return self._sheets[question]


def _question(demand: Demand) -> tuple:
    """What is asked of a paper, whatever is at hand of it."""
    return auto.asked(replace(demand, given=None))


def _elsewhere(demands: Mapping[str, Demand], one: Elsewhere) -> Demand:
    return from_sheet(demands[one.paper], "", one.sheet, auto.plan_paper, one_way=one.one_way).demand


def _called(plan: PaperPlan, demand: Demand, name: str) -> PaperPlan:
    """A plan under the name by which it is asked for; a layout that papers share is that of this one alone."""
    runs = (replace(run, layout=replace(run.layout, name=name + run.layout.detail, papers=(demand.paper,))) for run in plan.runs)
    return replace(plan, demand=demand, runs=tuple(runs))
