"""How many cards any number of sheets gives, as one short exact table: the planner's for a paper, or one that somebody else counted.

A table names the most cards from one half sheet, from two, from three, until `MOST` is reached.
So it never falls, takes a character a step where it is written down, and whoever has sheets at
hand reads it straight.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from kitwright import cache
from kitwright.cutting.plan import Demand
from kitwright.cutting.stock import for_cards

MOST = 60
"""Cards that a table goes up to."""
STEPS = 2_000_000
"""Work that one table may take (`solver.work`), a second or so. Nineteen of twenty are proved by then; the others are the best found."""
DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
"""A number of cards as one character."""


@dataclass(frozen=True, slots=True)
class Yields:
    """How many cards so many sheets give."""

    most: tuple[int, ...]
    """The most cards from one half sheet, from two, from three …; the last is the first that reaches `MOST`, which stands for that many or more."""
    proved: bool | None = True
    """Whether more are impossible, for every number of sheets; None where the author's own guide is counted."""

    def sheets(self, cards: int) -> Fraction:
        """Sheets, whole and half, for a number of cards from 1 to `MOST`."""
        return Fraction(bisect_left(self.most, cards) + 1, 2)

    def cards(self, sheets: Fraction) -> int:
        """Cards from so many sheets; `MOST` means that many or more."""
        halves = int(2 * sheets)
        return self.most[min(halves, len(self.most)) - 1] if halves else 0

    @property
    def written(self) -> str:
        """A character a step."""
        return "".join(DIGITS[n] for n in self.most)


def read(text: str, proved: bool | None) -> Yields:
    """A table from how it is written, if that is `sound`."""
    return Yields(tuple(map(DIGITS.index, text)), proved)


def sound(text: str) -> bool:
    """Whether a table is written there: more sheets never give fewer cards, and the first that gives the most ends it."""
    last = DIGITS[MOST]
    return set(text) <= set(DIGITS) and sorted(text) == [*text] and text.find(last) == len(text) - 1 >= 0


def counted(sheets: Sequence[Fraction], proved: bool | None) -> Yields:
    """The table of what was counted for every batch from 1 card to `MOST`; what is counted never falls."""
    return _table([int(2 * n) for n in sheets], proved)


def _table(halves: Sequence[int], proved: bool | None) -> Yields:
    return Yields(tuple(bisect_right(halves, n) for n in range(1, halves[-1] + 1)), proved)


def planned(demand: Demand, of: int, own: Fraction | None = None, least: Yields | None = None) -> Yields:
    """What the planner finds for every batch of a paper in which every piece fits.

    Args:
        demand: of a batch of `of` cards.
        of: that batch.
        own: what is said elsewhere of that very batch; the table keeps to it.
        least: a table of more freedom, as drawn where this is all upright: no fewer sheets than there.
    """
    found = _planned(_key(demand), of)
    halves = [int(2 * found.sheets(cards)) for cards in range(1, MOST + 1)]
    if not found.proved:
        halves = _together(halves)
    if own is not None:
        known = int(2 * own)
        halves = [max(n, known) if cards > of else min(n, known) if cards < of else known for cards, n in enumerate(halves, 1)]
    if least is not None:
        halves = [max(n, int(2 * least.sheets(cards))) for cards, n in enumerate(halves, 1)]
    table = _table(halves, found.proved)
    return table if table.most == found.most else Yields(table.most, False)


def _together(halves: Sequence[int]) -> list[int]:
    """What two batches take takes their cards together: so a batch that the search left early profits from smaller ones."""
    least = [0, *halves]
    for cards in range(1, len(least)):
        least[cards] = min(least[cards], *(least[a] + least[cards - a] for a in range(1, cards // 2 + 1)), least[cards])
    for cards in range(len(least) - 2, 0, -1):
        least[cards] = min(least[cards], least[cards + 1])
    return least[1:]


def _key(demand: Demand) -> tuple:
    """The question itself, whatever the paper is called. What can't be turned, or need not be, is asked alike."""
    whole = demand.in_rectangles
    needs = tuple((label, n) for label, n in demand.needs.items() if n)
    sizes = tuple((label, demand.sizes[label]) for label, _ in needs)
    square = {label for label, size in sizes if size.width == size.height}
    lies = tuple(sorted((label, lies) for label, lies in whole.lies.items() if label in dict(needs) and label not in square))
    return demand.sheet, needs, sizes, lies, tuple(sorted((label, way) for label, way in demand.halves.items() if label in dict(needs)))


@lru_cache(maxsize=1024)
def _planned(question: tuple, of: int) -> Yields:
    sheet, needs, sizes, lies, halves = question
    demand = Demand("paper", sheet, dict(needs), dict(sizes), dict(lies), halves=dict(halves))

    def found() -> Yields:
        # Loaded late: what was counted before needs no solver.
        from kitwright.cutting.batch.table import sheets_table

        rows = sheets_table(lambda cards: for_cards(demand, cards, of), MOST, steps=STEPS)
        return counted([row.sheets for row in rows], all(row.proved for row in rows))

    return cache.value("yields", cache.digest(demand, of, MOST, STEPS), found)
