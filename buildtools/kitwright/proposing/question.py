"""What can be typed of a question, as options of the command or in a short file: each entry read by itself."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from kitwright.errors import UserError
from kitwright.kit.fields import EnvelopeField, SheetField, Unfit, as_typed, reading
from kitwright.kit.model.text import OneOrMany, ShortWords, Spec, YesNo
from kitwright.papers import called_alike, sheet_named
from kitwright.proposing import spellings
from kitwright.proposing.wish import FoldName, Unit
from kitwright.units import MM, Length, Size, parse_length, parse_size

MOST_CARDS = 400
"""Of a batch."""
MOST_ASKED = 40
"""Pieces on a card; more are a mosaic."""
MOST_KINDS = 5
"""Sizes on a card: what the search is made for."""


def _text(text: str, _unit: str) -> str:
    """As typed: which sheets these are, is found out beside the papers of the club."""
    return text


def _cards(text: str, unit: str) -> tuple[Size, ...]:
    if size := _card(text, unit):
        return (size,)
    parts = spellings.several(text)
    found = [_card(each, unit) for each in parts]
    if not all(found):
        unclear = next(each for each, size in zip(parts, found) if not size)
        sheets, envelopes = called_alike(_bare(unclear))
        raise UserError("proposing.which-card", text=unclear, sheets=sheets, envelopes=envelopes, unit=unit)
    return tuple(filter(None, found))


def _bare(text: str) -> str:
    return re.sub(r"^an?\s+|\s+cards?$", "", text.strip(), flags=re.IGNORECASE)


def _card(text: str, unit: str) -> Size | None:
    """A front by name or measure; None where it is none."""
    try:
        return sheet_named(spellings.measure(_bare(text)), unit).size
    except UserError as error:
        if error.code in ("papers.two-meanings", "papers.unknown-name", "papers.unreadable"):
            return None
        raise


def _sizes(text: str, unit: str) -> tuple[Size, ...]:
    """What a tool makes, several on one line."""
    plain = spellings.measure(text)
    try:
        return (parse_size(plain, unit),)
    except UserError:
        parts = spellings.several(text)
        if len(parts) == 1:
            raise
        return tuple(parse_size(spellings.measure(each), unit) for each in parts)


def _pieces(text: str, _unit: str) -> tuple[int, int]:
    found = re.fullmatch(r"\s*(.+?)(?:\s*(?:-|–|—|\.\.+|…|\bto\b|\bor\b)\s*(.+?))?(?:\s+(?:pieces?|a card|each))*\s*", text)
    least = spellings.whole(found[1]) if found else None
    most = spellings.whole(found[2]) if found and found[2] else least
    if least is None or most is None:
        raise UserError("proposing.no-range", text=text)
    if least > most:
        raise UserError("proposing.range-reversed", least=least, most=most)
    if not least:
        raise UserError("proposing.no-piece")
    if most > MOST_ASKED:
        raise UserError("proposing.too-many-pieces", pieces=most, most=MOST_ASKED)
    return least, most


def _part(text: str, _unit: str) -> Fraction:
    part = spellings.part(text)
    if part is None:
        raise UserError("proposing.no-part", text=text)
    if part >= 1:
        raise UserError("proposing.whole-part", text=text)
    return part


_STEPS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters", "whole mm"), Length(MM)),
    **dict.fromkeys(("eighth", "eighths"), Length(Fraction(1, 8))),
    **dict.fromkeys(("sixteenth", "sixteenths"), Length(Fraction(1, 16))),
}


def _step(text: str, unit: str) -> Length:
    return _STEPS.get(text.strip().casefold()) or parse_length(spellings.length(text), unit)


def _length(text: str, unit: str) -> Length:
    return parse_length(spellings.length(text), unit)


def _wished(text: str, unit: str) -> Length | None:
    """A length that may be wished away."""
    return None if text.strip().casefold() in spellings.NONE else _length(text, unit)


def _margin(text: str, unit: str) -> Length:
    return parse_length(spellings.length(text), unit, allow_zero=True)


def _counted(*things: str) -> BeforeValidator:
    """A whole number, with what it counts or without, in figures or words."""
    return BeforeValidator(lambda value: spellings.counted(value, *things) if isinstance(value, str) else value)


def _parted(value: Any) -> Any:
    """Several values on one line, with commas between them."""
    if isinstance(value, str):
        if ways := spellings.two_ways(value):
            raise Unfit("proposing.comma-two-ways", before=ways[0], after=ways[1])
        return spellings.several(value)
    return [part for each in value for part in (_parted(each) if isinstance(each, str) else [each])] if isinstance(value, list) else value


WishedField = Annotated[Length | None, reading(_wished, "length"), as_typed("length", "1-5/8", "40 mm")]
MarginField = Annotated[Length, reading(_margin, "margin"), as_typed("margin", "1/8", "0", "3 mm")]
Margins = Annotated[
    tuple[MarginField, ...], Field(min_length=1, max_length=12), BeforeValidator(_parted), as_typed("margins", "1/8", "3 mm")
]
Names = Annotated[tuple[ShortWords, ...], BeforeValidator(_parted)]
Tools = Annotated[tuple[Annotated[tuple[Size, ...], reading(_sizes, "size"), as_typed("size", "2 x 2", "50 x 50 mm")], ...], OneOrMany()]


class QuestionSpec(Spec):
    """A question: what she has, and what she wishes. Nothing but the paper need be said."""

    unit: Unit | None = None
    """What bare numbers are in: in, or mm; the club's own when left out, unless a measure says another."""
    paper: Annotated[
        tuple[Annotated[str, reading(_text, "sheets of a paper"), as_typed("sheets of a paper", "3 of 8 x 8", "2 of A4")], ...], OneOrMany()
    ] = Field((), max_length=12)
    """The patterned sheets: 3 of 8 x 8, 2 of 12 x 12 one-way, 1 of A4 as Meadow, 2 of meadow."""
    card: Annotated[
        tuple[Annotated[tuple[Size, ...], reading(_cards, "card"), as_typed("card", "5 x 7", "105 x 148 mm")], ...], OneOrMany()
    ] = Field((), max_length=4)
    """The closed front, width x height as it stands; usual cards are tried when left out."""
    cards: Annotated[int | None, _counted("cards?")] = Field(None, ge=1, le=MOST_CARDS, examples=["9"])
    """How many cards; what the sheets give when left out."""
    fold: FoldName = "side"
    """side, top, gate or flat."""
    envelope: EnvelopeField | None = None
    """The envelope it goes into; the smallest known one that it fits when left out."""
    mat: WishedField = Field(None, examples=["1/8"])
    """How much of the base shows round a mat; no mat when left out."""
    cardstock: SheetField | None = None
    """The sheet for bases and mats; Letter or A4 when left out."""
    designs: Annotated[int, _counted("designs?")] = Field(1, ge=1, le=2, examples=["1"])
    """One design, or two that share the sheets."""
    pieces: Annotated[tuple[int, int], reading(_pieces, "pieces on a card"), as_typed("pieces on a card", "3-5")] | None = None
    """How many pieces a card has: 4, or 3-5."""
    kinds: Annotated[int | None, _counted("kinds?", "sizes?")] = Field(None, ge=1, le=MOST_KINDS, examples=["3"])
    """How many sizes at most."""
    family: Names = Field((), examples=["rows"])
    """Which sorts of layouts; all when left out."""
    border: Margins | None = None
    """From the edge to the pieces; several with commas."""
    gap: Margins | None = None
    """Between pieces; several with commas."""
    band: WishedField = Field(None, examples=["1-5/8"])
    """A free band for the greeting, at least so high."""
    grid: Annotated[Length, reading(_step, "ruler step"), as_typed("ruler step", "1/8", "mm")] | None = None
    """Sizes are whole numbers of these: 1/8, 1/16 or mm."""
    punch: Tools = Field((), max_length=6, examples=["2 x 2"])
    """What a punch of yours makes."""
    die: Tools = Field((), max_length=6, examples=["3 x 2"])
    """What a die of yours makes."""
    share: YesNo = False
    """yes: papers meet on every card."""
    whole: YesNo = Field(False, examples=["no"])
    """yes: each card is of one paper."""
    waste: Annotated[Fraction, reading(_part, "part"), as_typed("part", "10%")] | None = None
    """How much of all sheets may be left over; 15% when left out."""
    slack: MarginField | None = None
    """How much smaller every sheet may be, both ways."""
