"""Cutting mats: the sheets that carry paper through an electronic cutter, by their measure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from kitwright.papers import sheet_named
from kitwright.sources import PRACTICE, Known
from kitwright.telling.words import listed
from kitwright.units import Length, Size, parse_size, size_text


@dataclass(frozen=True, slots=True)
class Mat:
    """A cutting mat as it goes into the cutter, its leading edge at the top."""

    name: str
    """Its measure or sheet size, as it is shown."""
    size: Size

    @property
    def key(self) -> str:
        """Its name as a part of a path: `12x12in`, `a4`."""
        plain = (
            self.name.replace(" × ", "x").replace("½", "-1-2").replace("¼", "-1-4").replace("¾", "-3-4").replace("⁄", "-").replace("/", "-")
        )
        return re.sub(r"[^a-z0-9.-]+", "", plain.lower())


def mat_named(text: str, unit: str = "in") -> Mat:
    """A mat by its measure, such as `12x12 in`, or by the sheet it is as large as, such as `A4`.

    Raises:
        UserError: not a size.
    """
    named = sheet_named(text, unit)
    other = re.search(r"(mm|cm|in)\W*$", text.strip().lower())
    # In another unit than the kit's it is called as it was typed: in the kit's own it is no round number.
    typed = " × ".join(part.strip() for part in re.split("[x×X]", text.strip())) if other and other[1] != unit else ""
    return Mat(named.name or typed or size_text(named.size, unit), named.size)


MATS = (
    Mat("12 × 12 in", parse_size("12 x 12")),
    Mat("12 × 24 in", parse_size("12 x 24")),
    Mat("A4", parse_size("210 x 297 mm")),
    Mat("A3", parse_size("297 x 420 mm")),
)
"""Mats for which layouts are made when none is chosen."""


def known() -> tuple[Known, ...]:
    """What cutting mats are sold as."""
    return (Known("Cutting mats", listed([mat.name for mat in MATS]), PRACTICE),)


RIM = Length(Fraction(1, 4))
"""Along every edge of a mat where nothing is cut, unless said."""
GAP = Length(Fraction(1, 16))
"""Between neighbours, unless said."""
EDGE = Length(Fraction(1, 8))
"""How far pieces move in from the sheet's edge where there is room."""
