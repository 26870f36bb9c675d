"""A dozen that differ: farthest first, by what is seen, with some weight on the family and a little on the number of pieces."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from kitwright.proposing.graded import Graded, side_of
from kitwright.proposing.pool import Origin, kinds_in
from kitwright.proposing.records import Side
from kitwright.proposing.shares import Desk
from kitwright.units import Length

SHOWN = 12
"""What a page shows, and what eyes can choose among."""
CELLS = 24
"""Cells along each side of a front in small."""
LOOKED_AT = 480
"""Layouts that are compared by their pictures; of each class the best first."""
FULL = 255
FAMILY = 36
"""Of a picture’s whole difference, `FULL`: what another family counts beside it."""
PIECE = 3
"""And a piece more or less, up to …"""
PIECES = 18
"""… so much."""
WASTE = 160
"""And all of the sheets wasted: a tenth more waste has to be worth as much difference as a tenth of this."""
MARK = 3
"""A ruler mark more."""
STROKES = 12
"""As many strokes more as there are pieces."""
CRUMB = 48
"""A piece smaller than `SMALL`: hands lose it, and glue comes out all round."""
SMALL = Fraction(1)
"""Square inches."""
OF_A_FAMILY = 4
"""Layouts of one family in a dozen, as long as others have any; of two designs, of one pair of families."""


def dozen(desk: Desk, sources: Sequence[Origin], clusters: list[list[Graded]]) -> list[list[Graded]]:
    """The layouts to show, the least waste first."""
    some = _best_of_each(clusters)
    if not some:
        return []
    pictures = np.stack([_picture([side_of(sources, place) for place in cluster[0].places]) for cluster in some])
    kinds = sorted({cluster[0].of.families for cluster in some})
    family = np.array([kinds.index(cluster[0].of.families) for cluster in some])
    pieces = np.array([cluster[0].of.pieces for cluster in some])
    used = np.array([cluster[0].grade.used for cluster in some])
    dear = (used.max() - used) * WASTE // max(int(desk.area / desk.square), 1) + np.array([_toil(desk, cluster[0]) for cluster in some])
    chosen = [int(np.lexsort((np.arange(len(some)), dear))[0])]
    far = np.full(len(some), np.iinfo(np.int64).max)
    while len(chosen) < min(SHOWN, len(some)):
        last = chosen[-1]
        off = _unlike(pictures, pictures[last])
        off = off + FAMILY * (family != family[last]) + np.minimum(PIECE * np.abs(pieces - pieces[last]), PIECES)
        far = np.minimum(far, off)
        score = far - dear
        many = [i for i in range(len(kinds)) if np.count_nonzero(family[chosen] == i) >= OF_A_FAMILY]
        score[np.isin(family, many)] -= 4 * FULL
        score[chosen] = np.iinfo(np.int64).min
        chosen.append(int(score.argmax()))
    return [some[i] for i in sorted(chosen, key=lambda i: (some[i][0].grade.order, i))]


def _toil(desk: Desk, one: Graded) -> int:
    """What speaks against a layout besides its waste: marks, strokes, crumbs."""
    kinds = kinds_in(one.pieces.tolist())
    crumbs = sum(kind.width * kind.height * desk.square < SMALL * kind.from_each for kind in kinds)
    pieces = sum(kind.each for kind in kinds) * one.item.share.cards
    return MARK * one.grade.marks + one.grade.strokes * STROKES // max(pieces, 1) + CRUMB * crumbs


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


def _unlike(pictures: np.ndarray, one: np.ndarray) -> np.ndarray:
    """How far each picture is from one, the least over its mirror images: 0 to `FULL`."""
    found = np.full(len(pictures), np.iinfo(np.int64).max)
    for picture in (one, one[..., ::-1], one[..., ::-1, :], one[..., ::-1, ::-1]):
        off = np.abs(pictures - picture[None]).reshape(len(pictures), -1).sum(axis=1, dtype=np.int64)
        found = np.minimum(found, off // picture.size)
    return found


def _picture(sides: Sequence[Side]) -> np.ndarray:
    """A front in small: for each cell whether it is covered, by how large a piece, and by how wide a one."""
    return np.concatenate([_of_side(side) for side in sides])


def _of_side(side: Side) -> np.ndarray:
    found = np.zeros((3, CELLS, CELLS), np.int16)
    closed = side.card.closed
    for spot in side.spots:
        rect = spot.rect
        rows, columns = _cells(rect.y, rect.bottom, closed.height), _cells(rect.x, rect.right, closed.width)
        wide = rect.width.inches / (rect.width.inches + rect.height.inches)
        found[:, rows, columns] = np.array([FULL, int(rect.area / closed.area * FULL), int(wide * FULL)], np.int16)[:, None, None]
    return found


def _cells(start: Length, end: Length, side: Length) -> slice:
    """The cells whose middle lies between."""

    def at(length: Length) -> int:
        return int(-(-(length / side * CELLS - Fraction(1, 2)) // 1))

    return slice(max(at(start), 0), max(at(end), 0))
