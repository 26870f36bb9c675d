"""Colours of paper in words: for whoever hears a picture told, six signs say nothing."""

from __future__ import annotations

from kitwright.colours import lab
from kitwright.kit.looks import PAPERS, paper_colour


def colour_text(name: str) -> str:
    """A named colour as it is; any other by the nearest name, `nearly sage`."""
    if name in PAPERS:
        return name
    own = lab(paper_colour(name))

    def apart(other: str) -> int:
        it = lab(paper_colour(other))
        return (own.light - it.light) ** 2 + (own.green_red - it.green_red) ** 2 + (own.blue_yellow - it.blue_yellow) ** 2

    near = min(PAPERS, key=apart)
    return near if apart(near) == 0 else f"nearly {near}"
