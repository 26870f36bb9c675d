"""Where a number that is not ours comes from: kept as data beside each, and told on one page of the site."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number comes from."""

    name: str
    """A standard, a rule book, or the trade's habit."""
    noted: str
    """When it was written down here, such as `November 2026`."""
    memory: bool = False
    """Whether it was written down from memory: look it up before you rely on it."""


@dataclass(frozen=True, slots=True)
class Known:
    """One number from outside, in words, with its source."""

    what: str
    value: str
    source: Source


NOTED = "November 2026"
TRADE = "common practice, no source"
PRACTICE = Source(TRADE, NOTED)
"""What makers and shops do, for which no book is named."""


def all_known() -> tuple[tuple[str, tuple[Known, ...]], ...]:
    """Every number from outside, group by group, each from where it is used."""
    from kitwright import papers
    from kitwright.card.post import LETTERS
    from kitwright.check import base, borders, envelope, sheets
    from kitwright.cutfiles import mats
    from kitwright.cutting import stock
    from kitwright.telling import post, steps

    return (
        ("Sheets", (*papers.known_sheets(), *stock.known())),
        ("Envelopes", (*papers.known_envelopes(), *envelope.known())),
        ("Weights", (*papers.known_weights(), *steps.known())),
        ("Thickness and weight where a kit does not say", post.known_guesses()),
        ("What a kit is checked against", (*base.known(), *borders.known(), *sheets.known())),
        ("The post", tuple(each for letters in LETTERS for each in post.known_limits(letters))),
        ("Electronic cutters", mats.known()),
    )


def told(source: Source) -> str:
    """A source as a printable names it, where there is room for no more."""
    return f"{source.name}, {source.noted}"


def named(sources: Iterable[Source]) -> str:
    """Several, and what is from memory."""
    return "; ".join(f"{source.name}, {'from memory, ' if source.memory else ''}{source.noted}" for source in sources)
