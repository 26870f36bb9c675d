"""The questions that followers ask, answered by computation.

How many sheets for another number of cards; the same kit from other paper, or from a
one-way paper; how far a sheet may fall short; what is left over and what it is good for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.cutting.stock import CARDSTOCK, PATTERNED_STOCK, Other, for_cards, from_sheet, halved
from kitwright.kit.names import BASE
from kitwright.otherwise.changed import Change, fitting, loses_a_base, name_of, two_bases
from kitwright.telling.words import label_text, listed, sheets_text, spelled
from kitwright.units import SIXTEENTH, Length, Size, length_text, on_grid, size_text
from kitwright.work.batches import alike, batches, counts_of, from_one_sheet, halves_of, own_guide
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class Use:
    """What a leftover is good for."""

    layout: Layout
    size: Size
    """The largest single leftover of the layout."""
    pieces: tuple[str, ...]
    """Labels of this kit that come out of it."""
    words: str
    """In a sentence."""


def other_stock(worked: Worked, plan: PaperPlan) -> list[Other]:
    """The batch of one paper from every usual sheet of its kind but its own."""
    kind = worked.kit.papers[plan.paper].kind
    stock = PATTERNED_STOCK if kind == "patterned" else CARDSTOCK
    return [from_sheet(plan.demand, name, sheet, plan_paper) for name, sheet in stock if sheet != plan.demand.sheet]


def one_way(worked: Worked, plan: PaperPlan) -> Other | None:
    """The batch of one patterned paper were it one-way; None where it is so already, and for cardstock."""
    if worked.kit.papers[plan.paper].kind != "patterned" or set(plan.demand.needs) <= set(plan.demand.lies):
        return None
    return from_sheet(plan.demand, worked.kit.papers[plan.paper].name, plan.demand.sheet, plan_paper, one_way=True)


def upright_sheets(plan: PaperPlan, other: Other) -> Fraction | None:
    """Sheets of a paper were it one-way; None where a piece does not fit then. An up never saves a sheet: that a new plan beats a guide is not told here."""
    return None if other.plan is None else max(other.plan.sheets, plan.sheets)


@dataclass(frozen=True, slots=True)
class Told:
    """What comes of another sheet, in words."""

    amount: str
    """How many sheets, or that it does not fit."""
    why: str
    """What does not do, and the nearest size that would; empty where nothing stands in the way."""

    fits: bool = True

    def __str__(self) -> str:
        return f"{self.amount}{'; ' if self.fits else ': '}{self.why}" if self.why else self.amount


def told_of(worked: Worked, other: Other) -> Told:
    """What comes of another sheet. A size that would fit is said with what else it would take, tried on the whole kit."""
    unit = worked.kit.spec.unit
    if other.plan is not None:
        half = halved(other.demand.sheet)
        why = (
            f"a sheet gives one base, not two, since half of it is {size_text(half, _ruled(half, unit))}"
            if loses_a_base(worked, other)
            else ""
        )
        return Told(sheets_text(other.plan.sheets), why)
    change = fitting(worked, other)
    said = [
        f"{m.label} is {length_text(m.over, unit)} too large" + (f"; at {size_text(change.sizes[m.label], unit)} it fits" if change else "")
        for m in other.misfits
    ]
    return Told("does not fit", listed(said) + (but_then(change) if change else ""), False)


def other_text(worked: Worked, other: Other) -> str:
    """The same in one piece."""
    return str(told_of(worked, other))


def change_text(worked: Worked, other: Other) -> str:
    """The nearest change that would help where another sheet gives one base instead of two, with what else it would take; empty when there is none near.

    Where pieces do not fit at all, `other_text` itself names the size that does.
    """
    unit, said = worked.kit.spec.unit, []
    for change in two_bases(worked, other):
        name = name_of(change)
        if said and name:
            said.append(f"make the card {name}, {size_text(change.changed.base.finished, 'mm')}: half a sheet, folded{but_then(change)}")
        else:
            card = f", and the card is {size_text(change.changed.base.finished, unit)}" if change.changed else ""
            said.append(f"with a base of {size_text(change.sizes[BASE], unit)} a sheet gives two{card}{but_then(change)}")
    return "; or ".join(said)


def but_then(change: Change, lead: str = ", but then") -> str:
    """What else must change, to follow the offer; empty where the whole kit works with it."""
    if change.works:
        return ""
    among = ", among other things," if len(change.broken) > 1 else ""
    return f"{lead}{among} {change.broken[0].problem}"


def _ruled(size: Size, unit: str) -> str:
    """The unit in which a size can be written exactly, the kit's own first."""
    exact = [u for u in (unit, "mm", "in") if on_grid(size.width, u) and on_grid(size.height, u)]
    return exact[0] if exact else unit


def short_text(layout: Layout, unit: str) -> str:
    """How far each sheet may fall short before the guide fails."""
    slack = layout.slack
    if not slack.width and not slack.height:
        return "nothing: measure the sheet before you cut"
    across, along = (length_text(each, unit) if each else "nothing" for each in (slack.width, slack.height))
    return f"{across} across, {along} along"


def uses(worked: Worked) -> list[Use]:
    """The largest leftover of each layout and what it could become."""
    found = []
    for layout in worked.layouts:
        if not layout.leftovers:
            continue
        size = layout.leftovers[0].size
        labels = tuple(
            label
            for label in worked.sizes
            if label != BASE
            and (wanted := [p for p in layout.papers if p in worked.counts(label)])
            and all(_gives(worked, paper, label, size) for paper in wanted)
        )
        found.append(Use(layout, size, labels, _use_text(worked, layout, size, labels)))
    return found


def _gives(worked: Worked, paper: str, label: str, size: Size) -> bool:
    """Whether a leftover of a paper gives a piece of a label, lying as it may."""
    plan = worked.plan(paper)
    if plan is None or label not in plan.demand.needs:
        return False
    piece, lies = plan.demand.sizes[label], plan.demand.lies.get(label)
    return (lies is not True and piece.fits(size)) or (lies is not False and piece.turned.fits(size))


def _use_text(worked: Worked, layout: Layout, size: Size, labels: tuple[str, ...]) -> str:
    unit, card = worked.kit.spec.unit, worked.base.back
    if labels:
        return _more_text(worked, layout, size, labels)
    room = Size(card.width - inset(unit), card.height - inset(unit))
    if room.fits(size) or room.turned.fits(size):
        return f"a panel of {size_text(room, unit)} for the inside of the card"
    long, wide = max(size.width, size.height), min(size.width, size.height)
    if wide < _TRIM:
        return "too narrow to keep"
    each, cards = Size(min(long, room.width), min(wide, room.height)), max(1, long // room.width)
    if long >= room.width:
        what = "a panel" if wide >= _PANEL else "trim"
        return f"{what} of {size_text(each, unit)} for the inside of {'the card' if cards == 1 else f'{spelled(cards)} cards'}"
    return f"a patch of {size_text(size, unit)} for the inside of the card" if wide >= _PANEL else "scrap for test prints"


def _more_text(worked: Worked, layout: Layout, size: Size, labels: tuple[str, ...]) -> str:
    """`one more A, B or C`, `twelve more A`: what plain rows and columns of it give."""
    counts: dict[int, list[str]] = {}
    for label in labels:
        counts.setdefault(min(_rows(worked, paper, label, size) for paper in layout.papers if paper in worked.counts(label)), []).append(
            label
        )
    said = listed([f"{spelled(n)} more {listed([label_text(label, n) for label in each], 'or')}" for n, each in counts.items()], "or")
    return f"{'half a sheet, still whole: ' if size in halves_of(layout.sheet) else ''}{said}"


def _rows(worked: Worked, paper: str, label: str, size: Size) -> int:
    """Pieces that lie in plain rows on a leftover, the better way round that the paper allows."""
    demand = worked.plan(paper).demand
    piece, lies = demand.sizes[label], demand.lies.get(label)
    ways = [way for way, turned in ((piece, False), (piece.turned, True)) if lies in (None, turned)]
    return max((size.width // way.width) * (size.height // way.height) for way in ways)


def inset(unit: str) -> Length:
    """How much smaller than the card a panel inside is, each way."""
    return Length.mm(12) if unit == "mm" else Length(Fraction(1, 2))


_TRIM = Length(Fraction(1, 4))
"""The narrowest strip worth keeping as trim."""
_PANEL = Length(Fraction(3, 2))
"""From here on a strip is a panel."""


# --- one question at a time ------------------------------------------------------------------


def asked(worked: Worked, cards: int | None, papers: dict[str, Size], upright: Iterable[str]) -> list[Other]:
    """The plan of every paper after a what-if: more cards, another sheet, a one-way paper."""
    upright = set(upright)
    found = []
    for plan in worked.plans:
        demand = for_cards(plan.demand, cards, worked.kit.spec.cards) if cards else plan.demand
        name = worked.kit.papers[plan.paper].name
        found.append(from_sheet(replace(demand), name, papers.get(plan.paper, demand.sheet), plan_paper, plan.paper in upright))
    return found


def as_json(worked: Worked) -> dict[str, Any]:
    """All answers as plain data, for the site; sheets are exact, as text."""
    unit, table = worked.kit.spec.unit, batches(worked)
    groups = {plan.paper: plans[0] for plans in alike(worked) for plan in plans}
    others = {id(plan): [_other_json(worked, other) for other in other_stock(worked, plan)] for plan in groups.values()}
    upright = {id(plan): one_way(worked, plan) for plan in groups.values()}
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
        "one-way": {paper: _upright_json(worked, plan, upright[id(plan)]) for paper, plan in groups.items() if upright[id(plan)]},
        "may fall short": {
            layout.name: {
                "across": length_text(layout.slack.width, unit),
                "along": length_text(layout.slack.height, unit),
                "answer": short_text(layout, unit),
            }
            for layout in worked.layouts
        },
        "left over": [{"guide": use.layout.name, "size": size_text(use.size, unit), "good for": use.words} for use in uses(worked)],
    }


def _other_json(worked: Worked, other: Other) -> dict[str, Any]:
    unit = worked.kit.spec.unit
    found = {"sheet": other.name, "answer": other_text(worked, other), "sheets": str(other.plan.sheets) if other.plan else None}
    change = change_text(worked, other)
    if change:
        found["nearest change"] = change
    if other.misfits:
        tried = fitting(worked, other)
        found["does not fit"] = [
            {"label": m.label, "too large by": length_text(m.over, unit)}
            | ({"fits at": size_text(tried.sizes[m.label], unit)} if tried else {})
            for m in other.misfits
        ]
        if tried and not tried.works:
            found["but then"] = [finding.problem for finding in tried.broken]
    return found


def _upright_json(worked: Worked, plan: PaperPlan, other: Other) -> dict[str, Any]:
    sheets = upright_sheets(plan, other)
    return _other_json(worked, other) | ({"answer": sheets_text(sheets), "sheets": str(sheets)} if sheets is not None else {})


def is_tight(layout: Layout) -> bool:
    """Whether a sheet a sixteenth short fails the layout."""
    return min(layout.slack.width, layout.slack.height) < Length(SIXTEENTH)
