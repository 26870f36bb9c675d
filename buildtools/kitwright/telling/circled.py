"""What is circled on the drawings of a correction, in words."""

from __future__ import annotations

from collections.abc import Mapping

from kitwright.telling.words import listed, number
from kitwright.units import Size, size_text

FIRST_ONLY = "Circled where it shows first; the others are alike."


def circled_text(pieces: Mapping[str, int], sizes: Mapping[str, Size], cuts: int, places: int, score: bool, unit: str) -> str:
    """`Circled: 3 × B of 3¾ × ¾ in and 2 cuts.`: pieces by label, cuts, other places, and the score line of a base."""
    told = [f"{n} × {label} of {size_text(sizes[label], unit)}" for label, n in pieces.items()]
    told += [number(cuts, "cut", "cuts")] if cuts else []
    told += [number(places, "place", "places")] if places else []
    told += ["the score line"] if score else []
    return f"Circled: {listed(told)}."


def drawing_text(on: str, index: int, name: str, several: bool, design: str = "") -> str:
    """Which drawing it is: a sheet, the front or one of several, the base; of which design."""
    of = f" of {design}" if design else ""
    if on == "base":
        return f"The card base{of}"
    if on == "front":
        return f"The card front{of}: {name}" if several else f"The card front{of}"
    return f"Sheet {index + 1}, {name}"


def revision_text(number: int) -> str:
    """What a drawing is called."""
    return f"Revision {number}"
