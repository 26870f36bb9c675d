"""The type of the site: faces cut down to what pages write, and stand-ins of the reader's own until they have come.

A face comes in two files, so that a page loads the second only where it writes what that has: the first has what
English and sizes are written with, the second the other letters of Latin. A stand-in is type that the device has,
made as wide as ours, and standing on the same lines.

As wide on the whole is not as wide in every line, and a line that breaks elsewhere moves all below it. So a kit's
page that is the first a reader sees is painted in stand-ins, without waiting; ours comes after that, and is put in where nothing on the screen moves by it
(`theme/assets/fonts.js`). Every later page has it at hand, asks for it ahead and begins with it. What a first screen is set
in is *optional*: what is late all the same stays away until the next page.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from fractions import Fraction
from functools import cache as once
from pathlib import Path

from kitwright import cache
from kitwright.drawing.fonts import FAMILIES, LATIN, Font, subset_file, vertical, width

FACES = (
    Font("sans", "regular"),
    Font("sans", "italic"),
    Font("sans", "semibold"),
    Font("serif", "regular"),
    Font("serif", "italic"),
    Font("serif", "semibold"),
)
"""The faces the site serves. Semibold stands for whatever is bolder, too."""
EARLY = (Font("sans", "regular"), Font("serif", "semibold"), Font("sans", "semibold"), Font("serif", "regular"))
"""What a first screen is set in: its text, its headings, what stands out in its text, and what it is about."""
PLAIN = frozenset((*range(0x20, 0x7F), *map(ord, "\u00a0°²·×÷©½¼¾–—‘’“”…′″⁄⅓⅔⅛⅜⅝⅞−≈≤≥←↑→↓✓•\u2009\u202f")))
"""Code points in a face's first file."""
STAND_INS = Path(__file__).with_name("stand_ins.json")
"""How wide the sample is in type that devices have; `buildtools/stand_ins.py` measures it."""
SAMPLE = " ".join(
    """
    Cut the patterned sheet at 4 inches, keep the strip, turn it and cut on. Score the base and fold it on the line.
    Glue pieces A and B to the front of the card, square to its edges. What is left over makes two tags, 3 by 6 inches.
    """.split()
)
"""Words as pages have them, by which widths are held against one another."""
_WEIGHT = {"regular": ("400 500", "normal"), "italic": ("400 500", "italic"), "semibold": ("600 900", "normal")}
_CALLED = {"regular": "regular", "italic": "italic", "semibold": "bold"}
"""Which face of a device's stands in for which of ours."""
_DEVICES = {
    "sans": {"Arial": ("Arial", "Helvetica", "Liberation Sans", "Arimo"), "Roboto": ("Roboto",), "DejaVu Sans": ("DejaVu Sans",)},
    "serif": {
        "Times New Roman": ("Times New Roman", "Times", "Liberation Serif", "Tinos"),
        "DejaVu Serif": ("DejaVu Serif",),
        "Roboto": ("Roboto",),
    },
}
"""What is asked for in turn, by the family that was measured, with others of the same widths."""
_NAMED = {
    "regular": ("{}", "{} Regular"),
    "italic": ("{} Italic", "{} Oblique", "{}-Italic", "{}-ItalicMT"),
    "bold": ("{} Bold", "{}-Bold", "{}-BoldMT"),
}
"""How a face is named on devices."""


def files() -> dict[str, bytes]:
    """Every font file of the site, by name."""
    return files_of(FACES)


def files_of(fonts: Iterable[Font]) -> dict[str, bytes]:
    """The font files of some faces, by name."""
    return {_file(font, part): subset_file(font, points, "woff2") for font in fonts for part, points in enumerate(_parts())}


def names() -> list[str]:
    """The names of those files."""
    return [_file(font, part) for font in FACES for part in range(2)]


def early_names() -> list[str]:
    """The names of the files in which a first screen is set."""
    return [_file(font, 0) for font in EARLY]


def css() -> str:
    """The `@font-face` rules of ours and their stand-ins, and the two families with all that stands in for them."""
    return cache.value("font", cache.digest("css", STAND_INS.read_bytes()), _css)


def _css() -> str:
    rules = [_rule(font, part, "optional" if part == 0 and font in EARLY else "swap") for font in FACES for part in range(2)]
    # Until ours is at hand (fonts.js) its name is not said, so that nobody asks for it before the page is seen.
    waiting = f".kw-js:not(.kw-type) {{ --kw-sans: {_list('sans', ours=False)}; --kw-serif: {_list('serif', ours=False)}, serif; }}"
    return "\n".join([*rules, _borrowed(), waiting])


def borrowed_css() -> str:
    """The rules of the stand-ins alone, and the two families: for a page that has no type of ours yet."""
    return cache.value("font", cache.digest("borrowed", STAND_INS.read_bytes()), _borrowed)


def rules_of(fonts: Iterable[Font]) -> str:
    """The `@font-face` rules of some faces, put in whenever they have come."""
    return "\n".join(_rule(font, part, "swap") for font in fonts for part in range(2))


def _borrowed() -> str:
    rules = [_stand_in(font, device) for font in FACES for device in _DEVICES[font.family]]
    return "\n".join([*rules, f":root {{ --kw-sans: {_list('sans')}; --kw-serif: {_list('serif')}, serif; }}"])


def _list(family: str, *, ours: bool = True) -> str:
    """What a text may be set in, by preference."""
    return ", ".join(f'"{name}"' for name in ([FAMILIES[family]] if ours else []) + _stand_in_names(family))


def _file(font: Font, part: int) -> str:
    return f"{font.name.lower()}{'-more' if part else ''}.woff2"


@once
def _parts() -> tuple[frozenset[int], frozenset[int]]:
    return PLAIN, frozenset(LATIN) - PLAIN


def _rule(font: Font, part: int, display: str) -> str:
    weight, style = _WEIGHT[font.weight]
    return (
        f'@font-face{{font-family:"{FAMILIES[font.family]}";font-weight:{weight};font-style:{style};font-display:{display};'
        f'src:url("{_file(font, part)}") format("woff2");unicode-range:{_ranges(_parts()[part])}}}'
    )


def _ranges(points: frozenset[int]) -> str:
    found: list[tuple[int, int]] = []
    for point in sorted(points):
        found[-1:] = [(found[-1][0], point)] if found and point == found[-1][1] + 1 else [*found[-1:], (point, point)]
    return ",".join(f"U+{a:X}" if a == b else f"U+{a:X}-{b:X}" for a, b in found)


def _stand_in_names(family: str) -> list[str]:
    return [f"{FAMILIES[family]} as {device}" for device in _DEVICES[family]]


def _stand_in(font: Font, device: str) -> str:
    face = _CALLED[font.weight]
    weight, style = _WEIGHT[font.weight]
    # By how much it is drawn larger, and what ours rises and hangs, in parts of that size.
    size = width(SAMPLE, 1, font) / Fraction(_measured()[device][face], 1000)
    above, below = (part / size for part in vertical(font))
    asked = ",".join(f'local("{way.format(name)}")' for name in _DEVICES[font.family][device] for way in _NAMED[face])
    return (
        f'@font-face{{font-family:"{FAMILIES[font.family]} as {device}";font-weight:{weight};font-style:{style};src:{asked};'
        f"size-adjust:{_percent(size)};ascent-override:{_percent(above)};descent-override:{_percent(below)};line-gap-override:0%}}"
    )


@once
def _measured() -> dict[str, dict[str, int]]:
    found: dict[str, dict[str, int]] = json.loads(STAND_INS.read_text(encoding="utf-8"))
    return found


def _percent(part: Fraction) -> str:
    return f"{float(round(part * 100, 2)):g}%"
