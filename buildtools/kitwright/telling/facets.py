"""The page of all kits in words: what its facets and their values are called, and the lines of a kit in its list."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from kitwright.telling.folds import name_text
from kitwright.telling.words import listed, number, sheets_text, spelled
from kitwright.units import Length, Size, length_text, sides_text, size_text

Both = tuple[str, str]
"""The same in inches and in millimetres; both alike where there is no unit in it."""

CARD, SIZE, ENVELOPE, FOLD, SHEET, PAPERS, SHEETS, STOCK, UP, MAKES, CUTS, LEFT, SLACK, TECHNIQUE, OTHER, ALSO = (
    "card",
    "size",
    "envelope",
    "fold",
    "sheet",
    "papers",
    "sheets",
    "cardstock",
    "up",
    "makes",
    "cuts",
    "left",
    "short",
    "technique",
    "other",
    "also",
)
"""The keys of facets, as they stand in addresses: they never change."""
BEFORE_TAGS = (CARD, SHEET, SHEETS, PAPERS, UP, MAKES, SIZE, ENVELOPE, FOLD, STOCK, CUTS, LEFT, SLACK, TECHNIQUE)
"""The order of facets; kinds of tags come next, then these."""
AFTER_TAGS = (OTHER, ALSO)
FIRST = (CARD, SHEET, SHEETS)
"""Those that stand open."""
TITLES = {
    CARD: "Card",
    SIZE: "Card size",
    ENVELOPE: "Envelope",
    FOLD: "Fold",
    SHEET: "Patterned sheet",
    PAPERS: "Patterned papers",
    SHEETS: "Patterned sheets needed",
    STOCK: "Cardstock sheet",
    UP: "Paper with an up",
    MAKES: "Makes",
    CUTS: "Cuts for the batch",
    LEFT: "Left over of the patterned sheets",
    SLACK: "A sheet may be short by",
    TECHNIQUE: "Technique",
    OTHER: "Other tags",
    ALSO: "Also",
}
LABELS = {
    "one-way-drawn": "one-way paper can be cut as drawn",
    "one-way-same": "one-way paper takes no more sheets",
    "one-way-own": "its own paper is one-way",
    "corrected": "corrected",
    "cut-files": "with cut files",
    "designs": "several designs",
    "looks": "several looks",
    "half-sheets": "half sheets",
    "double-sided": "double-sided paper",
    "old": "an old printable",
    "upcoming": "upcoming",
    "in": "drawn up in inches",
    "mm": "drawn up in millimetres",
    "flat": "not folded",
}
QUICK = "quick"
OTHERWISE = {
    QUICK: ("quick",),
    "one-way-own": ("one-way", "one-way paper", "directional paper"),
    "double-sided": ("double-sided",),
    "in": ("inches",),
    "mm": ("metric",),
}
"""Other words for a value, by its key."""


def counted(n: str, what: str) -> Both:
    """A whole number of something, as a tag may say it: `2 papers`, `two papers`."""
    many = int(n)
    things = what if many == 1 else f"{what}s"
    return f"{many} {things}", f"{spelled(many)} {things}"


@lru_cache(maxsize=1024)
def size_both(size: Size) -> Both:
    """A size in both units."""
    return size_text(size, "in"), size_text(size, "mm")


@lru_cache(maxsize=1024)
def length_both(length: Length) -> Both:
    """A length in both units, as the least that a sheet may lack."""
    return f"{length_text(length, 'in')} or more", f"{length_text(length, 'mm')} or more"


def quick_both(strokes: int, steps: int) -> Both:
    """What is called quick, by its bounds."""
    return plain(f"quick: up to {strokes} strokes a card, {steps} steps")


def plain(text: str) -> Both:
    """What is the same in both."""
    return text, text


def fold_both(fold: str) -> Both:
    """A fold by its name."""
    return plain(name_text(fold))


def up_to(n: int, what: str) -> Both:
    """`up to 4 sheets`."""
    return plain(f"up to {number(n, what, what + 's')}")


def more_than(n: int, what: str) -> Both:
    """`more than 8 sheets`."""
    return plain(f"more than {number(n, what, what + 's')}")


def share_up_to(n: int) -> Both:
    """`up to 10 %`."""
    return plain(f"up to {n} %")


def share_more(n: int) -> Both:
    """`more than 30 %`."""
    return plain(f"more than {n} %")


def between(first: int, last: int | None) -> Both:
    """`5 to 8 cards`, `17 cards or more`."""
    return plain(f"{first} to {last} cards" if last else f"{first} cards or more")


def papers_both(papers: int) -> Both:
    """`1 paper`."""
    return plain(number(papers, "paper", "papers"))


def cards_line(cards: int, papers: int, sheets: Fraction) -> str:
    """`12 cards · 2 sheets`; where papers are more or fewer than sheets, `12 cards · 4 papers, 2 sheets`."""
    taken = sheets_text(sheets) if sheets else ""
    if papers and papers != sheets:
        taken = f"{number(papers, 'paper', 'papers')}, {taken}"
    return " · ".join(filter(None, (number(cards, "card", "cards"), taken)))


@lru_cache(maxsize=1024)
def sizes_both(sizes: tuple[Size, ...], names: tuple[str, ...] = ()) -> Both:
    """`5¼ × 5¼ in`, `6 × 6 and 12 × 12 in`, with names `8 × 8 in and A4`; nothing where there are none."""

    def said(unit: str) -> str:
        figures = [sides_text(size, unit) for size in sizes]
        return listed([*figures[:-1], *(f"{last} {unit}" for last in figures[-1:]), *names])

    return said("in"), said("mm")
