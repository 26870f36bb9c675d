"""Names in a spec that are unknown, or mean something else than is asked for."""

from __future__ import annotations

from kitwright.errors import Said


def _given(text: str | None) -> str:
    return "this" if text is None else f"“{text[:40]}”"


def paper_for_a_piece(text: str, pieces: tuple[str, ...]) -> Said:
    return f"{_given(text)} is a paper, and a piece belongs here", f"pieces here: {', '.join(pieces)}"


def piece_for_a_paper(text: str, papers: tuple[str, ...]) -> Said:
    return f"{_given(text)} is a piece, and a paper belongs here", f"papers here: {', '.join(papers)}, or one of the club's"


def no_label(text: str | None) -> Said:
    return f"{_given(text)} is not a label", "a label is a capital letter, if need be with more after it: A, B, M2"


def no_short_name(text: str | None) -> Said:
    return f"{_given(text)} is not a short name", "use small letters, digits and dashes: river-stripe"
