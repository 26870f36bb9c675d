"""Shapes and notches that no scissors can cut."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed, typed_size
from kitwright.units import Length, Size, figure, length_text, on_grid, size_text


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


def trapezoid_too_slanted(label: str, unit: str, end: str, across: Length, most: Length) -> Said:
    return (
        f"{label} is {length_text(across, unit)} across at the {end}: its two slanted cuts cross before they are through",
        f"{length_text(most, unit)} is the most, where they meet in a point",
    )


def leans_too_far(label: str, unit: str, by: Length, across: Length) -> Said:
    return (
        f"{label} leans by {length_text(by, unit)}, and is {length_text(across, unit)} across: nothing stays between its slanted cuts",
        f"lean it by less than {length_text(across, unit)}",
    )


def scallops_uneven(label: str, unit: str, width: Length, edge: str, along: Length, nearest: Length | None) -> Said:
    each, few = length_text(width, unit), along // width
    ends = [length_text(width * n, unit) for n in (few, few + 1) if n]
    wider = f"make the room along it {listed(ends, 'or')}"
    exact = figure(nearest, unit, plain=True) if nearest and on_grid(nearest, unit) else ""
    if nearest:
        wider += f", or the half circles {length_text(nearest, unit)} wide" + (f":  width: {exact}" if exact else "")
    return f"half circles of {each} don’t come out even on the {length_text(along, unit)} at the {edge} of {label}", wider


def thumb_too_large(label: str, unit: str, thumb: Length, most: Length) -> Said:
    return f"a thumb notch {length_text(thumb, unit)} across cuts {label} to pieces", f"make it smaller than {length_text(most, unit)}"


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
