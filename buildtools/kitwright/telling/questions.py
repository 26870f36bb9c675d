"""The questions that followers ask, answered in words.

How many sheets for another number of cards; the same kit from other paper, or from a
one-way paper; how far a sheet may fall short; what is left over and what it is good for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.stock import OtherSheet, halved
from kitwright.findings import Finding
from kitwright.otherwise.changed import Change, fitting, loses_a_base, name_of, two_bases
from kitwright.otherwise.planned import one_way, other_stock, upright_sheets
from kitwright.telling.slack import short_text
from kitwright.telling.words import label_text, listed, sheets_text, spelled
from kitwright.units import Size, length_text, on_grid, seen_text, size_text
from kitwright.work.batches import alike, batches, counts_of, from_one_sheet, own_guide
from kitwright.work.leftovers import Inside, More, Use, uses
from kitwright.work.worked import Worked

# --- other sheets ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FromSheet:
    """What comes of another sheet, in words."""

    amount: str
    """How many sheets, or that it does not fit."""
    why: str
    """What does not do, and the nearest size that would; empty where nothing stands in the way."""
    fits: bool

    def __str__(self) -> str:
        return f"{self.amount}{'; ' if self.fits else ': '}{self.why}" if self.why else self.amount


def told_of(worked: Worked, other: OtherSheet) -> FromSheet:
    """What comes of another sheet. A size that would fit is said with what else it would take, tried on the whole kit."""
    unit = worked.unit
    if other.fits:
        half = halved(other.demand.sheet)
        lost = f"a sheet gives one base, not two, since half of it is {_exactly(half, unit)}"
        return FromSheet(sheets_text(other.sheets), lost if loses_a_base(worked, other) else "", True)
    change = fitting(worked, other)
    said = [
        f"{m.label} is {seen_text(m.over, unit)} too large" + (f"; at {size_text(change.sizes[m.label], unit)} it fits" if change else "")
        for m in other.misfits
    ]
    return FromSheet("does not fit", listed(said) + (but_then(change) if change else ""), False)


def other_text(worked: Worked, other: OtherSheet) -> str:
    """The same in one piece."""
    return str(told_of(worked, other))


def change_text(worked: Worked, other: OtherSheet) -> str:
    """The nearest change that would help where another sheet gives one base instead of two, with what else it would take; empty when there is none near.

    Where pieces do not fit at all, `other_text` itself names the size that does.
    """
    unit = worked.unit
    said: list[str] = []
    for change in two_bases(worked, other):
        name = name_of(change)
        if said and name and change.changed:
            said.append(f"make the card {name}, {size_text(change.changed.base.finished, 'mm')}: half a sheet, folded{but_then(change)}")
        else:
            card = f", and the card is {size_text(change.changed.base.finished, unit)}" if change.changed else ""
            said.append(f"with a base of {size_text(change.sizes[worked.kit.base], unit)} a sheet gives two{card}{but_then(change)}")
    return "; or ".join(said)


def but_then(change: Change, lead: str = ", but then") -> str:
    """What else must change, to follow the offer; empty where the whole kit works with it."""
    if change.works:
        return ""
    return f"{lead} more must change: {first_of(change.broken)}"


def first_of(found: Sequence[Finding]) -> str:
    """What is wrong first, and how much is besides."""
    more = f" (and {spelled(len(found) - 1)} more)" if len(found) > 1 else ""
    return f"{found[0].problem}{more}"


def _exactly(size: Size, unit: str) -> str:
    """A size in the unit in which it can be written exactly, the kit's own first; else with the kit's own beside it."""
    exact = [u for u in (unit, "mm", "in") if on_grid(size.width, u) and on_grid(size.height, u)]
    written = exact[0] if exact else unit
    beside = f" ({size_text(size, unit)})" if written != unit else ""
    return f"{size_text(size, written)}{beside}"


# --- leftovers ---------------------------------------------------------------------------------


def use_text(use: Use, unit: str) -> str:
    """What a leftover is good for: `one more A, B or C`, `a panel of 4 × 5 in for the inside of the card`."""
    match use.good_for:
        case More(pieces, half):
            more = [f"{spelled(n)} more {listed([label_text(label, n) for label in labels], 'or')}" for n, labels in pieces]
            return f"{'half a sheet, still whole: ' if half else ''}{listed(more, 'or')}"
        case Inside(what, size, cards):
            named = what if what == "trim" else f"a {what}"
            return f"{named} of {size_text(size, unit)} for the inside of {'the card' if cards == 1 else f'{spelled(cards)} cards'}"
        case "tests":
            return "scrap for test prints"
        case "nothing":
            return "too narrow to keep"


# --- all of them -------------------------------------------------------------------------------


def as_json(worked: Worked) -> dict[str, Any]:
    """All answers as plain data, for the site; sheets are exact, as text."""
    unit, table = worked.unit, batches(worked)
    groups = {plan.paper: plans[0] for plans in alike(worked) for plan in plans}
    others = {id(plan): [_other_json(worked, other) for other in other_stock(worked, plan)] for plan in groups.values()}
    upright = {id(plan): _upright_json(worked, plan, other) for plan in groups.values() if (other := one_way(worked, plan))}
    return {
        "kit": worked.kit.id,
        "unit": unit,
        "cards": worked.kit.spec.cards,
        "papers": {
            key: {
                "name": worked.kit.papers[key].name,
                "sheet": size_text(plan.demand.sheet, unit),
                "sheets": str(plan.sheets),
                "counted by": "guide" if own_guide(plan) else "plan",
                "fewest possible": counts_of(worked, plan).proved or None,
            }
            for key, plan in ((p.paper, p) for p in worked.plans)
        },
        "sheets": [{"cards": cards, "sheets": {paper: str(n) for paper, n in each.items()}} for cards, each in table],
        "one sheet gives cards": {plan.paper: from_one_sheet([each[plan.paper] for _, each in table]) for plan in worked.plans},
        "other paper": {paper: others[id(plan)] for paper, plan in groups.items()},
        "one-way": {paper: upright[id(plan)] for paper, plan in groups.items() if id(plan) in upright},
        "may fall short": {
            layout.name: {
                "across": length_text(layout.slack.width, unit),
                "along": length_text(layout.slack.height, unit),
                "answer": short_text(layout.slack, unit),
            }
            for layout in worked.layouts
        },
        "left over": [
            {"guide": use.layout.name, "size": size_text(use.size, unit), "good for": use_text(use, unit)} for use in uses(worked)
        ],
    }


def _other_json(worked: Worked, other: OtherSheet) -> dict[str, Any]:
    unit = worked.unit
    found: dict[str, Any] = {"sheet": other.name, "answer": other_text(worked, other), "sheets": str(other.sheets) if other.fits else None}
    change = change_text(worked, other)
    if change:
        found["nearest change"] = change
    if other.misfits:
        tried = fitting(worked, other)
        found["does not fit"] = [
            {"label": m.label, "too large by": seen_text(m.over, unit)}
            | ({"fits at": size_text(tried.sizes[m.label], unit)} if tried else {})
            for m in other.misfits
        ]
        if tried and not tried.works:
            found["but then"] = [finding.problem for finding in tried.broken]
    return found


def _upright_json(worked: Worked, plan: PaperPlan, other: OtherSheet) -> dict[str, Any]:
    sheets = upright_sheets(plan, other)
    return _other_json(worked, other) | ({"answer": sheets_text(sheets), "sheets": str(sheets)} if sheets is not None else {})
