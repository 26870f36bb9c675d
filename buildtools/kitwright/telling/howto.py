"""What a kit's structured data call its supplies and tools."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.telling.kitpage import at_hand, decorations, envelopes_of, makes_text, paper_kind
from kitwright.telling.words import number
from kitwright.units import size_text
from kitwright.work.worked import Worked

Named = tuple[str, str]
"""What it is called, and how many; the second is empty where nobody counts."""


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
    yield "adhesive for paper", ""
    if any(placed.raised for face in worked.every_face for side in face.every for placed in side.stack):
        yield "foam squares or foam tape", ""
    for name, _ in decorations(worked):
        yield name, ""


def tools(worked: Worked) -> Iterator[str]:
    """What is used and stays."""
    yield "paper trimmer"
    if any(design.base.scored.scores for design in worked.designs):
        yield "scoring tool"
    pieces = worked.kit.spec.pieces.values()
    if any(piece.notch or (piece.shape and piece.shape.tag) for piece in pieces):
        yield "small sharp scissors"
    if any(piece.made_with and piece.made_with.tool == "die" for piece in pieces):
        yield "die"
    if any(
        (piece.made_with and piece.made_with.tool == "punch")
        or (piece.notch and piece.notch.made_with != "scissors")
        or (piece.shape and piece.shape.tag)
        for piece in pieces
    ):
        yield "punch"
