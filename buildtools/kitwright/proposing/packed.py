"""Every rectangle that a handful of pieces fill, gap by gap: two that are equally high stand side by side, two equally wide one below the other.

From the pieces up, by number: so whatever rows of columns of rows can make is found, each set of
pieces in each outline once. Lengths are whole numbers of any one measure.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kitwright.cutting.solver.work import Work

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """Pieces that fill a rectangle with even gaps between them."""

    counts: Counts
    """Pieces of each kind."""
    width: int
    height: int
    kind: int | None = None
    """Which piece it is; None for several."""
    turned: bool = False
    """Whether that lies turned."""
    down: bool = True
    """Whether its parts lie one below the other, or else side by side."""
    parts: tuple[Block, ...] = ()

    @property
    def pieces(self) -> int:
        return sum(self.counts)

    @property
    def depth(self) -> int:
        """How often rows turn into columns."""
        return 1 + max(part.depth for part in self.parts) if self.parts else 0


MOST_BLOCKS = 20_000
"""More are not kept: the plainer ones of fewer pieces come first."""


def blocks(
    kinds: Sequence[tuple[int, int]], there: Sequence[int], gap: int, room: tuple[int, int], most: int, turns: bool, work: Work
) -> list[Block]:
    """Every block.

    Args:
        kinds: width and height of each kind of piece.
        there: how many there are of each.
        gap: between neighbours.
        room: no block is wider or higher.
        most: pieces in a block.
        turns: whether a piece may lie turned.
        work: what may be spent.
    """
    found: list[dict[tuple[Counts, int, int], Block]] = [{} for _ in range(most + 1)]
    for k, (width, height) in enumerate(kinds):
        one = tuple(int(i == k) for i in range(len(kinds)))
        for turned in (False, True) if turns and width != height else (False,):
            w, h = (height, width) if turned else (width, height)
            if there[k] and w <= room[0] and h <= room[1]:
                found[1].setdefault((one, w, h), Block(one, w, h, k, turned))
    for n in range(2, most + 1):
        for first in range(1, n):
            _join(found, first, n, gap, room, there, work)
            if work.over or sum(map(len, found)) > MOST_BLOCKS:
                return [block for known in found for block in known.values()]
    return [block for known in found for block in known.values()]


def _join(
    found: list[dict[tuple[Counts, int, int], Block]], first: int, n: int, gap: int, room: tuple[int, int], there: Sequence[int], work: Work
) -> None:
    for down in (True, False):
        beside: dict[int, list[Block]] = defaultdict(list)
        for block in found[n - first].values():
            # Parts are added one after another, so the last one is never a row of its own kind.
            if not block.parts or block.down != down:
                beside[block.width if down else block.height].append(block)
        for block in found[first].values():
            for last in beside[block.width if down else block.height]:
                work.charge(1)
                joined = _joined(block, last, down, gap)
                fits = joined.width <= room[0] and joined.height <= room[1]
                if fits and all(used <= have for used, have in zip(joined.counts, there)):
                    key = joined.counts, joined.width, joined.height
                    known = found[n].get(key)
                    if known is None or joined.depth < known.depth:
                        found[n][key] = joined


def _joined(block: Block, last: Block, down: bool, gap: int) -> Block:
    counts = tuple(a + b for a, b in zip(block.counts, last.counts))
    before = block.parts if block.parts and block.down == down else (block,)
    width = block.width if down else block.width + gap + last.width
    height = block.height + gap + last.height if down else block.height
    return Block(counts, width, height, None, False, down, (*before, last))


def used(counts: Counts, there: Mapping[int, int]) -> int:
    """How many times a set of pieces is there."""
    return min((there[k] // n for k, n in enumerate(counts) if n), default=0)
