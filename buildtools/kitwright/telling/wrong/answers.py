"""What is wrong with a reader's question as a kit has it."""

from __future__ import annotations

from kitwright.errors import Said


def no_such_piece(piece: str, known: tuple[str, ...]) -> Said:
    return f"there is no piece {piece} in this kit", f"known here: {', '.join(known)}"


def no_such_paper(paper: str, known: tuple[str, ...]) -> Said:
    return f"this kit does not use a paper {paper}", f"its papers: {', '.join(known)}"
