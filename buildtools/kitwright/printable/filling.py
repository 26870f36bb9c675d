"""Which blocks stand on which page: measured once, nothing parted that is read in one go, no page left half empty.

A part is read in one go: a list of chunks, each kept whole. Some parts keep their place;
the others may stand in any order after them, since each has a heading of its own and none
needs another. They keep their usual order where that leaves no page half empty and costs none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Heading, Side, high

LEAST_FILL = 0.5
"""How full every page is but the last."""
LINES = 100
"""Room on the last page that is worth leaving for the reader's own notes, points."""
MOST_LOOKED_AT = 20_000
"""Beginnings of an order that are looked at; the usual order is the first."""


@dataclass(frozen=True)
class Chunk:
    """Blocks that stand together on a page."""

    blocks: tuple[Flowable, ...]
    again: tuple[Flowable, ...] = ()
    """What stands over them where they begin a page, and are not the first of their part."""


@dataclass(frozen=True)
class BookPart:
    """What is read in one go."""

    kind: str
    """Parts of one kind keep their order."""
    chunks: tuple[Chunk, ...]
    fixed: bool = False
    """Whether it keeps its place before all that may change theirs."""


@dataclass(frozen=True)
class FilledPage:
    """One page."""

    blocks: tuple[Flowable, ...]
    used: float
    """Height of what stands on it, points."""
    fill: float
    """The same as a share of the room."""


@dataclass(frozen=True)
class _Measured:
    """A chunk and what it takes."""

    chunk: Chunk
    before: float
    """Clear space above, at least, where something stands there."""
    tall: float
    tall_again: float
    """Where it begins a page."""
    after: float
    """Clear space below, at least."""


@dataclass(frozen=True)
class _Reached:
    """How far the pages are filled."""

    bare: int = 0
    """Pages left behind that are not full enough."""
    pages: int = 0
    used: float = 0
    after: float = 0


def filled(parts: Sequence[BookPart], width: float, full: float, parted: bool = False) -> list[FilledPage]:
    """The pages.

    Args:
        parts: in their usual order.
        width: of the text, points.
        full: height of the text, points.
        parted: whether parts that may change their place are parted where they are higher than half a page.
    """
    measured = []
    for part in parts:
        most = full / 2 if parted and not part.fixed else full
        measured.append([_measured(chunk, width) for whole in part.chunks for chunk in _lower(whole, width, most, full)])
    return _pages([one for i in ordered(parts, measured, full) for one in measured[i]], full)


def half_empty(pages: Sequence[FilledPage]) -> int:
    """How many pages but the last are less than half full."""
    return sum(page.fill < LEAST_FILL for page in pages[:-1])


def _measured(chunk: Chunk, width: float) -> _Measured:
    first, last = chunk.blocks[0], chunk.blocks[-1]
    tall = high(chunk.blocks, width)
    again = high([*chunk.again, *chunk.blocks], width) if chunk.again else tall
    return _Measured(chunk, first.getSpaceBefore(), tall, again, last.getSpaceAfter())


def _lower(chunk: Chunk, width: float, most: float, full: float) -> Iterator[Chunk]:
    """The chunk; where it is too high, what it can be parted into, a heading with what follows it."""
    if high([*chunk.again, *chunk.blocks], width) <= most:
        yield chunk
        return
    head: list[Flowable] = []
    for block in chunk.blocks:
        head.append(block)
        if not isinstance(block, Heading):
            yield from _pieces(head, width, full, chunk.again)
            head = []
    if head:
        yield Chunk(tuple(head), chunk.again)


def _pieces(blocks: list[Flowable], width: float, full: float, again: tuple[Flowable, ...]) -> Iterator[Chunk]:
    """Headings and the block under them, parted where that is higher than half a page: so much finds room below what stands there already."""
    *head, block = blocks
    taken = high([*again, *head, block], width)
    pieces = block.split(width, block.wrap(width, 1e6)[1] - (taken - full / 2)) if taken > full / 2 else []
    if pieces and isinstance(block, Side):
        # What stood side by side stands one below the other.
        yield from _lower(Chunk((*head, *pieces), again), width, 0, full)
    elif len(pieces) < 2:
        yield Chunk(tuple(blocks), again)
    else:
        yield Chunk((*head, pieces[0]), again)
        for piece in pieces[1:]:
            yield from _pieces([piece], width, full, again)


# --- the order --------------------------------------------------------------------------------


def ordered(parts: Sequence[BookPart], measured: Sequence[Sequence[_Measured]], full: float) -> tuple[int, ...]:
    """The order that leaves the fewest pages half empty; among those of the fewest pages, with lines for notes, most like the usual.

    Args:
        parts: in their usual order.
        measured: their chunks.
        full: height of a page, points.

    Returns:
        Indices of `parts`.
    """
    fixed, free = [i for i, p in enumerate(parts) if p.fixed], [i for i, p in enumerate(parts) if not p.fixed]
    start = _Reached()
    for i in fixed:
        start = _after(start, measured[i], full)
    best: tuple[tuple[int, int, bool, int], tuple[int, ...]] | None = None
    looked = 0
    # Better than this can't be.
    least = 0, -(-sum(one.tall for each in measured for one in each) // full), False, 0

    def tried(taken: tuple[int, ...], left: tuple[int, ...], reached: _Reached, moved: int) -> None:
        nonlocal best, looked
        if best and ((reached.bare, reached.pages) > best[0][:2] or looked > MOST_LOOKED_AT or best[0] <= least):
            return
        looked += 1
        if not left:
            cost = (reached.bare, reached.pages, full - reached.used < LINES, moved)
            if best is None or cost < best[0]:
                best = cost, taken
            return
        for n, i in enumerate(left):
            if all(parts[j].kind != parts[i].kind for j in left[:n]):
                tried((*taken, i), left[:n] + left[n + 1 :], _after(reached, measured[i], full), moved + n)

    tried((), tuple(free), start, 0)
    return *fixed, *(best[1] if best else free)


def _after(reached: _Reached, chunks: Sequence[_Measured], full: float) -> _Reached:
    """How far the pages are filled after these."""
    for one in chunks:
        reached = _next(reached, one, full)
    return reached


def _next(reached: _Reached, one: _Measured, full: float) -> _Reached:
    need = max(one.before, reached.after) + one.tall
    if reached.used and reached.used + need <= full:
        return _Reached(reached.bare, reached.pages, reached.used + need, one.after)
    if not reached.used:
        return _Reached(reached.bare, 1, one.tall, one.after)
    return _Reached(reached.bare + (reached.used < LEAST_FILL * full), reached.pages + 1, one.tall_again, one.after)


def _pages(chunks: Sequence[_Measured], full: float) -> list[FilledPage]:
    pages: list[tuple[list[Flowable], float]] = []
    reached = _Reached()
    for one in chunks:
        after = _next(reached, one, full)
        if after.pages > reached.pages:
            again = one.chunk.again if reached.pages else ()
            pages.append(([*again, *one.chunk.blocks], after.used))
        else:
            pages[-1] = ([*pages[-1][0], *one.chunk.blocks], after.used)
        reached = after
    return [FilledPage(tuple(blocks), used, used / full) for blocks, used in pages]
