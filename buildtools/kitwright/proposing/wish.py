"""What a maker has on her table and what she wishes of the layout: one question, read and sound, before anything is searched."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.kit.model.papers import PaperFace
from kitwright.papers import NamedSize
from kitwright.units import Length, Size

Unit = Literal["in", "mm"]
FoldName = Literal["side", "top", "gate", "flat"]
"""Folds whose fronts are looked for."""
Sharing = Literal["free", "share", "whole"]
"""Which patterned sheets meet on a card: whichever way it comes out, on every card, or on none (each card from one sheet)."""

LEFT_OVER = Fraction(15, 100)
"""The share of all sheets that may be left over where nothing is said."""


@dataclass(frozen=True, slots=True)
class Stock:
    """Patterned sheets of one paper."""

    key: str
    """The short name that a kit's file would give it."""
    name: str
    """What the maker calls it."""
    sheet: NamedSize
    """One sheet, as it lies: its up at the top where it has one."""
    sheets: int
    """How many there are."""
    one_way: bool = False
    """Whether its pattern has an up, so that no piece may lie turned."""
    face: PaperFace | None = None
    """How it looks, where the club file or the maker says so."""
    named: bool = True
    """Whether its name is hers, and not one that stands in."""


@dataclass(frozen=True, slots=True)
class CardWish:
    """The card that the pieces go on."""

    closed: Size
    """Its closed front, as it stands."""
    fold: FoldName
    envelope: NamedSize | None
    """None: the smallest known one that it fits."""
    mat: Length | None
    """How much of the base shows round a cardstock mat; None: the pieces lie on the base itself."""
    cardstock: NamedSize
    """The sheet that bases and mats are cut from."""


@dataclass(frozen=True, slots=True)
class Made:
    """A size that a punch or a die of hers makes."""

    size: Size
    """What it makes."""
    blank: Size
    """What is cut from the sheet for it: paper has to hold all round."""
    tool: Literal["punch", "die"]


@dataclass(frozen=True, slots=True)
class Wish:
    """A question to the proposer. Every length is exact; what is a range was made a few values."""

    unit: Unit
    """In which she thinks, and in which sizes are told."""
    step: Length
    """Every size is a whole number of these: ⅛ or 1/16 in, or 1 mm."""
    stocks: tuple[Stock, ...]
    cards: int | None
    """None: whatever the sheets give best."""
    cards_of: tuple[CardWish, ...]
    """One card; several where she named none and usual ones are tried."""
    borders: tuple[Length, ...]
    """From the edge of what the pieces lie on to the pieces."""
    gaps: tuple[Length, ...]
    """Between pieces."""
    designs: Literal[1, 2] = 1
    families: tuple[str, ...] = ()
    """Names of families (`families.ALL`); empty: all."""
    pieces: tuple[int, int] | None = None
    """At least and at most so many on a card."""
    kinds: int = 3
    """At most so many different sizes."""
    band: Length | None = None
    """A band free for the greeting, at least so high; None: none is asked for, and none needs to be."""
    made: tuple[Made, ...] = ()
    """At least one size of every layout is one of these."""
    sharing: Sharing = "free"
    waste: Fraction = LEFT_OVER
    """The share of all sheets that may be left over, 0 to 1."""
    slack: Length | None = None
    """Every sheet may be so much smaller both ways."""
    even: Length | None = None
    """Sizes that don't follow from others are whole numbers of these, steps on the ruler themselves; None: any on the ruler."""
    hold: Length | None = None
    """The narrowest paper that her trimmer holds beside the blade; None: any."""
