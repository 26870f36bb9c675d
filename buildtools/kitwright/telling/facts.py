"""A kit's computed facts as plain tables, for the terminal and for JSON.

A table is a title, the names of its columns, and rows of text; nothing here is computed,
only put into words.
"""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.card.pile import Ply, whole
from kitwright.labels import is_base
from kitwright.telling.backs import back_text, marked
from kitwright.telling.folds import fold_text, scores_text, way_text
from kitwright.telling.goes import given_text
from kitwright.telling.kitpage import from_text, use_text
from kitwright.telling.materials import kind_text
from kitwright.telling.post import calliper_text
from kitwright.telling.slack import slack_text
from kitwright.telling.sums import terms_text, where_text
from kitwright.telling.words import label_text, listed, number, sheets_text
from kitwright.units import length_text, rounded, size_both, size_text
from kitwright.work.compared import comparisons
from kitwright.work.desk import grain_runs_along_fold
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class FactTable:
    """One table of facts."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def tables(worked: Worked) -> tuple[FactTable, ...]:
    """All the tables of a kit, in the order in which a maker asks."""
    cards, sums = map(_card, worked.designs), map(_sums, worked.designs)
    piles = map(_layers, worked.designs)
    found = (*cards, *piles, _pieces(worked), _sheets(worked), _guides(worked), _compared(worked), *sums)
    return tuple(table for table in found if table.rows)


def _layers(worked: Worked) -> FactTable:
    """The closed card at its thickest place, from the back to the front; in the envelope comes its own paper."""
    unit = worked.unit
    plies = worked.plies
    rows = [
        (_ply_text(worked, ply), worked.kit.papers[ply.paper].name if ply.paper else "", calliper_text(ply.thick, unit)) for ply in plies
    ]
    rows.append(("together", "", calliper_text(whole(plies), unit)))
    return FactTable(_of("Closed, layer by layer", worked), ("from the back", "paper", "thick"), tuple(rows) if plies else ())


def _ply_text(worked: Worked, ply: Ply) -> str:
    if is_base(ply.label):
        return f"{ply.panel}, the base"
    return f"{ply.label} on the {ply.panel}" if ply.panel else ply.label


def _of(title: str, worked: Worked) -> str:
    """A title of one design's table, where a kit has several."""
    return f"{title}: {worked.kit.design}" if worked.kit.design else title


def _card(worked: Worked) -> FactTable:
    kit, base, unit = worked.kit, worked.base, worked.unit
    rows = [
        ("cards", str(kit.spec.cards)),
        ("finished card", size_both(base.finished, unit)),
        *([("with what overhangs", size_both(worked.enclosed.size, unit))] if worked.enclosed.overhangs else []),
        ("base, cut", size_both(base.cut, unit)),
    ]
    if base.scored.scores:
        rows += [("score", f"{scores_text(base, unit)}, {fold_text(base)}"), ("grain", grain_advice(worked))]
    if envelope := envelope_text(worked):
        rows.append(("envelope", envelope))
    face = worked.face
    rows += [("free band", size_both(band, unit)) for band in (b.size for b in face.bands)]
    for side in face.every:
        rows += [("sentiment", f"{size_text(said.rect.size, unit)} on {said.on}") for said in side.sentiments]
    return FactTable(_of("Card", worked), ("fact", "value"), tuple(rows))


def envelope_text(worked: Worked) -> str:
    """The envelope and its room beside the card; empty where the kit names none."""
    envelope, room, unit = worked.kit.spec.card.envelope, worked.enclosed.room, worked.unit
    if envelope is None:
        return ""
    fits = f"{size_text(room, unit)} of room" if room and worked.enclosed.enters else "which the card does not enter"
    return f"{envelope.name or size_text(envelope.size, unit)}, {fits}"


def grain_advice(worked: Worked) -> str:
    """Which way the grain of the base should run, and whether the sheet as cut gives that."""
    material = worked.kit.papers[worked.kit.spec.card.base.paper].material
    if not material.grained:
        return f"none: {kind_text(material.kind)} has no grain"
    way = way_text(worked.base.runs)
    advice = f"best {way}, along the fold"
    paper = worked.kit.papers[worked.kit.spec.card.base.paper]
    if paper.grain is None:
        return f"{advice}; the sheet’s own grain is not known"
    layouts = [run.layout for run in worked.cut(worked.kit.spec.card.base.paper).runs if worked.kit.base in run.layout.yields]
    if not layouts:
        return advice
    runs = all(grain_runs_along_fold(worked, layout) for layout in layouts)
    return f"{advice}: {'as cut here it runs that way' if runs else 'as cut here it does not, so crease firmly'}"


def _pieces(worked: Worked) -> FactTable:
    unit = worked.unit
    several = len(worked.designs) > 1
    rows = tuple(
        (
            label,
            size_both(size, unit),
            from_text(worked, label, paper),
            str(n),
            *([given_text(worked, label, paper)] * several),
            use_text(worked, label),
        )
        for label, size in worked.sizes.items()
        for paper, n in worked.counts(label).items()
    )
    return FactTable("Pieces", ("label", "size", "paper", "pieces", *(["goes to"] * several), "for"), rows)


def _sheets(worked: Worked) -> FactTable:
    kit, unit, rows = worked.kit, worked.unit, []
    for plan in worked.plans:
        paper = kit.papers[plan.paper]
        spare = ", ".join(f"{n} {label_text(label, n)}" for label, n in plan.spare.items()) or "none"
        out = "yes" if not plan.short else "short of " + ", ".join(f"{n} {label_text(label, n)}" for label, n in plan.short.items())
        rows.append((paper.name, paper.size.name or size_text(paper.size.size, unit), sheets_text(plan.sheets), out, spare))
    return FactTable("Sheets", ("paper", "sheet", "for the batch", "comes out", "spare pieces"), tuple(rows))


def _guides(worked: Worked) -> FactTable:
    unit, rows = worked.unit, []
    for layout in worked.layouts:
        left = ", ".join(size_text(r.size, unit) for r in layout.leftovers[:3]) or "nothing"
        if len(layout.leftovers) > 3:
            left += f" and {len(layout.leftovers) - 3} more"
        rows.append(
            (
                f"{layout.name}{'' if layout.source == 'author' else ' (auto)'}",
                ", ".join(
                    marked(f"{n} {label_text(label, n)}", back_text(worked, label, layout.papers)) for label, n in layout.yields.items()
                ),
                number(layout.strokes, "cut", "cuts"),
                ", ".join(length_text(m, unit) for m in layout.measures),
                slack_text(layout.slack, unit),
                f"{rounded(layout.used * 100)} %",
                left,
            )
        )
    return FactTable("Cutting guides", ("guide", "a sheet gives", "cuts", "measures", "slack", "used", "left over"), tuple(rows))


def _compared(worked: Worked) -> FactTable:
    rows = []
    for one in comparisons(worked):
        names = listed([worked.kit.papers[p].name for p in one.papers])
        for whose, m in (("yours", one.yours), ("planned, proved" if one.proved else "planned", one.planned)):
            rows.append(
                (
                    names if whose == "yours" else "",
                    whose,
                    sheets_text(m.sheets),
                    str(m.measures),
                    str(m.cuts),
                    length_text(m.slack, worked.unit) if m.slack else "none",
                    size_text(m.leftover, worked.unit) if m.leftover.area else "nothing",
                )
            )
    return FactTable(
        "Your guides beside the planner’s", ("paper", "whose", "sheets", "measures", "cuts", "least slack", "largest leftover"), tuple(rows)
    )


def _sums(worked: Worked) -> FactTable:
    unit = worked.unit
    rows = tuple(
        (
            where_text(line),
            terms_text(line, unit),
            f"= {length_text(line.reached, unit)}" + ("" if line.holds else f", not {length_text(line.target, unit)}"),
        )
        for face in (worked.face, *worked.face.sides)
        for line in face.sums
    )
    return FactTable(_of("How the front adds up", worked), ("edge", "terms", "sum"), rows)
