"""The names that a paper's look and colours may have in a spec, and what a colour is; `drawing` knows how each look is drawn."""

from __future__ import annotations

from kitwright.colours import RGB, parts

LOOKS = (
    "plain",
    "stripes",
    "pinstripes",
    "dots",
    "checks",
    "sprigs",
    "blossoms",
    "scatter",
    "waves",
    "diagonals",
    "chevrons",
    "herringbone",
    "leaves",
    "houses",
    "bunting",
)
"""The looks a kit may name."""

ONE_WAY = ("leaves", "houses", "bunting")
"""Those whose drawing itself has an up."""

PAPERS = {
    "white": "#FFFFFF",
    "linen": "#F3EAD9",
    "butter": "#F1D78F",
    "blush": "#F2A7A6",
    "sky": "#6DADD2",
    "sage": "#719569",
    "clay": "#AC562C",
    "plum": "#723459",
    "night": "#183150",
}
"""Stand-ins for the paper colours that a kit may name: white, and eight that differ in lightness and hue."""
COLOURS = tuple(PAPERS)
"""The colours a kit may name, from light to dark; any other is typed `#rrggbb`."""


def known_colour(name: str) -> bool:
    """Whether it is a named colour, or one of the kit's own, as `kit.fields.PaperColourField` reads it."""
    return name in PAPERS or name.startswith("#")


def paper_colour(name: str) -> RGB:
    """Red, green and blue of a paper's colour.

    Raises:
        KeyError: there is none of that name.
    """
    return parts(name if name.startswith("#") else PAPERS[name])
