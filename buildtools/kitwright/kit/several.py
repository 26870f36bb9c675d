"""What the text of a kit of several designs gets wrong as a whole: told from the text itself, beside what the model refuses."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from kitwright.errors import Slips, UserError
from kitwright.kit.model import DESIGNED
from kitwright.kit.yamltext import Document
from kitwright.labels import slug

MOST_CARDS = 500
"""Cards in a batch, all designs together; as many as of one."""


def check_designs(document: Document) -> None:
    """Look over how a file tells of its designs; of one that has none there is nothing to tell.

    Raises:
        UserError: everything wrong, each with file and line.
    """
    designs, slips = document.data.get("designs"), Slips()
    if "designs" not in document.data or not isinstance(designs, dict) or not designs:
        # Where it is no list of designs at all, that is the one thing wrong.
        return
    for error in (*_beside(document), *_counts(document), *_names(document, designs)):
        slips.add(error)
    slips.stop()


def _beside(document: Document) -> Iterator[UserError]:
    """What belongs to a design, and stands at the top."""
    for word in DESIGNED:
        if word in document.data and word != "cards":
            yield UserError("designs.beside", place=document.place((word,)), word=word)


def _counts(document: Document) -> Iterator[UserError]:
    """Cards typed for all, and pieces for each card: both are counted from the designs."""
    data = document.data
    if isinstance(data.get("designs"), dict):
        each = [_number(design.get("cards")) if isinstance(design, dict) else None for design in data["designs"].values()]
        total = None if None in each else sum(filter(None, each))
        if total is not None and total > MOST_CARDS:
            yield UserError("designs.too-many-cards", place=document.place(("designs",)), total=total, most=MOST_CARDS)
        elif "cards" in data and total is not None and _number(data["cards"]) not in (None, total):
            yield UserError("designs.another-sum", place=document.place(("cards",)), said=_number(data["cards"]), total=total)
    pieces = data.get("pieces")
    for label, piece in pieces.items() if isinstance(pieces, dict) else ():
        if isinstance(piece, dict) and "per card" in piece and "papers" not in piece:
            # Beside “papers” it is out of place in any kit, and told there.
            said = piece["per card"]
            papers = tuple(map(str, said)) if isinstance(said, dict) else ()
            yield UserError("designs.per-card", place=document.place(("pieces", label, "per card")), label=label, papers=papers)


def _number(text: Any) -> int | None:
    return int(text) if isinstance(text, str) and re.fullmatch(r"[0-9]{1,6}", text.strip()) else None


def _names(document: Document, designs: dict[str, Any]) -> Iterator[UserError]:
    """Names that differ by no more than capital letters, spaces or dashes would be one link, and one file to many a disk."""
    seen: dict[str, str] = {}
    for name in designs:
        same = slug(name)
        if same in seen:
            yield UserError("designs.alike", place=document.place(("designs", name)), name=name, other=seen[same])
        seen.setdefault(same, name)
