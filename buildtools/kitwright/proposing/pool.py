"""All candidates of a question as sets of pieces, each once: whatever family, border, gap or card it came from.

A set is a row of whole numbers, one for each kind of piece: how many a card takes, what sort of piece it is,
width and height. Equal kinds are merged; where papers have no up, a kind that lies turned is the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from kitwright.geometry import HALVES, Diagonal
from kitwright.proposing.families import families
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.lattice import Lattice
from kitwright.proposing.wish import Made, Wish

_SIDE = 13
"""Bits of a side: 8,191 steps are more than the largest sheet."""
_SORT = 2 * _SIDE
EACH = _SORT + 6
"""From this bit on a number says how many a card takes; what is below says of which kind."""
KIND = (1 << EACH) - 1
_MASK = (1 << _SIDE) - 1
PLAIN, FALLING, RISING, FIRST_MADE = 0, 1, 2, 3
"""Sorts of pieces: as cut, triangles by their diagonal, and from here on what a punch or die makes, in the order of the wish."""
_HALVED: dict[Diagonal | None, int] = {None: PLAIN, "falling": FALLING, "rising": RISING}


@dataclass(frozen=True, slots=True)
class Origin:
    """Where layouts come from: what of a batch was kept."""

    family: str
    field: Field
    batch: Batch
    over: bool
    """Whether a piece lies over others: of one paper with them, it would not be seen."""


@dataclass(frozen=True, slots=True)
class KindOf:
    """One kind of a set."""

    width: int
    """Of what is cut from the sheet, in steps; the longer side where pieces may turn."""
    height: int
    sort: int
    each: int

    @property
    def from_each(self) -> int:
        """Pieces from one rectangle."""
        return HALVES if self.sort in (FALLING, RISING) else 1


def kinds_in(row: Sequence[int]) -> tuple[KindOf, ...]:
    """A set taken apart again."""
    return tuple(
        KindOf(code >> _SIDE & _MASK, code & _MASK, code >> _SORT & 63, code >> EACH) for code in (int(number) for number in row) if code
    )


def turnable(sort: int) -> bool:
    """Whether such a piece that lies turned is of the same kind."""
    return sort not in (FALLING, RISING)


class Tools:
    """What her punches and dies make, in steps: sizes on the card, and what is cut for them."""

    def __init__(self, made: Sequence[Made], lattice: Lattice) -> None:
        self.sizes: list[tuple[int, int, int, int]] = []
        for one in made:
            width, height = lattice.on(one.size.width), lattice.on(one.size.height)
            on = (width or 0, height or 0)  # between two marks: no size of the grid is that
            self.sizes.append((*on, lattice.up(one.blank.width), lattice.up(one.blank.height)))

    def cut(self, sizes: np.ndarray, sorts: np.ndarray) -> np.ndarray:
        """Put what is cut in place of what a tool makes, and note the tool; which layouts have such a piece."""
        found = np.zeros(len(sizes), bool)
        width, height = sizes[:, :, 0].copy(), sizes[:, :, 1].copy()
        for i, (across, down, blank_across, blank_down) in enumerate(self.sizes):
            for one, other, a, b in ((across, down, blank_across, blank_down), (down, across, blank_down, blank_across)):
                hit = (width == one) & (height == other) & (sorts == PLAIN)
                sizes[hit] = (a, b)
                sorts[hit] = FIRST_MADE + i
                found |= hit.any(axis=1)
        return found


@dataclass(frozen=True, eq=False)
class Some:
    """Candidates of one batch."""

    rows: np.ndarray
    """n × kinds: sets, as sorted rows."""
    index: np.ndarray
    """n: which of the source's batch."""
    source: int


class Pool:
    """Candidates as they come, and what of them is distinct."""

    def __init__(self, wish: Wish) -> None:
        self.wish = wish
        self.turns = not any(stock.one_way for stock in wish.stocks)
        self.sources: list[Origin] = []
        self.some: list[Some] = []
        self.candidates = 0
        self._made = Tools(wish.made, Lattice(wish.step))

    def take(self, family: str, field: Field, batch: Batch, least: int, most: int) -> None:
        """Take in a batch: those whose pieces cover, on one card, from `least` to `most` square steps, counted twice over."""
        self.candidates += len(batch)
        sizes = batch.sizes.astype(np.int64)
        sorts = np.zeros(sizes.shape[:2], np.int64)
        if batch.halved:
            sorts += np.array([_HALVED[way] for way in batch.halved])
        good = self._made.cut(sizes, sorts) if self.wish.made else np.ones(len(sizes), bool)
        twice = np.array(batch.each) * np.where((sorts == FALLING) | (sorts == RISING), 1, 2)
        area = (sizes[:, :, 0] * sizes[:, :, 1] * twice).sum(axis=1)
        good &= (area >= least) & (area <= most)
        index = np.flatnonzero(good)
        if not len(index):
            return
        kept = replace(batch, sizes=batch.sizes[index].astype(np.int32), params=batch.params[index].astype(np.int32))
        over = any(spot.over for spot in families()[family].side(field, kept, 0).spots)
        self.sources.append(Origin(family, field, kept, over))
        rows = _rows(sizes[index], sorts[index], batch.each, self.turns)
        self.some.append(Some(rows, np.arange(len(index)), len(self.sources) - 1))

    def all(self) -> Candidates:
        """Everything that was taken in until now, each set once."""
        wide = max((some.rows.shape[1] for some in self.some), default=1)
        rows = [np.pad(some.rows, ((0, 0), (0, wide - some.rows.shape[1]))) for some in self.some]
        joined = np.concatenate(rows) if rows else np.zeros((0, wide), np.int64)
        source = np.concatenate([np.full(len(some.rows), some.source) for some in self.some]) if rows else np.zeros(0, int)
        index = np.concatenate([some.index for some in self.some]) if rows else np.zeros(0, int)
        sets, which = distinct(joined)
        return Candidates(sets, which, source, index)


@dataclass(frozen=True, eq=False)
class Candidates:
    """Layouts and their sets."""

    sets: np.ndarray
    """Sets × kinds, each once."""
    which: np.ndarray
    """For each layout, its set."""
    source: np.ndarray
    """For each layout, where it comes from."""
    index: np.ndarray
    """For each layout, which of its source's batch it is."""


def shapes(sets: np.ndarray) -> Iterator[tuple[tuple[KindOf, ...], np.ndarray]]:
    """Sets that take as many pieces of as many sorts: kinds of one of them, and which they are."""
    alike, which = distinct(sets >> _SORT)
    order = np.argsort(which, kind="stable")
    ends = np.searchsorted(which[order], np.arange(len(alike) + 1))
    for i in range(len(alike)):
        these = order[ends[i] : ends[i + 1]]
        yield kinds_in(sets[these[0]]), these


def sizes_in(sets: np.ndarray, kinds: int) -> np.ndarray:
    """What is cut for sets of so many kinds: n × kinds × 2, in steps."""
    codes = sets[:, :kinds]
    return np.stack([codes >> _SIDE & _MASK, codes & _MASK], axis=2)


def distinct(rows: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rows, each once and in order, and for every row which of those it is."""
    if not len(rows):
        return rows, np.zeros(0, int)
    order = np.lexsort(rows.T[::-1])
    ordered = rows[order]
    new = np.r_[True, (ordered[1:] != ordered[:-1]).any(axis=1)]
    which = np.empty(len(rows), int)
    which[order] = np.cumsum(new) - 1
    return ordered[new], which


def _rows(sizes: np.ndarray, sorts: np.ndarray, each: Sequence[int], turns: bool) -> np.ndarray:
    """Sets as rows: equal kinds merged, those that a card takes most of first."""
    width, height = sizes[:, :, 0], sizes[:, :, 1]
    if turns:
        swapped = (width < height) & (sorts != FALLING) & (sorts != RISING)
        width, height = np.where(swapped, height, width), np.where(swapped, width, height)
    kinds = sorts << _SORT | width << _SIDE | height
    counts = np.broadcast_to(np.array(each, np.int64), kinds.shape)
    order = np.argsort(-kinds, axis=1, kind="stable")
    kinds, counts = np.take_along_axis(kinds, order, 1), np.take_along_axis(counts, order, 1).copy()
    for k in range(kinds.shape[1] - 1):
        same = kinds[:, k] == kinds[:, k + 1]
        counts[same, k + 1] += counts[same, k]
        counts[same, k] = 0
    codes = np.where(counts > 0, counts << EACH | kinds, 0)
    return -np.sort(-codes, axis=1)
