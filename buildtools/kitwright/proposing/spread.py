"""A dozen that differ: farthest first, by what is seen, with some weight on the family and a little on the number of pieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

import numpy as np

from kitwright.proposing.graded import Graded, side_of
from kitwright.proposing.pool import Origin, kinds_in
from kitwright.proposing.records import Side
from kitwright.proposing.shares import Desk
from kitwright.proposing.wish import Unit
from kitwright.units import Length

SHOWN, ENOUGH = 12, 8
"""What a page shows, and what eyes can choose among; and what is enough: more are hardly worth it, fewer are less than one likes."""
CELLS, CHANNELS = 24, 3
"""Cells along each side of a front in small, and what is told of each."""
LARGE, HALVED, TONES = Fraction(3, 8), Fraction(1, 4), 16
"""From which share of a side on a size is told by its share; what each time that a smaller one is halved is as good as, so that
it goes on as steeply there; and in how many parts of that it is told. Strips of ⅝ and of 1 in differ more to the eye than panels
of 3⅝ and of 4."""
LOOKED_AT = 480
"""Layouts that are compared by their pictures; of each class the best first."""
FULL = 255
NEVER = -(10**6)

# --- of a picture’s whole difference, `FULL`: what else counts, for a layout and against it ---------

FAMILY = 36
"""Another family."""
PIECE = 3
"""And a piece more or less, up to …"""
PIECES = 18
"""… so much."""
AGAIN = 18
"""Against it, each layout of its family that is there already: what is new in a third grid is less than a picture says."""
ALIKE, ALIKE_IN_SHAPE = 8, 20
"""Pictures of one family no farther apart than this are one idea, or than that where as many pieces lie in the same way: a
dozen is left short rather than filled up with them."""
WORTH = -40
"""Beyond `ENOUGH`, what speaks for a layout less what speaks against it by itself is no less than this: as much as layouts of a
dozen marks and strokes have against them that differ by a size or two. How many of its family are there is left out: of one
family that she asked for, or that alone comes out, there are as many to choose among as of many."""
OF_A_FAMILY = 4
"""Layouts of one family, or of two designs of one pair of families, unless nothing else is worth it."""
TOLD_APART = 45
"""As different as two designs of one batch are to be."""
WASTE = 160
"""All of the sheets wasted: a tenth more waste has to be worth as much difference as a tenth of this."""
MARK = 3
"""A ruler mark more, and …"""
MANY_MARKS, MARK_BEYOND = 4, 10
"""… one beyond so many: she sets the stop anew, and loses count."""
STROKES = 12
"""As many strokes more as there are pieces."""
UNLIKE_SHEETS = 20
"""Sheets that are not all cut alike: two guides to follow, and two piles to keep apart."""
CRUMB = 48
"""A piece smaller than `SMALL`: hands lose it, and glue comes out all round."""
SMALL = Fraction(1)
"""Square inches."""
SLIVER = 16
"""A size narrower than `NARROW`: its edges have to be true, and little is seen of its pattern."""
NARROW: Mapping[Unit, Length] = {"in": Length(Fraction(5, 8)), "mm": Length.mm(16)}
GIANT, BESIDE_A_GIANT = 5, 36
"""A narrow size on a card with one that is so many times as wide: a splinter beside a slab."""
MANY_PIECES, PIECE_BEYOND = 9, 5
"""A piece on a card beyond so many: a mosaic, to be cut, kept and laid out card by card."""


def dozen(desk: Desk, sources: Sequence[Origin], clusters: list[list[Graded]]) -> list[list[Graded]]:
    """The layouts to show, the least waste first; fewer where there are no more that differ."""
    some = _best_of_each(clusters)
    if not some:
        return []
    spread = Spread(desk, sources, [cluster[0] for cluster in some])
    return [some[i] for i in sorted(spread.chosen(), key=lambda i: (some[i][0].grade.order, i))]


class Spread:
    """Layouts seen beside one another."""

    def __init__(self, desk: Desk, sources: Sequence[Origin], some: Sequence[Graded]) -> None:
        self._designs = desk.wish.designs
        upright = any(stock.one_way for stock in desk.wish.stocks)
        self._turns = not upright and all(card.closed.width == card.closed.height for card in desk.wish.cards_of)
        """Whether a card may be turned by a quarter, and is the same card: rows are columns then."""
        self._pictures = np.stack([_picture([side_of(sources, place) for place in one.places]) for one in some])
        self._family = _numbered([one.of.families for one in some])
        names = sorted({name for one in some for name in one.of.families})
        self._has = np.array([[one.of.families.count(name) for name in names] for one in some])
        """Of each layout, how many of its designs are of each family."""
        ways = [[(repr(sources[i].batch.shape), bool(sources[i].field.band)) for i, _ in one.places] for one in some]
        self._shape = _numbered([(() if self._turns else one.of.families, tuple(way)) for one, way in zip(some, ways)])
        self._pieces = np.array([one.of.pieces for one in some])
        self._dear = self._dearness(desk, some)

    def _dearness(self, desk: Desk, some: Sequence[Graded]) -> np.ndarray:
        """What speaks against each layout by itself."""
        used = np.array([one.grade.used for one in some])
        dear = (used.max() - used) * WASTE // max(int(desk.area / desk.square), 1) + np.array([_toil(desk, one) for one in some])
        if self._designs == 2:
            one, other = self._pictures[:, :CHANNELS], self._pictures[:, CHANNELS:]
            dear = dear + np.maximum(TOLD_APART - _nearest(one, other), 0)
        return dear

    def apart(self, one: int) -> np.ndarray:
        """How far all of them are from one of them, by what is seen: their pictures, and how many pieces they are of."""
        off, other = _nearest(self._pictures, self._pictures[one][None]), self._pictures[one][None]
        seen = np.minimum(off, _nearest(self._pictures, _turned(other))) if self._turns else off
        more: np.ndarray = np.minimum(PIECE * np.abs(self._pieces - self._pieces[one]), PIECES)
        return seen + more

    def chosen(self) -> list[int]:
        """The best by itself, and then one after another what is farthest from all that are there."""
        found = [int(np.argmin(self._dear))]
        self._choose(found, SHOWN, ALIKE, ALIKE_IN_SHAPE)
        # Where she asked for one sort alone, or there are hardly any, smaller differences count.
        self._choose(found, SHOWN, ALIKE // 2, ALIKE_IN_SHAPE // 2)
        return found

    def _choose(self, found: list[int], most: int, alike: int, alike_in_shape: int) -> None:
        far, good = np.full(len(self._dear), -NEVER), np.ones(len(self._dear), bool)
        for last in range(most):
            if last >= len(found):
                worth = far - self._dear
                score = worth - self._again(found)
                score[~good | ((worth < WORTH) & (len(found) >= ENOUGH))] = NEVER
                # Of one sort no more, unless there is nothing else.
                others = np.where(self._often(found), NEVER, score)
                score = others if others.max() > NEVER else score
                if score.max() == NEVER:
                    return
                found.append(int(score.argmax()))
            one = found[last]
            off = self.apart(one)
            near = np.where(self._shape == self._shape[one], alike_in_shape, alike)
            good &= (off > near) | ((self._family != self._family[one]) & (not self._turns))
            far = np.minimum(far, off + FAMILY * (self._family != self._family[one]))

    def _again(self, found: Sequence[int]) -> np.ndarray:
        """What speaks against each since there are others of its family."""
        again: np.ndarray = AGAIN * (self._has @ self._has[found].sum(axis=0)) // self._designs**2
        return again

    def _often(self, found: Sequence[int]) -> np.ndarray:
        """Of which enough of the same family are there."""
        often: np.ndarray = np.bincount(self._family[found], minlength=len(self._dear))[self._family] >= OF_A_FAMILY
        return often


def _numbered(values: Sequence[object]) -> np.ndarray:
    """For each value, which of the different ones it is."""
    known = {value: i for i, value in enumerate(dict.fromkeys(values))}
    return np.array([known[value] for value in values])


def _toil(desk: Desk, one: Graded) -> int:
    """What speaks against a layout besides its waste: marks, strokes, piles, crumbs, slivers, mosaics."""
    grade, kinds = one.grade, kinds_in(one.pieces.tolist())
    narrow = NARROW[desk.wish.unit] / desk.wish.step
    crumbs = sum(kind.width * kind.height * desk.square < SMALL * kind.from_each for kind in kinds)
    wide = [min(kind.width, kind.height) for kind in kinds]
    slivers, giant = sum(each < narrow for each in wide), GIANT * min(wide) < max(wide)
    pieces = sum(kind.each for kind in kinds)
    hard = MARK * grade.marks + MARK_BEYOND * max(grade.marks - MANY_MARKS, 0) + UNLIKE_SHEETS * (not grade.alike)
    hard += grade.strokes * STROKES // max(pieces * one.item.share.cards, 1)
    return (
        hard + CRUMB * crumbs + SLIVER * slivers + BESIDE_A_GIANT * giant + PIECE_BEYOND * max(pieces // desk.wish.designs - MANY_PIECES, 0)
    )


def _best_of_each(clusters: list[list[Graded]]) -> list[list[Graded]]:
    """Some layouts of every class, taken in turn from the best."""
    by_class: dict[object, list[list[Graded]]] = {}
    for cluster in clusters:
        by_class.setdefault(cluster[0].of, []).append(cluster)
    found: list[list[Graded]] = []
    for turn in range(max(map(len, by_class.values()), default=0)):
        for of in by_class.values():
            if turn < len(of) and len(found) < LOOKED_AT:
                found.append(of[turn])
    return found


def _nearest(some: np.ndarray, others: np.ndarray) -> np.ndarray:
    """How far each picture is from the other, the least over its mirror images: 0 to `FULL`."""
    size = some[0].size
    ways = (others, others[..., ::-1], others[..., ::-1, :], others[..., ::-1, ::-1])
    return np.min([np.abs(some - way).reshape(len(some), -1).sum(axis=1, dtype=np.int64) // size for way in ways], axis=0)


def _turned(some: np.ndarray) -> np.ndarray:
    """Pictures turned by a quarter (their mirror image, which is as good): what was wide is high."""
    parts = some.reshape(len(some), -1, CHANNELS, CELLS, CELLS)
    return parts[:, :, [0, 2, 1]].swapaxes(-1, -2).reshape(some.shape)


def _picture(sides: Sequence[Side]) -> np.ndarray:
    """A front in small: for each cell whether it is covered, by how wide a piece, and by how high a one."""
    return np.concatenate([_of_side(side) for side in sides])


def _of_side(side: Side) -> np.ndarray:
    found = np.zeros((CHANNELS, CELLS, CELLS), np.int16)
    # Gaps are no holes: where one lies a cell farther, nothing else is seen.
    closed, more = side.card.closed, side.gap / 2
    for spot in side.spots:
        rect = spot.rect
        rows, columns = _cells(rect.y - more, rect.bottom + more, closed.height), _cells(rect.x - more, rect.right + more, closed.width)
        wide, high = _told(rect.width / closed.width), _told(rect.height / closed.height)
        found[:, rows, columns] = np.array([FULL, wide, high], np.int16)[:, None, None]
    return found


def _told(part: Fraction) -> int:
    """A share of a side as eyes tell it: a large piece by how much of the card it takes, a small one by how often it is halved."""
    if part >= LARGE:
        return int((HALVED + part) * FULL)
    tones = int((LARGE / part) ** TONES).bit_length() - 1  # how often in parts, rounded down; exact, so that it is so anywhere
    return max(int((HALVED + LARGE - HALVED * tones / TONES) * FULL), 0)


def _cells(start: Length, end: Length, side: Length) -> slice:
    """The cells whose middle lies between."""

    def at(length: Length) -> int:
        return int(-(-(length / side * CELLS - Fraction(1, 2)) // 1))

    return slice(max(at(start), 0), max(at(end), 0))
