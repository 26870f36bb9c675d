"""Amounts as a hand writes them: `a sheet of Breeze and two of Barley`."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from kitwright.papers import NamedSize
from kitwright.telling.words import listed, number, sheets_text, spelled
from kitwright.units import size_text
from kitwright.work.worked import Worked

HALF = Fraction(1, 2)


def batch_text(worked: Worked) -> str:
    """What a kit makes: `nine cards`, `16 cards in two designs`."""
    cards = worked.kit.spec.cards
    made = "one card" if cards == 1 else f"{spelled(cards)} cards"
    return f"{made} in {spelled(len(worked.designs))} designs" if len(worked.designs) > 1 else made


def envelopes_text(n: int, envelope: NamedSize, unit: str) -> str:
    """Envelopes of the batch: `10 US A2 envelopes`."""
    if not envelope.name:
        return f"{number(n, 'envelope', 'envelopes')} of {size_text(envelope.size, unit)}"
    if not envelope.name[0].isalpha():
        # Two figures in a row are read as one.
        return f"{number(n, 'envelope', 'envelopes')}, {envelope.name}"
    return number(n, envelope.name, f"{envelope.name}s")


def sheets_needed(worked: Worked) -> str:
    """All sheets of the batch in one phrase."""
    return amounts_text((worked.kit.papers[plan.paper].name, plan.sheets) for plan in worked.plans)


def amounts_text(amounts: Iterable[tuple[str, Fraction]]) -> str:
    """Sheets by the name of their paper, those of which there are as many taken together."""
    alike: dict[Fraction, list[str]] = {}
    for name, sheets in amounts:
        alike.setdefault(sheets, []).append(name)
    said, short = [], False
    for sheets, names in alike.items():
        # “two of Barley” stands for sheets only behind whole ones.
        whole = sheets.denominator == 1
        said.append(f"{_counted(sheets, short and whole)} {'each ' if len(names) > 1 else ''}of {listed(names)}")
        short = whole
    if len(said) > 1 and any(len(names) > 1 for names in alike.values()):
        return f"{', '.join(said[:-1])}, and {said[-1]}"
    return listed(said)


def _counted(sheets: Fraction, short: bool) -> str:
    """`a sheet`, `half a sheet`, `two and a half sheets`; `two` where sheets are understood."""
    if short:
        return spelled(int(sheets))
    if sheets == 1:
        return "a sheet"
    if sheets > 1 and sheets % 1 in (0, HALF):
        return f"{spelled(int(sheets))}{' and a half' if sheets % 1 else ''} sheets"
    return sheets_text(sheets)
