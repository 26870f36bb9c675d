"""Proposed layouts in words: what was asked, what each is and why one would choose it, and how much was looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from kitwright.findings import Note
from kitwright.proposing.against import GATE
from kitwright.proposing.makeable import LEAST_BAND
from kitwright.proposing.records import Answer, Kind, Measured, Proposal, Scope, Twin
from kitwright.proposing.wish import CardWish, Stock, Wish
from kitwright.telling.facts import FactTable
from kitwright.telling.layout_names import what
from kitwright.telling.notes.proposing import IN_A_FILE
from kitwright.telling.words import led, listed, number, sheet_text, sheets_text, span_text, spelled
from kitwright.units import Length, Size, figure, length_text, rounded, size_text

# --- one layout -----------------------------------------------------------------------------------


def sizes(proposal: Proposal, unit: str) -> list[str]:
    """Each size with its number on a card: `2 A 3¾ × 1¼ in`; of two designs, first the sizes and then what each takes of them."""
    if len(proposal.sides) == 1:
        (side,) = proposal.sides
        return [f"{side.each.get(kind.label, 0)} {_kind(kind, unit)}" for kind in proposal.kinds]
    counts = [listed([f"{n} {label}" for label, n in sorted(side.each.items())]) for side in proposal.sides]
    first, second = counts
    return [*(_kind(kind, unit) for kind in proposal.kinds), f"first card {first}, second {second}"]


def _kind(kind: Kind, unit: str) -> str:
    how = {"punch": ", punched", "die": ", die-cut", None: ", halved corner to corner" if kind.halved else ""}[kind.tool]
    return f"{kind.label} {size_text(kind.size, unit)}{how}"


def left_over(measured: Measured) -> str:
    """`nothing left over`, `6% left over`."""
    return f"{part_text(measured.waste) if measured.waste else 'nothing'} left over"


def part_text(part: Fraction) -> str:
    """A part in whole hundredths, as one says it: `6%`, `under 1%`."""
    shown = rounded(part * 100)
    return "under 1%" if part and not shown else f"{shown}%"


def reason(proposal: Proposal, unit: str, among: Sequence[Proposal] = ()) -> str:
    """Why one would choose it, in a few words: `Least left over, 4%; three measures; sheets may be ⅛ in short`.

    Args:
        proposal: the layout.
        unit: in which lengths are told.
        among: those that it stands beside; what it is best in is said so.
    """
    m, best = proposal.measured, _best(proposal, among)
    room = f"sheets may be {length_text(m.slack, unit)} short" if m.slack else "no room for a short sheet"
    said = [
        f"least left over, {part_text(m.waste)}" if "waste" in best and m.waste else left_over(m),
        f"fewest measures, {spelled(m.measures)}" if "measures" in best and m.measures > 1 else _measures(m),
        f"most room for a short sheet, {length_text(m.slack, unit)}" if "slack" in best else room,
    ]
    if "strokes" in best:
        said.append(f"fewest cuts, {m.strokes}")
    if sum(n for cut in proposal.cuts for _, n in cut.stocks) > 1 and m.alike:
        said.append("all sheets cut alike")
    return led("; ".join(said))


def _measures(measured: Measured) -> str:
    return "one measure" if measured.measures == 1 else f"{spelled(measured.measures)} measures"


def glance(proposal: Proposal, answer: Answer) -> list[str]:
    """What one chooses by at a glance: `30 cards`, `4% left over`, `two measures`; of cards only what is not the same of all."""
    cards = several_cards(answer)
    size = size_text(proposal.sides[0].card.closed, answer.wish.unit) if cards.sizes else ""
    some = number(proposal.cards, "card", "cards") if cards.counts else ""
    first = [f"{some} {size}".strip()] if some or size else []
    return [*first, left_over(proposal.measured), _measures(proposal.measured)]


class SeveralCards(NamedTuple):
    """What of the cards is not the same of all layouts."""

    sizes: bool
    counts: bool
    """Or nobody asked for a number."""


def several_cards(answer: Answer) -> SeveralCards:
    """What is to be told of each layout's cards."""
    sizes = len({side.card.closed for one in answer.proposals for side in one.sides}) > 1
    return SeveralCards(sizes, len({one.cards for one in answer.proposals}) > 1 or answer.wish.cards is None)


_FEW = 4
"""Of so many layouts, one at most is told to be the best in something."""


def _best(proposal: Proposal, among: Sequence[Proposal]) -> set[str]:
    """In what it is one of the best, where most are not."""
    ways: dict[str, Callable[[Measured], Fraction | int]] = {
        "waste": lambda m: m.waste,
        "measures": lambda m: m.measures,
        "slack": lambda m: -m.slack.inches,
        "strokes": lambda m: m.strokes,
    }
    if len({one.cards for one in among}) > 1:
        del ways["strokes"]
    values = {key: [way(one.measured) for one in among] for key, way in ways.items() if len(among) > 1}
    return {
        key
        for key, some in values.items()
        if ways[key](proposal.measured) == min(some) and some.count(min(some)) * _FEW <= max(len(some), _FEW)
    }


def twins(proposal: Proposal, unit: str) -> str:
    """Near twins in one line; empty where there are none."""
    if not proposal.twins:
        return ""
    own = {kind.label: kind.size for kind in proposal.kinds}
    told = list(dict.fromkeys(_twin(twin, own, unit) for twin in proposal.twins))
    more = len(told) - _MOST_TWINS
    return f"Also {'; or '.join(told[:_MOST_TWINS])}{f'; and {spelled(more)} more' if more > 0 else ''}"


_MOST_TWINS = 2
"""As many near twins are told; the others are counted."""


def _twin(twin: Twin, own: dict[str, Size], unit: str) -> str:
    changed = [f"{label} {size_text(size, unit)}" for label, size in twin.sizes if own.get(label) != size]
    return f"{listed(changed) if changed else 'the same sizes laid otherwise'} ({left_over(twin.measured)})"


# --- the question ---------------------------------------------------------------------------------


def asked(wish: Wish) -> str:
    """The question in words, in a sentence or two."""
    unit = wish.unit
    have = listed([_stock(stock, unit) for stock in wish.stocks])
    cards = number(wish.cards, "card", "cards") if wish.cards else "as many cards as come out well"
    designs = " of two designs" if wish.designs == 2 else ""
    card = f"{cards}{designs}, {listed([_card(card, unit) for card in wish.cards_of], 'or')}"
    return f"From {have}: {card}. {led('; '.join(_wishes(wish)))}."


def _stock(stock: Stock, unit: str) -> str:
    sheet, way = sheet_text(stock.sheet, unit), ", one-way" if stock.one_way else ""
    of = f"{stock.name} ({sheet}{way})" if stock.named else f"{sheet}{way}"
    return f"{number(stock.sheets, 'sheet', 'sheets')} of {of}"


_FOLDS = {"side": "", "top": " folded at the top", "gate": " with a gate fold", "flat": " not folded"}


def _card(card: CardWish, unit: str) -> str:
    mat = f" with {length_text(card.mat, unit)} of the base round a mat" if card.mat else ""
    return f"{size_text(card.closed, unit)}{_FOLDS[card.fold]}{mat}"


def _wishes(wish: Wish) -> Iterable[str]:
    unit = wish.unit
    yield f"{_either('border', 'borders', wish.borders, unit)} and {_either('gap', 'gaps', wish.gaps, unit)}"
    free = f"{length_text(wish.even, unit)} where they are free, else of " if wish.even else ""
    yield f"sizes in steps of {free}{length_text(wish.step, unit)}, {spelled(wish.kinds)} at most"
    if wish.families:
        yield f"layouts: {listed(list(wish.families))}"
    if wish.pieces:
        yield f"{span_text(*wish.pieces)} {'piece' if wish.pieces == (1, 1) else 'pieces'} a card"
    if wish.band:
        yield f"a band of {length_text(wish.band, unit)} or more for the greeting"
    elif any(card.fold != "gate" for card in wish.cards_of):
        yield f"with a band of {length_text(LEAST_BAND[unit], unit)} or more for the greeting, or with none"
    if wish.made:
        yield f"something made with {listed([f'a {made.tool} of {size_text(made.size, unit)}' for made in wish.made], 'or')}"
    if wish.sharing != "free":
        yield "papers meet on every card" if wish.sharing == "share" else "each card is of one paper"
    if wish.slack:
        yield f"every sheet may be {length_text(wish.slack, unit)} short"
    yield f"{part_text(wish.waste)} left over at most"


def _either(one: str, many: str, lengths: Sequence[Length], unit: str) -> str:
    return f"{one if len(lengths) == 1 else many} {listed([figure(each, unit) for each in lengths], 'or')} {unit}"


# --- how much was looked at -----------------------------------------------------------------------


def completeness(answer: Answer) -> list[str]:
    """What was looked at, and whether anything can have been missed."""
    told = _ended(answer)
    scopes = _scopes(answer)
    whole, part = ([scope for scope in scopes if scope.whole is done] for done in (True, False))
    limit = f"with at most {part_text(answer.wish.waste)} left over"
    step = length_text(answer.wish.step, answer.wish.unit)
    some = [scope for scope in whole if scope.layouts]
    none = [scope for scope in whole if not scope.layouts and scope.family not in {one.family for one in (*some, *part)}]
    if some:
        sets = answer.counted.whole
        told.append(
            f"{led(_all_sets(sets, step)) if answer.stopped else f'Nothing is missing here: {_all_sets(sets, step)}'} decided "
            f"{limit}, of {_of_families(some)}{_tried(some, answer.wish)}."
        )
    told += _undecided(answer)
    if none:
        told.append(f"Nothing of {_of_families(none, 'or')} keeps within {part_text(answer.wish.waste)} left over in steps of {step}.")
    counted = answer.counted
    told.append(
        f"Layouts: {counted.candidates:,}; different sets of pieces: {counted.distinct:,}, of which {counted.tested:,} tried on the sheets, "
        f"{counted.front:,} bettered by none of their sort."
    )
    return told


def partly(answer: Answer) -> list[str]:
    """Of that, what was not looked at whole; nothing where all was."""
    return [*_ended(answer), *_undecided(answer)]


def _scopes(answer: Answer) -> list[Scope]:
    """What is worth telling: a gate has its doors alone, and nothing else has any."""
    return [scope for scope in answer.scopes if (scope.family == GATE) == (scope.card.fold == "gate")]


def _ended(answer: Answer) -> list[str]:
    return [_spent(answer.wish) if answer.spent else _STOPPED] if answer.stopped else []


def _spent(wish: Wish) -> str:
    """That not all was looked through, and which of what she left open would narrow it down: her batch first."""
    batch = [*(["one card (--card)"] if len(wish.cards_of) > 1 else []), *(["a number of cards (--cards)"] if wish.cards is None else [])]
    layouts = [
        *(["fewer sizes (--kinds)"] if wish.kinds > 1 else []),
        *(["one sort of layout (--family)"] if len(wish.families) != 1 else []),
    ]
    open_ = batch or layouts
    more = f": it gets further with {listed(open_, 'and' if batch else 'or')}" if open_ else ""
    return f"One question does not look through all of this{more}."


def _undecided(answer: Answer) -> list[str]:
    part = [scope for scope in _scopes(answer) if not scope.whole]
    said = f"Not every set of pieces of {_of_families(part)}{_tried(part, answer.wish)} was decided{_in_part(answer)}."
    return [said, *_in_steps(answer.wish)] if part else []


def _in_steps(wish: Wish) -> list[str]:
    """What of the ruler's steps was left out, and how to have it."""
    if not wish.even:
        return []
    step = length_text(wish.step, wish.unit)
    return [
        f"Sizes that don’t follow from others were tried in steps of {length_text(wish.even, wish.unit)}: "
        f'name the card (--card), or the steps (--grid "{step}"), to have every one looked at.'
    ]


_STOPPED = "Ended before everything was looked at, as you asked: this is what was found until then."


def _in_part(answer: Answer) -> str:
    """Why not all; nothing where that is said already."""
    if answer.stopped or answer.wish.even:
        return ""
    if answer.wish.designs == 2:
        return ": of two designs, pairs that have a size in common"
    if len({stock.sheet.size for stock in answer.wish.stocks}) > 1:
        return ": cards are dealt to sheets of several sizes in a few ways, the likeliest"
    return ": where pieces don’t part evenly among the sheets, a few ways to deal them are tried"


def _all_sets(sets: int, step: str) -> str:
    return f"the one set of pieces in steps of {step} was" if sets == 1 else f"all {sets:,} sets of pieces in steps of {step} were"


def _of_families(scopes: Iterable[Scope], last: str = "and") -> str:
    return listed(list(dict.fromkeys(scope.family for scope in scopes)), last)


def _tried(scopes: Sequence[Scope], wish: Wish) -> str:
    """Which borders, gaps and cards, where several were tried."""
    unit = wish.unit
    said = []
    for one, many, lengths in (("border", "borders", [s.border for s in scopes]), ("gap", "gaps", [s.gap for s in scopes])):
        if len(getattr(wish, many)) > 1:
            said.append(_either(one, many, tuple(dict.fromkeys(lengths)), unit))
    if len(wish.cards_of) > 1:
        said.append(f"cards {listed([size_text(size, unit) for size in dict.fromkeys(s.card.closed for s in scopes)])}")
    return f", {listed(said)}" if said else ""


# --- on the terminal ------------------------------------------------------------------------------


def table(answer: Answer) -> FactTable:
    """The dozen, a row each."""
    unit = answer.wish.unit
    several, counts = several_cards(answer)
    columns = ["", "what it is", *(["card"] if several else []), *(["cards"] if counts else []), "on a card", "why"]
    rows = []
    for one in answer.proposals:
        row = [str(one.number), what(one)]
        row += [listed(list(dict.fromkeys(size_text(side.card.closed, unit) for side in one.sides)))] if several else []
        row += [str(one.cards)] if counts else []
        also = twins(one, unit)
        rows.append((*row, ", ".join(sizes(one, unit)), reason(one, unit, answer.proposals) + (f". {also}" if also else "")))
    return FactTable("", tuple(columns), tuple(rows))


def none_found(answer: Answer, file: bool = False) -> list[str]:
    """Why there is nothing to show, and the nearest way out, in the words of a question file where it was asked by one."""
    head = "No layout comes out of these sheets and adds up on this card."
    if answer.stopped:
        head = "Nothing was found in as much as one question looks through." if answer.spent else "You ended it before anything was found."
    return [head, *ways_out(answer, file)]


def ways_out(answer: Answer, file: bool = False) -> list[str]:
    """What would give something, or more of the sheets."""
    in_file = {"file": True}
    return [Note(note.code, **note.values, **(in_file if file and note.code in IN_A_FILE else {})).words for note in answer.why]


def picks(line: str) -> str:
    """How one is taken: the command that makes a kit of it."""
    return f"Take one:  {line}"


def pictured(folder: Any) -> str:
    """Where they are to be looked at."""
    return f"Look at them in {folder}"


LOOKING = "Looking for layouts; Ctrl+C ends with what is found"
SOME_KIT = "kits/YYYY-MM-short-name"
"""Stands where the maker names the kit."""


def so_far(answer: Answer) -> str:
    """Progress in a line."""
    return f"{number(len(answer.proposals), 'layout', 'layouts')} to show so far, {answer.counted.tested:,} tried on the sheets"


def picked(number_: int, kit: str) -> str:
    """A kit was written of one of them."""
    return f"Wrote {kit} from layout {number_}. Open its kit.yaml and notes.md, then run  kitwright check {kit}"


def stays_whole(paper: str, sheets: Fraction) -> str:
    """The kit takes less of a paper than lay on the table."""
    return f"{led(sheets_text(sheets))} of {paper} {'stays' if sheets <= 1 else 'stay'} whole: the batch needs no more"
