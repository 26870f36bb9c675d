"""The names that a paper's look and colours may have in a spec; `drawing` knows how each is drawn."""

from __future__ import annotations

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

COLOURS = ("white", "linen", "butter", "blush", "sky", "sage", "clay", "plum", "night")
"""The colours a kit may name, from light to dark."""
