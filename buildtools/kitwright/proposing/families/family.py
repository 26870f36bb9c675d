"""What every family of layouts knows and gives: the field to be filled, many layouts at once as whole steps, one of them as a face.

A family writes its fronts as a few arrays (`Batch`): candidates are counted in hundreds of thousands,
and a face is built again only for the dozens that are shown. All sizes are whole steps of the maker's
ruler. Borders and gaps need not be: along a line of r pieces there is left `inner − (r − 1) × gap`,
and where that is no whole number of steps no sizes on the ruler add up there, whatever they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from kitwright.geometry import Axis, Diagonal, Rect
from kitwright.proposing.lattice import Lattice
from kitwright.proposing.makeable import COVERED, LEAST, MOST_PIECES, kinds_of, makeable
from kitwright.proposing.records import Kind, Side
from kitwright.proposing.wish import CardWish, Wish
from kitwright.units import ZERO, Length, Size


@dataclass(frozen=True, slots=True)
class Field:
    """What the pieces of one card lie on, with one border and one gap, and what is asked of them."""

    wish: Wish
    card: CardWish
    border: Length
    gap: Length
    ground: Rect
    """What they lie on: the mat, the base, or one door of a gate; on the closed card."""

    @property
    def step(self) -> Length:
        return self.wish.step

    @property
    def every(self) -> int:
        """Steps that a size which can be chosen freely is a whole number of."""
        return self.up(self.wish.even) if self.wish.even else 1

    @property
    def band(self) -> Length | None:
        """The least height of a free band, where one is asked for."""
        return self.wish.band

    @property
    def inner(self) -> Rect:
        """Where pieces may lie."""
        return self.ground.inset(self.border)

    @property
    def pieces(self) -> tuple[int, int]:
        """At least and at most so many on a card."""
        return self.wish.pieces or (1, MOST_PIECES)

    @property
    def turns(self) -> bool:
        """Whether pieces may lie turned on their sheets: no paper has an up."""
        return not any(stock.one_way for stock in self.wish.stocks)

    def side(self, axis: Axis) -> Length:
        """How much there is across (`x`) or down (`y`)."""
        return self.inner.width if axis == "x" else self.inner.height

    def room(self, axis: Axis, pieces: int) -> int | None:
        """Steps that so many pieces in a line share, without the gaps between them.

        Returns:
            None where that is no whole number, so that no sizes on the ruler add up; it may be below zero.
        """
        steps = self._left(axis, pieces - 1)
        return int(steps) if steps.denominator == 1 else None

    def most(self, axis: Axis, pieces: int, band: Length) -> int:
        """Steps that so many pieces in a line share at most, where a free band of at least so much stands with them."""
        return int((self._left(axis, pieces) - band / self.step) // 1)

    def _left(self, axis: Axis, gaps: int) -> Any:
        return (self.side(axis) - self.gap * gaps) / self.step

    @property
    def asked_of(self) -> tuple[int, int, int]:
        """Least steps of a strip's short side, of a tile's, of a panel's."""
        least = LEAST[self.wish.unit]
        return self.up(least.narrow), self.up(least.tile), self.up(least.panel)

    @property
    def apart(self) -> int:
        """Steps that unequal sizes keep apart, at least."""
        return self.up(LEAST[self.wish.unit].apart)

    def up(self, length: Length) -> int:
        """A length as whole steps: up to the next."""
        return Lattice(self.step).up(length)

    def kept(self, sizes: np.ndarray, each: Sequence[int], covers: Sequence[int] | None = None, flags: int = 0) -> np.ndarray:
        """Which layouts are makeable, of few enough kinds, and cover enough.

        Args:
            sizes: n × kinds × 2, whole steps.
            each: pieces of each kind on the card.
            covers: of each kind, twice how many rectangles of its size are seen: 2 × `each`, but for triangles and what
                lies over others.
            flags: how many kinds, the first ones, are squares that triangles come of.
        """
        twice = np.array([2 * n for n in each] if covers is None else covers, dtype=np.int64)
        area = (sizes[:, :, 0] * sizes[:, :, 1] * twice).sum(axis=1)
        free = (self.band or ZERO).inches * self.inner.width.inches
        least = (self.ground.area - free) * COVERED * 2 / self.step.inches**2
        good = makeable(sizes[:, flags:], self.step, self.wish.unit) & (kinds_of(sizes, self.turns) <= self.wish.kinds)
        return good & (area >= -(-least.numerator // least.denominator))

    def takes(self, pieces: int) -> bool:
        """Whether so many pieces on a card are asked for."""
        least, most = self.pieces
        return least <= pieces <= most


def field_of(wish: Wish, card: CardWish, border: Length, gap: Length) -> Field:
    """The front of a card as a field, or its left door where it is a gate."""
    closed = Rect.of(card.closed)
    if card.fold == "gate":
        closed = Rect(ZERO, ZERO, card.closed.width / 2, card.closed.height)
    return Field(wish, card, border, gap, closed.inset(card.mat or ZERO))


@dataclass(frozen=True, slots=True)
class Batch:
    """Many layouts of one family and shape at once."""

    shape: Any
    """What they share: numbers of rows, which sizes are one label …"""
    sizes: np.ndarray
    """n × kinds × 2, whole steps, width × height as the pieces stand on the card (a triangle's rectangle)."""
    each: tuple[int, ...]
    """Pieces of each kind on a card; triangles counted as triangles."""
    params: np.ndarray
    """n × p whole steps: enough, with the shape, to build the face again."""
    halved: tuple[Diagonal | None, ...] = ()
    """Of each kind, the cut that makes two triangles of a rectangle; empty: none is cut so."""

    def __len__(self) -> int:
        return len(self.sizes)

    @property
    def pieces(self) -> int:
        """Pieces on a card."""
        return sum(self.each)


class Family(Protocol):
    """A way to fill a front."""

    @property
    def name(self) -> str:
        """What a maker calls it: rows, columns, grid …"""
        ...

    @property
    def place(self) -> int:
        """Its place where families are listed."""
        ...

    def batches(self, field: Field) -> Iterator[Batch]:
        """All its layouts of this field that are makeable, as multisets: no order twice, no mirror image twice."""
        ...

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        """One of them as a face, its labels those of `kinds`."""
        ...


def labelled(field: Field, batch: Batch, i: int) -> list[Kind]:
    """The kinds of one layout in the order of the batch, each with its label: A is the largest; what is one size is one label.

    A size that another has turned is the same piece where papers have no up; of a label that comes more than once, `each`
    is what comes of it in all.
    """
    sizes = [Size(field.step * int(w), field.step * int(h)) for w, h in batch.sizes[i]]
    halved = batch.halved or (None,) * len(sizes)
    own: list[tuple[Size, Diagonal | None]] = []
    for k, size in enumerate(sizes):
        twin = next(
            (one for one, way in own if way == halved[k] and (one == size or field.turns and way is None and one.turned == size)), size
        )
        own.append((twin, halved[k]))
    known = sorted(dict.fromkeys(own), key=lambda one: (-one[0].area, -one[0].width.inches, one[1] or ""))
    names = {one: LABELS[n] for n, one in enumerate(known)}
    each = {one: sum(n for it, n in zip(own, batch.each) if it == one) for one in known}
    return [Kind(names[one], one[0], one[0], each[one], one[1]) for one in own]


def kinds(field: Field, batch: Batch, i: int) -> tuple[Kind, ...]:
    """The kinds of one layout, each once, by label."""
    return tuple(sorted(dict.fromkeys(labelled(field, batch, i)), key=lambda kind: kind.label))


LABELS = "ABCDEFGHJKPQRT"
"""Labels of pieces: no letter that is a figure, a mat (M), or a word of the file (N, Y)."""
