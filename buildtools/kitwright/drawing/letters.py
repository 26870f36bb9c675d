"""The letters of one picture as a font of their own, which lies in its SVG.

A kit has dozens of pictures, each with letters of its own. Cutting a face down takes fontTools a
hundredth of a second and more, again and again for the same glyphs; so a face is taken apart once,
and what a picture needs is put together from its parts. Glyphs keep their numbers: what a picture
leaves out is empty, and packed away to next to nothing.
"""

from __future__ import annotations

import base64
import struct
from dataclasses import dataclass
from functools import lru_cache

import brotli
from fontTools import subset
from fontTools.ttLib import TTFont

from kitwright import cache
from kitwright.drawing.fonts import DIGITS, LATIN, Font

_FRACTION = 0x2044
_RULES = "GSUB"
_USUAL = frozenset(LATIN)


@dataclass(frozen=True)
class Parts:
    """A face taken apart."""

    plain: dict[str, bytes]
    """Tables that are the same for every picture, by tag."""
    rules: bytes
    """The table that sets fractions."""
    glyphs: tuple[bytes, ...]
    """Outlines by glyph number."""
    made_of: dict[int, tuple[int, ...]]
    """Glyphs that a glyph is put together from."""
    sides: tuple[bytes, ...]
    """Advance and left side of each glyph."""
    numbers: dict[int, int]
    """Glyph number by code point."""
    in_fractions: dict[int, tuple[int, int]]
    """Figures above and below the line of a fraction, by the digit's code point."""


def subset_uri(font: Font, text: str) -> str:
    """The characters of `text` as a font in a `data:` address, for an SVG's own style."""
    return _uri(font, frozenset(map(ord, text)))


@lru_cache(maxsize=4096)
def _uri(font: Font, code_points: frozenset[int]) -> str:
    data = base64.b64encode(picked(_parts(font, code_points - _USUAL), code_points)).decode("ascii")
    return f"data:font/woff2;base64,{data}"


@lru_cache
def _parts(font: Font, unusual: frozenset[int]) -> Parts:
    key = cache.digest(font.name, sorted(unusual))
    return cache.value("letters", key, lambda: parts_of(font, _USUAL | unusual))


def parts_of(font: Font, code_points: frozenset[int]) -> Parts:
    """A face taken apart, as far as it has glyphs for these characters, digits and the ⁄ among them, and for fractions of them."""
    options = subset.Options(layout_features=["frac"], hinting=False, notdef_outline=True, name_IDs=[1, 2, 4, 6], glyph_names=True)
    options.drop_tables += ["GPOS", "GDEF", "BASE"]
    work = subset.Subsetter(options)
    work.populate(unicodes=sorted(code_points))
    with TTFont(font.path, lazy=True, recalcTimestamp=False) as face:
        work.subset(face)
        names = face.getGlyphOrder()
        number = {name: n for n, name in enumerate(names)}
        outlines, metrics = face["glyf"], face["hmtx"].metrics
        for name in names:
            outlines[name].expand(outlines)
        in_fractions = {48 + n: (number[f"{digit}.numr"], number[f"{digit}.dnom"]) for n, digit in enumerate(DIGITS)}
        made_of = {
            number[name]: tuple(number[part] for part in outlines[name].getComponentNames(outlines))
            for name in names
            if outlines[name].isComposite()
        }
        numbers = {code: number[name] for code, name in face.getBestCmap().items()}
        glyphs = tuple(_even(outlines[name].compile(outlines)) for name in names)
        sides = tuple(struct.pack(">Hh", *metrics[name]) for name in names)
        face["hhea"].numberOfHMetrics = len(names)
        face["head"].indexToLocFormat = 0
        face["post"].formatType = 3.0
        made = [tag for tag in ("glyf", "loca", "hmtx", "cmap", _RULES) if tag in face]
        plain = {tag: face.getTableData(tag) for tag in face.keys() if tag not in (*made, "GlyphOrder")}
        plain["hhea"] = plain["hhea"][:34] + struct.pack(">H", len(names))
        return Parts(plain, face.getTableData(_RULES), glyphs, made_of, sides, numbers, in_fractions)


def _even(glyph: bytes) -> bytes:
    """Glyphs begin at even places, so that half of each fits into two bytes."""
    return glyph + bytes(len(glyph) % 2)


def picked(parts: Parts, code_points: frozenset[int]) -> bytes:
    """A WOFF2 file with these characters of a face; with the figures of fractions where there is a ⁄ among them."""
    known = {code: parts.numbers[code] for code in sorted(code_points) if code in parts.numbers}
    fractions = _FRACTION in known
    waiting = [0, *known.values()]
    if fractions:
        waiting += [figure for code in known for figure in parts.in_fractions.get(code, ())]
    there: set[int] = set()
    while waiting:
        glyph = waiting.pop()
        if glyph not in there:
            there.add(glyph)
            waiting += parts.made_of.get(glyph, ())
    outlines, places, sides, at = [], [0], [], 0
    for glyph, outline in enumerate(parts.glyphs):
        if glyph in there:
            outlines.append(outline)
            at += len(outline)
        places.append(at // 2)
        sides.append(parts.sides[glyph] if glyph in there else bytes(4))
    tables = parts.plain | {
        "cmap": _cmap(known),
        "glyf": b"".join(outlines),
        "hmtx": b"".join(sides),
        "loca": struct.pack(f">{len(places)}H", *places),
    }
    if fractions:
        tables[_RULES] = parts.rules
    return _woff2(tables)


def _woff2(tables: dict[str, bytes]) -> bytes:
    """A face as WOFF 2.0 (W3C Recommendation, sections 4 and 5), its tables as they are: fontTools would take outlines apart once more."""
    order = sorted(tables, key=lambda tag: ("glyf" if tag == "loca" else tag, tag))  # what places outlines comes after them
    rows = b"".join(bytes([_KNOWN[tag] | (_AS_IT_IS if tag in ("glyf", "loca") else 0)]) + _base128(len(tables[tag])) for tag in order)
    packed = brotli.compress(b"".join(tables[tag] for tag in order), mode=brotli.MODE_FONT, quality=_QUALITY)
    plain = 12 + sum(16 + -(-len(table) // 4) * 4 for table in tables.values())
    length = _HEAD.size + len(rows) + len(packed)
    whole = -(-length // 4) * 4
    head = _HEAD.pack(b"wOF2", b"\0\1\0\0", whole, len(tables), 0, plain, len(packed), 0, 0, 0, 0, 0, 0, 0)
    return (head + rows + packed).ljust(whole, b"\0")


_HEAD = struct.Struct(">4s4sIHHIIHH5I")
_KNOWN = {
    "cmap": 0,
    "head": 1,
    "hhea": 2,
    "hmtx": 3,
    "maxp": 4,
    "name": 5,
    "OS/2": 6,
    "post": 7,
    "glyf": 10,
    "loca": 11,
    "gasp": 17,
    "GSUB": 28,
}
"""Numbers of tables (section 4.1)."""
_AS_IT_IS = 3 << 6
_QUALITY = 5
"""How hard brotli looks: harder takes ten times as long, for a twentieth less."""


def _base128(number: int) -> bytes:
    """A number in sevens of bits, the highest first (section 4.1)."""
    found = [number & 0x7F]
    while number := number >> 7:
        found.append(number & 0x7F | 0x80)
    return bytes(reversed(found))


def _cmap(known: dict[int, int]) -> bytes:
    """The table of characters (OpenType, `cmap`, format 4): stretches in which characters and glyphs count up together."""
    stretches: list[tuple[int, int, int]] = []
    for code, glyph in known.items():
        if stretches and stretches[-1][1] == code - 1 and stretches[-1][2] == (glyph - code) % 0x10000:
            stretches[-1] = (stretches[-1][0], code, stretches[-1][2])
        elif code < 0xFFFF:
            stretches.append((code, code, (glyph - code) % 0x10000))
    first, last, shift = zip(*stretches, (0xFFFF, 0xFFFF, 1))
    count = len(first)
    power = 1 << (count.bit_length() - 1)
    head = (2 * count, 2 * power, power.bit_length() - 1, 2 * (count - power))
    numbers = (*head, *last, 0, *first, *shift, *(0 for _ in range(count)))
    table = struct.pack(f">3H{len(numbers)}H", 4, 6 + 2 * len(numbers), 0, *numbers)
    return struct.pack(">4HI", 0, 1, 3, 1, 12) + table
