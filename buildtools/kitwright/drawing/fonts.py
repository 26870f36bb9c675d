"""Type: Source Sans Pro and Source Serif Pro, measured exactly and embedded as subsets.

Eighths are characters of the fonts (⅛). Any other fraction is written digits, U+2044,
digits (15⁄16) and set with the fonts' own numerator and denominator figures, which match
the eighths. Every pen sets text without kerning, so that widths are sums of advances and
what is measured here is what is drawn.
"""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

import font_source_sans_pro
import font_source_serif_pro

from kitwright import cache
from kitwright.exact import Exact

_DIRECTORIES = {"sans": (font_source_sans_pro, "SourceSansPro"), "serif": (font_source_serif_pro, "SourceSerifPro")}
_STYLES = {"regular": "Regular", "italic": "It", "semibold": "Semibold", "bold": "Bold"}
_CSS = {"regular": (400, "normal"), "italic": (400, "italic"), "semibold": (600, "normal"), "bold": (700, "normal")}
DIGITS = "zero one two three four five six seven eight nine".split()
_NUMERATOR, _DENOMINATOR = 0xE000, 0xE010
_FRACTION = re.compile("[0-9]+\u2044[0-9]+")

FAMILIES = {"sans": "Source Sans Pro", "serif": "Source Serif Pro"}
"""Family names as the web knows them."""
LATIN = (
    tuple(range(0x20, 0x7F)) + tuple(range(0xA0, 0x180)) + tuple(ord(c) for c in "–—‘’‚“”„†‡•…‰′″‹›⁄€™←↑→↓−≈≠≤≥⅓⅔⅛⅜⅝⅞✓ﬁﬂ\u2009\u200a\u202f")
)
"""Code points in the web's font files: Latin, punctuation, fractions, arrows."""


@dataclass(frozen=True, slots=True)
class Font:
    """One face of a family."""

    family: str = "sans"
    """`sans` or `serif`."""
    weight: str = "regular"
    """`regular`, `italic`, `semibold` or `bold`."""

    @property
    def name(self) -> str:
        """The name under which the PDF knows it, such as `SourceSansPro-Bold`."""
        return f"{_DIRECTORIES[self.family][1]}-{_STYLES[self.weight]}"

    @property
    def path(self) -> Path:
        """The TrueType file."""
        module, _ = _DIRECTORIES[self.family]
        return Path(module.__file__).parent / "files" / f"{self.name}.ttf"

    @property
    def css(self) -> tuple[int, str]:
        """`font-weight` and `font-style`."""
        return _CSS[self.weight]


@dataclass(frozen=True, slots=True)
class FontRun:
    """A stretch of text that is a fraction, or that is not."""

    text: str
    fraction: bool


def runs(text: str) -> list[FontRun]:
    """Split text so that fractions stand alone."""
    found, last = [], 0
    for match in _FRACTION.finditer(text):
        if match.start() > last:
            found.append(FontRun(text[last : match.start()], False))
        found.append(FontRun(match[0], True))
        last = match.end()
    if last < len(text):
        found.append(FontRun(text[last:], False))
    return found


def glyph_text(text: str) -> str:
    """The text with fraction digits replaced by the private code points of `pen_file`."""
    return "".join(_fraction_glyphs(run.text) if run.fraction else run.text for run in runs(text))


def _fraction_glyphs(text: str) -> str:
    above, below = text.split("\u2044")
    return "".join(chr(_NUMERATOR + int(d)) for d in above) + "\u2044" + "".join(chr(_DENOMINATOR + int(d)) for d in below)


@lru_cache
def pen_file(font: Font) -> bytes:
    """The face as a TrueType file whose fraction figures have private code points.

    For pens that cannot ask a font for its fraction figures. The tests check the glyphs
    against the font's own `frac` feature.
    """
    return cache.made("font", cache.digest("for pens", font.name), lambda: _pen_file(font))


def _pen_file(font: Font) -> bytes:
    # Loaded late, here and below: what is cut and measured is kept between runs.
    from fontTools.ttLib import TTFont

    with TTFont(font.path, lazy=True, recalcTimestamp=False) as face:
        for table in face["cmap"].tables:
            if table.isUnicode():
                for i, digit in enumerate(DIGITS):
                    table.cmap[_NUMERATOR + i] = f"{digit}.numr"
                    table.cmap[_DENOMINATOR + i] = f"{digit}.dnom"
        out = io.BytesIO()
        face.save(out)
    return out.getvalue()


@lru_cache
def _advances(font: Font) -> tuple[dict[int, int], int, int]:
    """Advance by code point, that of a missing character, and units per em."""

    def measured() -> tuple[dict[int, int], int, int]:
        from fontTools.ttLib import TTFont

        face = TTFont(io.BytesIO(pen_file(font)), lazy=True)
        widths = face["hmtx"].metrics
        by_code = {code: widths[glyph][0] for code, glyph in face.getBestCmap().items()}
        return by_code, widths[".notdef"][0], face["head"].unitsPerEm

    return cache.value("font", cache.digest("advances", font.name), measured)


def width(text: str, size: Fraction | int, font: Font = Font()) -> Fraction:
    """Width of a line of text in points, exactly."""
    return _ems(text, font) * size


@lru_cache(maxsize=1 << 14)
def _ems(text: str, font: Font) -> Exact:
    """Width of a line of text in ems; most are measured many times while room is looked for."""
    by_code, missing, em = _advances(font)
    return Exact(sum(by_code.get(ord(c), missing) for c in glyph_text(text)), em)


def glyph_width(glyph: str, size: Fraction | int, font: Font = Font()) -> Fraction:
    """Width in points of one character of a `glyph_text`."""
    by_code, missing, em = _advances(font)
    return Exact(by_code.get(ord(glyph), missing), em) * size


def missing(text: str, font: Font = Font()) -> str:
    """The characters of a text that the font does not have, in order."""
    by_code, _, _ = _advances(font)
    return "".join(dict.fromkeys(c for c in text if ord(c) not in by_code))


CAP = Exact(66, 100)
"""Height of capitals and figures over the baseline, in ems (both families, to 1 %)."""
ASCENT = Exact(74, 100)
"""How far letters such as d and l, and italics, rise over the baseline, in ems."""
DESCENT = Exact(22, 100)
"""How far letters such as g hang below it, in ems."""


def drop(text: str) -> Fraction:
    """How far this text hangs below its baseline, in ems."""
    return DESCENT if re.search(r"[gjpqyQ,;()\[\]{}ç@&|/]", text) else Exact(2, 100)


def wrap(text: str, size: Fraction | int, room: Fraction | int, font: Font = Font()) -> list[str]:
    """Break text at spaces into lines no wider than `room` points; a long word stands alone."""
    lines: list[str] = []
    for word in text.split(" "):
        if lines and width(f"{lines[-1]} {word}", size, font) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


@lru_cache(maxsize=256)
def subset_file(font: Font, code_points: frozenset[int], flavor: str = "woff") -> bytes:
    """A WOFF file with these characters and the font's fraction figures; same input, same bytes.

    Args:
        font: the face.
        code_points: what it has to have.
        flavor: `woff`, or `woff2`, which is a quarter smaller and takes longer to make.
    """
    key = cache.digest(font.name, sorted(code_points), flavor)
    return cache.made("font", key, lambda: _cut(font, code_points, flavor))


def _cut(font: Font, code_points: frozenset[int], flavor: str) -> bytes:
    from fontTools import subset
    from fontTools.ttLib import TTFont

    options = subset.Options(layout_features=["frac", "tnum", "kern"], hinting=False, notdef_outline=True, name_IDs=[1, 2, 4, 6])
    work = subset.Subsetter(options)
    work.populate(unicodes=sorted(code_points))
    with TTFont(font.path, lazy=True, recalcTimestamp=False) as face:
        work.subset(face)
        face.flavor = flavor
        out = io.BytesIO()
        face.save(out)
    return out.getvalue()


@lru_cache
def vertical(font: Font) -> tuple[Fraction, Fraction]:
    """How far the face rises over its baseline and hangs below it, in ems, as browsers have it."""

    def measured() -> tuple[int, int, int]:
        from fontTools.ttLib import TTFont

        with TTFont(font.path, lazy=True) as face:
            return face["hhea"].ascent, -face["hhea"].descent, face["head"].unitsPerEm

    above, below, em = cache.value("font", cache.digest("vertical", font.name), measured)
    return Fraction(above, em), Fraction(below, em)
