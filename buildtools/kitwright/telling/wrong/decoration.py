"""Decoration that what carries it does not hold."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.shapes import ground_text
from kitwright.units import Length, Size, length_text, size_text


def too_large(name: str, size: Size, on: str, room: Size, unit: str) -> Said:
    return (
        f"{name}, {size_text(size, unit)}, is larger than {ground_text(on)}, {size_text(room, unit)}, which carries it",
        "make it smaller or lay it on something larger, or say  meant: larger",
    )


def past_the_edge(name: str, by: Length, side: str, on: str, unit: str) -> Said:
    return (
        f"{name} reaches {length_text(by, unit)} past the {side} edge of {ground_text(on)}, which carries it",
        "move it in, or say  meant: overhang",
    )


def under_foam(name: str, on: str, label: str, whole: bool) -> Said:
    return (
        f"{name} lies on {ground_text(on)}, {'' if whole else 'half '}under {label}, which stands on foam",
        f"say  on: {label}, or move it aside" if whole else "move one of the two aside, or say  meant: overhang",
    )
