"""The nearest way out of a question that nothing answers: each wish loosened by itself, a little at first, by counted work; then several.

What stands in the way is mostly of two sorts. Sizes don't add up on the card: that is known by listing, without a search. Or
what adds up does not come out of the sheets. So where no wish helps alone, the fewest wishes are given up with which sizes
add up, and with these what is asked of the sheets.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, islice
from typing import Any

from kitwright.cutting.solver.work import Work
from kitwright.errors import UserError
from kitwright.findings import Note
from kitwright.proposing.against import GATE, against_card, inner_of
from kitwright.proposing.pool import Pool
from kitwright.proposing.question import MOST_CARDS, MOST_KINDS
from kitwright.proposing.records import Answer
from kitwright.proposing.search import fields_of, propose
from kitwright.proposing.usual import HABITS
from kitwright.proposing.wish import LEFT_OVER, Stock, Wish
from kitwright.units import ZERO, Length, Size

EACH, ALL = 1_000_000, 8_000_000
"""Steps of work that one wish loosened may take, and all of them; several together may take as many again."""
LISTED = 50_000
"""Steps that it counts as to list a question's layouts once more, in eighths of an inch."""
TOLD = 2
"""Ways out that are told; the first is the nearest."""
CEILINGS = (Fraction(1, 5), Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3))
"""Shares of all paper that may be left over, tried one after another."""
FOR_MORE = 2_000_000
"""Steps that it may take to say how many more cards the sheets give."""
ADDING_UP = 8
"""Ways to make sizes add up that are tried on the sheets."""
FEW = 3
"""Of each wish, so many ways to loosen it are tried beside other wishes."""


@dataclass(frozen=True, slots=True)
class Loosened:
    """A question with a wish or several loosened."""

    notes: tuple[Callable[[Answer], Note], ...]
    """What is told of each, from what it gives."""
    wish: Wish

    def and_then(self, other: Loosened) -> Loosened:
        """The same with a wish of `other`, which was made of this one's question, loosened besides."""
        return Loosened((*self.notes, *other.notes), other.wish)


def ways_out(wish: Wish, stop: Callable[[], bool] | None = None) -> tuple[Note, ...]:
    """What would give something, the nearest first: each alone, everything else as it was wished; where none does alone, several together.

    Args:
        wish: a sound question with an empty answer.
        stop: whether the maker has had enough.
    """
    return _Looking(stop).ways_out(wish)


def more_cards(wish: Wish, stop: Callable[[], bool] | None = None) -> tuple[Note, ...]:
    """How many cards the sheets give, where they give more than were asked for with no more left over than usual; else nothing.

    Args:
        wish: a question whose answers leave much of the sheets.
        stop: whether the maker has had enough.
    """
    looking = _Looking(stop)
    looking.purse = FOR_MORE
    first = looking.first(_more(replace(wish, waste=min(wish.waste, LEFT_OVER))))
    return tuple(note(first[1]) for note in first[0].notes) if first else ()


class _Looking:
    """Loosens wishes with one purse for all of them."""

    def __init__(self, stop: Callable[[], bool] | None) -> None:
        self.stop, self.spent, self.purse = stop, 0, ALL

    @property
    def over(self) -> bool:
        """Whether the purse is empty, or the maker has had enough."""
        return self.spent > self.purse or bool(self.stop and self.stop())

    def ways_out(self, wish: Wish) -> tuple[Note, ...]:
        found: list[Note] = []
        for ways in _ways(wish):
            first = self.first(ways)
            found += [note(first[1]) for note in first[0].notes] if first else []
            if len(found) == TOLD or self.over:
                break
        if found:
            return tuple(found)
        self.purse = self.spent + ALL
        first = self.first(self.together(wish))
        if first:
            notes = [note(first[1]) for note in first[0].notes]
            waste = _least_waste(first[1])
            notes += [waste] if waste.values["waste"] > wish.waste else []
            # What is told alone may be all that was in the way, once the ceiling is not.
            return (Note("proposing.together", wishes=len(notes)), *notes) if len(notes) > 1 else tuple(notes)
        return (Note("proposing.no-way-out", whole=not self.over),)

    def together(self, wish: Wish) -> Iterator[Loosened]:
        """Several wishes loosened, the nearest first: what makes sizes add up, then with more left over, then on other sheets too."""
        some = list(islice(self.adding_up(wish), ADDING_UP))
        freely = [replace(one, wish=_freely(one.wish)) for one in some]
        yield from (one for one in some if len(one.notes) > 1)
        usual = [replace(one, wish=replace(one.wish, waste=max(one.wish.waste, LEFT_OVER))) for one in some]
        yield from (one.and_then(way) for one in usual if _too_few(one.wish) for way in _more(one.wish))
        yield from freely
        for on_sheets in (_cards, _sheets, _larger, _slack):
            for one in freely:
                yield from (one.and_then(way) for way in on_sheets(one.wish))

    def adding_up(self, wish: Wish) -> Iterator[Loosened]:
        """Questions of which sizes add up on the card: this one, or with a wish loosened, or where none does with two."""
        asked = Loosened((), wish)
        if self.adds_up(wish):
            yield asked
        singles = [list(islice(ways(wish), FEW * 2)) for ways in _ON_CARD]
        good = 0
        for ways in singles:
            for way in ways:
                if self.adds_up(way.wish):
                    good += 1
                    yield way
        if good:
            return
        for (one, _), (_, other) in combinations(zip(singles, _ON_CARD), 2):
            for way in one[:FEW]:
                yield from (both for also in islice(other(way.wish), FEW) if self.adds_up((both := way.and_then(also)).wish))

    def adds_up(self, wish: Wish) -> bool:
        """Whether there is any layout, were the sheets what they will."""
        if self.over or not _sound(wish):
            return False
        self.spent += _listing(wish)
        pool = Pool(wish)
        for family, field in fields_of(wish):
            for batch in family.batches(field):
                pool.take(family.name, field, batch, 0, 1 << 62)
                if pool.some:
                    return True
        return False

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

        if not _sound(wish):
            return None
        work = Work(EACH)
        try:
            answer = propose(wish, work, told, lambda: bool(seen) or self.over)
        except UserError:
            # Loosened like this it would be too much to look through.
            return None
        finally:
            self.spent += work.spent + _listing(wish)
        return answer if answer.proposals else seen[-1] if seen else None


def _listing(wish: Wish) -> int:
    """Steps that it counts as to list a question once: twice as fine a grid has four times as many layouts."""
    finer = HABITS["in"].step / wish.step
    return LISTED // 2 + int(LISTED * min(finer, 4) ** 2) // 2


def _freely(wish: Wish) -> Wish:
    """The same with as much left over as is ever tried."""
    return replace(wish, waste=max(wish.waste, CEILINGS[-1]))


def _sound(wish: Wish) -> bool:
    return not any(error for card in wish.cards_of for error in against_card(wish, card))


def _ways(wish: Wish) -> Iterator[Iterator[Loosened]]:
    """Wishes in the order in which a maker gives way most easily; of each, the least first."""
    yield _waste(wish)
    if _too_few(wish):
        yield _more(wish)
    yield from _sums(wish)
    yield _cards(wish)
    yield _sheets(wish)
    yield _larger(wish)


def _sums(wish: Wish) -> Iterator[Iterator[Loosened]]:
    """Wishes that say how sizes add up on the card, after the slack that she keeps."""
    yield from (ways(wish) for ways in (_slack, *_ON_CARD))


def _least_waste(answer: Answer) -> Note:
    return Note("proposing.with-waste", waste=min(one.measured.waste for one in answer.proposals))


def _waste(wish: Wish) -> Iterator[Loosened]:
    for ceiling in CEILINGS:
        if ceiling > wish.waste:
            yield Loosened((_least_waste,), replace(wish, waste=ceiling))


def _slack(wish: Wish) -> Iterator[Loosened]:
    if wish.slack:
        note = Note("proposing.with-less-slack", slack=wish.slack, unit=wish.unit)
        yield _noted(replace(wish, slack=None), note)


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
    return Loosened((lambda _: note,), wish)


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
        yield Loosened((_its_family,), replace(wish, families=()))
    if wish.made:
        yield _noted(replace(wish, made=()), Note("proposing.without-tools", tools=tuple(dict.fromkeys(m.tool for m in wish.made))))
    if wish.sharing != "free":
        yield _noted(replace(wish, sharing="free"), Note("proposing.with-free-papers", sharing=wish.sharing))
    if wish.designs == 2:
        yield _noted(replace(wish, designs=1), Note("proposing.with-one-design"))
    if any(card.fold == "gate" for card in wish.cards_of):
        # Doors are half a card wide: on whole marks their sums may come out at no border.
        cards, families = tuple(replace(card, fold="side") for card in wish.cards_of), tuple(name for name in wish.families if name != GATE)
        yield _noted(replace(wish, cards_of=cards, families=families), Note("proposing.without-a-gate", doors=GATE in wish.families))


def _its_family(answer: Answer) -> Note:
    return Note("proposing.with-family", family=answer.proposals[0].sides[0].family)


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
    # So many cards use the paper up where they are all covered, and where little of them is.
    near += [int(_fullest(wish) * part) for part in (1 - wish.waste, Fraction(9, 10), Fraction(4, 5), Fraction(2, 3))]
    for cards in dict.fromkeys(near):
        # Of two designs there are as many of each.
        if 0 < cards <= MOST_CARDS and cards != wish.cards and not cards % wish.designs:
            yield _of_cards(wish, cards)


def _more(wish: Wish) -> Iterator[Loosened]:
    """More cards than were asked for, from as many as sheets may give downwards: as many from each, where that can be."""
    if wish.cards is None:
        return
    sheets = sum(stock.sheets for stock in wish.stocks) * wish.designs
    fullest = [int(_fullest(wish) * part / sheets) * sheets for part in _COVERED]
    near = sorted({cards for each in fullest for cards in (each + sheets, each)}, reverse=True)
    yield from (_of_cards(wish, cards) for cards in near if wish.cards < cards <= MOST_CARDS)


_COVERED = (Fraction(1), Fraction(5, 4), Fraction(3, 2))
"""Cards that paper would cover whole, and so many times as many: of most fronts a half to all is covered."""


def _of_cards(wish: Wish, cards: int) -> Loosened:
    return _noted(replace(wish, cards=cards), Note("proposing.with-cards", cards=cards, more=cards > (wish.cards or cards)))


def _fullest(wish: Wish) -> Fraction:
    """How many cards all the paper would cover, were none left over."""
    return max(_paper(wish) / inner_of(wish, card).area for card in wish.cards_of)


def _too_few(wish: Wish) -> bool:
    """Whether so few cards leave more of the paper than they may, covered from border to border."""
    return wish.cards is not None and wish.cards < _fullest(wish) * (1 - wish.waste)


def _paper(wish: Wish) -> Fraction:
    """Square inches of all sheets."""
    return sum((stock.sheet.size.area * stock.sheets for stock in wish.stocks), Fraction(0))


def _sheets(wish: Wish) -> Iterator[Loosened]:
    first = wish.stocks[0]
    for n in dict.fromkeys((first.sheets - 1, first.sheets + 1, *range(first.sheets - 2, 0, -1), first.sheets + 2)):
        if n > 0:
            stocks = (replace(first, sheets=n), *wish.stocks[1:])
            yield _noted(
                replace(wish, stocks=stocks),
                Note("proposing.with-sheets", sheets=n, **(_called(first, wish) if len(wish.stocks) > 1 else {})),
            )
    if len(wish.stocks) > 1:
        for stock in wish.stocks:
            rest = tuple(other for other in wish.stocks if other is not stock)
            yield _noted(replace(wish, stocks=rest), Note("proposing.without-paper", **_called(stock, wish)))


def _called(stock: Stock, wish: Wish) -> dict[str, Any]:
    """What a paper is told by: her name, or its sheet."""
    return {"paper": stock.name} if stock.named else {"sheet": stock.sheet, "unit": wish.unit}


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


_ON_CARD: tuple[Callable[[Wish], Iterator[Loosened]], ...] = (_gaps, _borders, _band, _counts, _rest, _grid)
"""What says how sizes add up on the card, in the order in which a maker gives way."""
