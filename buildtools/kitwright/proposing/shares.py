"""How a batch is dealt to sheets: so many cards from the sheets of each size, and what a sheet of them has to give."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from kitwright.proposing.lattice import Lattice
from kitwright.proposing.makeable import LEAST_SLACK
from kitwright.proposing.wish import Stock, Unit, Wish
from kitwright.units import Length, Size

LEVELS: dict[Unit, tuple[Length, ...]] = {
    "in": tuple(Length(Fraction(n, 8)) for n in range(5)),
    "mm": tuple(Length.mm(3 * n) for n in range(5)),
}
"""How much every sheet may lack both ways, from nothing to what a crooked cut takes: no measure of the world, but steps to tell layouts apart by."""
MOST_SHARES = 12
"""Ways to deal one batch to sheets of several sizes that are tried."""
MOST_CARDS = 24
"""Cards from one sheet that are tried where no number is asked for."""


@dataclass(frozen=True, slots=True)
class SheetGroup:
    """All patterned sheets of one size that are cut under one rule."""

    sheet: Size
    one_way: bool
    stocks: tuple[Stock, ...]

    @property
    def sheets(self) -> int:
        return sum(stock.sheets for stock in self.stocks)


@dataclass(frozen=True, slots=True)
class Dealt:
    """One way to deal a batch."""

    of: tuple[int, ...]
    """Cards whose pieces come from each group."""

    @property
    def cards(self) -> int:
        return sum(self.of)


def groups_of(wish: Wish) -> tuple[SheetGroup, ...]:
    """The sheets of a wish by size and rule, in the order in which they are named; each paper by itself where no sheets give whole cards.

    Of two designs whose papers may be mixed as it comes, a sheet may give half of a pair: its pieces are dealt group by group.
    """
    found: dict[tuple[Size, bool], list[Stock]] = {}
    for stock in wish.stocks:
        found.setdefault((stock.sheet.size, stock.one_way), []).append(stock)
    groups = tuple(SheetGroup(sheet, one_way, tuple(stocks)) for (sheet, one_way), stocks in found.items())
    mixed = wish.designs == 2 and wish.sharing == "free"
    if wish.cards is None or mixed or len(wish.stocks) == len(groups) or any(_whole(units(wish), groups)):
        return groups
    return tuple(SheetGroup(stock.sheet.size, stock.one_way, (stock,)) for stock in wish.stocks)


def units(wish: Wish) -> int:
    """What a batch is counted in: cards, or one of each design; an odd card more is made of neither."""
    return (wish.cards or 0) // wish.designs


def levels_of(wish: Wish) -> tuple[Length, ...]:
    """How much every sheet may lack, from what has to be kept upwards.

    What has to be kept is what was wished, else what `check` asks of a sheet that is cut.
    """
    least = LEAST_SLACK[wish.unit] if wish.slack is None else wish.slack
    return (least, *(level for level in LEVELS[wish.unit] if level > least))


def usable(sheet: Size, less: Length, lattice: Lattice) -> tuple[int, int]:
    """Steps across and down of a sheet that is so much smaller; 0 where nothing is left."""
    width, height = (lattice.down(side - less) if side > less else 0 for side in (sheet.width, sheet.height))
    return width, height


def area(wish: Wish) -> Fraction:
    """Square inches of all patterned sheets."""
    return sum((stock.sheet.size.area * stock.sheets for stock in wish.stocks), Fraction(0))


def shares_of(wish: Wish, groups: tuple[SheetGroup, ...]) -> tuple[Dealt, ...]:
    """The ways to deal the batch that are tried, the likeliest first: whole cards from every sheet where that can be.

    Where no number of cards is asked for, every number that comes out whole from every sheet.
    """
    sheets = [group.sheets for group in groups]
    if wish.cards is None:
        most = MOST_CARDS if len(groups) == 1 else 8
        return tuple(Dealt(tuple(n * s for n, s in zip(each, sheets))) for each in product(range(1, most + 1), repeat=len(groups)))
    batch = units(wish)
    if len(groups) == 1:
        return (Dealt((batch,)),)
    found = list(_whole(batch, groups)) or list(_parted(batch, [1] * len(groups)))
    areas = [group.sheet.area * group.sheets for group in groups]

    def uneven(each: tuple[int, ...]) -> Fraction:
        """How far it is from what the sheets' areas would give."""
        return max(abs(Fraction(n, batch) - a / sum(areas)) for n, a in zip(each, areas))

    return tuple(Dealt(each) for each in sorted(found, key=lambda each: (uneven(each), each))[:MOST_SHARES])


def _whole(cards: int, groups: tuple[SheetGroup, ...]) -> Iterator[tuple[int, ...]]:
    """Ways to deal so many cards in which every sheet gives whole ones."""
    return _parted(cards, [group.sheets for group in groups])


def _parted(cards: int, steps: list[int]) -> Iterator[tuple[int, ...]]:
    """So many cards as a sum of multiples."""
    if len(steps) == 1:
        if cards % steps[0] == 0:
            yield (cards,)
        return
    for first in range(0, cards + 1, steps[0]):
        for rest in _parted(cards - first, steps[1:]):
            yield (first, *rest)


class Desk:
    """What a question lays on the table, in whole numbers."""

    def __init__(self, wish: Wish) -> None:
        self.wish = wish
        self.lattice = Lattice(wish.step)
        self.groups = groups_of(wish)
        self.levels = levels_of(wish)
        """Levels of slack, from the least that has to be kept."""
        self.usable = tuple(tuple(usable(group.sheet, level, self.lattice) for level in self.levels) for group in self.groups)
        """For each group and level, steps across and down that may be used of a sheet."""
        self.shares = tuple(share for share in shares_of(wish, self.groups) if share.cards)
        self.area = area(wish)
        """Square inches of all sheets."""
        self.square = wish.step.inches**2
        """Square inches of a square step."""
        self.least = int(-(-(self.area * (1 - wish.waste) / self.square) // 1))
        """Square steps that the pieces of the batch have to take."""
        self.room = sum(group.sheets * rooms[0][0] * rooms[0][1] for group, rooms in zip(self.groups, self.usable))
        """Square steps that they may take."""
        self.hold = self.lattice.up(wish.hold) if wish.hold else 0
        """Steps of paper that have to lie beside the blade."""
        self.tight = wish.slack is not None and not wish.slack
        """Whether nothing of a sheet has to be left."""

    def spare(self, group: int, level: int) -> tuple[bool, bool]:
        """Whether a sheet of a group is larger than what may be used of it, across and down."""
        sheet, (across, down) = self.groups[group].sheet, self.usable[group][level]
        return self.lattice.length(across) < sheet.width, self.lattice.length(down) < sheet.height
