"""What followers ask before they cut, in rows and words: any number of cards, other paper,
one-way paper, one sheet only, a sheet that is short, and what is left over."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.stock import OtherSheet
from kitwright.materials import MATERIALS, Kind, Material
from kitwright.otherwise.planned import from_stock, one_way, shows_turned, upright_sheets
from kitwright.telling.goes import split_text
from kitwright.telling.line import Line
from kitwright.telling.materials import kind_text
from kitwright.telling.questions import change_text, told_of, use_text
from kitwright.telling.slack import slack_texts
from kitwright.telling.words import led, listed, number, sheets_text, span_text
from kitwright.units import Size, figure, fraction_text, size_text
from kitwright.work.batches import MOST, alike, counts_of, from_one_sheet, own_guide, rule_of, runs
from kitwright.work.leftovers import uses
from kitwright.work.worked import Counts, Worked

COUNTED = {None: "counted on this kit’s own guide", True: "the fewest there can be", False: ""}


@dataclass(frozen=True)
class Ladder:
    """How many sheets of a paper for how many cards, as a rule that is easily kept."""

    names: str
    sheet: str
    each: str
    """`6 cards a sheet`, `2 sheets for each card`: what holds as often as it goes into the cards; empty where there is no such rule."""
    steps: tuple[tuple[str, str], ...]
    """Cards, such as `1–3 cards`, and sheets: of what is over then, or else of the first batches, or of some."""
    further: str
    """How it goes on after the first batches; empty where that is said, or where the steps are only some of the batches."""
    one: str
    """Cards from one sheet."""
    by: str
    """Whose way of cutting is counted, or that none takes less; empty where that is not certain."""


@dataclass(frozen=True)
class BatchRow:
    """Batches that take the same sheets of every paper."""

    first: int
    last: int
    sheets: tuple[str, ...]
    """By column."""
    own: bool
    """Whether the kit's own batch is among them."""

    @property
    def cards(self) -> str:
        return span_text(self.first, self.last)


@dataclass(frozen=True)
class StockTable:
    """The kit's batch from every usual sheet of one kind."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    """The sheet, and for each column what it takes and a remark."""
    notes: tuple[str, ...]
    sizes: tuple[Size, ...]
    """Of each row's sheet, which goes by the name under which it is sold."""
    own: tuple[tuple[bool, ...], ...]
    """Of each row and column, whether that is the kit's own sheet."""
    kind: str
    """The kind of paper alone, which is told alike in every unit."""


@dataclass(frozen=True)
class YourPaper:
    """All that the page says, and the short section on the kit's own page."""

    cards: int
    ladders: tuple[Ladder, ...]
    columns: tuple[str, ...]
    """The papers of the full table, papers cut alike together."""
    rows: tuple[BatchRow, ...]
    stock: tuple[StockTable, ...]
    one_way: tuple[str, ...]
    short: tuple[tuple[str, str, str], ...]
    """Guide, across, along."""
    left: tuple[tuple[str, str, str], ...]
    """Guide, largest leftover, what it is good for."""
    top: tuple[Line, ...]
    """The answers that are asked for most, for the kit's own page."""
    split: str
    """How any number of cards is shared among several designs; empty for a kit of one."""
    beside: YourPaper | None = None
    """The same in the other unit."""


def on_your_paper(worked: Worked) -> YourPaper:
    """All the answers of a kit."""
    groups = alike(worked)
    names = tuple(_names(worked, plans) for plans in groups)
    columns = tuple(f"{name}, each" if len(plans) > 1 else name for name, plans in zip(names, groups))
    counted = [counts_of(worked, plans[0]) for plans in groups]
    counts = [each.sheets for each in counted]
    upright = [one_way(worked, plans[0]) for plans in groups]
    return YourPaper(
        worked.kit.spec.cards,
        tuple(_ladder(worked, *each) for each in zip(groups, names, counted)),
        columns,
        _rows(worked, counts),
        tuple(filter(None, (_stock(worked, kind, groups, names) for kind in MATERIALS))),
        tuple(_one_way_text(*each) for each in zip(groups, names, upright) if _material(worked, each[0]).printed),
        _short(worked),
        _left(worked),
        _top(worked, groups, columns, counts, upright),
        split_text(worked),
    )


@dataclass(frozen=True)
class OtherPaper:
    """What changes on other paper, for the workbook: no more than can be said of the batch."""

    asked: tuple[Line, ...]
    """One sheet alone, and one-way paper."""
    stock: tuple[StockTable, ...]


def on_other_paper(worked: Worked) -> OtherPaper:
    """Those of the answers that take no batch after another to be planned."""
    groups = alike(worked)
    names = tuple(_names(worked, plans) for plans in groups)
    columns = tuple(f"{name}, each" if len(plans) > 1 else name for name, plans in zip(names, groups))
    printed = [_material(worked, plans).printed for plans in groups]
    asked = []
    if any(printed):
        if all(_soon_counted(plans[0]) for plans, asks in zip(groups, printed) if asks):
            counts = [counts_of(worked, plans[0]).sheets if asks else () for plans, asks in zip(groups, printed)]
            asked.append(replace(_one_sheet(worked, groups, columns, counts), rule=""))
        asked.append(_shown_turned(worked) or _upright(groups, columns, [one_way(worked, plans[0]) for plans in groups]))
    return OtherPaper(tuple(asked), tuple(filter(None, (_stock(worked, kind, groups, names) for kind in MATERIALS))))


def _soon_counted(plan: PaperPlan) -> bool:
    """Whether it is counted for any batch without a plan for each."""
    return own_guide(plan) is not None or len(plan.demand.needs) == 1


def _material(worked: Worked, plans: list[PaperPlan]) -> Material:
    return worked.kit.papers[plans[0].paper].material


def _names(worked: Worked, plans: list[PaperPlan]) -> str:
    """What papers cut alike are called: by the name of the guide that they share, if it speaks of all of them."""
    layout = plans[0].runs[0].layout if plans[0].runs else None
    if layout is not None and len(plans) > 1 and set(layout.papers) == {plan.paper for plan in plans}:
        return layout.name
    return listed([worked.kit.papers[plan.paper].name for plan in plans])


# --- any number of cards ------------------------------------------------------------------------


def _ladder(worked: Worked, plans: list[PaperPlan], names: str, counted: Counts) -> Ladder:
    one, by, rule = from_one_sheet(counted.sheets), COUNTED[counted.proved], rule_of(counted.sheets)
    sheet, makes = _sheet_name(worked, plans[0]), number(one, "card", "cards") if one else "not a whole card"
    steps = tuple((_cards(first, last), sheets_text(n)) for first, last, n in rule.steps)
    if rule.each:
        return Ladder(names, sheet, _each(rule.period, rule.each), (), "", makes, by)
    if rule.more and counted.sheets[rule.period - 1] == rule.more:
        # Whole periods cost alike; what is over then, less or as much.
        return Ladder(names, sheet, _each(rule.period, rule.more), steps[:-1], "", makes, by)
    more = "each card" if rule.period == 1 else f"every {rule.period} cards"
    further = f"then {sheets_text(rule.more)} more for {more}" if rule.more else ""
    return Ladder(names, sheet, "", steps, further, makes, by)


def _each(period: int, sheets: Fraction) -> str:
    """`6 cards a sheet`, `9 cards from 2 sheets`, `half a sheet for each card`."""
    if period == 1:
        return f"{sheets_text(sheets)} for each card"
    return f"{period} cards {'a sheet' if sheets == 1 else f'from {sheets_text(sheets)}'}"


def _sheet_name(worked: Worked, plan: PaperPlan) -> str:
    paper = worked.kit.papers[plan.paper]
    return paper.size.name or size_text(plan.demand.sheet, worked.unit)


def _cards(first: int, last: int) -> str:
    return number(first, "card", "cards") if first == last else f"{first}–{last} cards"


def _rows(worked: Worked, counts: list[tuple[Fraction, ...]]) -> tuple[BatchRow, ...]:
    return tuple(
        BatchRow(first, last, tuple(fraction_text(n) for n in each), first <= worked.kit.spec.cards <= last)
        for first, last, each in runs(list(zip(*counts)))
    )


# --- other paper ----------------------------------------------------------------------------------


def _stock(worked: Worked, kind: Kind, groups: list[list[PaperPlan]], names: tuple[str, ...]) -> StockTable | None:
    mine = [(plans[0], name, len(plans) > 1) for plans, name in zip(groups, names) if _material(worked, plans).kind == kind]
    if not mine:
        return None
    material = MATERIALS[kind]
    stock = dict(material.sold)
    for plan, _, _ in mine:
        if plan.demand.sheet not in stock.values():
            stock = {_sheet_name(worked, plan): plan.demand.sheet} | stock
    rows, notes = [], []
    for sheet, size in stock.items():
        cells = []
        for plan, name, several in mine:
            if size == plan.demand.sheet:
                cells.append((sheets_text(plan.sheets), "this kit’s"))
                continue
            other = from_stock(worked, plan, sheet, size)
            cells.append(_cell(other, plan))
            notes += _note(worked, other, name if len(mine) > 1 or several else "")
        rows.append((sheet, tuple(cells)))
    # The names of the sheets in a heading: there the finder looks first.
    title = led(kind_text(kind)) + ("" if material.printed else f": {listed(list(stock))}")
    own = tuple(tuple(size == plan.demand.sheet for plan, _, _ in mine) for size in stock.values())
    columns = tuple(f"{name}, each" if several else name for _, name, several in mine)
    return StockTable(title, columns, tuple(rows), tuple(notes), tuple(stock.values()), own, led(kind_text(kind)))


def _cell(other: OtherSheet, plan: PaperPlan) -> tuple[str, str]:
    if not other.fits:
        return "does not fit", ""
    told = sheets_text(other.sheets)
    if other.sheets == plan.sheets:
        return told, ""
    return told, "fewer than this kit’s" if other.sheets < plan.sheets else "more than this kit’s"


def _note(worked: Worked, other: OtherSheet, name: str) -> list[str]:
    """Why another sheet does not do as well, and what would help."""
    told, change = told_of(worked, other), change_text(worked, other)
    if other.fits and not told.why:
        return []
    why = told.why if other.fits else str(told)
    return [f"{f'{name} from ' if name else ''}{other.name}: {why}.{f' {led(change)}.' if change else ''}"]


def _one_way_text(plans: list[PaperPlan], names: str, other: OtherSheet | None) -> str:
    own = plans[0].sheets
    if other is None:
        return f"{names}: kept upright as it is."
    sheets = upright_sheets(plans[0], other)
    if sheets is None:
        wrong = listed([m.label for m in other.misfits])
        return f"{names}: {wrong} would not fit upright."
    if sheets == own:
        return f"{names}: {sheets_text(own)}, as before."
    return f"{names}: {sheets_text(sheets)} instead of {fraction_text(own)}."


# --- short sheets and leftovers ---------------------------------------------------------------------


def _short(worked: Worked) -> tuple[tuple[str, str, str], ...]:
    return tuple((layout.name, *slack_texts(layout.slack, worked.unit, "nothing")) for layout in worked.layouts)


def _left(worked: Worked) -> tuple[tuple[str, str, str], ...]:
    unit = worked.unit
    return tuple((use.layout.name, size_text(use.size, unit), use_text(use, unit)) for use in uses(worked))


# --- the short section ----------------------------------------------------------------------------


def _top(
    worked: Worked,
    groups: list[list[PaperPlan]],
    names: tuple[str, ...],
    counts: list[tuple[Fraction, ...]],
    upright: list[OtherSheet | None],
) -> tuple[Line, ...]:
    """The questions asked most, each answered in a line; `names` say `each` where several papers are cut alike."""
    found = [_one_sheet(worked, groups, names, counts), _twice(worked, names, counts)]
    for material in MATERIALS.values():
        mine = [(plans[0], name) for plans, name in zip(groups, names) if _material(worked, plans) is material]
        stock = dict(material.sold)
        # The first sheet that is not what the kit itself is cut from.
        sheet = next((choice for choice in material.asked if any(plan.demand.sheet != stock[choice] for plan, _ in mine)), None)
        if sheet:
            found.append(_from(worked, sheet, stock[sheet], mine))
    if any(_material(worked, plans).printed for plans in groups):
        found.append(_shown_turned(worked) or _upright(groups, names, upright))
    found.append(_tight(worked))
    return tuple(fact for fact in found if fact)


def _one_sheet(worked: Worked, groups: list[list[PaperPlan]], names: tuple[str, ...], counts: list[tuple[Fraction, ...]]) -> Line:
    patterned = [i for i, plans in enumerate(groups) if _material(worked, plans).printed] or list(range(len(groups)))
    papers = sum(len(groups[i]) for i in patterned)
    cards = min(from_one_sheet(counts[i]) for i in patterned)
    of = "One sheet of each patterned paper" if papers > 1 else f"One sheet of {names[patterned[0]]}"
    makes = number(cards, "card", "cards") if cards < MOST else f"{MOST} cards or more"
    return Line("one sheet", "Only one sheet?", f"{of} makes {makes}", _limits(names, counts, patterned, cards))


def _limits(names: tuple[str, ...], counts: list[tuple[Fraction, ...]], patterned: list[int], cards: int) -> str:
    rest = [f"{names[i]}, {sheets_text(counts[i][cards - 1])}" for i in range(len(names)) if i not in patterned and counts[i]]
    return f"and takes {'; '.join(rest)}" if cards and rest else ""


def _twice(worked: Worked, names: tuple[str, ...], counts: list[tuple[Fraction, ...]]) -> Line | None:
    cards = worked.kit.spec.cards * 2
    if cards > MOST:
        return None
    return Line("twice", f"{cards} cards?", "; ".join(f"{name}: {sheets_text(each[cards - 1])}" for name, each in zip(names, counts)))


def _from(worked: Worked, sheet: str, size: Size, mine: list[tuple[PaperPlan, str]]) -> Line:
    said, why = [], ""
    for plan, name in mine:
        if plan.demand.sheet == size:
            continue
        other = from_stock(worked, plan, sheet, size)
        told = told_of(worked, other)
        said.append(f"{name}: {told.amount}")
        why = why or (f"{name}: {told.why}" if told.why else "")
    return Line("other sheet", f"From {sheet}?", "; ".join(said), why)


def _shown_turned(worked: Worked) -> Line | None:
    """That a paper with an up would show how triangles lie; None where none lies so."""
    shown = shows_turned(worked)
    if not shown:
        return None
    why = "it lies turned on the card, and would show it" if len(shown) == 1 else "they lie turned on the card, and would show it"
    return Line("one-way", "One-way paper?", f"Not for {listed(shown)}", why)


def _upright(groups: list[list[PaperPlan]], names: tuple[str, ...], upright: list[OtherSheet | None]) -> Line:
    then = [(plans[0].sheets, name, upright_sheets(plans[0], other)) for plans, name, other in zip(groups, names, upright) if other]
    more = [
        f"{name} then takes {sheets_text(sheets)}, not {fraction_text(own)}" if sheets is not None else f"{name} does not fit then"
        for own, name, sheets in then
        if sheets != own
    ]
    plain = sum(other is not None for other in upright)
    if not more:
        return Line(
            "one-way",
            "One-way paper?",
            "No more sheets: every piece can lie upright" if plain else "This kit keeps its pieces upright as it is",
        )
    return Line("one-way", "One-way paper?", "; ".join(more), "the others as before" if len(more) < plain else "")


def _tight(worked: Worked) -> Line:
    unit, layouts = worked.unit, worked.layouts
    tight = [layout.name for layout in layouts if layout.tight]
    loose = [layout for layout in layouts if not layout.tight]
    said = f"Measure {listed(tight)} first: {'it has' if len(tight) == 1 else 'they have'} nothing to spare" if tight else ""
    if loose:
        least = min(min(layout.slack.width, layout.slack.height) for layout in loose)
        rest = f"{'every other' if tight else 'every'} guide still works {figure(least, unit)} {unit} short"
        return Line("short", "A sheet a little short?", said or led(rest), rest if tight else "")
    return Line("short", "A sheet a little short?", said)
