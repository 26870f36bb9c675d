"""Words on the pictures of proposed layouts, and for those who can't see them."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.card.face import Face
from kitwright.proposing.records import Proposal
from kitwright.telling.drawn import front_alt, guide_alt
from kitwright.telling.words import number


def cards_said(cards: int) -> str:
    """How many of the batch look so."""
    return number(cards, "card", "cards")


def sheets_said(sheets: int) -> str:
    """How many sheets of a paper are cut so."""
    return number(sheets, "sheet", "sheets")


def plate_title(proposal: Proposal) -> str:
    return f"Layout {proposal.number}"


def plate_alt(faces: Iterable[Face], proposal: Proposal, unit: str) -> str:
    """The card and its sheets."""
    said = [front_alt(face, unit) for face in faces]
    for cut in proposal.cuts:
        sheets = sum(n for _, n in cut.stocks)
        said.append(f"{number(sheets, 'sheet', 'sheets')} cut so: {guide_alt(cut.tree, unit)}")
    return f"Layout {proposal.number}. {' '.join(said)}"
