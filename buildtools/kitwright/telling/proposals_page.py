"""Words of the pages on which proposed layouts are looked at: what can be chosen among them, and in which order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.proposing.records import Answer, Proposal
from kitwright.telling.layout_names import family, what
from kitwright.telling.proposals import part_text, sizes
from kitwright.telling.words import led, listed, number, spelled
from kitwright.units import length_text, size_text

How = Literal["is", "most", "least"]


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to choose."""

    value: str
    text: str


@dataclass(frozen=True, slots=True)
class Choice:
    """What can be asked of a layout."""

    key: str
    """The fact that is asked for."""
    label: str
    how: How
    """Whether it is to be that, or at most or at least so much."""
    all: str
    """What is said where nothing is asked."""
    options: tuple[Option, ...]


def title(answer: Answer) -> str:
    """`Twelve layouts for nine cards`."""
    n = len(answer.proposals)
    layouts = f"{led(spelled(n)) if n else 'No'} {'layout' if n == 1 else 'layouts'}"
    cards = answer.wish.cards
    return f"{layouts} for {spelled(cards)} {'card' if cards == 1 else 'cards'}" if cards else f"{layouts} from your sheets"


def scale_said(card: Fraction, sheet: Fraction) -> str:
    """At which scale the pictures are drawn."""
    return f"Cards are drawn at {card * 100} % of their size, sheets at {sheet * 100} %."


LOOKING = "Still looking: open this page again in a moment to see more."
"""While there is more to come."""
NOT_YET = "These are layouts, and not kits yet: what you pick becomes one, with guides, checks and printables. Cut one card first."
"""On what is printed."""


def facts(proposal: Proposal) -> dict[str, str]:
    """What is asked of a layout, as values: lengths in thousandths of a millimetre, waste in hundredths of a hundredth, both rounded."""
    measured, side = proposal.measured, proposal.sides[0]
    return {
        "family": ",".join(dict.fromkeys(each.family for each in proposal.sides)),
        "pieces": str(max(len(each.spots) for each in proposal.sides)),
        "kinds": str(len(proposal.kinds)),
        "cards": str(proposal.cards),
        "card": _thousandths(side.card.closed.width.millimetres) + "x" + _thousandths(side.card.closed.height.millimetres),
        "waste": str(round(measured.waste * 10_000)),
        "slack": _thousandths(measured.slack.millimetres),
        "measures": str(measured.measures),
        "strokes": str(measured.strokes),
        "alike": "yes" if measured.alike else "no",
    }


def _thousandths(millimetres: Fraction) -> str:
    return str(round(millimetres * 1000))


def choices(answer: Answer) -> list[Choice]:
    """What tells these layouts apart; nothing by which all are alike."""
    layouts, unit = answer.proposals, answer.wish.unit
    found = [
        _is(layouts, "family", "Layout", "any", lambda one: listed([family(name) for name in dict.fromkeys(s.family for s in one.sides)])),
        _is(layouts, "card", "Card", "any", lambda one: size_text(one.sides[0].card.closed, unit)),
        _is(layouts, "cards", "Cards", "any number", lambda one: number(one.cards, "card", "cards")),
        _is(
            layouts, "pieces", "Pieces on a card", "any number", lambda one: number(max(len(s.spots) for s in one.sides), "piece", "pieces")
        ),
        _is(layouts, "kinds", "Sizes", "any number", lambda one: number(len(one.kinds), "size", "sizes")),
        _steps(
            layouts, "waste", "Left over", "most", lambda one: one.measured.waste, lambda one: f"{part_text(one.measured.waste)} at most"
        ),
        _steps(
            layouts,
            "slack",
            "Room for a short sheet",
            "least",
            lambda one: one.measured.slack.inches,
            lambda one: f"{length_text(one.measured.slack, unit)} at least",
        ),
        _steps(
            layouts,
            "measures",
            "Measures",
            "most",
            lambda one: Fraction(one.measured.measures),
            lambda one: f"{one.measured.measures} at most",
        ),
        _is(layouts, "alike", "Sheets", "alike or not", lambda one: "all cut alike" if one.measured.alike else "cut in several ways"),
    ]
    return [choice for choice in found if choice.options]


def _is(layouts: Sequence[Proposal], key: str, label: str, all_: str, said: Callable[[Proposal], str]) -> Choice:
    """To be one of what there is."""
    values = {facts(one)[key]: said(one) for one in layouts}
    order = sorted(values, key=lambda value: (int(value), "") if value.isdecimal() else (0, value))
    return Choice(key, label, "is", all_, tuple(Option(v, values[v]) for v in order) if len(values) > 1 else ())


_MOST = 4
"""Steps that are offered, at most."""


def _steps(
    layouts: Sequence[Proposal], key: str, label: str, how: How, value: Callable[[Proposal], Fraction], said: Callable[[Proposal], str]
) -> Choice:
    """To be so much at most or at least: a few of the values that there are, without the one that all of them keep."""
    by_value = {value(one): one for one in sorted(layouts, key=value, reverse=True)}
    values = sorted(by_value, reverse=how == "least")[:-1]
    chosen = [values[i * len(values) // min(_MOST, len(values))] for i in range(min(_MOST, len(values)))]
    options = {said(by_value[each]): facts(by_value[each])[key] for each in chosen}
    return Choice(key, label, how, "any", tuple(Option(v, text) for text, v in options.items()))


def orders(layouts: Iterable[Proposal]) -> list[Option]:
    """Ways to put them in order; nothing in which all are alike."""
    every = [facts(one) for one in layouts]
    found = [
        ("waste", "least left over first"),
        ("-slack", "most room for a short sheet first"),
        ("measures", "fewest measures first"),
        ("strokes", "fewest cuts first"),
        ("pieces", "fewest pieces first"),
    ]
    told = [Option(key, text) for key, text in found if len({one[key.lstrip("-")] for one in every}) > 1]
    return [Option("", "as proposed"), *told]


def overview_alt(answer: Answer) -> str:
    """The picture of all of them."""
    told = [f"{one.number}, {what(one)}: {'; '.join(sizes(one, answer.wish.unit))}" for one in answer.proposals]
    return f"{title(answer)}, each with its card and its sheets. {'. '.join(told)}."


def proposed_by(club: str) -> str:
    """At the foot of what is printed."""
    return f"{club}  ·  proposed layouts, no kit yet"
