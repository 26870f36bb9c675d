"""Exact lengths: read, write, convert.

A length is a rational number of inches; a millimetre is exactly 5/127 of an inch
(1 in = 25.4 mm: international yard and pound agreement, 1959; NIST SP 811).
Nothing here is a float: floats begin in the pens that draw.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from numbers import Rational
from typing import Any

from kitwright.errors import MeasureError
from kitwright.exact import Exact

MM = Exact(5, 127)
"""One millimetre in inches, exactly."""
SIXTEENTH = Exact(1, 16)
"""The finest mark on a maker's inch ruler."""
HALF_MM = MM / 2
"""The finest step read between a maker's millimetre marks."""
LONGEST = 400
"""Inches; anything longer is a slip of the pen, not paper."""

FINEST = 10_000
"""The largest denominator accepted: four decimals, or a very odd fraction."""

VULGAR = {
    "½": Fraction(1, 2),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
}
_GLYPHS = {value: glyph for glyph, value in VULGAR.items()}
_UNITS = {
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "”": "in",
    "“": "in",
    "''": "in",
    "’’": "in",
    "′′": "in",
    "mm": "mm",
    "cm": "cm",
}
_SCALE = {"in": Fraction(1), "mm": MM, "cm": MM * 10}
_NUMBER = re.compile(
    r"(?P<whole>\d+)?\s*(?P<vulgar>[½¼¾⅛⅜⅝⅞⅓⅔])"
    r"|(?P<whole2>\d+)(?:\s*[-‐‑–]\s*|\s+)(?P<num2>\d+)\s*[/⁄]\s*(?P<den2>\d+)"
    r"|(?P<num>\d+)\s*[/⁄]\s*(?P<den>\d+)"
    r"|(?P<decimal>\d*\.\d+|\d+\.?)"
)
_COMMA = re.compile(r"\s*\d+,\d+\s*[A-Za-z\"″”“'’′]*\.?\s*$")
"""A decimal comma. It is not taken, since in braces it would part two entries."""
_LENGTH = re.compile(rf"\s*(?:{_NUMBER.pattern})\s*(?P<unit>[A-Za-z\"″”“'’′]*)\.?\s*$")
_RAISED = re.compile("[⁰¹²³⁴-⁹]+[⁄/][₀-₉]+")
"""A fraction of raised and lowered figures, as books and screens set it."""


def less(a: Fraction | int, b: Fraction | int) -> bool:
    """`a < b`, worked out at once: `Fraction` asks first what kind of number it was given, four times as long."""
    return a.numerator * b.denominator < b.numerator * a.denominator


@dataclass(frozen=True, slots=True, init=False)
class Length:
    """An exact length."""

    inches: Fraction
    """The length in inches."""

    def __init__(self, inches: Fraction | int) -> None:
        if type(inches) is not Exact:
            if not isinstance(inches, Rational):
                raise TypeError("lengths are exact")
            inches = Exact(inches)
        object.__setattr__(self, "inches", inches)

    @classmethod
    def mm(cls, value: Fraction | int) -> Length:
        """A length given in millimetres."""
        return cls(value * MM)

    @property
    def millimetres(self) -> Fraction:
        """The length in millimetres, exactly."""
        return self.inches / MM

    def __add__(self, other: Length) -> Length:
        return _of(self.inches + other.inches) if isinstance(other, Length) else NotImplemented

    def __sub__(self, other: Length) -> Length:
        return _of(self.inches - other.inches) if isinstance(other, Length) else NotImplemented

    def __neg__(self) -> Length:
        return _of(-self.inches)

    def __abs__(self) -> Length:
        return _of(abs(self.inches))

    def __mul__(self, factor: Fraction | int) -> Length:
        return Length(self.inches * factor) if isinstance(factor, (int, Fraction)) else NotImplemented

    __rmul__ = __mul__

    def __truediv__(self, other):
        """A length over a number is a length; over a length it is a ratio."""
        if isinstance(other, Length):
            return self.inches / other.inches
        return Length(self.inches / other) if isinstance(other, (int, Fraction)) else NotImplemented

    def __floordiv__(self, other: Length) -> int:
        """How many whole times `other` goes into this length."""
        return int(self.inches // other.inches) if isinstance(other, Length) else NotImplemented

    def __mod__(self, other: Length) -> Length:
        return Length(self.inches % other.inches) if isinstance(other, Length) else NotImplemented

    # Lengths are compared more often than anything else is done with them. Over cross, which is
    # what `Fraction` comes to after many questions; its terms are lowest, so equals have equal ones.

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Length):
            return NotImplemented
        a, b = self.inches, other.inches
        return a is b or (a.numerator == b.numerator and a.denominator == b.denominator)

    def __lt__(self, other: Length) -> bool:
        return less(self.inches, other.inches) if isinstance(other, Length) else NotImplemented

    def __gt__(self, other: Length) -> bool:
        return less(other.inches, self.inches) if isinstance(other, Length) else NotImplemented

    def __le__(self, other: Length) -> bool:
        return not less(other.inches, self.inches) if isinstance(other, Length) else NotImplemented

    def __ge__(self, other: Length) -> bool:
        return not less(self.inches, other.inches) if isinstance(other, Length) else NotImplemented

    def __bool__(self) -> bool:
        return self.inches != 0

    def __str__(self) -> str:
        return f"{inch_text(self)} in"


_blank: Any = object.__new__
_keep: Any = vars(Length)["inches"].__set__  # the slot itself


def _of(inches: Fraction) -> Length:
    """What lengths are reckoned to, which is as exact as they are: nobody need ask."""
    made: Length = _blank(Length)
    _keep(made, inches)
    return made


ZERO = Length(Fraction(0))


def total(lengths) -> Length:
    """The sum of any number of lengths."""
    return sum(lengths, ZERO)


@dataclass(frozen=True, slots=True)
class Size:
    """Width × height, as the thing lies in front of the maker."""

    width: Length
    """Across, left to right."""
    height: Length
    """Up and down."""

    @property
    def turned(self) -> Size:
        """The same thing after a quarter turn."""
        return Size(self.height, self.width)

    @property
    def area(self) -> Fraction:
        """Area in square inches."""
        return self.width.inches * self.height.inches

    def fits(self, other: Size) -> bool:
        """Whether this lies within `other` without turning."""
        return self.width <= other.width and self.height <= other.height

    def __str__(self) -> str:
        return size_text(self)


def parse_length(text: str, unit: str = "in", *, allow_zero: bool = False) -> Length:
    """Read a length as a maker types it.

    Args:
        text: such as `3-1/4`, `3 1/4`, `3¼`, `3.25`, `82 mm`, `8.2 cm`, `3¼ in`.
        unit: what a bare number means, `in`, `mm` or `cm`.
        allow_zero: whether 0 makes sense here.

    Raises:
        MeasureError: not a length, not above zero, absurdly long, or too finely typed.
    """
    if len(text) > 40:
        raise MeasureError("lengths.long-text", text=text, unit=unit)
    if re.match(r"\s*[-−–]\s*[\d.½¼¾⅛⅜⅝⅞]", text):
        raise MeasureError("lengths.below-zero", text=text, unit=unit)
    plain = text if text.isascii() else _RAISED.sub(lambda found: f" {unicodedata.normalize('NFKC', found[0])}", text)
    match = _LENGTH.match(plain)
    if not match and _COMMA.match(text):
        raise MeasureError("lengths.comma", text=text)
    if not match:
        raise MeasureError("lengths.unreadable", text=text, unit=unit)
    given = match["unit"].lower()
    if given and given not in _UNITS:
        raise MeasureError("lengths.unknown-unit", said=match["unit"], text=text)
    number = _number(match, text, unit)
    if number.denominator > FINEST:
        raise MeasureError("lengths.too-fine", text=text, unit=unit)
    length = Length(number * _SCALE[_UNITS.get(given, unit)])
    if not length and not allow_zero:
        raise MeasureError("lengths.zero", text=text)
    if length.inches > LONGEST:
        raise MeasureError("lengths.too-long", text=text, unit=unit)
    return length


def _number(match: re.Match[str], text: str, unit: str) -> Fraction:
    if match["vulgar"]:
        return int(match["whole"] or 0) + VULGAR[match["vulgar"]]
    if match["decimal"]:
        return Fraction(match["decimal"])
    whole, num, den = match["whole2"] or 0, match["num2"] or match["num"], match["den2"] or match["den"]
    if int(den) == 0:
        raise MeasureError("lengths.divided-by-zero", text=text, unit=unit)
    if match["num2"] and int(num) >= int(den):
        raise MeasureError("lengths.fraction-of-one-or-more", text=text)
    return int(whole) + Fraction(int(num), int(den))


_SIZE_SPLIT = re.compile(r"\s*(?:[x×X]|\bby\b)\s*")


def parse_size(text: str, unit: str = "in") -> Size:
    """Read `width × height`, such as `8-1/2 x 5-1/2` or `105 × 148 mm`.

    A unit after the second length holds for both where the first has none.

    Raises:
        MeasureError: not two lengths.
    """
    parts = _SIZE_SPLIT.split(text.strip())
    if len(parts) != 2 or not all(part.strip() for part in parts):
        raise MeasureError("lengths.no-size", text=text, unit=unit)
    tail = re.search(r"([A-Za-z]+|[\"″”“]|''|’’|′′)\.?\s*$", parts[1])
    if tail and tail[1].lower() in _UNITS:
        unit = _UNITS[tail[1].lower()]
    return Size(parse_length(parts[0], unit), parse_length(parts[1], unit))


# --- writing -------------------------------------------------------------------------------

ABOUT = "≈"
"""Stands before a figure that was rounded, and once before two sides of which one was."""


class Rough(str):
    """A unit in which figures are rounded without the sign, where it would stand at every one: on drawings and in a stroke's
    words in the unit that is not the kit's own. Otherwise it is that unit."""

    __slots__ = ()


def fraction_text(value: Fraction, *, plain: bool = False) -> str:
    """A number as a maker writes it: `3¼`, `3 15⁄16`; with `plain`, `3 1/4`.

    `value` must already be on a grid: its denominator is written as it is.
    """
    sign = "−" if value < 0 else ""
    whole, part = divmod(abs(value), 1)
    if not part:
        return f"{sign}{whole}"
    if not plain and part in _GLYPHS:
        return f"{sign}{whole or ''}{_GLYPHS[part]}"
    bar = "/" if plain else "⁄"
    return f"{sign}{f'{whole} ' if whole else ''}{part.numerator}{bar}{part.denominator}"


def rounded(value: Fraction, step: Fraction | int = 1) -> Fraction:
    """The nearest multiple of `step`; what lies exactly in the middle goes away from zero.

    The one rule for every figure that is shown rounded, wherever it stands: ½ of a mark is the
    next mark, −½ the next below zero. Whatever is cut is exact; only what is read is rounded.
    Where more is safer than near (adhesive, foam, sheets), figures are rounded up instead.
    """
    marks = (abs(value) / step + Fraction(1, 2)) // 1
    return Fraction(-marks if value < 0 else marks) * step


def _rounded(value: Fraction, step: Fraction) -> tuple[Fraction, bool]:
    """The nearest multiple of `step` (`rounded`), and whether that changed anything."""
    nearest = rounded(value, step)
    return nearest, nearest != value


def _read(length: Length, unit: str, plain: bool = False) -> tuple[str, bool]:
    """A length on the ruler of a unit, to the nearest sixteenth or half millimetre, and whether that rounded it."""
    if unit == "mm":
        value, changed = _rounded(length.millimetres, Fraction(1, 2))
        whole, half = divmod(abs(value), 1)
        return f"{'−' if value < 0 else ''}{whole}{'.5' if half else ''}", changed
    value, changed = _rounded(length.inches, SIXTEENTH)
    return fraction_text(value, plain=plain), changed


def inch_text(length: Length, *, plain: bool = False) -> str:
    """Inches to the nearest sixteenth, marked ≈ when rounded; no unit."""
    return figure(length, "in", plain=plain)


def mm_text(length: Length) -> str:
    """Millimetres to the nearest half, marked ≈ when rounded; no unit."""
    return figure(length, "mm")


def other_unit(unit: str) -> str:
    """The unit that stands beside the kit's own."""
    return "mm" if unit == "in" else "in"


def length_text(length: Length, unit: str = "in", *, plain: bool = False) -> str:
    """A length with its unit, in `in` or `mm`."""
    return f"{figure(length, unit, plain=plain)} {unit}"


def figure(length: Length, unit: str = "in", *, plain: bool = False) -> str:
    """A length without its unit, in `in` or `mm`."""
    text, changed = _read(length, unit, plain)
    return f"{ABOUT}{text}" if changed and not isinstance(unit, Rough) else text


def size_text(size: Size, unit: str = "in", *, plain: bool = False) -> str:
    """Width × height with the unit once."""
    return f"{sides_text(size, unit, plain=plain)} {unit}"


def sides_text(size: Size, unit: str = "in", *, plain: bool = False) -> str:
    """Width × height without the unit; one ≈ for both where either was rounded."""
    (width, one), (height, other) = _read(size.width, unit, plain), _read(size.height, unit, plain)
    return f"{ABOUT if (one or other) and not isinstance(unit, Rough) else ''}{width} × {height}"


def both_text(length: Length, first: str = "in") -> str:
    """A length in both units, the maker's own first: `3¼ in (≈82.5 mm)`."""
    second = "mm" if first == "in" else "in"
    return f"{length_text(length, first)} ({length_text(length, second)})"


def is_seen(length: Length, unit: str = "in") -> bool:
    """Whether it is more than nothing once it is rounded to a mark of the ruler."""
    return figure(length, unit) != f"{ABOUT}0"


def seen_text(length: Length, unit: str = "in") -> str:
    """A difference in the unit in which it is seen: the maker's own, or the other where that one rounds it to nothing."""
    for shown in (unit, other_unit(unit)):
        if is_seen(length, shown):
            return length_text(length, shown)
    return f"under {length_text(Length(HALF_MM), 'mm')}"


def seen_both(length: Length, first: str = "in") -> str:
    """A difference in both units, the maker's own first; in one alone where the other rounds it to nothing."""
    return both_text(length, first) if is_seen(length, "in") and is_seen(length, "mm") else seen_text(length, first)


def size_both(size: Size, first: str = "in") -> str:
    """A size in both units, the maker's own first."""
    second = "mm" if first == "in" else "in"
    return f"{size_text(size, first)} ({size_text(size, second)})"


def on_grid(length: Length, unit: str = "in") -> bool:
    """Whether a ruler marked in sixteenths (or in half millimetres) can show the length."""
    step = SIXTEENTH if unit == "in" else HALF_MM
    return length.inches % step == 0
