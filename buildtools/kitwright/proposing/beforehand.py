"""What common sheets give for common cards, asked before any maker asks: one sheet, one card, a few plain layouts.

The table of questions is fixed, inch sheets with the cards of that ruler and metric sheets with theirs.
`buildtools/sheets_answered.py` asks them, which takes minutes, and keeps what is chosen as data.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.cutting.solver.work import Work
from kitwright.kit.model.papers import PaperFace
from kitwright.papers import NamedSize
from kitwright.proposing.records import Proposal
from kitwright.proposing.search import propose
from kitwright.proposing.usual import CARDS, HABITS
from kitwright.proposing.wish import CardWish, Stock, Unit, Wish
from kitwright.units import Length, parse_size

PLAIN = ("rows", "columns", "grid", "rows beside a panel", "wound strips")
"""Families that are cut and laid without more ado."""
KINDS = 2
"""Sizes on a card, at most."""
PIECES = (2, 6)
BANDS: dict[Unit, Length] = {"in": Length(Fraction(3, 4)), "mm": Length.mm(20)}
"""A band for the greeting is at least so high; each question is asked with one and without."""
MOST_MARKS = 4
"""Ruler marks of a sheet; one that takes more is not plain."""
MOST_STROKES = 7
"""Strokes of the blade a card."""
STEPS = 4_000_000
"""What may be spent on a question with a band, and on one without."""
CHOSEN = 2
"""Layouts that are kept of a question."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet as it is sold, where inches rule and where millimetres do."""

    key: str
    """Part of addresses: it never changes."""
    sizes: tuple[NamedSize, NamedSize]
    """By inches, by millimetres."""
    face: PaperFace
    """What it is shown as; any paper may lie there, that has no up."""

    def size(self, unit: Unit) -> NamedSize:
        return self.sizes[unit == "mm"]


def _sheet(key: str, inches: tuple[str, str], metric: tuple[str, str], look: str, *colours: str) -> Sheet:
    sizes = NamedSize(inches[0], parse_size(inches[1], "in"), ""), NamedSize(metric[0], parse_size(metric[1], "mm"), "")
    return Sheet(key, sizes, PaperFace(look=look, colours=[*colours]))


SHEETS = (
    _sheet("6", ("6 × 6 in", "6 x 6"), ("15.2 cm square", "152 x 152"), "dots", "blush", "white"),
    _sheet("8", ("8 × 8 in", "8 x 8"), ("20.3 cm square", "203 x 203"), "waves", "sky", "white"),
    _sheet("12", ("12 × 12 in", "12 x 12"), ("30.5 cm square", "305 x 305"), "sprigs", "sage", "butter"),
    _sheet("half-page", ("half Letter", "8-1/2 x 5-1/2"), ("A5", "148 x 210"), "checks", "butter", "white"),
    _sheet("page", ("Letter", "8-1/2 x 11"), ("A4", "210 x 297"), "blossoms", "linen", "clay"),
)
"""Sizes that pads and single sheets are sold in, and half a page; metric squares a hair smaller than inch ones (`sources.PRACTICE`)."""


@dataclass(frozen=True, slots=True)
class Question:
    """One sheet, one card."""

    sheet: str
    """Its key."""
    unit: Unit
    card: int
    """Which of the usual cards of that ruler (`usual.CARDS`)."""

    @property
    def wish(self) -> Wish:
        """What is asked, without a band."""
        closed, envelope = CARDS[self.unit][self.card]
        habits = HABITS[self.unit]
        sheet = next(one for one in SHEETS if one.key == self.sheet)
        return Wish(
            unit=self.unit,
            step=habits.step,
            stocks=(Stock("sheet", "", sheet.size(self.unit), 1, face=sheet.face),),
            cards=None,
            cards_of=(CardWish(closed, "side", envelope, None, habits.cardstock),),
            borders=(habits.border,),
            gaps=(habits.gap,),
            families=PLAIN,
            pieces=PIECES,
            kinds=KINDS,
        )

    @property
    def wishes(self) -> tuple[Wish, Wish]:
        """With a band for the greeting, and without."""
        return replace(self.wish, band=BANDS[self.unit]), self.wish


QUESTIONS = tuple(Question(sheet.key, unit, card) for sheet in SHEETS for unit, cards in CARDS.items() for card in range(len(cards)))


def asked(question: Question) -> tuple[Proposal, ...]:
    """What is chosen of what a question gives, within so much work; what leaves least of the sheet is looked at first."""
    return tuple(chosen(one for wish in question.wishes for one in propose(wish, Work(STEPS)).proposals))


def chosen(proposals: Iterable[Proposal]) -> Iterator[Proposal]:
    """A few that differ: the one that makes most cards, then what takes fewest measures of another family; none of many marks or a single card."""
    left = sorted(filter(_plain, proposals), key=_most)
    for number in range(1, CHOSEN + 1):
        if not left:
            return
        first = left[0]
        yield replace(first, number=number, twins=(), sides=tuple(replace(side, front={}) for side in first.sides))
        left = sorted((one for one in left if _sort(one) != _sort(first)), key=_fewest)


def _plain(one: Proposal) -> bool:
    return one.cards > 1 and one.measured.measures <= MOST_MARKS and one.measured.strokes <= MOST_STROKES * one.cards


def _sort(one: Proposal) -> object:
    return one.sides[0].family, one.sides[0].band is None


def _most(one: Proposal) -> tuple[object, ...]:
    return -one.cards, one.measured.measures, one.measured.waste, _fewest(one)


def _fewest(one: Proposal) -> tuple[object, ...]:
    return one.measured.measures, -one.cards, one.measured.strokes, one.measured.waste, repr(_sort(one))
