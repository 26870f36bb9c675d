"""A kit with some of its sizes moved, worked out and looked over whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from math import ceil

from kitwright.check import of_the_card
from kitwright.cutting.asked import KitPlanner
from kitwright.cutting.plan import Demand, PaperPlan
from kitwright.cutting.tree import holds
from kitwright.errors import UserError
from kitwright.kit.faces import fronts
from kitwright.kit.model import FaceSpec, Front, KitSpec
from kitwright.otherwise.changed import new_findings, remade
from kitwright.proposing.freedom import Dial, Freedom, turned_to
from kitwright.proposing.near.figures import figures
from kitwright.proposing.near.nudged import CameOut, Nudged
from kitwright.units import Length, Size
from kitwright.work.compared import Comparison, comparisons, measured
from kitwright.work.worked import Worked

TOLD = ("pieces.one-size-two-labels",)
"""What is found of two sizes that become one; the offer says so itself."""


def changed_whole(worked: Worked, search: Nudged, one: CameOut, step: Length) -> tuple[Worked, CameOut] | None:
    """The whole kit so, and what it comes to; None where anything is found in it that was not found before, be it a hint, or where it
    takes more of any paper.

    Where the planner would cut the changed sizes better than her guide, and did not so before, its cuts are taken: once the kit is
    written, `check` asks the planner anew.
    """
    spec = changed_spec(worked, search.free, dict(one.shifts), step)
    changed = _remade(worked, spec, one.plans)
    if changed is None:
        return None
    better = {plan.paper: best for plan in changed.plans if (best := _planned_better(worked, plan))}
    if better:
        kept = tuple(plan for plan in changed.plans if plan.paper not in better and plan is not worked.plan(plan.paper))
        plans = (*kept, *better.values())
        changed = _remade(worked, spec, plans)
        if changed is None:
            return None
        one = replace(one, figures=figures(changed), same_cuts=False, plans=plans)
    if any(ceil(plan.sheets * 2) > ceil(before.sheets * 2) for plan in changed.plans if (before := worked.plan(plan.paper))):
        return None
    return None if new_findings(worked, changed) or _hints(changed) - _hints(worked) else (changed, one)


def _remade(worked: Worked, spec: KitSpec, plans: tuple[PaperPlan, ...]) -> Worked | None:
    try:
        return remade(worked, spec, planner=AsCut(worked, plans))
    except UserError:
        return None


def _hints(worked: Worked) -> Counter[str]:
    """How often each is found, wherever: a guide that goes moves the lines of those below it."""
    return Counter(finding.code for _, finding in of_the_card(worked) if finding.level == "hint" and finding.code not in TOLD)


def _planned_better(worked: Worked, plan: PaperPlan) -> PaperPlan | None:
    """The planner's cuts of changed sizes, where they are better than the guide that they are cut by, and were not so before."""
    before = worked.plan(plan.paper)
    if before is None or any(run.layout.guide is None for run in before.runs) or plan.demand.sizes == before.demand.sizes:
        return None
    if any(one.better and plan.paper in one.papers for one in comparisons(worked)):
        return None
    best = KitPlanner(()).plan(replace(plan.demand, given=None), plan.paper)
    assert best.fewest is not None, "the planner tells it of every plan"
    held = all(holds(run.layout.tree, worked.kit.club.trimmer.least_hold) for run in best.runs)
    told = Comparison((plan.paper,), 0, measured(plan), measured(best), best.fewest, held)
    return replace(best, demand=plan.demand) if told.better else None


class AsCut(KitPlanner):
    """Answers with how the changed sheets were found to be cut."""

    def __init__(self, worked: Worked, plans: tuple[PaperPlan, ...]) -> None:
        super().__init__(worked.plans, worked.answers)
        self._cut = {plan.paper: plan for plan in plans if plan is not worked.plan(plan.paper)}

    def plan(self, demand: Demand, name: str) -> PaperPlan:
        """How it was found to be cut, where that is what is asked; else as the planner does."""
        known = self._cut.get(demand.paper)
        if known is None or known.demand.sizes != demand.sizes or known.demand.needs != demand.needs or known.demand.lies != demand.lies:
            return super().plan(demand, name)
        layouts = {run.layout: replace(run.layout, name=name + run.layout.detail, papers=(demand.paper,)) for run in known.runs}
        return PaperPlan(demand, tuple(replace(run, layout=layouts[run.layout]) for run in known.runs))


def changed_spec(worked: Worked, free: Freedom, shifts: Mapping[Dial, int], step: Length) -> KitSpec:
    """What a kit's file says once some of its dials moved by so many steps."""
    spec = worked.kit.spec
    moved = {dial: free.now[dial] + step * by for dial, by in shifts.items()}
    pieces = {}
    for label, piece in spec.pieces.items():
        size = Size(moved.get(("width", label), piece.size.width), moved.get(("height", label), piece.size.height))
        pieces[label] = piece if size == piece.size else piece.model_copy(update={"size": size})

    def faces(of: KitSpec, design: str) -> dict[str, Front | dict[str, FaceSpec]]:
        turned = {path: turned_to(said, path, design, moved) for said, path in fronts(of)}
        return {"front": turned["front",], "faces": {str(path[1]): said for path, said in turned.items() if isinstance(said, FaceSpec)}}

    if spec.designs:
        own = {design.kit.design: faces(design.kit.spec, design.kit.design) for design in worked.designs}
        designs = {name: design.model_copy(update=own[name]) for name, design in spec.designs.items()}
        return spec.model_copy(update={"pieces": pieces, "designs": designs})
    return spec.model_copy(update={"pieces": pieces, **faces(spec, "")})
