"""The questions that followers ask, answered by computation.

How many sheets for another number of cards; the same kit from other paper, or from a
one-way paper; how far a sheet may fall short; what is left over and what it is good for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from kitwright.cutting.auto import plan_paper
from kitwright.cutting.batch import sheets_table
from kitwright.cutting.plan import Demand, Layout, PaperPlan, sheets_for
from kitwright.cutting.stock import CARDSTOCK, PATTERNED_STOCK, Other, for_cards, from_sheet, halved
from kitwright.errors import UserError
from kitwright.kit.names import BASE
from kitwright.telling.words import label_text, listed, number, sheets_text, spelled
from kitwright.units import SIXTEENTH, ZERO, Length, Size, length_text, on_grid, size_text
from kitwright.work.worked import Worked

if TYPE_CHECKING:
    from kitwright.otherwise.changed import Change

MOST = 60
"""Cards; the batches that the table answers for."""


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


def guided_sheets(worked: Worked, plan: PaperPlan, cards: int) -> Fraction:
    """Sheets of a paper for a number of cards, cut by this kit's own guides.

    A layout gives what it gives: labels are counted up on the layouts that carry them.
    Where the kit leaves a paper to `auto`, or cuts it by several guides, it is planned anew for
    the number of cards; as many cards as the kit's own never take fewer sheets than its guides.
    """
    guide = own_guide(plan)
    if guide is None and cards <= MOST and cards != worked.kit.spec.cards:
        # One search answers for every batch; asked for each by itself, an absurd kit would cost sixty.
        return counts_of(worked, plan).sheets[cards - 1]
    demand = for_cards(plan.demand, cards, worked.kit.spec.cards)
    if guide is None:
        return _at_least(plan, cards >= worked.kit.spec.cards, plan_paper(demand, plan.paper).sheets)
    if is_half(guide):
        # The guide is drawn for half a sheet; the other half is cut the same way.
        halves = max((-(-n // guide.yields[label]) for label, n in demand.needs.items() if n), default=0)
        return Fraction(halves, 2)
    return sheets_for(guide.tree, demand.needs) or Fraction(0)


def _at_least(plan: PaperPlan, whole: bool, sheets: Fraction) -> Fraction:
    """Sheets of a batch as readers are told them: never fewer than an author's several guides take for her own.

    That a plan beats them is for her to know (`comparisons`), and would contradict her page.
    """
    by_author = any(run.layout.source == "author" for run in plan.runs)
    return max(sheets, plan.sheets) if whole and by_author else sheets


def own_guide(plan: PaperPlan) -> Layout | None:
    """The author's guide by which a paper is counted for any batch; None where the planner counts anew."""
    layouts = [run.layout for run in plan.runs]
    return layouts[0] if len(layouts) == 1 and layouts[0].source == "author" else None


def is_half(layout: Layout) -> bool:
    """Whether a layout leaves one half of its sheet whole."""
    return any(rest.size in _halves(layout.sheet) for rest in layout.leftovers)


def _halves(sheet: Size) -> tuple[Size, Size]:
    return Size(sheet.width, sheet.height / 2), Size(sheet.width / 2, sheet.height)


def batches(worked: Worked, upto: int = MOST) -> list[tuple[int, dict[str, Fraction]]]:
    """Sheets of each paper for every batch from 1 card to `upto`."""
    columns = {plan.paper: counts for plans in alike(worked) for counts in [counts_of(worked, plans[0], upto).sheets] for plan in plans}
    return [(cards, {plan.paper: columns[plan.paper][cards - 1] for plan in worked.plans}) for cards in range(1, upto + 1)]


@dataclass(frozen=True, slots=True)
class Counts:
    """Sheets of one paper for every batch from 1 card upwards."""

    sheets: tuple[Fraction, ...]
    proved: bool | None
    """Whether fewer are impossible for every one of them; None where the author's own guide is counted."""


def counts_of(worked: Worked, plan: PaperPlan, upto: int = MOST) -> Counts:
    """Sheets of one paper for every batch from 1 card to `upto`, as `guided_sheets` counts them."""
    if own_guide(plan):
        return Counts(tuple(guided_sheets(worked, plan, cards) for cards in range(1, upto + 1)), None)
    wanted, own = plan.demand, worked.kit.spec.cards
    found = _fewest(
        "paper", wanted.sheet, tuple(wanted.needs.items()), tuple(wanted.sizes.items()), tuple(sorted(wanted.lies.items())), own, upto
    )
    told = tuple(_at_least(plan, cards >= own, n) for cards, n in enumerate(found.sheets, 1))
    return Counts(told, found.proved and told == found.sheets)


@lru_cache(maxsize=256)
def _fewest(paper, sheet, needs, sizes, lies, of: int, upto: int) -> Counts:
    demand = Demand(paper, sheet, dict(needs), dict(sizes), dict(lies))
    table = sheets_table(lambda cards: for_cards(demand, cards, of), upto)
    return Counts(tuple(row.sheets for row in table), all(row.proved for row in table))


def alike(worked: Worked) -> list[list[PaperPlan]]:
    """Papers that are cut alike, sheet for sheet, together: whatever is asked of one is answered for all."""
    groups: dict[tuple, list[PaperPlan]] = {}
    for plan in worked.plans:
        asked_of = plan.demand
        key = (
            worked.kit.papers[plan.paper].kind,
            asked_of.sheet,
            tuple(asked_of.needs.items()),
            tuple(asked_of.sizes.items()),
            tuple(sorted(asked_of.lies.items())),
            tuple((run.layout.tree, run.layout.source, run.sheets) for run in plan.runs),
        )
        groups.setdefault(key, []).append(plan)
    return list(groups.values())


def from_one_sheet(counts: Iterable[Fraction]) -> int:
    """The largest batch that one sheet of a paper gives, up to as many cards as were counted."""
    return max((cards for cards, sheets in enumerate(counts, 1) if sheets <= 1), default=0)


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
    unit, changed = worked.kit.spec.unit, _changes()
    if other.plan is not None:
        half = halved(other.demand.sheet)
        why = (
            f"a sheet gives one base, not two, since half of it is {size_text(half, _ruled(half, unit))}"
            if changed.loses_a_base(worked, other)
            else ""
        )
        return Told(sheets_text(other.plan.sheets), why)
    change = changed.fitting(worked, other)
    said = [
        f"{m.label} is {length_text(m.over, unit)} too large" + (f"; at {size_text(change.sizes[m.label], unit)} it fits" if change else "")
        for m in other.misfits
    ]
    return Told("does not fit", listed(said) + (but_then(change) if change else ""), False)


def _changes():
    """The changes that can be tried: imported late, since they are checked, and the checks ask questions here."""
    from kitwright.otherwise import changed

    return changed


def other_text(worked: Worked, other: Other) -> str:
    """The same in one piece."""
    return str(told_of(worked, other))


def change_text(worked: Worked, other: Other) -> str:
    """The nearest change that would help where another sheet gives one base instead of two, with what else it would take; empty when there is none near.

    Where pieces do not fit at all, `other_text` itself names the size that does.
    """
    unit, said, changed = worked.kit.spec.unit, [], _changes()
    for change in changed.two_bases(worked, other):
        name = changed.name_of(change)
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
    return f"{'half a sheet, still whole: ' if size in _halves(layout.sheet) else ''}{said}"


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
        tried = _changes().fitting(worked, other)
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


# --- an author's own guides beside the planner's -----------------------------------------------


@dataclass(frozen=True, slots=True)
class Measured:
    """What counts in a way of cutting one paper."""

    sheets: Fraction
    measures: int
    """Distinct ruler marks."""
    cuts: int
    """Strokes on one sheet of each layout."""
    slack: Length
    """The least, over all layouts and both directions."""
    leftover: Size
    """The largest single one."""

    def words(self, unit: str) -> str:
        return (
            f"{sheets_text(self.sheets)}, {number(self.measures, 'measure', 'measures')}, {number(self.cuts, 'cut', 'cuts')}, "
            f"{f'least slack {length_text(self.slack, unit)}' if self.slack else 'no slack'}, "
            f"{f'largest leftover {size_text(self.leftover, unit)}' if self.leftover.area else 'nothing left over'}"
        )


@dataclass(frozen=True, slots=True)
class Comparison:
    """An author's own guides for papers that are cut alike, beside the planner's."""

    papers: tuple[str, ...]
    guide: int
    """The first of the guides, counted from 0."""
    yours: Measured
    planned: Measured
    proved: bool
    """Whether no plan takes fewer sheets than the planner's."""
    why: str = ""
    """Why not, or what the planner knows of it, in inches."""
    plain: bool = False
    """Whether that can be checked at the desk."""

    @property
    def better(self) -> bool:
        """Whether the planner's is better in sheets, or as good in sheets and better in measures or cuts."""

        def rank(m: Measured) -> tuple:
            return m.sheets, m.measures, m.cuts

        return rank(self.planned) < rank(self.yours)

    def words(self, unit: str) -> str:
        return f"yours: {self.yours.words(unit)}; planned: {self.planned.words(unit)}{', proved the fewest sheets' if self.proved else ''}"


def measured(plan: PaperPlan) -> Measured:
    """What counts in a plan."""
    layouts = list(dict.fromkeys(run.layout for run in plan.runs))
    leftovers = [r for layout in layouts for r in layout.leftovers]
    return Measured(
        plan.sheets,
        len({m for each in layouts for m in each.measures}),
        sum(len(each.cuts) for each in layouts),
        min((min(each.slack.width, each.slack.height) for each in layouts), default=ZERO),
        max(leftovers, key=lambda r: r.area).size if leftovers else Size(ZERO, ZERO),
    )


def comparisons(worked: Worked) -> list[Comparison]:
    """Every paper that the author's own guides cut, papers cut alike together."""
    found: dict[tuple, Comparison] = {}
    for plan in worked.plans:
        guides = tuple(run.layout.guide for run in plan.runs)
        if not guides or None in guides or plan.short:
            continue
        try:
            best = plan_paper(replace(plan.demand, given=None), worked.kit.papers[plan.paper].name)
        except UserError:
            # A piece that no sheet can give: told at its own line, and nothing to compare with.
            continue
        key = (guides, tuple(plan.demand.needs.items()), plan.sheets, tuple(sorted(plan.demand.lies.items())), plan.demand.sheet)
        papers = found[key].papers if key in found else ()
        fewest = next((p for p in best.proof if p.level == "sheets"), None)
        found[key] = Comparison(
            (*papers, plan.paper),
            guides[0],
            measured(plan),
            measured(best),
            fewest is not None and fewest.proved,
            fewest.why if fewest else "",
            fewest is not None and fewest.plain,
        )
    return list(found.values())
