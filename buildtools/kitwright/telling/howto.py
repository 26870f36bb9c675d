"""What a kit's structured data call its supplies and tools."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.telling.kitpage import at_hand, decorations, envelopes_of, makes_text, paper_kind
from kitwright.telling.words import number
from kitwright.units import size_text
from kitwright.work.traits import Used, used_by
from kitwright.work.worked import Worked

Named = tuple[str, str]
"""What it is called, and how many; the second is empty where nobody counts."""

SUPPLIES: dict[Used, str] = {"adhesive": "adhesive for paper", "foam": "foam squares or foam tape"}
TOOLS: dict[Used, str] = {
    "trimmer": "paper trimmer",
    "scoring tool": "scoring tool",
    "scissors": "small sharp scissors",
    "die": "die",
    "punch": "punch",
}


def yield_text(worked: Worked) -> str:
    """`12 cards in three looks`."""
    return makes_text(worked)


def supplies(worked: Worked) -> Iterator[Named]:
    """What is used up: papers with their sheets, envelopes, adhesive, decoration."""
    unit = worked.kit.spec.unit
    for plan in worked.plans:
        paper = worked.kit.papers[plan.paper]
        size = paper.size.name or size_text(paper.size.size, unit)
        yield f"{paper.name}, {paper_kind(paper)}, {size}", number(at_hand(plan), "sheet", "sheets")
    for n, envelope in envelopes_of(worked):
        yield envelope.name or f"envelope, {size_text(envelope.size, unit)}", str(n)
    yield from ((SUPPLIES[used], "") for used in used_by(worked) if used in SUPPLIES)
    for name, _ in decorations(worked):
        yield name, ""


def tools(worked: Worked) -> Iterator[str]:
    """What is used and stays."""
    yield from (TOOLS[used] for used in used_by(worked) if used in TOOLS)
