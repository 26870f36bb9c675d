"""Names in a spec that are unknown, or mean something else than is asked for."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.kit.names import What
from kitwright.telling.words import listed
from kitwright.units import Size, size_text


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


def which_paper(label: str, papers: tuple[str, ...], in_words: bool) -> Said:
    example = f"{label} {papers[0]}" if in_words else f"{{piece: {label}, paper: {papers[0]}}}"
    return f"{label} comes in {listed(papers)}, and this does not say which", f"name its paper: {example}"


def unknown(what: What, name: str, near: str | None, known: tuple[str, ...]) -> Said:
    said = name if name.strip() else f"“{name}”"
    return f"there is no {what} {said} in this kit", f"did you mean {near}?" if near else f"known here: {', '.join(known)}"


def other_kind(what: What, name: str, other: What, known: tuple[str, ...]) -> Said:
    return f"there is no {what} {name} in this kit: {name} is a {other}", f"{what}s here: {', '.join(known)}"


def no_printed_back(paper: str) -> Said:
    return f"{paper} has no printed back", "describe its back under papers, or use its front"


def not_there_yet(piece: str, on: str, there: tuple[str, ...]) -> Said:
    return f"{piece} lies on {on}, which is not on the card before it", f"list {on} first, or lay {piece} on one of: {', '.join(there)}"


# --- triangles ------------------------------------------------------------------------------------


def pocket_upside_down(label: str) -> Said:
    return (
        f"{label} is a pocket, and upside down it would open at the other edge",
        f"take out “upside down”, and say under {label} which edge is open",
    )


def point_of_no_triangle(label: str) -> Said:
    return f"{label} is no triangle, so it has no point to be set on", f"give {label} the line  shape: triangle,  or turn it"


def pinwheel_of_others(label: str, size: Size, unit: str) -> Said:
    return (
        f"a pinwheel is made of halves of squares, and {label} is {size_text(size, unit)}",
        f"give {label} the line  shape: triangle  and a size as wide as it is high",
    )


def pinwheel_uneven(labels: tuple[str, ...]) -> Said:
    return (
        f"{listed([*labels])} are not alike, and a pinwheel takes triangles of one size and one diagonal",
        "make them alike, or name one of them",
    )
