"""What the search takes for one and the same, and what its results call a place.

The build indexes by this table, and hands it to the page's own script, so that what is typed is
taken as what was written. Words stand in their plain form: lower case, no accents, no plural s.
"""

from __future__ import annotations

from kitwright.units import VULGAR, Size, size_text

UNITS = {
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "mm": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "cm": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
}
"""Each way to write a unit."""

NUMBERS = {
    word: str(n)
    for n, word in enumerate(
        "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split(),
        1,
    )
} | {"thirty": "30", "forty": "40", "fifty": "50", "sixty": "60"}
"""Numbers that are written as words."""

TOGETHER = {
    "1 way": "oneway",
    "1 sheet wonder": "onesheet",
    "card stock": "cardstock",
    "card base": "cardbase",
    "half sheet": "halfsheet",
    "side fold": "sidefold",
    "top fold": "topfold",
    "gate fold": "gatefold",
    "z fold": "zfold",
    "cut file": "cutfile",
    "thank you": "thankyou",
}
"""Words that are one when they stand together. In the index their parts stand beside them."""

ALIKE = {
    "directional": "oneway",
    "colour": "color",
    "coloured": "colored",
    "centre": "center",
    "grey": "gray",
    "dsp": "patterned",
    "acetate": "film",
    "greyboard": "chipboard",
    "portrait": "upright",
    "horizontal": "landscape",
}
"""Words that lead to the same kits."""

COMMON = frozenset(
    "a about all also an and any are as at be been but by can do for from go had has have he her hi how i if in into is it its like many me more most much my no not of off on only or other our out she so some such than that the their them then there these they this to too up use was we what when where which who why will with you your".split()
)
"""Words that say nothing of a kit: left out of headings and prose, and of what is typed unless nothing else is."""

ASKING = frozenset("what mean meaning how why".split())
"""Words by which somebody asks for an explanation rather than for a kit."""

COUNTED = frozenset("card sheet piece page look design envelope base strip cut".split())
"""Things that are counted: a number before one only helps, and never empties the list."""

LABELLED = frozenset("piece label strip panel".split())
"""Before these, and after `does`, a single letter is a piece."""


def table() -> dict[str, object]:
    """All of it, for the page's script."""
    return {
        "vulgar": {glyph: f"{value.numerator}/{value.denominator}" for glyph, value in VULGAR.items()},
        "units": UNITS,
        "numbers": NUMBERS,
        "together": TOGETHER,
        "alike": ALIKE,
        "common": " ".join(sorted(COMMON)),
        "asking": " ".join(sorted(ASKING)),
        "counted": " ".join(sorted(COUNTED)),
        "labelled": " ".join(sorted(LABELLED)),
    }


def piece_found(label: str, size: Size, unit: str) -> str:
    """`Piece A, 1 × 3⅛ in`."""
    return f"Piece {label}, {size_text(size, unit)}"


def paper_found(name: str, sheet: Size, sheet_name: str | None, unit: str) -> str:
    """`Linen cardstock, Letter`, `Raspberry twist, 8 × 8 in`."""
    return f"{name}, {sheet_name or size_text(sheet, unit)}"


def tag_found(tag: str) -> str:
    """`Tag: raised strip`."""
    return f"Tag: {tag}"
