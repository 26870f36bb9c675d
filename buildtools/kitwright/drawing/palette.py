"""The colours, one home for the web, the PDF and the pictures.

A maker's bench in daylight: near-white paper, blue-black ink, one strong accent for what
to do now, one quiet second colour, and stand-ins for patterned paper that step evenly in
lightness (about 8 to 12 L* apart), so that they differ in a grey print as well.
Contrast is measured in the tests against WCAG 2.2, 1.4.3 and 1.4.11.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

RGB = tuple[int, int, int]

LIGHT = {
    "paper": "#FCFAF5",  # the page and every picture
    "surface": "#F4EEE2",  # rulers, table heads, cards on the web
    "ink": "#1B2737",  # text, edges
    "soft": "#485463",  # second-rank text, dimension figures' lines
    "line": "#77818C",  # thin rules, hatching
    "accent": "#B73C1C",  # cut here, line up there; buttons
    "second": "#186575",  # links, marks
    "on-accent": "#FFFFFF",  # text on accent or second
}
"""Colours of the light scheme, and of every picture in both schemes."""

DARK = {
    "paper": "#141B24",
    "surface": "#1C252E",
    "ink": "#EBE7DF",
    "soft": "#ADB5BE",
    "line": "#76808A",
    "accent": "#EE8F63",
    "second": "#84C7D3",
    "on-accent": "#141B24",
}
"""Colours of the dark scheme of the web; pictures stay on their own light paper."""

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
    """A name from `PAPERS` or `LIGHT`."""
    strength: Fraction = Fraction(1)
    """How much of it; the rest is paper."""

    def weaker(self, factor: Fraction) -> Ink:
        """The same colour, nearer to bare paper."""
        return Ink(self.name, self.strength * factor)


@lru_cache(maxsize=1024)
def rgb(ink: Ink | str) -> RGB:
    """Red, green and blue, each 0 to 255, mixed with the picture's paper; never transparent."""
    if isinstance(ink, str):
        ink = Ink(ink)
    full, paper = _parts(PAPERS.get(ink.name) or LIGHT[ink.name]), _parts(LIGHT["paper"])
    red, green, blue = (int(p + (c - p) * ink.strength + Fraction(1, 2)) for c, p in zip(full, paper))
    return red, green, blue


def hex_text(colour: RGB) -> str:
    """A colour as `#rrggbb`."""
    red, green, blue = colour
    return f"#{red:02x}{green:02x}{blue:02x}"


def css_variables(scheme: dict[str, str]) -> str:
    """The scheme as CSS custom properties, one a line: `--kw-paper: #FCFAF5;`."""
    return "\n".join(f"--kw-{name}: {value};" for name, value in scheme.items())


def _parts(text: str) -> RGB:
    red, green, blue = (int(text[i : i + 2], 16) for i in (1, 3, 5))
    return red, green, blue
