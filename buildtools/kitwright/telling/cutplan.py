"""A kit's cutting plan as `kitwright plan` tells it: sheets, proof, and steps at the desk."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from kitwright.cutting.desk import corner_steps
from kitwright.cutting.plan import HALF, Layout, PaperPlan
from kitwright.cutting.stock import Misfit, too_large
from kitwright.cutting.tree import leaves
from kitwright.otherwise.planned import Planned
from kitwright.telling.compared import compared_text
from kitwright.telling.goes import dealt, dealt_text
from kitwright.telling.instructions import corner_text, step_text
from kitwright.telling.proof import proof_lines, why_text
from kitwright.telling.questions import but_then
from kitwright.telling.slack import short_text
from kitwright.telling.words import label_text, led, listed, sheets_text
from kitwright.units import Size, fraction_text, length_text, other_unit, size_text
from kitwright.work.batches import is_half
from kitwright.work.compared import Comparison, comparisons, fewest
from kitwright.work.desk import layout_steps
from kitwright.work.worked import Worked


def as_text(worked: Worked, found: list[Planned]) -> list[str]:
    """The reports as lines of text."""
    lines: list[str] = []
    unit = worked.unit
    for report in found:
        lines.append(f"{_name(worked, report)}, {size_text(report.demand.sheet, unit)}")
        if report.plan is None:
            for wrong in _by_the_ruler(report):
                error = too_large(report.demand, wrong, unit)
                lines += [f"  {error.problem}", f"  {error.remedy}"]
            if report.change and not report.change.works:
                lines.append("  " + but_then(report.change, "But then"))
        else:
            lines += _plan_lines(worked, report.plan, report.upright)
        lines.append("")
    return lines


def _by_the_ruler(report: Planned) -> list[Misfit]:
    """What does not fit, each with the size that was tried on the kit."""
    return [replace(wrong, largest=report.change.sizes[wrong.label]) if report.change else wrong for wrong in report.misfits]


def _name(worked: Worked, report: Planned) -> str:
    return worked.kit.papers[report.demand.paper].name


def _plan_lines(worked: Worked, plan: PaperPlan, upright: bool) -> list[str]:
    unit = worked.unit
    needs = ", ".join(f"{n} {label_text(label, n)}" for label, n in plan.demand.needs.items())
    lines = [f"  {sheets_text(plan.sheets)} for {needs}"]
    if (own := worked.plan(plan.paper)) and own.demand.needs == plan.demand.needs and (parted := dealt_text(worked, plan.paper)):
        lines.append(f"  {parted}")
    lines += [f"  {line}" for line in proof_lines(plan.proof, unit)]
    for run in plan.runs:
        layout = run.layout
        lines.append(
            f"  {layout.name}: {sheets_text(run.sheets)}, {gives_text(layout, run.sheets)}; may fall short by {short_text(layout.slack, unit)}"
        )
        lines += [f"    {step.number}. {step_text(step, unit, upright)}" for step in layout_steps(worked, layout)]
        lines += [f"    {step.number}. {corner_text(step, unit)}" for step in corner_steps(layout.tree)]
    for one in comparisons(worked):
        if plan in worked.plans and plan.paper in one.papers:
            lines += [f"  {compared_text(one.yours, one.planned, one.proved, unit)}", f"  {_beside(one)} {why_text(one.fewest, unit)}"]
    return lines


def gives_text(layout: Layout, sheets: Fraction) -> str:
    """What a sheet of a layout gives: `a sheet gives 3 A and 3 B`."""
    gives = listed([f"{n} {label_text(label, n)}" for label, n in layout.yields.items()])
    if sheets == HALF:
        return f"it gives {gives}"
    return f"half of each gives {gives}, and the other half stays whole" if is_half(layout) else f"a sheet gives {gives}"


@dataclass(frozen=True, slots=True)
class NoFewer:
    """That a guide takes as few sheets as can be, as a reader is told it."""

    lead: str
    """The fact."""
    why: str
    """What settles it, where a reader can check it at the desk; else empty."""
    beside: str
    """The same in the other unit."""


def verdict(worked: Worked, layout: Layout) -> NoFewer | None:
    """What a reader is told of a guide; None where there is nothing certain to tell."""
    found = fewest(worked, layout)
    if found is None:
        return None
    own, other = (why_text(found.proof, unit) if found.proof.plain else "" for unit in (worked.unit, other_unit(worked.unit)))
    return NoFewer(_fewest(found.sheets, True, found.papers), own, other)


def verdicts(worked: Worked) -> list[NoFewer | None]:
    """The same of every guide, in the order of the layouts; told once for a paper that several guides cut."""
    told: list[NoFewer | None] = []
    papers: set[str] = set()
    for layout in worked.layouts:
        told.append(None if papers & set(layout.papers) else verdict(worked, layout))
        papers |= set(layout.papers)
    return told


def _beside(one: Comparison) -> str:
    """Whether fewer sheets than an author's own guide takes would do, for her."""
    yours, best = one.yours, one.planned
    if best.sheets < yours.sheets:
        return f"{led(sheets_text(best.sheets))} would do, cut another way{', and no fewer' if one.proved else ''}."
    return _fewest(yours.sheets, one.proved, len(one.papers))


def _fewest(sheets: Fraction, proved: bool, papers: int) -> str:
    less = (f"fewer than {sheets_text(sheets)}" if sheets > HALF else "less than half a sheet") + (" of each" if papers > 1 else "")
    return (
        f"Nobody could cut the batch from {less}."
        if proved
        else f"No way to cut the batch from {less} was found, though none is ruled out."
    )


def as_json(worked: Worked, found: list[Planned]) -> dict[str, Any]:
    """The reports as plain data; lengths are exact, in inches, as text."""
    unit = worked.unit
    return {"kit": worked.kit.id, "papers": [_paper_json(worked, report, unit) for report in found]}


def _paper_json(worked: Worked, report: Planned, unit: str) -> dict[str, Any]:
    told: dict[str, Any] = {"paper": report.demand.paper, "name": _name(worked, report), "sheet": _size_json(report.demand.sheet)}
    if report.plan is None:
        return (
            told
            | {
                "sheets": None,
                "does not fit": [
                    {"label": m.label, "over": str(m.over.inches), "fits at": _size_json(m.largest)} for m in _by_the_ruler(report)
                ],
            }
            | ({"but then": [finding.problem for finding in report.change.broken]} if report.change and not report.change.works else {})
        )
    plan = report.plan
    own = worked.plan(plan.paper)
    parted = dealt(worked, plan.paper) if own and own.demand.needs == plan.demand.needs else {}
    return (
        told
        | ({"designs": parted} if parted else {})
        | {
            "sheets": str(plan.sheets),
            "needs": dict(plan.demand.needs),
            "made": plan.made,
            "spare": plan.spare,
            "proof": [{"level": p.level, "proved": p.proved, "why": why_text(p, unit)} for p in plan.proof],
            "layouts": [
                {
                    "name": run.layout.name,
                    "sheets": str(run.sheets),
                    "source": run.layout.source,
                    "yields": run.layout.yields,
                    "measures": [str(m.inches) for m in run.layout.measures],
                    "slack": _size_json(run.layout.slack),
                    "used": fraction_text(run.layout.used, plain=True),
                    "parts": [
                        {
                            "label": leaf.label,
                            "x": str(leaf.rect.x.inches),
                            "y": str(leaf.rect.y.inches),
                            "turned": leaf.turned,
                            **_size_json(leaf.rect.size),
                            **({"corner to corner": leaf.diagonal} if leaf.diagonal else {}),
                        }
                        for leaf in leaves(run.layout.tree)
                    ],
                    "steps": [
                        {
                            "mark": length_text(s.measure, unit),
                            "strokes": s.strokes,
                            "things": s.things,
                            "text": step_text(s, unit, report.upright),
                        }
                        for s in layout_steps(worked, run.layout)
                    ]
                    + [
                        {"mark": None, "strokes": 1, "things": len(s.slants), "text": corner_text(s, unit)}
                        for s in corner_steps(run.layout.tree)
                    ],
                }
                for run in plan.runs
            ],
        }
    )


def _size_json(size: Size) -> dict[str, str]:
    return {"width": str(size.width.inches), "height": str(size.height.inches)}
