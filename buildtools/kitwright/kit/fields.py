"""How single values are typed in a spec: lengths, sizes, sheets, weights, yes and no.

Each is an annotated type for the pydantic model: it reads the text that was typed and
says in the JSON Schema what an editor should accept. A bare number is in the kit's own
unit, which the reader passes in as validation context.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from kitwright.errors import UserError
from kitwright.papers import Named, Weight, envelope_named, parse_weight, sheet_named
from kitwright.units import MM, Length, Size, parse_length, parse_size


def _typed(value: Any, expected: str) -> str:
    if not isinstance(value, str):
        raise PydanticCustomError(
            "kitwright",
            "a {kind} can't stand here\n{expected}",
            {"kind": "list" if isinstance(value, list) else "block of lines" if value else "blank", "expected": expected},
        )
    return value


def told(error: UserError) -> PydanticCustomError:
    """A user error as pydantic passes it on; the reader adds file and line."""
    return PydanticCustomError("kitwright", "{text}", {"text": f"{error.problem}\n{error.remedy}"})


def _reader(read, expected: str):
    def validate(value: Any, info) -> Any:
        if not isinstance(value, (str, type(None), list, dict)):
            return value
        unit = (info.context or {}).get("unit", "in")
        try:
            return read(_typed(value, expected), unit)
        except UserError as error:
            raise told(error) from None

    return BeforeValidator(validate)


def _schema(description: str, *examples: str) -> WithJsonSchema:
    return WithJsonSchema({"type": ["string", "number"], "description": description, "examples": list(examples)})


LengthField = Annotated[
    Length,
    _reader(parse_length, "write a length such as 3-1/4 or 82 mm"),
    _schema("A length; a bare number is in the kit's own unit.", "3-1/4", "3.25", "82 mm"),
]
MarginField = Annotated[
    Length,
    _reader(lambda t, u: parse_length(t, u, allow_zero=True), "write a length such as 1/8 or 0"),
    _schema("A length, 0 allowed.", "1/8", "0", "3 mm"),
]
SizeField = Annotated[
    Size,
    _reader(parse_size, "write width x height such as 8-1/2 x 5-1/2"),
    _schema("Width × height as the thing lies.", "8-1/2 x 5-1/2", "105 x 148 mm"),
]
SheetField = Annotated[
    Named,
    _reader(sheet_named, "write a sheet such as Letter or 12 x 12"),
    _schema("A sheet by name or measure.", "Letter", "A4", "12 x 12"),
]
EnvelopeField = Annotated[
    Named,
    _reader(envelope_named, "write an envelope such as US A2 envelope"),
    _schema("An envelope by name or measure.", "US A2 envelope", "ISO C6 envelope"),
]
WeightField = Annotated[
    Weight,
    _reader(lambda t, u: parse_weight(t), "write a weight such as 80 lb cover or 216 gsm"),
    _schema("A paper weight.", "80 lb cover", "216 gsm"),
]


def _share(text: str, _unit: str) -> Fraction:
    match = re.fullmatch(r"\s*(\d{1,4})(?:\s*/\s*(\d{1,3}))?\s*", text)
    if not match or (match[2] and int(match[2]) == 0):
        raise UserError(f"“{text[:20]}” is not a number of pieces", "write a whole number, or 1/2 when every second card has one")
    value = Fraction(int(match[1]), int(match[2] or 1))
    if value == 0:
        raise UserError("no piece at all is asked for here", "write 1 or more, or leave the line out")
    return value


CountField = Annotated[
    Fraction, _reader(_share, "write a number such as 2"), _schema("Pieces on each card; 1/2 means on every second card.", "1", "2", "1/2")
]


def _sheets(text: str, _unit: str) -> Fraction:
    match = re.fullmatch(r"\s*(?:(\d{1,3})(?:[\s-]+1/2|½|\.5)|(\d{1,3})|(1/2|½|half))\s*", text)
    if not match:
        raise UserError(f"“{text[:20]}” is not a number of sheets", "write whole or half sheets, such as 2, 1-1/2 or half")
    if match[3]:
        return Fraction(1, 2)
    value = Fraction(match[2]) if match[2] else Fraction(match[1]) + Fraction(1, 2)
    if value == 0:
        raise UserError("no sheet at all is given here", "write 1/2 or more, or leave the line out to have it worked out")
    return value


SheetsField = Annotated[Fraction, _reader(_sheets, "write a number such as 2"), _schema("Whole or half sheets.", "2", "1-1/2", "half")]


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
        raise UserError(f"“{text[:20]}” is not a price", "write a plain number such as 0.35; the currency is said once, by  currency")
    return Fraction(text.strip())


def _by_length(text: str, _unit: str) -> Rate:
    match = re.fullmatch(rf"\s*({_MONEY})\s+for\s+({_MONEY})\s*({'|'.join(_LONG)})\s*", text)
    if not match or not Fraction(match[2]):
        raise UserError(f"“{text[:30]}” is not a price by the length", "write for example 4.50 for 8 m, or 4.50 for 26 ft")
    return Rate(Fraction(match[1]), Fraction(match[2]) * _LONG[match[3]])


def _by_area(text: str, unit: str) -> Rate:
    match = re.fullmatch(rf"\s*({_MONEY})\s+for\s+(.+)", text)
    if not match:
        raise UserError(f"“{text[:30]}” is not a price by the sheet", "write for example 3 for 4 x 6 in, or 3 for 100 x 150 mm")
    return Rate(Fraction(match[1]), parse_size(match[2], unit).area)


MoneyField = Annotated[Fraction, _reader(_money, "write a price such as 0.35"), _schema("A price, without the currency.", "0.35", "4.50")]
ByLengthField = Annotated[
    Rate, _reader(_by_length, "write a price such as 4.50 for 8 m"), _schema("A price for so much of it.", "4.50 for 8 m", "4.50 for 26 ft")
]
ByAreaField = Annotated[
    Rate,
    _reader(_by_area, "write a price such as 3 for 4 x 6 in"),
    _schema("A price for a sheet of it.", "3 for 4 x 6 in", "3 for 100 x 150 mm"),
]
