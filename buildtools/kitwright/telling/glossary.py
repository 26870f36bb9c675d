"""Which words of the glossary lead there where they are first used on a kit's page, and how they are written there.

The glossary itself is the page of words: its headings are the terms, each of several parted by commas.
"""

from __future__ import annotations

EVERYDAY = frozenset(
    {
        "kit",
        "printable",
        "look",
        "label",
        "code",
        "reveal",
        "sample",
        "design team",
        "guest",
        "piece",
        "panel",
        "strip",
        "border",
        "gap",
        "decoration",
        "revision",
        "old printable",
        "weight",
        "patterned paper",
        "cardstock",
        "foam",
        "edge-to-edge cut",
        "measure",
        "erratum",
        "errata",
        "workbook",
        "pocket",
    }
)
"""Terms that a reader understands without a link."""

FORMS: dict[str, tuple[str, ...]] = {
    "one-way paper": ("one-way",),
    "cutting guide": ("guide",),
    "score": ("scored", "scoring", "score line"),
    "leftover": ("left over",),
    "card base": ("base",),
    "mat": ("matted",),
    "side fold": ("side-fold",),
    "top fold": ("top-fold",),
    "sentiment": ("sentiment strip", "greeting"),
    "too narrow to hold": ("too narrow for the trimmer",),
    "cut file": ("cutting file",),
}
"""Other ways in which a term is written, besides its plural."""


def written(term: str) -> tuple[str, ...]:
    """All ways in which a term of the glossary may be written on a page, in lower case; none for everyday ones."""
    if term in EVERYDAY:
        return ()
    return tuple(form + end for form in (term, *FORMS.get(term, ())) for end in ("", "es" if form.endswith("ch") else "s"))
