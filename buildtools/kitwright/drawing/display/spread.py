"""How cards lie on a picture: in rows, or as a fan; in inches, to be drawn at whatever scale fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from kitwright.drawing.display.turned import UPRIGHT, Turn, turn_of
from kitwright.exact import Exact
from kitwright.units import Size

_GAP = Exact(1, 7)
"""Between cards in rows: of the shorter side of the smallest."""


@dataclass(frozen=True, slots=True)
class LyingCard:
    """Where one card lies."""

    card: int
    """Which of those to be spread."""
    x: Fraction
    """Its middle, inches from the left of them all."""
    y: Fraction
    turn: Turn = UPRIGHT


@dataclass(frozen=True, slots=True)
class Spread:
    """Cards as they lie, and the room that they take."""

    lying: tuple[LyingCard, ...]
    """The lowest first."""
    width: Fraction
    """Inches."""
    height: Fraction
    seen: Fraction
    """About how much of their paper is seen, square inches."""
    even: bool = True
    """Whether all rows are alike."""

    def worth(self, scale: Fraction) -> Fraction:
        """How good it is at a scale: much paper seen, on large cards, in even rows."""
        return self.seen * scale * scale * scale * (Exact(6, 5) if self.even else 1)


def in_rows(sizes: Sequence[Size]) -> Iterator[Spread]:
    """Every way to lay cards out in rows of one size each, with as many to a row as come about as wide as the first ones.

    Each other row runs from the right, so that cards in turn are not all below their like.
    """
    cards = [(size.width.inches, size.height.inches) for size in sizes]
    gap = min(min(card) for card in cards) * _GAP
    alike = [list(group) for _, group in groupby(range(len(cards)), key=lambda i: cards[i])]
    if len(alike) == len(cards):
        # One of each size: side by side as well as one below the other.
        alike = [[*range(len(cards))]]
    first = cards[0][0] + gap
    for columns in range(1, len(alike[0]) + 1):
        rows: list[list[int]] = []
        for group in alike:
            most = max(1, int(columns * first / (cards[group[0]][0] + gap)))
            # In as many rows as that takes, all about as full: ten in rows of three, four and three.
            count = -(-len(group) // most)
            ends = [(2 * len(group) * i + count) // (2 * count) for i in range(count + 1)]
            rows += [group[start:end] for start, end in zip(ends, ends[1:])]
        yield _rows(cards, rows, gap)


def _rows(cards: Sequence[tuple[Fraction, Fraction]], rows: Sequence[Sequence[int]], gap: Fraction) -> Spread:
    wides = [sum((cards[i][0] for i in row), gap * (len(row) - 1)) for row in rows]
    wide, y = max(wides), Exact(0)
    found: list[LyingCard] = []
    for n, (row, across) in enumerate(zip(rows, wides)):
        x, high = (wide - across) / 2, max(cards[i][1] for i in row)
        for i in row if n % 2 == 0 else reversed(row):
            found.append(LyingCard(i, x + cards[i][0] / 2, y + high / 2))
            x += cards[i][0] + gap
        y += high + gap
    seen = sum((w * h for w, h in cards), Exact(0))
    return Spread(tuple(found), wide, y - gap, seen, all(len(row) == len(rows[0]) for row in rows))


_FLAT, _STEEP = Exact(1, 26), Exact(1, 15)
"""How much each card of a fan is turned against its neighbour: tangents of half of it, 4.4° and 7.6°."""
_LEANS = Exact(1, 48)
"""The same of a row of cards that runs downwards: 2.4°."""
_SHOWS = (Exact(9, 25), Exact(12, 25), Exact(3, 5))
"""How far each card of a fan lies beside its neighbour, of its width; or below it, of its height."""


def fanned(sizes: Sequence[Size]) -> Iterator[Spread]:
    """Ways to fan cards: across with the first on top in the middle, or downwards with the first on top as the last.

    Args:
        sizes: of the cards, the most important one first.
    """
    count = len(sizes)
    wide, high = max(size.width.inches for size in sizes), max(size.height.inches for size in sizes)
    if count == 1:
        yield from in_rows(sizes)
        return
    # From the left: the first in the middle, then to both sides of it in turn.
    across = [*reversed(range(1, count, 2)), *range(0, count, 2)]
    for shows in _SHOWS:
        for steep in (_FLAT, _STEEP):
            if steep * (count - 1) <= Exact(2, 5):
                yield _fan(sizes, across, steep, wide * shows, across=True)
        if len({*sizes}) == 1:
            yield _fan(sizes, range(count - 1, -1, -1), _LEANS, high * shows, across=False)


def _fan(sizes: Sequence[Size], order: Sequence[int], steep: Fraction, beside: Fraction, across: bool) -> Spread:
    """Cards on a wide circle, each turned as the circle runs; the middle of it lies below them, or at their left.

    Args:
        order: the cards from the left, or from the top.
    """
    middle = Exact(len(sizes) - 1, 2)
    # So far away that neighbours lie beside one another as they should.
    radius = beside / turn_of(steep)[1]
    placed = []
    for i, card in enumerate(order):
        turn = turn_of(steep * (i - middle))
        cos, sin = turn
        # Lower by as much as its inner corner rises: no corner looks over the card that lies on it.
        down = abs(sin) * sizes[card].width.inches / 2
        placed.append(
            LyingCard(card, radius * sin, down - radius * cos, turn) if across else LyingCard(card, radius * cos, radius * sin, turn)
        )
    corners = [corner for one in placed for corner in _corners(sizes[one.card], one)]
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    wide, high = max(x for x, _ in corners) - left, max(y for _, y in corners) - top
    longer = max(size.height.inches if across else size.width.inches for size in sizes)
    first = max(size.width.inches if across else size.height.inches for size in sizes)
    seen = longer * (first + beside * (len(sizes) - 1))
    from_below = sorted(placed, key=lambda one: -one.card)
    return Spread(tuple(LyingCard(one.card, one.x - left, one.y - top, one.turn) for one in from_below), wide, high, seen)


def _corners(size: Size, one: LyingCard) -> list[tuple[Fraction, Fraction]]:
    (cos, sin), wide, high = one.turn, size.width.inches / 2, size.height.inches / 2
    return [(one.x + a * cos - b * sin, one.y + a * sin + b * cos) for a in (-wide, wide) for b in (-high, high)]
