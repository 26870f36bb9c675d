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
    left: float
    """Binder margin: wide enough for punched holes."""
    right: float
    top: float
    bottom: float
    """Up to the text; the footer hangs below it."""

    @property
    def width(self) -> float:
        """Of the text."""
        return self.page[0] - self.left - self.right

    @property
    def height(self) -> float:
        """Of the text."""
        return self.page[1] - self.top - self.bottom


# A4 is narrower and longer: it gives up less at the sides and more at head and foot.
EDITIONS: dict[EditionName, Edition] = {
    "letter": Edition("Letter", LETTER, left=68, right=46, top=46, bottom=58),
    "a4": Edition("A4", A4, left=66, right=43, top=54, bottom=64),
}
"""Editions by the name under which they are asked for."""
