"""The colours of pictures: a club's palette (`kitwright.schemes`), and those of paper (`kit.looks`).

The named ones of paper are the same for every club. They step evenly in lightness (about 8 to 12 L*
apart), so that they differ in a grey print as well.
Contrast is measured in the tests against WCAG 2.2, 1.4.3 and 1.4.11.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from kitwright.colours import RGB, parts
from kitwright.exact import Exact
from kitwright.kit.looks import paper_colour
from kitwright.schemes import HOUSE, Palette, Scheme


@dataclass(frozen=True, slots=True)
class Ink:
    """A colour by name, at a strength between 0 (bare paper) and 1."""

    name: str
    """A name from `PAPERS`, a colour as `#rrggbb`, or a role of the light scheme."""
    strength: Fraction = Exact(1)
    """How much of it; the rest is paper."""
    opacity: Fraction = Exact(1)
    """How much of what lies below it covers; all, but for what is seen through."""

    def weaker(self, factor: Fraction) -> Ink:
        """The same colour, nearer to bare paper."""
        return Ink(self.name, self.strength * factor, self.opacity)


@lru_cache(maxsize=4096)
def rgb(ink: Ink | str, palette: Palette = HOUSE) -> RGB:
    """Red, green and blue, each 0 to 255, mixed with the picture's paper; its opacity is the pen's matter."""
    if isinstance(ink, str):
        ink = Ink(ink)
    full = parts(palette.light[ink.name]) if ink.name in palette.light else paper_colour(ink.name)
    paper = parts(palette.light["paper"])
    red, green, blue = (int(p + (c - p) * ink.strength + Exact(1, 2)) for c, p in zip(full, paper))
    return red, green, blue


def css_variables(scheme: Scheme) -> str:
    """The scheme as CSS custom properties, one a line: `--kw-paper: #FCFAF5;`."""
    return "\n".join(f"--kw-{name}: {value};" for name, value in scheme.items())
