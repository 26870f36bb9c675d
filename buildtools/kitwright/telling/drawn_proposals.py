"""Words on the pictures of proposed layouts, and for those who can't see them."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.card.face import Face
from kitwright.proposing.records import Proposal, SheetCut
from kitwright.telling.drawn import front_alt, guide_alt
from kitwright.telling.words import number


def cards_said(cards: int) -> str:
    """How many of the batch look so."""
    return number(cards, "card", "cards")


def sheets_said(sheets: int, each: bool = False, short: bool = False) -> str:
    """How many sheets of a paper are cut so, or of each of several: `2 sheets`, `1 sheet of each`, where room is short `1 of each`."""
    if each:
        return f"{sheets} of each" if short else f"{number(sheets, 'sheet', 'sheets')} of each"
    return number(sheets, "sheet", "sheets")


def plate_title(proposal: Proposal) -> str:
    return f"Layout {proposal.number}"


def fronts_alt(faces: Iterable[Face], unit: str) -> str:
    """Its cards."""
    return " ".join(front_alt(face, unit) for face in faces)


def sheet_alt(cut: SheetCut, unit: str) -> str:
    """A way in which sheets are cut."""
    return f"{number(sum(n for _, n in cut.stocks), 'sheet', 'sheets')} cut so: {guide_alt(cut.tree, unit)}"
