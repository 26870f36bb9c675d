"""What can be typed of a question, as options of the command or in a short file: each entry read by itself."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from kitwright.errors import UserError
from kitwright.kit.fields import EnvelopeField, LengthField, MarginField, SheetField, SizeField, as_typed, reading
from kitwright.kit.model.text import OneOrMany, ShortWords, Spec, YesNo
from kitwright.papers import sheet_named
from kitwright.proposing.wish import FoldName, Unit
from kitwright.units import MM, Length, Size, parse_length

MOST_CARDS = 400
"""Of a batch."""
MOST_ASKED = 40
"""Pieces on a card; more are a mosaic."""
MOST_KINDS = 5
"""Sizes on a card: what the search is made for."""


@dataclass(frozen=True, slots=True)
class SheetsOf:
    """Sheets of one paper, as typed: what its sheet is, is looked up later, since the club has papers of its own."""

    sheets: int
    sheet: str
    """A name, a measure, or a paper of the club."""
    one_way: bool
    name: str
    """What it is called; empty where that was not typed."""


_WAY = r"(?:\s+one[- ]way)"
_SHEETS_OF = re.compile(
    rf"\s*(?:(?P<sheets>\d{{1,6}})\s+(?:sheets?\s+)?of\s+)?(?P<sheet>\S.*?)(?P<way>{_WAY})?(?:\s+as\s+(?P<name>\S.*?))?(?P<after>{_WAY})?\s*",
    re.IGNORECASE,
)

_NO_NUMBER = re.compile(r"[-+\d.,/½¼¾⅓⅔\s]*\bof\b", re.IGNORECASE)
"""What is left where the number before `of` was none of whole sheets, or no sheet stands after it."""


def _sheets_of(text: str, _unit: str) -> SheetsOf:
    found = _SHEETS_OF.fullmatch(text)
    if not found or len(text) > 200 or _NO_NUMBER.match(found["sheet"]):
        raise UserError("proposing.no-sheets-of", text=text)
    if found["sheets"] and int(found["sheets"]) == 0:
        raise UserError("proposing.no-sheet", text=text)
    return SheetsOf(int(found["sheets"] or 1), found["sheet"], bool(found["way"] or found["after"]), found["name"] or "")


def _card(text: str, unit: str) -> Size:
    try:
        return sheet_named(text, unit).size
    except UserError as error:
        if error.code in ("papers.two-meanings", "papers.unknown-name", "papers.unreadable"):
            raise UserError("proposing.which-card", text=text) from None
        raise


def _pieces(text: str, _unit: str) -> tuple[int, int]:
    found = re.fullmatch(r"\s*(\d{1,4})(?:\s*(?:-|–|to)\s*(\d{1,4}))?\s*", text)
    if not found:
        raise UserError("proposing.no-range", text=text)
    least, most = int(found[1]), int(found[2] or found[1])
    if least > most:
        raise UserError("proposing.range-reversed", least=least, most=most)
    if not least:
        raise UserError("proposing.no-piece")
    if most > MOST_ASKED:
        raise UserError("proposing.too-many-pieces", pieces=most, most=MOST_ASKED)
    return least, most


def _part(text: str, _unit: str) -> Fraction:
    found = re.fullmatch(r"\s*(\d{1,3}(?:\.\d{1,3})?)\s*(%?)\s*", text)
    # 0.1 could be a tenth, or a tenth of a hundredth.
    if not found or not found[2] and "." in found[1]:
        raise UserError("proposing.no-part", text=text)
    part = Fraction(found[1]) / 100
    if part >= 1:
        raise UserError("proposing.whole-part", text=text)
    return part


def _step(text: str, unit: str) -> Length:
    return Length(MM) if text.strip().casefold() == "mm" else parse_length(text, unit)


def _parted(value: Any) -> Any:
    """Several values on one line, with commas between them."""
    return [part.strip() for part in value.split(",")] if isinstance(value, str) else value


Margins = Annotated[
    tuple[MarginField, ...], Field(min_length=1, max_length=12), BeforeValidator(_parted), as_typed("margins", "1/8", "3 mm")
]
Names = Annotated[tuple[ShortWords, ...], BeforeValidator(_parted)]


class QuestionSpec(Spec):
    """A question: what she has, and what she wishes. Nothing but the paper need be said."""

    unit: Unit | None = None
    """What bare numbers are in: in, or mm; the club's own when left out, unless a measure says another."""
    paper: Annotated[
        tuple[Annotated[SheetsOf, reading(_sheets_of, "sheets of a paper"), as_typed("sheets of a paper", "3 of 8 x 8", "2 of A4")], ...],
        OneOrMany(),
    ] = Field((), max_length=12)
    """The patterned sheets: 3 of 8 x 8, 2 of 12 x 12 one-way, 1 of A4 as Meadow, 2 of meadow."""
    card: Annotated[tuple[Annotated[Size, reading(_card, "card"), as_typed("card", "5 x 7", "105 x 148 mm")], ...], OneOrMany()] = Field(
        (), max_length=4
    )
    """The closed front, width x height as it stands; usual cards are tried when left out."""
    cards: int | None = Field(None, ge=1, le=MOST_CARDS, examples=["9"])
    """How many cards; what the sheets give when left out."""
    fold: FoldName = "side"
    """side, top, gate or flat."""
    envelope: EnvelopeField | None = None
    """The envelope it goes into; the smallest known one that it fits when left out."""
    mat: LengthField | None = Field(None, examples=["1/8"])
    """How much of the base shows round a mat; no mat when left out."""
    cardstock: SheetField | None = None
    """The sheet for bases and mats; Letter or A4 when left out."""
    designs: int = Field(1, ge=1, le=2, examples=["1"])
    """One design, or two that share the sheets."""
    pieces: Annotated[tuple[int, int], reading(_pieces, "pieces on a card"), as_typed("pieces on a card", "3-5")] | None = None
    """How many pieces a card has: 4, or 3-5."""
    kinds: int | None = Field(None, ge=1, le=MOST_KINDS, examples=["3"])
    """How many sizes at most."""
    family: Names = Field((), examples=["rows"])
    """Which sorts of layouts; all when left out."""
    border: Margins | None = None
    """From the edge to the pieces; several with commas."""
    gap: Margins | None = None
    """Between pieces; several with commas."""
    band: LengthField | None = Field(None, examples=["1-5/8"])
    """A free band for the greeting, at least so high."""
    grid: Annotated[Length, reading(_step, "ruler step"), as_typed("ruler step", "1/8", "mm")] | None = None
    """Sizes are whole numbers of these: 1/8, 1/16 or mm."""
    punch: Annotated[tuple[SizeField, ...], OneOrMany()] = Field((), max_length=6, examples=["2 x 2"])
    """What a punch of yours makes."""
    die: Annotated[tuple[SizeField, ...], OneOrMany()] = Field((), max_length=6, examples=["3 x 2"])
    """What a die of yours makes."""
    share: YesNo = False
    """yes: papers meet on every card."""
    whole: YesNo = Field(False, examples=["no"])
    """yes: each card is of one paper."""
    waste: Annotated[Fraction, reading(_part, "part"), as_typed("part", "10%")] | None = None
    """How much of all sheets may be left over; 15% when left out."""
    slack: MarginField | None = None
    """How much smaller every sheet may be, both ways."""
