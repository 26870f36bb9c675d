"""How many sheets for batches of every size; each proved, or said not to be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from kitwright.cutting.batch.paper import Lattice, check
from kitwright.cutting.batch.search import Search
from kitwright.cutting.plan import Demand
from kitwright.cutting.solver.work import Work

STEPS = 20_000_000
"""Work that all batches of one paper may take together (`solver.work`)."""


@dataclass(frozen=True, slots=True)
class SheetsFor:
    """Sheets for one size of batch."""

    cards: int
    sheets: Fraction
    """Whole and half."""
    proved: bool
    """Whether fewer are impossible."""


def sheets_table(demand_for: Callable[[int], Demand], upto: int = 60, *, steps: int = STEPS) -> list[SheetsFor]:
    """The fewest sheets for every batch from 1 card to `upto`.

    Args:
        demand_for: the demand of a batch; sheet, sizes and lies are the same for all, and more
            cards never need fewer pieces.

    Raises:
        UserError: a piece that no sheet of this paper can give, or nothing to cut.
    """
    demands = [demand_for(cards).in_rectangles for cards in range(1, upto + 1)]
    last = demands[-1]
    check(last)
    labels = tuple(label for label, n in last.needs.items() if n)
    needs = [tuple(demand.needs.get(label, 0) for label in labels) for demand in demands]
    search = Search(Lattice.of(last.sheet, last.sizes, last.lies, labels), Work(steps), needs[-1])
    found: list[tuple[int, int]] = []
    for i, need in enumerate(needs):
        # What two batches take gives both: so most of what is asked is known from smaller ones, and whether it could be fewer.
        known = min((found[a][0] + found[i - 1 - a][0] for a in range((i + 1) // 2)), default=None)
        least = max(found[-1][1] if found else 0, search.pricing.least(need)) if any(need) else 0
        if not any(need):
            found.append((0, 0))
        elif known is not None and known <= least:
            found.append((known, known))
        else:
            found.append(search.count(need, known))

    # What gives more cards gives fewer as well, and what is too little for fewer is too little for more.
    for i in reversed(range(upto - 1)):
        found[i] = min(found[i][0], found[i + 1][0]), found[i][1]
    for i in range(1, upto):
        found[i] = found[i][0], max(found[i][1], found[i - 1][1])
    return [SheetsFor(i + 1, Fraction(found[i][0], 2), found[i][0] <= found[i][1]) for i in range(upto)]
