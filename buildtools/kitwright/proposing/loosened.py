"""The nearest way out of a question that nothing answers: each wish loosened by itself, a little at first, by counted work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.cutting.solver.work import Work
from kitwright.errors import UserError
from kitwright.findings import Note
from kitwright.proposing.against import against_card, inner_of
from kitwright.proposing.question import MOST_CARDS, MOST_KINDS
from kitwright.proposing.records import Answer
from kitwright.proposing.search import propose
from kitwright.proposing.usual import HABITS
from kitwright.proposing.wish import Stock, Wish
from kitwright.units import ZERO, Length, Size

EACH, ALL = 1_000_000, 8_000_000
"""Steps of work that one wish loosened may take, and all of them."""
LISTED = 50_000
"""Steps that it counts as to list a question's layouts once more."""
TOLD = 2
"""Ways out that are told; the first is the nearest."""
CEILINGS = (Fraction(1, 5), Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3))
"""Shares of all paper that may be left over, tried one after another."""


@dataclass(frozen=True, slots=True)
class Loosened:
    """One wish loosened."""

    note: Callable[[Answer], Note]
    """What is told of it, from what it gives."""
    wish: Wish


def ways_out(wish: Wish, stop: Callable[[], bool] | None = None) -> tuple[Note, ...]:
    """What would give something, the nearest first: each alone, everything else as it was wished; where none does alone, two together.

    Args:
        wish: a sound question with an empty answer.
        stop: whether the maker has had enough.
    """
    return _Looking(stop).ways_out(wish)


class _Looking:
    """Loosens wishes with one purse for all of them."""

    def __init__(self, stop: Callable[[], bool] | None) -> None:
        self.stop, self.spent = stop, 0

    @property
    def over(self) -> bool:
        """Whether the purse is empty, or the maker has had enough."""
        return self.spent > ALL or bool(self.stop and self.stop())

    def ways_out(self, wish: Wish) -> tuple[Note, ...]:
        found: list[Note] = []
        for ways in _ways(wish):
            first = self.first(ways)
            found += [first[0].note(first[1])] if first else []
            if len(found) == TOLD or self.over:
                break
        if found:
            return tuple(found)
        for ways in () if wish.waste >= CEILINGS[-1] else (*_sums(wish), _cards(wish), _sheets(wish)):
            first = self.first(replace(way, wish=replace(way.wish, waste=CEILINGS[-1])) for way in ways)
            if first:
                return Note("proposing.two-together"), first[0].note(first[1]), _least_waste(first[1])
        return (Note("proposing.no-way-out", whole=not self.over),)

    def first(self, ways: Iterable[Loosened]) -> tuple[Loosened, Answer] | None:
        """The first of some that gives something."""
        for way in ways:
            if self.over:
                break
            if answer := self.gives(way.wish):
                return way, answer
        return None

    def gives(self, wish: Wish) -> Answer | None:
        """The first that a question gives; None where it gives nothing, or can't be asked."""
        seen: list[Answer] = []

        def told(answer: Answer) -> None:
            if answer.proposals:
                seen.append(answer)

        if any(not _sound(wish, i) for i in range(len(wish.cards_of))):
            return None
        work = Work(EACH)
        try:
            answer = propose(wish, work, told, lambda: bool(seen) or self.over)
        except UserError:
            # Loosened like this it would be too much to look through.
            return None
        finally:
            self.spent += work.spent + LISTED
        return answer if answer.proposals else seen[-1] if seen else None


def _sound(wish: Wish, i: int) -> bool:
    return not any(against_card(wish, wish.cards_of[i]))


def _ways(wish: Wish) -> Iterator[Iterator[Loosened]]:
    """Wishes in the order in which a maker gives way most easily; of each, the least first."""
    yield _waste(wish)
    yield from _sums(wish)
    yield _cards(wish)
    yield _sheets(wish)
    yield _larger(wish)


def _sums(wish: Wish) -> Iterator[Iterator[Loosened]]:
    """Wishes that say how sizes add up on the card."""
    yield _slack(wish)
    yield _gaps(wish)
    yield _borders(wish)
    yield _band(wish)
    yield _counts(wish)
    yield _rest(wish)
    yield _grid(wish)


def _least_waste(answer: Answer) -> Note:
    return Note("proposing.with-waste", waste=min(one.measured.waste for one in answer.proposals))


def _waste(wish: Wish) -> Iterator[Loosened]:
    for ceiling in CEILINGS:
        if ceiling > wish.waste:
            yield Loosened(_least_waste, replace(wish, waste=ceiling))


def _slack(wish: Wish) -> Iterator[Loosened]:
    if wish.slack:
        note = Note("proposing.with-less-slack", slack=wish.slack, unit=wish.unit)
        yield Loosened(lambda _: note, replace(wish, slack=None))


def _marks(wish: Wish, near: Length) -> list[Length]:
    """Lengths round another, half a usual border apart, the nearest first; never below zero."""
    half = HABITS[wish.unit].border / 2 if wish.unit == "in" else Length.mm(1)
    return [length for n in (1, 2, 3) for length in (near - half * n, near + half * n) if length >= ZERO]


def _gaps(wish: Wish) -> Iterator[Loosened]:
    for gap in _marks(wish, wish.gaps[0]):
        if gap not in wish.gaps:
            yield _noted(replace(wish, gaps=(gap,)), Note("proposing.with-gap", gap=gap, unit=wish.unit))


def _borders(wish: Wish) -> Iterator[Loosened]:
    for border in _marks(wish, wish.borders[0]):
        if border not in wish.borders:
            yield _noted(replace(wish, borders=(border,)), Note("proposing.with-border", border=border, unit=wish.unit))


def _noted(wish: Wish, note: Note) -> Loosened:
    return Loosened(lambda _: note, wish)


def _band(wish: Wish) -> Iterator[Loosened]:
    if wish.band is None:
        return
    step = HABITS[wish.unit].step * (4 if wish.unit == "in" else 10)
    for n in (1, 2):
        if (band := wish.band - step * n) > ZERO:
            yield _noted(replace(wish, band=band), Note("proposing.with-band", band=band, unit=wish.unit))
    yield _noted(replace(wish, band=None), Note("proposing.without-band"))


def _counts(wish: Wish) -> Iterator[Loosened]:
    if wish.pieces:
        least, most = wish.pieces
        for n in (1, 2, 4):
            pieces = max(1, least - n), most + n
            yield _noted(replace(wish, pieces=pieces), Note("proposing.with-pieces", pieces=pieces))
        yield _noted(replace(wish, pieces=None), Note("proposing.with-any-pieces"))
    for kinds in range(wish.kinds + 1, MOST_KINDS + 1):
        yield _noted(replace(wish, kinds=kinds), Note("proposing.with-kinds", kinds=kinds))


def _rest(wish: Wish) -> Iterator[Loosened]:
    if wish.families:
        yield Loosened(lambda answer: Note("proposing.with-family", family=answer.proposals[0].sides[0].family), replace(wish, families=()))
    if wish.made:
        yield _noted(replace(wish, made=()), Note("proposing.without-tools", tools=tuple(dict.fromkeys(m.tool for m in wish.made))))
    if wish.sharing != "free":
        yield _noted(replace(wish, sharing="free"), Note("proposing.with-free-papers", sharing=wish.sharing))
    if wish.designs == 2:
        yield _noted(replace(wish, designs=1), Note("proposing.with-one-design"))


def _grid(wish: Wish) -> Iterator[Loosened]:
    usual = HABITS[wish.unit].step
    for step in (usual, usual / 2) if wish.unit == "in" else (usual,):
        if step < wish.step:
            yield _noted(replace(wish, step=step), Note("proposing.with-step", step=step, unit=wish.unit))


def _cards(wish: Wish) -> Iterator[Loosened]:
    """A few cards more or less: a batch that parts evenly among the sheets comes out where its neighbours don't."""
    if wish.cards is None:
        return
    near = [wish.cards + n * way for n in (1, 2, 3) for way in (-1, 1)]
    fullest = [_paper(wish) / inner_of(wish, card).area for card in wish.cards_of]
    # So many cards use the paper up where they are all covered, and where little of them is.
    near += [int(most * part) for most in fullest for part in (1 - wish.waste, Fraction(9, 10), Fraction(4, 5), Fraction(2, 3))]
    for cards in dict.fromkeys(near):
        if 0 < cards <= MOST_CARDS and cards != wish.cards:
            yield _noted(replace(wish, cards=cards), Note("proposing.with-cards", cards=cards))


def _paper(wish: Wish) -> Fraction:
    """Square inches of all sheets."""
    return sum((stock.sheet.size.area * stock.sheets for stock in wish.stocks), Fraction(0))


def _sheets(wish: Wish) -> Iterator[Loosened]:
    first = wish.stocks[0]
    for n in dict.fromkeys((first.sheets - 1, first.sheets + 1, *range(first.sheets - 2, 0, -1), first.sheets + 2)):
        if n > 0:
            stocks = (replace(first, sheets=n), *wish.stocks[1:])
            yield _noted(replace(wish, stocks=stocks), Note("proposing.with-sheets", sheets=n, paper=first.name if first.named else None))
    if len(wish.stocks) > 1:
        for stock in wish.stocks:
            rest = tuple(other for other in wish.stocks if other is not stock)
            yield _noted(replace(wish, stocks=rest), Note("proposing.without-paper", paper=stock.name))


def _larger(wish: Wish) -> Iterator[Loosened]:
    """By how much the sheets are too small."""
    mark = HABITS[wish.unit].border
    for n in (1, 2, 3, 4, 8):
        stocks = tuple(_grown(stock, mark * n) for stock in wish.stocks)
        sheet = stocks[0].sheet.size
        yield _noted(replace(wish, stocks=stocks), Note("proposing.with-larger-sheets", sheet=sheet, unit=wish.unit))


def _grown(stock: Stock, by: Length) -> Stock:
    size = Size(stock.sheet.size.width + by, stock.sheet.size.height + by)
    return replace(stock, sheet=replace(stock.sheet, name="", size=size, source="measured"))
