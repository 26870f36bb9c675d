"""In which order the last parts of a printable stand, so that its pages are well filled.

What follows the steps may be read in any order: each part has a heading of its own and
none needs another. They keep their usual order where that costs no page. What is only
pleasant to have costs none either.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Block, Side
from kitwright.printable.tags import TaggedCanvas

MOST_TRIED = 7
"""Parts whose every order is tried."""
LINES = 100
"""Room on the last page that is worth leaving for the reader's own notes, points."""


@dataclass(frozen=True)
class EndingPart:
    """What stands together on a page."""

    kind: str
    """Parts of one kind keep their order."""
    block: Side
    spare: bool = False
    """Whether it may be left out rather than cost a page."""


class Here(Block):
    """Nothing; it remembers where on its page it came to lie."""

    page, room = 0, 0.0
    """Its page, and what is left below it, points."""

    def __init__(self, bottom: float) -> None:
        super().__init__()
        self.bottom = bottom

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        return room, 0

    def lies(self, canvas: TaggedCanvas, y: float) -> None:
        self.page, self.room = canvas.getPageNumber(), y - self.bottom

    def draw(self) -> None:
        pass


def ordered(parts: Sequence[EndingPart], room: float, full: float, width: float) -> tuple[int, ...]:
    """The order that takes the fewest pages; among those one that leaves lines for notes, and the one most like the usual.

    Args:
        parts: in their usual order.
        room: left on the page on which they begin, points.
        full: height of every other page, points.
        width: of the text, points.

    Returns:
        Indices of `parts`; without a spare part that would take a page of its own.
    """
    usual = tuple(range(len(parts)))
    tall = [part.block.wrap(width, full)[1] for part in parts]
    if len(parts) > MOST_TRIED or max(tall, default=0) > full:
        return usual
    gaps = [part.block.getSpaceBefore() for part in parts]

    def cost(order: tuple[int, ...]) -> tuple[int, bool, int]:
        """New pages, whether lines are missing, and pairs that have changed places."""
        pages, left = 0, room
        for i in order:
            need = tall[i] + (gaps[i] if left < full else 0)
            if need > left:
                pages, left, need = pages + 1, full, tall[i]
            left -= need
        return pages, left < LINES, sum(a > b for n, a in enumerate(order) for b in order[n + 1 :])

    def best(among: tuple[int, ...]) -> tuple[int, ...]:
        sound = (
            order
            for order in permutations(among)
            if all(a < b or parts[a].kind != parts[b].kind for n, a in enumerate(order) for b in order[n + 1 :])
        )
        return min(sound, key=cost)

    whole, less = best(usual), best(tuple(i for i in usual if not parts[i].spare))
    return less if cost(less)[:2] < cost(whole)[:2] else whole


def part(kind: str, blocks: Sequence[Flowable], width: float, full: float, spare: bool = False) -> EndingPart:
    """Blocks as one part."""
    if len(blocks) == 1 and isinstance(blocks[0], Side):
        return EndingPart(kind, blocks[0], spare)
    return EndingPart(kind, Side([blocks], [width], 0, full, before=blocks[0].getSpaceBefore()), spare)
