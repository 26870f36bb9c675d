"""The colours of pictures: a club's palette (`kitwright.schemes`), and stand-ins for patterned paper.

The stand-ins are the same for every club. They step evenly in lightness (about 8 to 12 L*
apart), so that they differ in a grey print as well.
Contrast is measured in the tests against WCAG 2.2, 1.4.3 and 1.4.11.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from kitwright.colours import RGB, parts
from kitwright.exact import Exact
from kitwright.schemes import HOUSE, Palette, Scheme

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


@dataclass(frozen=True, slots=True)
class Ink:
    """A colour by name, at a strength between 0 (bare paper) and 1."""

    name: str
    """A name from `PAPERS`, or a role of the light scheme."""
    strength: Fraction = Exact(1)
    """How much of it; the rest is paper."""

    def weaker(self, factor: Fraction) -> Ink:
        """The same colour, nearer to bare paper."""
        return Ink(self.name, self.strength * factor)


@lru_cache(maxsize=4096)
def rgb(ink: Ink | str, palette: Palette = HOUSE) -> RGB:
    """Red, green and blue, each 0 to 255, mixed with the picture's paper; never transparent."""
    if isinstance(ink, str):
        ink = Ink(ink)
    full, paper = parts(PAPERS.get(ink.name) or palette.light[ink.name]), parts(palette.light["paper"])
    red, green, blue = (int(p + (c - p) * ink.strength + Exact(1, 2)) for c, p in zip(full, paper))
    return red, green, blue


def css_variables(scheme: Scheme) -> str:
    """The scheme as CSS custom properties, one a line: `--kw-paper: #FCFAF5;`."""
    return "\n".join(f"--kw-{name}: {value};" for name, value in scheme.items())
