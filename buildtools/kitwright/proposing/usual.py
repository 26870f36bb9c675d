"""What makers usually have and make, by region: cards for each envelope, the sheet of cardstock, border, gap and the ruler's step.

Fronts that go with an envelope are what makers do (`sources.PRACTICE`); the envelopes themselves have their sources (`papers.ENVELOPES`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kitwright.papers import NamedSize, envelope_named, sheet_named
from kitwright.proposing.wish import Unit
from kitwright.units import Length, Size, parse_length, parse_size

Region = Literal["us", "metric"]


@dataclass(frozen=True, slots=True)
class Habits:
    """What holds where nothing is said."""

    step: Length
    border: Length
    gap: Length
    cardstock: NamedSize
    even: Length | None = None
    """Where nothing but sheets is named, sizes that can be chosen freely are whole numbers of it: so as not to look through every
    millimetre of several cards."""


HABITS: dict[Unit, Habits] = {
    "in": Habits(parse_length("1/8"), parse_length("1/8"), parse_length("1/8"), sheet_named("Letter")),
    "mm": Habits(Length.mm(1), Length.mm(3), Length.mm(3), sheet_named("A4"), even=Length.mm(5)),
}
"""By the unit in which she thinks."""


def _cards(unit: Unit, *pairs: tuple[str, str]) -> tuple[tuple[Size, NamedSize], ...]:
    return tuple((parse_size(front, unit), envelope_named(envelope)) for front, envelope in pairs)


CARDS: dict[Unit, tuple[tuple[Size, NamedSize], ...]] = {
    "in": _cards(
        "in",
        ("4-1/4 x 5-1/2", "US A2 envelope"),
        ("4-1/2 x 6-1/4", "US A6 envelope"),
        ("5 x 7", "US A7 envelope"),
        ("5-1/4 x 5-1/4", "5½ square envelope"),
    ),
    "mm": _cards(
        "mm",
        ("105 x 148", "ISO C6 envelope"),
        ("99 x 210", "ISO DL envelope"),
        ("148 x 210", "ISO C5 envelope"),
        ("135 x 135", "5½ square envelope"),
    ),
}
"""Closed fronts and their envelopes, the most usual first; tried one after another where no card is named."""

_RARER: tuple[tuple[Size, NamedSize], ...] = (
    *_cards("in", ("3-1/2 x 8-1/2", "slimline envelope")),
    *_cards("mm", ("74 x 105", "ISO C7 envelope")),
)


def front_for(envelope: NamedSize) -> Size | None:
    """The closed front that usually goes into an envelope; None where there is no usual one."""
    known = (*CARDS["in"], *CARDS["mm"], *_RARER)
    return next((front for front, usual in known if usual.size in (envelope.size, envelope.size.turned)), None)
