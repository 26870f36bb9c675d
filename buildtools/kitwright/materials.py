"""What pieces are cut from: patterned paper, cardstock, vellum, clear film, chipboard, foam sheet.

One table of values; whoever has to know whether a card base can be of it, whether it has a
grain or what a square metre weighs asks these, never for a kind by its name. What they mean for
adhesive and ink is told in `telling.materials`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.units import Length, Size, parse_size

Kind = Literal["patterned", "cardstock", "vellum", "film", "chipboard", "foam"]
Shows = Literal["nothing", "dimly", "through"]
"""What is seen of what lies below."""
Sold = tuple[tuple[str, Size], ...]


@dataclass(frozen=True, slots=True)
class Range:
    """A figure known within bounds; exact when both are equal."""

    low: Fraction
    high: Fraction

    @classmethod
    def exact(cls, value: Fraction | int) -> Range:
        return cls(Fraction(value), Fraction(value))

    @property
    def known(self) -> bool:
        return self.low == self.high

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.high + other.high)

    def __mul__(self, factor: Fraction) -> Range:
        return Range(self.low * factor, self.high * factor)

    def by(self, other: Range) -> Range:
        """The product of two figures above zero."""
        return Range(self.low * other.low, self.high * other.high)

    def over(self, other: Range) -> Range:
        """The quotient of two figures above zero."""
        return Range(self.low / other.high, self.high / other.low)


def _between(low: str, high: str) -> Range:
    return Range(Fraction(low), Fraction(high))


BULK = _between("1.1", "1.7")
"""Cubic centimetres per gram of card and paper: from smooth and dense to soft and bulky."""


@dataclass(frozen=True, slots=True)
class Material:
    """What holds for everything of one kind."""

    kind: Kind
    bulk: Range
    """Cubic centimetres per gram."""
    weighs: Range | None
    """Grams per square metre where neither weight nor thickness is given; None where it is sold by its thickness."""
    thick: Range | None
    """Millimetres likewise; None where it is sold by its weight."""
    sold: Sold
    """Sheets it is sold as."""
    asked: tuple[str, ...]
    """Which of them readers ask for first."""
    printed: bool = False
    """Whether it has a pattern: those papers come first, and are asked whether they could be one-way."""
    stands: bool = False
    """Whether a card base of it stands where neither weight nor thickness says otherwise."""
    folds: bool = True
    """Whether it can be scored and folded at all."""
    flexible: bool = True
    """Whether a letter with it still bends as the post's machines want."""
    grained: bool = True
    """Whether it has a grain, along which it folds better."""
    shows: Shows = "nothing"
    dyed: bool = False
    """Whether it is sold in any colour, so that one of no colour is worth a word."""
    natural: str = "white"
    """The colour it is drawn in where a kit says none."""

    def stock(self, grammage: Fraction | None, calliper: Length | None) -> tuple[Range, Range]:
        """Grams per square metre and millimetres: what is known, and bounds for what is not.

        Thickness follows from weight for what is sold by its weight, even where a thickness is given (a calliper
        does not tell a paper's weight); weight follows from thickness for what is sold by that.
        """
        thick = Range.exact(calliper.millimetres) if calliper is not None else None
        if grammage is not None:
            mass = Range.exact(grammage)
        elif self.weighs is not None:
            mass = self.weighs
        else:
            mass = ((thick or self.thick or NOTHING) * Fraction(1000)).over(self.bulk)
        if thick is None:
            thick = self.thick if self.thick is not None and grammage is None else mass.by(self.bulk) * Fraction(1, 1000)
        return mass, thick


NOTHING = Range.exact(0)


def _sold(*texts: str) -> Sold:
    return tuple((text.replace("x", "×"), parse_size(text)) for text in texts)


_LETTER_A4: Sold = (("Letter", parse_size("8-1/2 x 11")), ("A4", parse_size("210 x 297 mm")))
"""Each by its own name (`kitwright.papers`)."""
_PADS = _sold("6 x 6 in", "8 x 8 in", "12 x 12 in", "15 x 15 cm", "15.2 x 15.2 cm", "20 x 20 cm", "30 x 30 cm")
_FOOT = _sold("12 x 12 in")
_USUAL = ("A4", "Letter")

MATERIALS: dict[Kind, Material] = {
    each.kind: each
    for each in (
        Material("patterned", BULK, _between("120", "220"), None, _PADS, ("12 × 12 in", "6 × 6 in"), printed=True),
        Material("cardstock", BULK, _between("176", "300"), None, _LETTER_A4, _USUAL, stands=True, dyed=True),
        Material("vellum", _between("0.75", "0.95"), _between("90", "150"), None, _LETTER_A4 + _FOOT, _USUAL, shows="dimly"),
        Material(
            "film",
            _between("0.7", "0.85"),
            None,
            _between("0.1", "0.25"),
            _LETTER_A4 + _FOOT,
            _USUAL,
            stands=True,
            grained=False,
            shows="through",
        ),
        Material(
            "chipboard",
            _between("1.3", "1.8"),
            None,
            _between("0.5", "2"),
            _LETTER_A4 + _FOOT,
            _USUAL,
            folds=False,
            flexible=False,
            natural="#b7a68a",
        ),
        Material(
            "foam",
            _between("5", "12"),
            None,
            _between("1", "3"),
            _sold("9 x 12 in") + _LETTER_A4,
            _USUAL,
            folds=False,
            grained=False,
            dyed=True,
        ),
    )
}
"""By kind; in this order they are told and planned."""
