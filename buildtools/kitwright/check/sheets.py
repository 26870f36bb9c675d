"""What comes out of the sheets, and whether a trimmer can cut it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from kitwright.cutting.desk import corner_steps
from kitwright.cutting.plan import LITTLE, Layout, PaperPlan, turned_wrongly
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.labels import is_base
from kitwright.units import ZERO, Length, Size, parse_length
from kitwright.work.batches import guided_sheets, own_guide
from kitwright.work.compared import comparisons
from kitwright.work.supplies import from_leftovers
from kitwright.work.worked import Worked

SOLD_AS_A_FOOT = Length.mm(305)
"""What some pads sold as 12 in measure."""
NOMINAL = SOLD_AS_A_FOOT - parse_length("12 in")
"""A trimmer for the one cuts the other: what is longer by no more is not past the blade."""


def find(worked: Worked) -> Iterator[Finding]:
    """What is wrong with the sheets and the guides: yields, cuts of the trimmer, slack."""
    for plan in worked.plans:
        yield from _comes_out(worked, plan)
        yield from _blanks(worked, plan)
    for layout in worked.layouts:
        yield from _trimmer(worked, layout)
        yield from _corners(worked, layout)
        yield from _slack(worked, layout)
    yield from _compared(worked)


def _compared(worked: Worked) -> Iterator[Finding]:
    """An author's guide stays hers; a better one is worth knowing of."""
    for one in comparisons(worked):
        if one.better:
            yield Finding(
                "hint",
                worked.kit.place("guides", one.guide, "cuts"),
                "sheets.planned-better",
                papers=tuple(worked.kit.papers[p].name for p in one.papers),
                yours=one.yours,
                planned=one.planned,
                proved=one.proved,
                unit=worked.kit.spec.unit,
            )


def _place(worked: Worked, layout: Layout) -> Place:
    kit = worked.kit
    return kit.place("papers", layout.papers[0]) if layout.guide is None else kit.place("guides", layout.guide, "cuts")


def _comes_out(worked: Worked, plan: PaperPlan) -> Iterator[Finding]:
    kit, demand = worked.kit, plan.demand
    name = kit.papers[demand.paper].name
    guides = [run.layout for run in plan.runs if run.layout.guide is not None]
    place = _place(worked, guides[0]) if guides else kit.place("papers", demand.paper)
    if plan.runs:
        for label in plan.short:
            yield Finding(
                "error",
                place,
                "sheets.too-few",
                paper=name,
                label=label,
                made=plan.made.get(label, 0),
                needed=demand.needs[label],
                sheets=plan.sheets,
                spare=tuple(plan.spare.items()),
            )
        if demand.given is not None and plan.sheets > demand.given:
            place = kit.place("papers", demand.paper, "sheets")
            yield Finding("error", place, "sheets.more-than-at-hand", paper=name, sheets=plan.sheets, given=demand.given)
    guide = own_guide(plan)
    if guide is not None and guide.guide is not None and not plan.short and kit.spec.guides[guide.guide].sheets is not None:
        enough = guided_sheets(worked, plan, kit.spec.cards)
        if enough < plan.sheets:
            place = kit.place("guides", guide.guide, "sheets")
            yield Finding("hint", place, "sheets.fewer-are-enough", paper=name, enough=enough, sheets=plan.sheets)
    for run in plan.runs:
        place, turned = _place(worked, run.layout), {leaf.label for leaf in turned_wrongly(run.layout, demand) if leaf.label}
        if turned:
            one_way = any(face.up for face in (kit.papers[demand.paper].front, kit.papers[demand.paper].back) if face)
            yield Finding("error", place, "sheets.cut-turned", paper=name, labels=tuple(sorted(turned)), one_way=one_way)
        unknown = tuple(sorted(label for label in run.layout.yields if label not in demand.needs))
        if unknown:
            said = kit.spec.pieces.get(unknown[0])
            counted = bool(kit.spec.designs or said and said.papers)
            yield Finding("error", place, "sheets.not-asked-for", labels=unknown, paper=name, key=demand.paper, counted=counted)


def _blanks(worked: Worked, plan: PaperPlan) -> Iterator[Finding]:
    """Blanks for a punch or a die on none of an author's guides, where what is left of the sheets that these cut would do."""
    kit, guides = worked.kit, [run for run in plan.runs if run.layout.guide is not None]
    on_guides = {label for run in guides for label in run.layout.yields}
    rests: Counter[Size] = Counter()
    for run in guides:
        for rest in run.layout.leftovers:
            rests[rest.size] += int(run.sheets)
    for label, n in plan.demand.needs.items():
        piece = kit.spec.pieces.get(label)
        if piece and piece.made_with and label not in on_guides and (gives := min(n, from_leftovers(plan.demand, label, rests))):
            values = {"label": label, "paper": kit.papers[plan.paper].name, "gives": gives, "needed": n, "size": plan.demand.sizes[label]}
            yield Finding("hint", _place(worked, guides[0].layout), "sheets.blanks-from-leftovers", unit=kit.spec.unit, **values)


def _trimmer(worked: Worked, layout: Layout) -> Iterator[Finding]:
    trimmer, unit, place = worked.kit.club.trimmer, worked.kit.spec.unit, _place(worked, layout)
    for cut in layout.cuts:
        run = cut.part.height if cut.axis == "x" else cut.part.width
        if run > trimmer.cut_length + NOMINAL:
            longest = trimmer.cut_length
            yield Finding("error", place, "sheets.cut-too-long", cut=cut.number, guide=layout.name, run=run, longest=longest, unit=unit)
        reach, at = trimmer.reach or trimmer.cut_length, cut.measure
        if min(at, cut.across - at) > reach + NOMINAL:
            yield Finding("error", place, "sheets.cut-past-the-ruler", cut=cut.number, guide=layout.name, at=at, reach=reach, unit=unit)
        if cut.wider < trimmer.least_hold:
            yield Finding(
                "error",
                place,
                "sheets.too-narrow-to-hold",
                cut=cut.number,
                guide=layout.name,
                held=cut.across,
                wider=cut.wider,
                least=trimmer.least_hold,
                unit=unit,
            )


def _corners(worked: Worked, layout: Layout) -> Iterator[Finding]:
    """Cuts from corner to corner that are longer than the trimmer's."""
    longest, unit = worked.kit.club.trimmer.cut_length, worked.kit.spec.unit
    pieces = worked.kit.spec.pieces
    for step in corner_steps(layout.tree):
        piece = pieces.get(step.label)
        if piece is None or step.size not in (piece.size, piece.size.turned):
            # A cut through another rectangle is told with its line.
            continue
        # Pythagoras, compared as squares.
        if step.size.width.inches**2 + step.size.height.inches**2 > (longest + NOMINAL).inches ** 2:
            place, values = _place(worked, layout), {"label": step.label, "guide": layout.name, "size": step.size}
            yield Finding("error", place, "sheets.corners-too-far", longest=longest, unit=unit, **values)


def _slack(worked: Worked, layout: Layout) -> Iterator[Finding]:
    slack, unit = layout.slack, worked.kit.spec.unit
    if layout.yields and all(map(is_base, layout.yields)):
        # A sheet halved for bases has no slack by its nature, and a base can't give way.
        return
    cut_along = {cut.axis for cut in layout.cuts}
    tight = tuple(
        (way, room)
        for axis, way, room in (("x", "across", slack.width), ("y", "along", slack.height))
        if axis in cut_along and ZERO <= room < LITTLE
    )
    if tight:
        yield Finding("hint", _place(worked, layout), "sheets.hardly-any-slack", guide=layout.name, tight=tight, unit=unit)
