"""How single values are typed in a spec: lengths, sizes, sheets, weights, yes and no.

Each is an annotated type for the pydantic model: it reads the text that was typed and
says in the JSON Schema what an editor should accept. A bare number is in the kit's own
unit, which the reader passes in as validation context.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, StringConstraints, ValidationInfo, WithJsonSchema

from kitwright.colours import RGB, parts
from kitwright.errors import UserError
from kitwright.folding.scored import Direction, Score
from kitwright.kit.looks import COLOURS
from kitwright.papers import NamedSize, Weight, envelope_named, parse_weight, sheet_named
from kitwright.units import MM, Length, Size, parse_length, parse_size


class Unfit(UserError, ValueError):
    """What a validator refuses; pydantic gathers it, and the reader adds file and line."""

    entry: str = ""
    """The entry below what was validated that it is about, where it is typed."""

    def under(self, entry: str) -> Unfit:
        """The same, told where that entry stands."""
        self.entry = entry
        return self


Wanted = Literal[
    "length",
    "margin",
    "size",
    "sheet",
    "envelope",
    "weight",
    "count",
    "sheets",
    "price",
    "price by length",
    "price by area",
    "colour",
    "paper colour",
    "link",
    "score line",
    "sheets of a paper",
    "card",
    "margins",
    "pieces on a card",
    "ruler step",
    "part",
]
"""What may be typed as a single value."""


def reading(read: Callable[[str, str], Any], wanted: Wanted) -> BeforeValidator:
    """Reads the text of a single value by `read(text, unit)`; a list or lines in its place are refused, as what is not wanted there."""

    def validate(value: Any, info: ValidationInfo) -> Any:
        if isinstance(value, (list, dict)) or value is None:
            raise Unfit("fields.no-text", given="list" if isinstance(value, list) else "lines" if value else "blank", wanted=wanted)
        if not isinstance(value, str):
            return value
        try:
            return read(value, (info.context or {}).get("unit", "in"))
        except UserError as error:
            raise Unfit(error.code, **error.values) from None

    return BeforeValidator(validate)


WANTED = "x-wanted"
"""Key of a JSON Schema under which stands which kind of value is typed there; what that is, is told with the schema."""


def as_typed(wanted: Wanted, *examples: str) -> WithJsonSchema:
    """Says in the schema what is typed, with examples; the last is for who measures in millimetres."""
    return WithJsonSchema({"type": ["string", "number"], WANTED: wanted, "examples": list(examples)})


LengthField = Annotated[Length, reading(parse_length, "length"), as_typed("length", "3-1/4", "3.25", "82 mm")]
MarginField = Annotated[Length, reading(lambda t, u: parse_length(t, u, allow_zero=True), "margin"), as_typed("margin", "1/8", "0", "3 mm")]
SizeField = Annotated[Size, reading(parse_size, "size"), as_typed("size", "8-1/2 x 5-1/2", "105 x 148 mm")]
SheetField = Annotated[NamedSize, reading(sheet_named, "sheet"), as_typed("sheet", "Letter", "12 x 12", "A4")]
EnvelopeField = Annotated[NamedSize, reading(envelope_named, "envelope"), as_typed("envelope", "US A2 envelope", "ISO C6 envelope")]
WeightField = Annotated[Weight, reading(lambda t, u: parse_weight(t), "weight"), as_typed("weight", "80 lb cover", "216 gsm")]


def _share(text: str, _unit: str) -> Fraction:
    match = re.fullmatch(r"\s*(\d{1,4})(?:\s*/\s*(\d{1,3}))?\s*", text)
    if not match or (match[2] and int(match[2]) == 0):
        raise UserError("fields.no-count", text=text)
    value = Fraction(int(match[1]), int(match[2] or 1))
    if value == 0:
        raise UserError("fields.no-piece-at-all")
    return value


CountField = Annotated[Fraction, reading(_share, "count"), as_typed("count", "1", "2", "1/2")]


def _sheets(text: str, _unit: str) -> Fraction:
    match = re.fullmatch(r"\s*(?:(\d{1,3})(?:[\s-]+1/2|½|\.5)|(\d{1,3})|(1/2|½|half))\s*", text)
    if not match:
        raise UserError("fields.no-sheets", text=text)
    if match[3]:
        return Fraction(1, 2)
    value = Fraction(match[2]) if match[2] else Fraction(match[1]) + Fraction(1, 2)
    if value == 0:
        raise UserError("fields.no-sheet-at-all")
    return value


_DIRECTIONS: tuple[Direction, ...] = ("forward", "back")


def _score(text: str, unit: str) -> Score:
    words = text.rsplit(None, 1)
    way = next((each for each in _DIRECTIONS if len(words) == 2 and words[1] == each), None)
    if way is None:
        raise UserError("fields.no-score-line", text=text)
    return Score(parse_length(words[0], unit), way)


ScoreField = Annotated[Score, reading(_score, "score line"), as_typed("score line", "4-1/4 back", "105 mm back")]
SheetsField = Annotated[Fraction, reading(_sheets, "sheets"), as_typed("sheets", "2", "1-1/2", "half")]


def _colour(text: str, _unit: str) -> RGB:
    match = re.fullmatch(r"\s*#?([0-9A-Fa-f]{6})\s*", text)
    if not match:
        raise UserError("fields.no-colour", text=text)
    return parts(f"#{match[1]}")


def _paper_colour(text: str, _unit: str) -> str:
    name = text.strip()
    if name not in COLOURS and (match := re.fullmatch(r"#?([0-9A-Fa-f]{6})", name)):
        return f"#{match[1].lower()}"
    if not re.fullmatch(r"[a-z][a-z0-9-]{0,30}", name):
        raise UserError("fields.no-paper-colour", text=text)
    return name


PaperColourField = Annotated[
    str,
    StringConstraints(pattern=r"^(#[0-9a-f]{6}|[a-z][a-z0-9-]{0,30})$"),
    reading(_paper_colour, "paper colour"),
    WithJsonSchema(
        {
            "anyOf": [{"enum": list(COLOURS)}, {"type": ["string", "number"], "pattern": "^#?[0-9A-Fa-f]{6}$"}],
            WANTED: "paper colour",
            "examples": ["sage", "#7a9e7e"],
        }
    ),
]
"""A named colour, or any other as `#rrggbb`; which names there are, `check` tells."""
ColourField = Annotated[RGB, reading(_colour, "colour"), as_typed("colour", "#B73C1C")]


# --- prices --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Rate:
    """A price for so much of something that is used by the length, or by the area."""

    price: Fraction
    amount: Fraction
    """Inches, or square inches."""

    def cost(self, used: Fraction) -> Fraction:
        """What a part of it costs."""
        return self.price * used / self.amount


_MONEY = r"\d{1,6}(?:\.\d{1,2})?"
_LONG = {"m": 1000 * MM, "yd": Fraction(36), "ft": Fraction(12), "in": Fraction(1), "cm": 10 * MM, "mm": MM}


def _money(text: str, _unit: str) -> Fraction:
    if not re.fullmatch(_MONEY, text.strip()):
        raise UserError("fields.no-price", text=text)
    return Fraction(text.strip())


def _by_length(text: str, _unit: str) -> Rate:
    match = re.fullmatch(rf"\s*({_MONEY})\s+for\s+({_MONEY})\s*({'|'.join(_LONG)})\s*", text)
    if not match or not Fraction(match[2]):
        raise UserError("fields.no-price-by-length", text=text)
    return Rate(Fraction(match[1]), Fraction(match[2]) * _LONG[match[3]])


def _by_area(text: str, unit: str) -> Rate:
    match = re.fullmatch(rf"\s*({_MONEY})\s+for\s+(.+)", text)
    if not match:
        raise UserError("fields.no-price-by-area", text=text)
    return Rate(Fraction(match[1]), parse_size(match[2], unit).area)


MoneyField = Annotated[Fraction, reading(_money, "price"), as_typed("price", "0.35", "4.50")]
ByLengthField = Annotated[Rate, reading(_by_length, "price by length"), as_typed("price by length", "4.50 for 8 m", "4.50 for 26 ft")]
ByAreaField = Annotated[Rate, reading(_by_area, "price by area"), as_typed("price by area", "3 for 4 x 6 in", "3 for 100 x 150 mm")]
