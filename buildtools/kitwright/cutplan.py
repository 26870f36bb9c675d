"""A kit's cutting plan as `kitwright plan` tells it: sheets, proof, and steps at the desk."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from kitwright.cutting.desk import DeskStep, desk_steps
from kitwright.cutting.instructions import step_text
from kitwright.cutting.plan import HALF, Demand, Layout, PaperPlan
from kitwright.cutting.stock import Misfit, too_large
from kitwright.cutting.tree import leaves
from kitwright.questions import Comparison, Measured, asked, comparisons, is_half, short_text
from kitwright.units import VULGAR, Size, fraction_text, length_text, size_text
from kitwright.words import curly, label_text, led, listed, number, sheets_text
from kitwright.worked import Worked


@dataclass(frozen=True, slots=True)
class PaperReport:
    """What is told of one paper."""

    key: str
    name: str
    plan: PaperPlan | None
    """None when a piece does not fit."""
    misfits: tuple[Misfit, ...]
    upright: bool
    """Whether its pattern has an up, or was asked to have one."""
    sheet: Size


def reports(worked: Worked, cards: int | None = None, papers: dict[str, Size] | None = None,
            upright: frozenset[str] = frozenset()) -> list[PaperReport]:
    """Every paper's plan: the kit's own, or, where something is asked differently, planned anew."""
    papers = papers or {}
    others = asked(worked, cards, papers, upright) if cards or papers or upright else [None] * len(worked.plans)
    found = []
    for plan, other in zip(worked.plans, others):
        paper = worked.kit.papers[plan.paper]
        changed = other is not None and (cards or plan.paper in papers or plan.paper in upright)
        found.append(PaperReport(plan.paper, paper.name, other.plan if changed else plan, other.misfits if changed else (),
                                 bool(paper.front.up) or plan.paper in upright, other.demand.sheet if changed else plan.demand.sheet))
    return found


def as_text(worked: Worked, found: list[PaperReport]) -> list[str]:
    """The reports as lines of text."""
    lines: list[str] = []
    unit = worked.kit.spec.unit
    for report in found:
        lines.append(f"{report.name}, {size_text(report.sheet, unit)}")
        if report.plan is None:
            for wrong in report.misfits:
                error = too_large(_sheet_only(worked, report), wrong, unit)
                lines += [f"  {error.problem}", f"  {error.remedy}"]
        else:
            lines += _plan_lines(worked, report)
        lines.append("")
    return lines


def _sheet_only(worked: Worked, report: PaperReport) -> Demand:
    plan = next(p for p in worked.plans if p.paper == report.key)
    lies = {label: False for label in plan.demand.needs} if report.upright else plan.demand.lies
    return replace(plan.demand, sheet=report.sheet, lies=lies)


def _plan_lines(worked: Worked, report: PaperReport) -> list[str]:
    plan, unit = report.plan, worked.kit.spec.unit
    needs = ", ".join(f"{n} {label_text(label, n)}" for label, n in plan.demand.needs.items())
    lines = [f"  {sheets_text(plan.sheets)} for {needs}"]
    lines += [f"  {line}" for line in proof_lines(plan, unit)]
    for run in plan.runs:
        layout = run.layout
        lines.append(f"  {layout.name}: {sheets_text(run.sheets)}, {gives_text(layout, run.sheets)}; may fall short by {short_text(layout, unit)}")
        lines += [f"    {step.number}. {step_text(step, unit, report.upright)}" for step in layout_steps(worked, layout)]
    for one in comparisons(worked):
        if plan in worked.plans and report.key in one.papers:
            lines += [f"  {one.words(unit)}", f"  {_beside(one, unit).lead} {in_unit(one.why, unit)}"]
    return lines


def gives_text(layout: Layout, sheets: Fraction) -> str:
    """What a sheet of a layout gives: `a sheet gives 3 A and 3 B`."""
    gives = listed([f"{n} {label_text(label, n)}" for label, n in layout.yields.items()])
    if sheets == HALF:
        return f"it gives {gives}"
    return f"half of each gives {gives}, and the other half stays whole" if is_half(layout) else f"a sheet gives {gives}"


def layout_steps(worked: Worked, layout: Layout) -> tuple[DeskStep, ...]:
    """The desk steps of a layout on the club's trimmer."""
    trimmer = worked.kit.club.trimmer
    return desk_steps(layout, trimmer.least_hold, ruler_side=trimmer.ruler_side)


LEVEL_WORDS = {"sheets": "fewest sheets", "alike": "sheets cut alike", "order": "natural order", "slack": "slack", "leftover": "largest leftover"}


def proof_lines(plan: PaperPlan, unit: str = "in") -> list[str]:
    """What is proved of a plan, level by level; empty for an author's own guide."""
    return [f"{LEVEL_WORDS[p.level]}, {'proved' if p.proved else 'best found'}: {in_unit(p.why, unit)}" for p in plan.proof]


@dataclass(frozen=True, slots=True)
class Verdict:
    """Why a guide takes so many sheets and no fewer, as a page tells it."""

    lead: str
    """Whether fewer would do, in one sentence."""
    why: str
    """What settles it; empty where nothing does."""
    beside: str
    """How an author's own guide compares with the planner's; empty for the planner's own."""
    levels: tuple[tuple[str, bool, str], ...]
    """What else counts, whether it is proved, and why; empty for an author's guide."""


def verdict(worked: Worked, layout: Layout) -> Verdict | None:
    """What is known of a guide; None where an author's guide shares its paper with the planner's."""
    unit = worked.kit.spec.unit
    if layout.source == "author":
        one = next((c for c in comparisons(worked) if set(c.papers) & set(layout.papers)), None)
        return None if one is None else _beside(one, unit)
    plan = worked.plan(layout.papers[0])
    fewest = next((p for p in plan.proof if p.level == "sheets"), None)
    if fewest is None:
        return None
    rest = tuple((led(LEVEL_WORDS[p.level]), p.proved, curly(in_unit(p.why, unit))) for p in plan.proof if p is not fewest)
    return Verdict(_fewest(plan.sheets, fewest.proved, len(layout.papers)), curly(in_unit(fewest.why, unit)), "", rest)


def _beside(one: Comparison, unit: str) -> Verdict:
    yours, best = one.yours, one.planned
    own = "The guide is its author’s own: "
    if best.sheets < yours.sheets:
        enough = f"{led(sheets_text(best.sheets))} would do, cut another way{', and no fewer' if one.proved else ''}."
        return Verdict(enough, curly(in_unit(one.why, unit)), f"{own}{_work(yours, unit)}. The plan that takes less needs {_work(best, unit)}.", ())
    if (best.measures, best.cuts) == (yours.measures, yours.cuts):
        said = f"The guide is its author’s own, and the best plan found is no shorter: as many sheets, {number(best.measures, 'measure', 'measures')} and {number(best.cuts, 'cut', 'cuts')}."
    else:
        said = f"{own}{_work(yours, unit)}. A plan worked out by computer takes as many sheets, with {_work(best, unit)}."
    return Verdict(_fewest(yours.sheets, one.proved, len(one.papers)), curly(in_unit(one.why, unit)), said, ())


def _work(m: Measured, unit: str) -> str:
    spare = f"{length_text(m.slack, unit)} to spare" if m.slack else "nothing to spare"
    return f"{number(m.measures, 'measure', 'measures')}, {number(m.cuts, 'cut', 'cuts')} and {spare}"


def _fewest(sheets: Fraction, proved: bool, papers: int) -> str:
    less = (f"fewer than {sheets_text(sheets)}" if sheets > HALF else "less than half a sheet") + (" of each" if papers > 1 else "")
    return f"Nobody could cut the batch from {less}." if proved else f"No way to cut the batch from {less} was found, though none is ruled out."


_AREA = re.compile(r"≈?(\d+(?:\.\d+)?)?([¼½¾⅛⅜⅝⅞])?(?: (\d+)⁄(\d+))? sq in")


def in_unit(why: str, unit: str) -> str:
    """The planner's reason in a millimetre kit's own words: it thinks in inches, exactly."""
    if unit == "in":
        return why

    def area(match: re.Match) -> str:
        whole, glyph, over, under = match.groups()
        inches = Fraction(whole or 0) + VULGAR.get(glyph, 0) + (Fraction(int(over), int(under)) if over else 0)
        return f"≈{round(inches * Fraction(254, 100) ** 2)} cm²"
    return _AREA.sub(area, why).replace("last sixteenth of an inch", "last millimetre and a half").replace("last sixteenth", "last millimetre and a half")


def as_json(worked: Worked, found: list[PaperReport]) -> dict[str, Any]:
    """The reports as plain data; lengths are exact, in inches, as text."""
    unit = worked.kit.spec.unit
    return {"kit": worked.kit.id, "papers": [_paper_json(worked, report, unit) for report in found]}


def _paper_json(worked: Worked, report: PaperReport, unit: str) -> dict[str, Any]:
    told: dict[str, Any] = {"paper": report.key, "name": report.name, "sheet": _size_json(report.sheet)}
    if report.plan is None:
        return told | {"sheets": None, "does not fit": [
            {"label": m.label, "over": str(m.over.inches), "fits at": _size_json(m.largest)} for m in report.misfits]}
    plan = report.plan
    return told | {
        "sheets": str(plan.sheets), "needs": dict(plan.demand.needs), "made": plan.made, "spare": plan.spare,
        "proof": [{"level": p.level, "proved": p.proved, "why": in_unit(p.why, unit)} for p in plan.proof],
        "layouts": [{
            "name": run.layout.name, "sheets": str(run.sheets), "source": run.layout.source, "yields": run.layout.yields,
            "measures": [str(m.inches) for m in run.layout.measures],
            "slack": _size_json(run.layout.slack), "used": fraction_text(run.layout.used, plain=True),
            "parts": [{"label": leaf.label, "x": str(leaf.rect.x.inches), "y": str(leaf.rect.y.inches), "turned": leaf.turned,
                       **_size_json(leaf.rect.size)} for leaf in leaves(run.layout.tree)],
            "steps": [{"mark": length_text(s.measure, unit), "strokes": s.strokes, "things": s.things,
                       "text": step_text(s, unit, report.upright)} for s in layout_steps(worked, run.layout)],
        } for run in plan.runs]}


def _size_json(size: Size) -> dict[str, str]:
    return {"width": str(size.width.inches), "height": str(size.height.inches)}
