"""Wishes that can't be had together, told two by two before anything is searched."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kitwright.card.base import doubled
from kitwright.card.enclosed import clearance
from kitwright.check.envelope import LEAST_ROOM
from kitwright.errors import UserError
from kitwright.proposing.families import families
from kitwright.proposing.families.family import field_of
from kitwright.proposing.makeable import COVERED, LEAST_BAND
from kitwright.proposing.question import QuestionSpec
from kitwright.proposing.wish import CardWish, Wish
from kitwright.units import HALF_MM, SIXTEENTH, ZERO, Length, Size

Against = tuple[tuple[str, ...], UserError]
"""The words of the question that are meant, the one to look at last; and what is wrong."""

FINEST = {"in": Length(SIXTEENTH), "mm": Length(HALF_MM)}
"""The finest mark of a ruler, by unit."""
MOST_RANGES = 24
"""Borders × gaps × cards that one question may try."""
MOST_LAYOUTS = 1_000_000
"""Layouts that one question with ranges may have; reckoned from its first border and gap on every card."""
GATE = "gate doors"
"""The family that only a gate fold has."""
BUNTING = "bunting"
"""The family whose pieces hang askew, so that paper with an up has none."""


def against(wish: Wish, spec: QuestionSpec) -> Iterator[Against]:
    """All that contradicts itself.

    Args:
        wish: the question, defaults filled in.
        spec: what was typed of it.
    """
    yield from _grid(wish)
    yield from _sheets(wish)
    for card in wish.cards_of:
        yield from against_card(wish, card)
    yield from _counts(wish, spec)
    yield from _papers(wish, spec)
    yield from _tools(wish)
    borders, gaps, cards = len(wish.borders), len(wish.gaps), len(wish.cards_of)
    if (tried := borders * gaps * cards) > MOST_RANGES:
        yield (
            ("card", "gap", "border"),
            UserError("proposing.too-many-ranges", borders=borders, gaps=gaps, cards=cards, tried=tried, most=MOST_RANGES),
        )


def too_much(wish: Wish) -> UserError | None:
    """Whether ranges make more layouts than are looked through, with what to fix first. A question without ranges never does."""
    ranges = len(wish.borders) * len(wish.gaps)
    if ranges == 1:
        return None
    chosen = [family for name, family in families().items() if not wish.families or name in wish.families]
    fields = [field_of(wish, card, wish.borders[0], wish.gaps[0]) for card in wish.cards_of]
    each = sum(len(batch) for field in fields for family in chosen for batch in family.batches(field))
    if each * ranges <= MOST_LAYOUTS:
        return None
    return UserError("proposing.too-many-layouts", layouts=each * ranges, each=each, borders=len(wish.borders), gaps=len(wish.gaps))


def _grid(wish: Wish) -> Iterator[Against]:
    finest = FINEST[wish.unit]
    if wish.step < finest or wish.step.inches % finest.inches:
        yield ("grid",), UserError("proposing.finer-than-the-ruler", step=wish.step, finest=finest, unit=wish.unit)


def _sheets(wish: Wish) -> Iterator[Against]:
    smallest = min(wish.stocks, key=lambda stock: min(stock.sheet.size.width, stock.sheet.size.height)).sheet.size
    if wish.slack is not None and wish.slack >= min(smallest.width, smallest.height):
        yield ("paper", "slack"), UserError("proposing.slack-past-the-sheet", slack=wish.slack, sheet=smallest, unit=wish.unit)


def inner_of(wish: Wish, card: CardWish, border: Length = ZERO) -> Size:
    """Where pieces may lie on a closed card, or on one door of its gate, inside mat and border; a side may be nothing or less."""
    ground, off = field_of(wish, card, ZERO, ZERO).ground, border * 2
    return Size(ground.width - off, ground.height - off)


def against_card(wish: Wish, card: CardWish) -> Iterator[Against]:
    """All that contradicts one of its cards."""
    yield from _card(wish, card)
    yield from _area(wish, card)


def _card(wish: Wish, card: CardWish) -> Iterator[Against]:
    closed, unit = card.closed, wish.unit
    # Scraps as wide as a front within its border still make one.
    front = inner_of(wish, card, min(wish.borders))
    if not any(_goes_on(front, stock.sheet.size) for stock in wish.stocks):
        largest = max((stock.sheet.size for stock in wish.stocks), key=lambda size: size.area)
        yield ("paper", "card"), UserError("proposing.card-past-every-sheet", card=closed, sheet=largest, unit=unit)
    base = closed if card.fold == "flat" else doubled(closed, "top" if card.fold == "top" else "side")
    if not _goes_on(base, card.cardstock.size):
        yield (
            ("card", "cardstock"),
            UserError("proposing.base-past-the-cardstock", base=base, card=closed, cardstock=card.cardstock, unit=unit),
        )
    if card.envelope is not None:
        room = clearance(closed, card.envelope.size)
        if min(room.width, room.height) < LEAST_ROOM:
            yield ("card", "envelope"), UserError("proposing.card-past-the-envelope", card=closed, envelope=card.envelope, unit=unit)
    within = inner_of(wish, card)
    if min(within.width, within.height) <= ZERO:
        yield ("card", "mat"), UserError("proposing.mat-past-the-card", mat=card.mat, card=closed, unit=unit)
        return
    for border in wish.borders:
        inner = inner_of(wish, card, border)
        if min(inner.width, inner.height) <= ZERO:
            yield ("card", "border"), UserError("proposing.border-past-the-card", border=border, card=within, unit=unit)
            continue
        if wish.band is not None and wish.band >= inner.height:
            yield (
                ("border", "band"),
                UserError("proposing.band-past-the-front", band=wish.band, height=inner.height, border=border, unit=unit),
            )
        for gap in wish.gaps:
            if gap >= max(inner.width, inner.height):
                yield ("card", "gap"), UserError("proposing.gap-past-the-card", gap=gap, inner=inner, unit=unit)
        if wish.step > min(inner.width, inner.height):
            yield ("card", "grid"), UserError("proposing.step-past-the-card", step=wish.step, inner=inner, unit=unit)


def _goes_on(size: Size, sheet: Size) -> bool:
    return size.fits(sheet) or size.turned.fits(sheet)


def _counts(wish: Wish, spec: QuestionSpec) -> Iterator[Against]:
    if wish.pieces and spec.kinds is not None and spec.kinds > wish.pieces[1]:
        yield ("pieces", "kinds"), UserError("proposing.kinds-past-the-pieces", kinds=spec.kinds, pieces=wish.pieces[1])
    if wish.designs == 2 and wish.cards and wish.cards % 2:
        yield ("cards", "designs"), UserError("proposing.odd-cards-of-two-designs", cards=wish.cards)
    gate = any(card.fold == "gate" for card in wish.cards_of)
    if GATE in wish.families and not gate:
        yield ("fold", "family"), UserError("proposing.doors-without-a-gate", fold=wish.cards_of[0].fold)
    if gate and wish.band is not None:
        yield ("fold", "band"), UserError("proposing.band-on-a-gate")
    if wish.families == (BUNTING,) and any(stock.one_way for stock in wish.stocks):
        yield ("paper", "family"), UserError("proposing.bunting-one-way")
    if gate and wish.families and GATE not in wish.families:
        yield ("fold", "family"), UserError("proposing.gate-without-doors", families=wish.families)


def _papers(wish: Wish, spec: QuestionSpec) -> Iterator[Against]:
    if spec.share and spec.whole:
        yield ("share", "whole"), UserError("proposing.share-and-whole")
    elif spec.share and len(wish.stocks) == 1:
        yield ("paper", "share"), UserError("proposing.share-of-one-paper", paper=wish.stocks[0].name if wish.stocks[0].named else None)
    elif spec.whole and wish.cards is not None and wish.cards < len(wish.stocks):
        yield ("cards", "whole"), UserError("proposing.whole-past-the-cards", cards=wish.cards, papers=len(wish.stocks))


def _tools(wish: Wish) -> Iterator[Against]:
    for made in wish.made:
        if not any(_goes_on(made.blank, stock.sheet.size) for stock in wish.stocks):
            largest = max((stock.sheet.size for stock in wish.stocks), key=lambda size: size.area)
            yield (
                ("paper", made.tool),
                UserError(
                    "proposing.blank-past-every-sheet", tool=made.tool, size=made.size, blank=made.blank, sheet=largest, unit=wish.unit
                ),
            )
        elif not any(_goes_on(made.size, inner_of(wish, card, min(wish.borders))) for card in wish.cards_of):
            inner = max((inner_of(wish, card, min(wish.borders)) for card in wish.cards_of), key=lambda size: size.area)
            yield (
                ("card", made.tool),
                UserError("proposing.punch-past-the-card", tool=made.tool, size=made.size, blank=made.blank, inner=inner, unit=wish.unit),
            )
        elif made.size.width.inches % wish.step.inches or made.size.height.inches % wish.step.inches:
            yield (
                ("grid", made.tool),
                UserError("proposing.punch-off-the-grid", tool=made.tool, size=made.size, blank=made.blank, step=wish.step, unit=wish.unit),
            )


def least_of(wish: Wish, card: CardWish) -> Fraction:
    """Square inches of patterned paper that a front takes at the least (`makeable.COVERED`), whatever its border."""
    ground, inner = inner_of(wish, card), inner_of(wish, card, min(wish.borders))
    doors = 2 if card.fold == "gate" else 1
    # Where no band was asked for, fronts with one are looked for too.
    band = wish.band or (LEAST_BAND[wish.unit] if card.fold != "gate" and inner.height > LEAST_BAND[wish.unit] else ZERO)
    return (ground.area - band.inches * inner.width.inches) * COVERED * doors


def _area(wish: Wish, card: CardWish) -> Iterator[Against]:
    """More cards than all paper together could cover."""
    have = sum((stock.sheet.size.area * stock.sheets for stock in wish.stocks), Fraction(0))
    inner = inner_of(wish, card, min(wish.borders))
    # What leaves nothing of the front is told as such.
    if wish.cards is None or min(inner.width, inner.height) <= ZERO or wish.band is not None and wish.band >= inner.height:
        return
    each, sheets = least_of(wish, card), sum(stock.sheets for stock in wish.stocks)
    if each * wish.cards > have:
        sizes = {stock.sheet.size for stock in wish.stocks}
        yield (
            ("paper", "cards"),
            UserError(
                "proposing.cards-past-the-paper",
                cards=wish.cards,
                sheets=sheets,
                takes=each * wish.cards / have * sheets,
                most=int(have / each),
                covered=COVERED,
                sheet=sizes.pop() if len(sizes) == 1 else None,
                unit=wish.unit,
            ),
        )
