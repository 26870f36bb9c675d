"""Sheets, envelopes and paper weights by unmistakable name, each with its source."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.errors import MeasureError, UserError
from kitwright.sources import NOTED, PRACTICE, TRADE, Source
from kitwright.units import Length, Size, parse_size

ISO_216 = "ISO 216"
ISO_269 = "ISO 269"
ANSI = "ANSI/ASME Y14.1"
SOURCES = {name: Source(name, NOTED) for name in (ISO_216, ISO_269, ANSI)} | {TRADE: PRACTICE}


Ware = Literal["sheet", "envelope"]
LARGEST = 60
"""Inches; a longer side is a slip, such as millimetres typed in a kit in inches."""


@dataclass(frozen=True, slots=True)
class NamedSize:
    """A size that has a name."""

    name: str
    """The unmistakable name."""
    size: Size
    """Upright: the shorter side across, unless the trade says it otherwise."""
    source: str
    """Where the size comes from (`SOURCES`)."""


def _inches(name: str, text: str, source: str) -> NamedSize:
    return NamedSize(name, parse_size(text), source)


def _mm(name: str, width: int, height: int, source: str) -> NamedSize:
    return NamedSize(name, Size(Length.mm(width), Length.mm(height)), source)


SHEETS = (
    _inches("Letter", "8-1/2 x 11", ANSI),
    _inches("Tabloid", "11 x 17", ANSI),
    _mm("A3", 297, 420, ISO_216),
    _mm("A4", 210, 297, ISO_216),
    _mm("A5", 148, 210, ISO_216),
    _mm("ISO A6", 105, 148, ISO_216),
    _mm("ISO A7", 74, 105, ISO_216),
    _mm("ISO B5", 176, 250, ISO_216),
    _mm("ISO B6", 125, 176, ISO_216),
)

ENVELOPES = (
    _inches("US A2 envelope", "5-3/4 x 4-3/8", TRADE),
    _inches("US A6 envelope", "6-1/2 x 4-3/4", TRADE),
    _inches("US A7 envelope", "7-1/4 x 5-1/4", TRADE),
    _inches("5½ square envelope", "5-1/2 x 5-1/2", TRADE),
    _inches("slimline envelope", "8-3/4 x 3-3/4", TRADE),
    _mm("ISO C5 envelope", 229, 162, ISO_269),
    _mm("ISO C6 envelope", 162, 114, ISO_269),
    _mm("ISO C7 envelope", 114, 81, ISO_269),
    _mm("ISO DL envelope", 220, 110, ISO_269),
)


_UNNAMED = {"a2": parse_size("420 x 594 mm")}
"""Sheets without a name here whose letters are an envelope's too."""
_TWO_MEANINGS = re.compile(r"^(?:US |ISO )?[AaBbCc]\d{1,2}$|^DL$", re.IGNORECASE)


def sheet_named(text: str, unit: str = "in") -> NamedSize:
    """A sheet by name or by measure.

    Raises:
        UserError: an unknown name, or one that means two things (`A2`, `A6`, `A7`).
    """
    return _find(text, unit, SHEETS, "sheet")


def envelope_named(text: str, unit: str = "in") -> NamedSize:
    """An envelope by name or by measure.

    Raises:
        UserError: an unknown name, or one that means two things.
    """
    return _find(text, unit, ENVELOPES, "envelope")


def _key(text: str) -> str:
    return re.sub(r"[\s½]+", lambda m: " ½" if "½" in m[0] else " ", text).strip().casefold()


_FIRST = {ISO_216: "iso ", ANSI: "us "}
"""What may be said before a name of theirs, and changes nothing."""


def called_alike(text: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The names of sheets, and of envelopes, that a name may mean: of `A6` both a sheet and an envelope."""
    sheets, envelopes = (tuple(one.name for one in known if _letters(one.name) == _letters(text)) for known in (SHEETS, ENVELOPES))
    return sheets, envelopes


def _letters(text: str) -> str:
    """A name without what says whose it is, and of what."""
    return re.sub("^din ", "iso ", _key(text)).removeprefix("us ").removeprefix("iso ").removesuffix(" envelope")


def _find(text: str, unit: str, known: tuple[NamedSize, ...], kind: Ware) -> NamedSize:
    wanted = re.sub("^din ", "iso ", _key(text))  # DIN 476 and ISO 216 are the same sheets
    for named in known:
        if _key(named.name) in (wanted, wanted.removeprefix(_FIRST.get(named.source, ""))):
            return named
    sheets, envelopes = called_alike(text)
    if sheets or envelopes or _TWO_MEANINGS.match(text.strip()):
        alike, others = (sheets, envelopes) if kind == "sheet" else (envelopes, sheets)
        unnamed = _UNNAMED.get(_letters(text)) if kind == "sheet" else None
        if wanted in map(_key, others):
            alike, unnamed = (), None
        raise UserError("papers.two-meanings", text=text, kind=kind, alike=alike, others=others, unnamed=unnamed, unit=unit)
    if not re.search(r"\d", text):
        raise UserError("papers.unknown-name", text=text, kind=kind, known=tuple(n.name for n in known), unit=unit)
    try:
        size = parse_size(text, unit)
    except MeasureError as error:
        raise UserError("papers.unreadable", text=text, kind=kind, why=error, unit=unit) from None
    if max(size.width, size.height).inches > LARGEST:
        raise UserError("papers.too-large", text=text, unit=unit)
    return NamedSize("", size, "measured")


# --- weights -------------------------------------------------------------------------------

POUND = Fraction(45359237, 100000)
"""Grams in an avoirdupois pound."""
REAM = 500
"""Sheets in the ream that basis weight is defined by."""
BASIS = {
    "cover": (Fraction(20), Fraction(26)),
    "text": (Fraction(25), Fraction(38)),
    "offset": (Fraction(25), Fraction(38)),
    "bond": (Fraction(17), Fraction(22)),
    "index": (Fraction(51, 2), Fraction(61, 2)),
}
"""Basis sizes in inches; grammage is arithmetic from the definition."""
_SQUARE_METRE_INCHES = (Fraction(10000, 254)) ** 2
_POUNDS = re.compile(r"^([1-9]\d{0,2})\s*(?:lb|lbs|#)\.?\s*([A-Za-z]*)$", re.IGNORECASE)
_GRAMS = re.compile(r"^([1-9]\d{0,2})\s*(?:gsm|g|g/m2|g/m²)$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Weight:
    """How heavy a paper is."""

    text: str
    """As the maker says it."""
    grammage: Fraction
    """Grams per square metre, exactly."""
    kind: str | None = None
    """Whose ream the pounds are of, such as `cover`; None where grams were typed."""


def grammage(pounds: int | Fraction, kind: str) -> Fraction:
    """Grams per square metre of a basis weight."""
    width, height = BASIS[kind]
    return pounds * POUND / (REAM * width * height) * _SQUARE_METRE_INCHES


def parse_weight(text: str) -> Weight:
    """Read `80 lb cover` or `216 gsm`.

    Raises:
        UserError: no kind with the pounds (index and cover differ by half), or not a weight.
    """
    if match := _GRAMS.match(text.strip()):
        return Weight(f"{match[1]} g/m²", Fraction(match[1]))
    if match := _POUNDS.match(text.strip()):
        kind = match[2].casefold()
        if kind in BASIS:
            return Weight(f"{match[1]} lb {kind}", grammage(int(match[1]), kind), kind)
        raise UserError("papers.pounds-of-no-kind", text=text, pounds=int(match[1]))
    raise UserError("papers.no-weight", text=text)
