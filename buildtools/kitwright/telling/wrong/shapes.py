"""Shapes and notches that no scissors can cut."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import typed_size
from kitwright.units import Length, Size, length_text, size_text


def notches_meet(label: str, unit: str, along: Length, depth: Length, notches: int) -> Said:
    meet = "its notches meet" if notches > 1 else "its notch cuts it through"
    return (
        f"{label} is {length_text(along, unit)} long, and {meet} at {length_text(depth, unit)} deep",
        "make the strip longer or the notch shallower",
    )


def punch_too_small(label: str, unit: str, tool: str, height: Length, least: Length) -> Said:
    return (
        f"your {tool} is too small to notch {label}, {length_text(height, unit)} tall",
        f"it must be {length_text(least, unit)} or larger; or make the notch with scissors",
    )


def no_circle(label: str, unit: str, size: Size) -> Said:
    side = min(size.width, size.height)
    return (
        f"{label} is to be a circle, but {size_text(size, unit)} is not as wide as it is high",
        f"write {typed_size(Size(side, side), unit)}, or  shape: oval",
    )


def corners_too_large(label: str, unit: str, across: Length, end: str, how: str, taken: Length, most: Length) -> Said:
    return (
        f"{label} is {length_text(across, unit)} across at the {end}, too little for corners {how} at {length_text(taken, unit)}",
        f"{length_text(most, unit)} is the most",
    )


def snipped_away(label: str, unit: str, snip: Length) -> Said:
    return f"opposite corners snipped at {length_text(snip, unit)} leave nothing of {label}", "snip less"


def arch_too_high(label: str, unit: str, end: str, rise: Length) -> Said:
    return (
        f"the half circle at the {end} of {label} would be {length_text(rise, unit)} high, more than the whole piece",
        "make the piece longer or narrower",
    )


def snips_too_large(label: str, unit: str, across: Length, end: str, most: Length) -> Said:
    return (
        f"{label} is {length_text(across, unit)} across at the {end}: its two snips take more",
        f"{length_text(most, unit)} is the most",
    )


def hole_breaks_edge(label: str, unit: str, hole: Length, inset: Length, end: str) -> Said:
    return (
        f"a hole {length_text(hole, unit)} across, {length_text(inset, unit)} from the {end} of {label}, breaks its edge",
        "make the hole smaller or set it further in",
    )


def no_window(label: str, unit: str, border: Length) -> Said:
    return f"a border of {length_text(border, unit)} leaves no window in {label}", "make the border narrower"


def window_too_small(label: str, unit: str, rounded: Length, most: Length) -> Said:
    return (
        f"the window of {label} is too small for corners rounded at {length_text(rounded, unit)}",
        f"{length_text(most, unit)} is the most",
    )


def window_breaks_edge(label: str, unit: str) -> Said:
    return f"the window of {label} breaks its edge", "make the window smaller or move it in"
