"""What comes out of the sheets, and whether a trimmer can cut it."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.cutting.plan import Layout, turned_wrongly
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.names import BASE
from kitwright.sources import PRACTICE, Known
from kitwright.telling.words import label_text, listed, sheets_text
from kitwright.units import SIXTEENTH, ZERO, Length, both_text, length_text, parse_length
from kitwright.work.batches import guided_sheets, own_guide
from kitwright.work.compared import comparisons
from kitwright.work.worked import Worked

NOMINAL = parse_length("30.5 cm") - parse_length("12 in")
"""A sheet sold as 12 in is often measured as 30.5 cm, and a trimmer for one cuts the other: what is longer by no more is not past the blade."""


def known() -> tuple[Known, ...]:
    """What of this is from outside, and where it comes from."""
    return (Known("What some pads sold as 12 in measure", "30.5 cm", PRACTICE),)


def find(worked: Worked) -> Iterator[Finding]:
    """What is wrong with the sheets and the guides: yields, cuts of the trimmer, slack."""
    for plan in worked.plans:
        yield from _comes_out(worked, plan)
    for layout in worked.layouts:
        yield from _trimmer(worked, layout)
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


def _comes_out(worked: Worked, plan) -> Iterator[Finding]:
    kit, demand = worked.kit, plan.demand
    name = kit.papers[demand.paper].name
    guides = [run.layout for run in plan.runs if run.layout.guide is not None]
    place = _place(worked, guides[0]) if guides else kit.place("papers", demand.paper)
    if plan.runs:
        spare = listed([f"{n} {label_text(label, n)}" for label, n in plan.spare.items()])
        for label, n in plan.short.items():
            yield Finding(
                "error",
                place,
                f"{name}: {n} {label_text(label, n)} too few come out of {sheets_text(plan.sheets)} "
                f"({plan.made.get(label, 0)} of {demand.needs[label]})",
                f"cut more {label_text(label, 2)} from a sheet, or use more sheets"
                + (f"; {spare} more than needed come off it: are two counts swapped?" if spare else ""),
            )
        if demand.given is not None and plan.sheets > demand.given:
            yield Finding(
                "error",
                kit.place("papers", demand.paper, "sheets"),
                f"{name}: the batch takes {sheets_text(plan.sheets)}, but {sheets_text(demand.given)} "
                f"{'is' if demand.given <= 1 else 'are'} at hand",
                "use more sheets, or make fewer cards",
            )
    guide = own_guide(plan)
    if guide is not None and not plan.short and kit.spec.guides[guide.guide].sheets is not None:
        enough = guided_sheets(worked, plan, kit.spec.cards)
        if enough < plan.sheets:
            yield Finding(
                "hint",
                kit.place("guides", guide.guide, "sheets"),
                f"{name}: {sheets_text(enough)} cut by this guide {'is' if enough <= 1 else 'are'} enough, and it says {sheets_text(plan.sheets)}",
                "leave the line out, unless the batch is meant to have spare pieces",
            )
    for run in plan.runs:
        wrong = sorted({leaf.label for leaf in turned_wrongly(run.layout, demand)})
        if wrong:
            why = (
                "is one-way"
                if any(face.up for face in (kit.papers[demand.paper].front, kit.papers[demand.paper].back) if face)
                else "keeps its pieces upright"
            )
            yield Finding(
                "error",
                _place(worked, run.layout),
                f"{name} {why}, and {', '.join(wrong)} would be cut turned",
                "cut these upright: across is the piece's width, down its height",
            )
        unknown = sorted(label for label in run.layout.yields if label not in demand.needs)
        if unknown:
            yield Finding(
                "error",
                _place(worked, run.layout),
                f"{', '.join(unknown)} on this guide is not asked for from {name}",
                f"take it off the guide, or add {demand.paper} under “per card” of {unknown[0]}",
            )


def _trimmer(worked: Worked, layout: Layout) -> Iterator[Finding]:
    trimmer, unit = worked.kit.club.trimmer, worked.kit.spec.unit
    for cut in layout.cuts:
        run = cut.part.height if cut.axis == "x" else cut.part.width
        held = cut.part.width if cut.axis == "x" else cut.part.height
        if run > trimmer.cut_length + NOMINAL:
            yield Finding(
                "error",
                _place(worked, layout),
                f"cut {cut.number} of {layout.name} is {length_text(run, unit)} long, past the trimmer's {both_text(trimmer.cut_length, unit)}",
                "make a shorter cut first, across the other way",
            )
        reach = trimmer.reach or trimmer.cut_length
        if min(cut.measure, held - cut.measure) > reach + NOMINAL:
            yield Finding(
                "error",
                _place(worked, layout),
                f"cut {cut.number} of {layout.name} is set at {length_text(cut.measure, unit)}, past the ruler's {both_text(reach, unit)} on either side",
                "make a cut the other way first, or say how far the ruler reaches in club.yaml",
            )
        if max(cut.measure, held - cut.measure) < trimmer.least_hold:
            yield Finding(
                "error",
                _place(worked, layout),
                f"cut {cut.number} of {layout.name} leaves too narrow a piece to hold: the wider side of {length_text(held, unit)} is {length_text(max(cut.measure, held - cut.measure), unit)}, "
                f"and the trimmer holds no less than {length_text(trimmer.least_hold, unit)}",
                "cut this strip to length before cutting it narrow, or make the piece wider",
            )


def _slack(worked: Worked, layout: Layout) -> Iterator[Finding]:
    slack, unit = layout.slack, worked.kit.spec.unit
    if set(layout.yields) == {BASE}:
        # A sheet halved for bases has no slack by its nature, and a base can't give way.
        return
    cut_along = {cut.axis for cut in layout.cuts}
    tight = [
        (way, room)
        for axis, way, room in (("x", "across", slack.width), ("y", "along", slack.height))
        if axis in cut_along and ZERO <= room < Length(SIXTEENTH)
    ]
    if tight:
        said = listed([f"{length_text(room, unit) if room else 'none'} {way} the sheet" for way, room in tight])
        yield Finding(
            "hint",
            _place(worked, layout),
            f"{layout.name} has hardly any slack: {said}",
            "a sheet a hair short fails this guide; a piece a sixteenth smaller would give it slack",
        )
