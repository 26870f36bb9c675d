"""Words of the page "What a sheet gives": which sheet, how many fronts of what, and how they are cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitwright.proposing.beforehand import Question
from kitwright.proposing.records import Proposal
from kitwright.telling.layout_names import lies
from kitwright.telling.proposals import reason, sizes
from kitwright.telling.words import article, span_text, spelled
from kitwright.units import length_text, size_text

TITLE = "What a sheet gives"
DESCRIBED = "Plain card fronts that come out of one common sheet, each with its sizes and a picture of the cuts. No kit stands behind them."


@dataclass(frozen=True, slots=True)
class Told:
    """One layout in words, in the unit of its cards."""

    title: str
    unit: str
    each: str
    """The card, and the pieces on it."""
    good: str
    """What is left, how many measures it takes, how short a sheet may be."""


def says(proposals: Sequence[Proposal]) -> str:
    """What stands beside a sheet while its part is closed; empty where it gives nothing plain."""
    cards = [one.cards for one in proposals]
    return f"{span_text(min(cards), max(cards))} fronts" if cards else "nothing plain"


def fronts_alt(sheet: str, fronts: int) -> str:
    """What the row of fronts shows beside a sheet's name."""
    return f"{spelled(fronts).capitalize()} fronts from one {sheet}"


def layout(question: Question, one: Proposal) -> Told:
    """One layout of a question."""
    side, unit, envelope = one.sides[0], question.unit, one.sides[0].card.envelope
    into = f", for {article(envelope.name)} {envelope.name}" if envelope else ""
    title = f"One {question.wish.stocks[0].sheet.name}: {spelled(one.cards)} fronts of {lies(one)}{into}"
    band = f", a band of {length_text(side.band.height, unit)}" if side.band else ""
    edge = f"border and gap {length_text(side.border, unit)}{band}"
    return Told(title, unit, f"{size_text(side.card.closed, unit)}, on each {', '.join(sizes(one, unit))}; {edge}", reason(one, unit))
