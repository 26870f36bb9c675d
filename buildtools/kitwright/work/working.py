"""Work a kit out: its fronts, the author's guides and the planner's, and what stood in the way."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import cast

from kitwright.card.face import Face
from kitwright.card.layout import base_of, faces_of
from kitwright.cutting.asked import KitPlanner
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.guide import Reader
from kitwright.cutting.plan import HALF, Demand, Layout, PaperPlan, Run, half_tree, joined, made_by, sheets_for
from kitwright.cutting.stock import Planner, misfits, too_large
from kitwright.cutting.tree import Node
from kitwright.errors import UserError
from kitwright.findings import Finding, errors_in
from kitwright.kit.kit import Kit
from kitwright.kit.model import Guide
from kitwright.work.cite import cites, filled, refuse
from kitwright.work.counted import counted, nowhere
from kitwright.work.measured import measured
from kitwright.work.worked import Part, Worked, halves_of, lies_of, needs_of, sizes_of


def work(kit: Kit, planner: KitPlanner | None = None) -> Worked:
    """Work a kit out, once: whoever asks again for the same kit has the same answer.

    Args:
        kit: as it was read.
        planner: of the kit that it was changed from; it knows how what stays is cut.

    Raises:
        UserError: a front that can't be laid out at all.
    """
    kept = vars(kit)
    if WORKED not in kept:
        kept[WORKED] = worked = _work_out(kit, planner)
        vars(worked.kit)[WORKED] = worked
    return cast(Worked, kept[WORKED])


WORKED = "_worked"
"""Where a kit keeps what was worked out from it."""


def _work_out(kit: Kit, planner: KitPlanner | None) -> Worked:
    kit = measured(kit)
    fronts = tuple(map(faces_of, kit.designs))
    troubles = [Finding("error", kit.place("pieces", label), "pieces.lies-nowhere", label=label) for label in nowhere(kit, fronts)]
    kit = counted(kit, fronts)
    parts = _parts(kit, fronts)
    layouts = _authors_layouts(kit, troubles)
    plans = tuple(
        _plan(kit, parts, paper, needs, layouts, troubles, planner.plan if planner else plan_paper)
        for paper, needs in _in_order(kit, needs_of(kit))
    )
    plans = _shared_guides(kit, _half_guides(plans))
    # The author's guides in her order, then the planner's own.
    drawn = sorted((run.layout for plan in plans for run in plan.runs), key=lambda layout: (layout.guide is None, layout.guide or 0))
    worked = put_together(kit, parts, plans, tuple(dict.fromkeys(drawn)), tuple(troubles))
    told, _ = filled(worked)
    if told is not kit:
        # What is cited is known only now; decorations are named on the fronts. What names nothing, `check` tells.
        worked = put_together(told, _parts(told, tuple(map(faces_of, told.designs))), plans, worked.layouts, worked.troubles)
    if planner:
        vars(worked)["planner"] = planner
    return worked


def _parts(kit: Kit, fronts: tuple[tuple[Face, ...], ...]) -> tuple[Part, ...]:
    return tuple(Part(design, base_of(design), faces) for design, faces in zip(kit.designs, fronts))


def put_together(
    kit: Kit, parts: tuple[Part, ...], plans: tuple[PaperPlan, ...], layouts: tuple[Layout, ...], troubles: tuple[Finding, ...]
) -> Worked:
    """A kit with what was worked out for it, each of its designs known as worked out too."""
    leading = parts[0]
    worked = Worked(kit, leading.base, leading.faces, plans, layouts, troubles, parts if kit.spec.designs else ())
    for design in worked.designs:
        vars(design.kit)[WORKED] = design
    return worked


def said(kit: Kit) -> Kit:
    """The kit with all that its spec cites filled in; worked out only where something is cited.

    Raises:
        UserError: something cited is not there.
    """
    if not cites(kit):
        return kit
    worked = work(kit)
    refuse(worked)
    return worked.kit


def _shared_guides(kit: Kit, plans: tuple[PaperPlan, ...]) -> tuple[PaperPlan, ...]:
    """Papers that auto cuts alike, sheet for sheet, share one guide."""
    papers: dict[Node, list[str]] = {}
    for plan in plans:
        for run in plan.runs:
            if run.layout.source == "auto":
                papers.setdefault(run.layout.tree, []).append(plan.paper)

    def shared(run: Run) -> Run:
        keys = papers.get(run.layout.tree, []) if run.layout.source == "auto" else []
        if len(keys) < 2:
            return run
        name = joined([kit.papers[key].name for key in keys]) + run.layout.detail
        return replace(run, layout=replace(run.layout, papers=tuple(keys), name=name))

    return tuple(replace(plan, runs=tuple(map(shared, plan.runs))) for plan in plans)


def _half_guides(plans: tuple[PaperPlan, ...]) -> tuple[PaperPlan, ...]:
    """Layouts of which no paper uses more than half a sheet, drawn as such: the other half stays whole."""
    most: dict[Layout, Fraction] = {}
    needs: dict[Layout, Counter[str]] = {}
    for run in (run for plan in plans for run in plan.runs):
        most[run.layout] = max(most.get(run.layout, Fraction(0)), run.sheets)
        needs.setdefault(run.layout, Counter())
        needs[run.layout] |= Counter(run.made)
    halves = {layout: replace(layout, tree=half_tree(layout.tree, needs[layout])) for layout, n in most.items() if n == HALF}
    return tuple(replace(plan, runs=tuple(replace(run, layout=halves.get(run.layout, run.layout)) for run in plan.runs)) for plan in plans)


def _in_order(kit: Kit, needs: dict[str, dict[str, Fraction]]) -> list[tuple[str, dict[str, Fraction]]]:
    """Patterned papers first, then what has no pattern, each in the order of the spec."""
    order = list(kit.papers)
    return sorted(needs.items(), key=lambda n: (not kit.papers[n[0]].material.printed, order.index(n[0])))


def _authors_layouts(kit: Kit, troubles: list[Finding]) -> list[Layout]:
    found: list[Layout] = []
    for i, guide in enumerate(kit.spec.guides):
        if guide.cuts is None:
            continue
        sheets = {kit.papers[p].size.size for p in guide.papers}
        if len(sheets) > 1:
            troubles.append(Finding("error", kit.place("guides", i, "papers"), "guide.different-sheets"))
            continue
        reader = Reader(sizes_of(kit), kit.spec.unit, lambda *path, i=i: kit.place("guides", i, "cuts", *path), halves_of(kit))
        if unread := list(reader.unreadable(guide.cuts)):
            troubles += [found for one in unread for found in errors_in(one)]
            continue
        try:
            node = reader.read(guide.cuts, sheets.pop())
        except UserError as error:
            troubles += errors_in(error)
            continue
        troubles += [found for odd in reader.odd for found in errors_in(odd)]
        found.append(Layout(guide.name or _guide_name(kit, guide, found), guide.papers, node, "author", i))
    return found


def _guide_name(kit: Kit, guide: Guide, before: list[Layout]) -> str:
    names = " and ".join(kit.papers[p].name for p in guide.papers)
    again = sum(layout.papers == guide.papers for layout in before)
    return f"{names}, {('second', 'third', 'fourth', 'fifth')[min(again, 4) - 1]} sheet" if again else names


def _plan(
    kit: Kit,
    parts: tuple[Part, ...],
    paper: str,
    needs: dict[str, Fraction],
    layouts: list[Layout],
    troubles: list[Finding],
    planner: Planner,
) -> PaperPlan:
    whole = {label: ceil(n) for label, n in needs.items()}
    demand = Demand(
        paper=paper,
        sheet=kit.papers[paper].size.size,
        needs=whole,
        sizes={label: sizes_of(kit)[label] for label in whole},
        lies={label: lies for part in parts for label, lies in lies_of(part.kit, paper, part.faces).items()},
        given=kit.papers[paper].sheets,
        halves={label: way for label, way in halves_of(kit).items() if label in whole},
    )
    own = [layout for layout in layouts if paper in layout.papers]
    runs = _authors_runs(kit, demand, own, troubles)
    on_guides = {label for layout in own for label in layout.yields}
    rest = {label: n for label, n in whole.items() if label not in on_guides}
    broken = any(
        paper in g.papers and g.cuts is not None and i not in {layout.guide for layout in own} for i, g in enumerate(kit.spec.guides)
    )
    wrong = misfits(demand)
    for one in wrong:
        of_base = next((part.kit for part in parts if part.kit.base == one.label), None)
        place = of_base.place("card", "base", "size") if of_base else kit.place("pieces", one.label, "size")
        troubles += errors_in(too_large(demand, one, kit.spec.unit), place)
    if rest and not broken:
        halves = {label: way for label, way in demand.halves.items() if label in rest}
        left = Demand(paper, demand.sheet, rest, {label: demand.sizes[label] for label in rest}, demand.lies, halves=halves)
        if own and not any(paper in guide.papers and guide.cuts is None for guide in kit.spec.guides):
            place = kit.place("guides", own[0].guide or 0, "cuts")
            troubles.append(Finding("warning", place, "guide.left-to-auto", labels=tuple(rest), name=kit.papers[paper].name, paper=paper))
        if not wrong:
            try:
                planned = planner(left, kit.papers[paper].name)
            except UserError as error:
                raise error.at(kit.place("papers", paper)) from None
            if not own:
                return replace(planned, demand=demand)
            runs += planned.runs
    return PaperPlan(demand, tuple(runs))


def _authors_runs(kit: Kit, demand: Demand, own: list[Layout], troubles: list[Finding]) -> list[Run]:
    runs: list[Run] = []
    missing = dict(demand.needs)
    for layout in own:
        i = layout.guide or 0
        guide = kit.spec.guides[i]
        if guide.sheets is None and len(own) > 1:
            name = kit.papers[demand.paper].name
            troubles.append(Finding("error", kit.place("guides", i), "guide.sheets-unsaid", name=name, guides=len(own)))
        on_it = {label: n for label, n in missing.items() if label in layout.yields}
        sheets = guide.sheets if guide.sheets is not None else sheets_for(layout.tree, on_it) or Fraction(1)
        made = made_by(layout.tree, sheets, missing)
        runs.append(Run(layout, sheets, made))
        missing = {label: max(n - made.get(label, 0), 0) for label, n in missing.items()}
    return runs
