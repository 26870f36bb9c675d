"""Materials in words: what each is called, and what it asks of adhesive, ink and blade."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kitwright.materials import Kind


@dataclass(frozen=True, slots=True)
class Handling:
    """What a crafter has to know of one kind."""

    name: str
    """What it is called: `clear film`."""
    glue: str = ""
    """How it is fixed; empty where anything holds it."""
    ink: str = ""
    """What may be stamped or printed on it; empty where anything may."""
    cut: str = ""
    """How it is cut; empty where a trimmer cuts it as it cuts paper."""
    needs: str = ""
    """What to have at hand for it, besides what paper takes."""


HANDLING: dict[Kind, Handling] = {
    "patterned": Handling("patterned paper"),
    "cardstock": Handling("cardstock"),
    "vellum": Handling(
        "vellum",
        glue="Adhesive shows through vellum: put thin lines of it only behind what covers it.",
        ink="Ink dries slowly on vellum: leave it flat and untouched for some minutes, or emboss it with heat.",
        needs="adhesive in thin lines, or as fine dots",
    ),
    "film": Handling(
        "clear film",
        glue="Adhesive shows through film: keep it under the frame or at a hidden edge, and touch film only at its edges.",
        ink="Only solvent ink or a permanent pen stays on film; other ink wipes off, and film does not go through a printer unless it is made for it.",
        needs="solvent ink or a permanent pen, if you print on it",
    ),
    "chipboard": Handling(
        "chipboard",
        glue="Chipboard is heavy: fix it with strong adhesive all over, and press it under a book until it holds.",
        ink="Chipboard drinks ink: stamp it twice, or stamp paper and glue that on.",
        cut="Cut chipboard with a knife along a metal ruler, in several light strokes; a trimmer mostly does not take it.",
        needs="strong adhesive, a knife and a metal ruler",
    ),
    "foam": Handling(
        "foam sheet",
        glue="Foam lets wet glue slip: use strong double-sided tape.",
        ink="Stamp foam lightly: it gives way, and fine lines fill in.",
        cut="Cut foam with a sharp blade in one long stroke, without pressing it flat.",
        needs="strong double-sided tape, a sharp blade",
    ),
}


def kind_text(kind: Kind) -> str:
    """What a kind is called."""
    return HANDLING[kind].name


def gluing(kinds: Iterable[Kind]) -> list[str]:
    """What there is to know before these are fixed, a sentence or two for each."""
    return [HANDLING[kind].glue for kind in dict.fromkeys(kinds) if HANDLING[kind].glue]


def inking(kinds: Iterable[Kind]) -> list[str]:
    """What there is to know before these are stamped or printed."""
    return [HANDLING[kind].ink for kind in dict.fromkeys(kinds) if HANDLING[kind].ink]


def cutting(kinds: Iterable[Kind]) -> list[str]:
    """What there is to know before these are cut."""
    return [HANDLING[kind].cut for kind in dict.fromkeys(kinds) if HANDLING[kind].cut]
