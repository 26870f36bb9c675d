"""Questions to the exact one-sheet solver, each stopped after a set amount of work.

Work is counted, not timed, so that the same question has the same answer on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from kitwright.cutting.batch.paper import Counts, Lattice
from kitwright.cutting.solver.limited import LimitedSearch
from kitwright.cutting.solver.pieces import Build, PieceKind
from kitwright.cutting.solver.table import Grid, WorthTable
from kitwright.cutting.solver.work import OutOfWork, Work

TURNS = 1500
"""Rounds of work that one question may take."""
BITS = 200_000
"""Steps along a side at most, likewise."""
CELLS = 160_000
"""Sizes in the largest table that is asked for; beyond it the lattice is made coarser."""


class Meter(Work):
    """What one question may take: so many rounds, whatever each of them costs, out of the purse of the whole search."""

    def __init__(self, turns: int, purse: Work) -> None:
        super().__init__()
        self.turns, self.purse = turns, purse

    def charge(self, steps: int) -> None:
        self.purse.charge(steps)

    def spend(self, steps: int) -> None:
        self.charge(steps)
        self.turns -= 1
        if self.turns < 0 or self.purse.over:
            raise OutOfWork


@dataclass
class Region:
    """A sheet or half a sheet, ready for questions."""

    paper: Lattice
    width: int
    height: int
    work: Work
    """What the whole search may take."""
    coarse: int = field(init=False, default=1)
    """How many steps the table's own step has; above 1 pieces are rounded down and the sheet up,
    so that bounds stay true, and its builds are not used."""
    grid: Grid | None = field(init=False, default=None)
    """None when no lattice is coarse enough and still holds every piece."""

    def __post_init__(self) -> None:
        thinnest = min(min(k.width, k.height) for k in self.paper.kinds)
        while self.coarse <= thinnest:
            # Sums of sizes are found by shifting as many bits as the sheet has steps.
            if max(self.width, self.height) // self.coarse <= BITS:
                grid = self._grid()
                if len(grid.x) * len(grid.y) <= CELLS:
                    self.grid = grid
                    return
            self.coarse *= 2

    def _grid(self) -> Grid:
        g = self.coarse
        kinds = [replace(k, width=k.width // g, height=k.height // g) for k in self.paper.kinds]
        # A kind that does not fit must not fit when it is rounded either: leave it out.
        kinds = [
            k if self.paper.ways(i, self.width, self.height) else PieceKind(-(-self.width // g) + 1, 1, 0) for i, k in enumerate(kinds)
        ]
        return Grid(-(-self.width // g), -(-self.height // g), kinds)

    def most(self, values: Sequence[int]) -> tuple[int | None, Build | None]:
        """The most that it can be worth with no limits on pieces, and a build worth that.

        Returns:
            None when the work allowed was not enough; the build is None on a coarse lattice.
        """
        if self.grid is None:
            return None, None
        table = WorthTable(self.grid, list(values), Meter(TURNS, self.work))
        if not table.whole:
            return None, None
        return table.best, table.build() if self.coarse == 1 else None

    def most_within(self, values: Sequence[int], limits: Counts, above: int = 0, turns: int = TURNS) -> tuple[int, int, Build | None]:
        """The same with so many pieces at most: (value found, bound, build)."""
        if self.grid is None:
            return 0, sum(v * n for v, n in zip(values, limits)), None
        kinds = [replace(k, value=v, limit=n if v > 0 else 0) for k, v, n in zip(self.grid.kinds, values, limits)]
        kinds = [k if k.limit else replace(k, value=0) for k in kinds]
        search = LimitedSearch(self.grid.x.length, self.grid.y.length, kinds, above, Meter(turns, self.work))
        search.run()
        return search.value, search.bound, search.best if self.coarse == 1 else None

    def shorter(self, across: int, down: int) -> Region | None:
        """The same, so many steps shorter; None when nothing is left or a piece no longer fits."""
        if self.width <= across or self.height <= down:
            return None
        smaller = Region(self.paper, self.width - across, self.height - down, self.work)
        fitting = all(self.paper.ways(k, smaller.width, smaller.height) for k in range(len(self.paper.kinds)))
        return smaller if fitting else None

    def holds(self, counts: Counts, turns: int = TURNS) -> Build | Literal[False] | None:
        """Whether it yields these pieces: a build; False when proved impossible; None when not known."""
        paper = self.paper
        if paper.area_of(counts) > self.width * self.height:
            return False
        if any(n and not paper.ways(k, self.width, self.height) for k, n in enumerate(counts)):
            return False
        if not any(counts) or self.grid is None:
            return None
        values = [k.width * k.height for k in self.grid.kinds]
        total = sum(v * n for v, n in zip(values, counts))
        if total * 600 >= 2**62:
            return None
        value, bound, build = self.most_within(values, counts, total - 1, turns)
        if value == total and build is not None:
            return build
        return False if bound < total else None
