"""The editions of a printable, each laid out for its own page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reportlab.lib.pagesizes import A4, LETTER

EditionName = Literal["letter", "a4"]


@dataclass(frozen=True, slots=True)
class Edition:
    """A page and its margins, in points."""

    name: str
    """As readers know it: `Letter`."""
    page: tuple[float, float]
    """Width × height, upright."""
    side: float
    """Left and right alike, wide enough for punched holes: the other side of the sheet is punched at its right."""
    top: float
    bottom: float
    """Up to the text; the footer hangs below it."""

    @property
    def left(self) -> float:
        """Where the text begins."""
        return self.side

    @property
    def width(self) -> float:
        """Of the text."""
        return self.page[0] - 2 * self.side

    @property
    def height(self) -> float:
        """Of the text."""
        return self.page[1] - self.top - self.bottom


# A4 is narrower and longer: it gives up less at the sides and more at head and foot.
EDITIONS: dict[EditionName, Edition] = {
    "letter": Edition("Letter", LETTER, side=57, top=40, bottom=52),
    "a4": Edition("A4", A4, side=54.5, top=46, bottom=52),
}
"""Editions by the name under which they are asked for."""
