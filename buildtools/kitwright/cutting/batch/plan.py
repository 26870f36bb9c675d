"""The plan of one paper, with what is proved of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from kitwright.cutting.batch.halves import in_triangles
from kitwright.cutting.batch.paper import Counts, Lattice, check
from kitwright.cutting.batch.search import Search, Solution
from kitwright.cutting.batch.verdict import only_sheets, proofs
from kitwright.cutting.plan import Demand, Layout, PaperPlan, Run, joined, made_by
from kitwright.cutting.solver.work import Work
from kitwright.cutting.strips import plan_paper
from kitwright.cutting.tree import faults, pieces

STEPS = 10_000_000
"""Work that one paper may take (`solver.work`): twice what the largest batches of the demo kits take, and
a hundred times what the kits themselves do."""

SIMPLE = 400
"""Pieces up to which a plan that is not proved is compared with the plain strip plan."""


QUICK = 4
"""The part of it in which a number of sheets is to be found that is only counted: beyond it, the plan’s own search might end early, and is asked itself."""


def plan_batch(demand: Demand, name: str, *, steps: int = STEPS, proved: bool = True) -> PaperPlan:
    """The best way found to cut a batch from one paper, and how far it is proved.

    Args:
        demand: what the paper has to give; `given` is not looked at.
        name: the paper's name, for its layouts.
        steps: the work allowed. It is counted, so the same demand has the same plan everywhere.
        proved: whether anybody asks for proofs; the plan is the same.

    Returns:
        A plan whose `proof` has one entry for each of `PROOF_LEVELS`, if it is to be proved.

    Raises:
        UserError: a piece that no sheet of this paper can give, or nothing to cut.
    """
    plan = _of_rectangles(demand.in_rectangles, name, steps, proved)
    if demand.halves:
        plan = in_triangles(plan, demand)
    return replace(plan, runs=tuple(_told_apart(plan.runs, tuple(demand.needs))))


def _of_rectangles(demand: Demand, name: str, steps: int, proved: bool) -> PaperPlan:
    paper, needs = _asked(demand)
    search = Search(paper, Work(steps))
    units, found, bound = search.fewest(needs)
    runs = _runs(demand, name, paper, found, needs)
    plan = PaperPlan(demand, runs, proofs(search, needs, found, bound) if proved else ())
    if bound < units and sum(needs) <= SIMPLE:
        simple = plan_paper(replace(demand, needs=dict(zip(paper.labels, needs))), name)
        if simple.sheets < plan.sheets:
            return replace(simple, demand=demand, proof=only_sheets(search, needs, simple.sheets, bound) if proved else ())
    return plan


def count_sheets(demand: Demand, *, steps: int = STEPS) -> Fraction:
    """How many sheets the plan of a batch takes, where nobody asks how they are cut: the same number, found sooner.

    Args:
        demand: as for `plan_batch`.
        steps: the work allowed.

    Raises:
        UserError: as for `plan_batch`.
    """
    paper, needs = _asked(demand.in_rectangles)
    found = Search(paper, Work(steps // QUICK)).number(needs)
    if found is None:
        units, _, bound = Search(paper, Work(steps)).fewest(needs)
    else:
        units, bound = found
    sheets = Fraction(units, 2)
    if bound < units and sum(needs) <= SIMPLE:
        return min(sheets, plan_paper(replace(demand.in_rectangles, needs=dict(zip(paper.labels, needs))), "").sheets)
    return sheets


def _asked(demand: Demand) -> tuple[Lattice, Counts]:
    """The paper in whole numbers, and what is needed of each of its labels."""
    check(demand)
    labels = tuple(label for label, n in demand.needs.items() if n)
    return Lattice.of(demand.sheet, demand.sizes, demand.lies, labels), tuple(demand.needs[label] for label in labels)


def _runs(demand: Demand, name: str, paper: Lattice, found: Solution, needs: Counts) -> tuple[Run, ...]:
    runs = []
    for part in found.parts:
        # What the other layouts leave to this one: it decides which half of a sheet helps.
        others = [other for other in found.parts if other is not part]
        asked = {
            label: max(0, n - sum(other.layout.counts[k] * (other.units // 2) for other in others))
            for k, (label, n) in enumerate(zip(paper.labels, needs))
        }
        node = paper.node(part.layout.plate)
        wrong: list[str] = [fault.what for fault in faults(node, demand.sheet, demand.sizes)]
        for label, turned in demand.lies.items():
            if label in paper.labels and demand.sizes[label].width != demand.sizes[label].height:
                wrong += ["lies" for leaf in pieces(node) if leaf.label == label and leaf.turned != turned]
        if wrong:
            raise RuntimeError(f"the planner made an unsound tree: {wrong}")
        sheets = Fraction(part.units, 2)
        layout = Layout(name, (demand.paper,), node, "auto")
        runs.append(Run(layout, sheets, made_by(node, sheets, asked)))
    return tuple(runs)


def _told_apart(runs: tuple[Run, ...], labels: tuple[str, ...]) -> Iterator[Run]:
    """Layouts of one paper by the labels they give; those of the same labels by how many; those that have a name of their own keep it."""
    if len(runs) < 2 or any(run.layout.detail for run in runs):
        yield from runs
        return
    details = [f": {joined([label for label in labels if label in run.layout.yields])}" for run in runs]
    for run, detail in zip(runs, details):
        layout = run.layout
        if details.count(detail) > 1:
            detail = f": {joined([f'{n} {label}' for label, n in layout.yields.items()])}"
        yield replace(run, layout=replace(layout, name=layout.name + detail, detail=detail))
