"""What hands make gladly: the least sizes of strips, tiles and panels, how far apart sizes keep, how much of a front is covered.

A search that knows sums alone finds scraps of ½ × ⅝ in and strips a sixteenth apart, which come out
of the sheets and of no patience: what makers call fiddly (`sources.PRACTICE`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from kitwright.proposing.lattice import Lattice
from kitwright.proposing.wish import Unit
from kitwright.units import Length


@dataclass(frozen=True, slots=True)
class Least:
    """The least of everything, in one unit."""

    apart: Length
    """Two sizes are equal, or a side of theirs differs by as much: nearer ones are mixed up at the desk and look like a slip."""
    narrow: Length
    """The short side of a strip."""
    long: Length
    """The long side of a strip."""
    tile: Length
    """Both sides of a piece whose long side is less than a strip's."""
    panel: Length
    """The short side of a panel."""
    flag: Length
    """The legs of a triangle."""


LEAST: Mapping[Unit, Least] = {
    "in": Least(*(Length(Fraction(n, 8)) for n in (2, 4, 12, 8, 12, 6))),
    "mm": Least(*(Length.mm(n) for n in (6, 12, 38, 25, 38, 19))),
}
"""By the unit that the maker thinks in."""
LEAST_BAND: Mapping[Unit, Length] = {"in": Length(Fraction(1)), "mm": Length.mm(25)}
"""A band that holds a greeting, where nobody said how high it has to be."""
COVERED = Fraction(1, 2)
"""The share of what the pieces lie on that they cover, without the band that was asked for."""
MOST_ROWS = 6
"""Rows, or columns, one beside another: more are a ladder."""
MOST_PIECES = 16
"""Pieces on a card where nobody asked for a number."""
LEAST_SLACK: Mapping[Unit, Length] = {"in": Length(Fraction(1, 16)), "mm": Length.mm(2)}
"""How much every sheet may lack, at least: `check` calls less "hardly any slack", since sheets are sold a hair short. In
whole millimetres it is the first mark above a sixteenth."""


def makeable(sizes: np.ndarray, step: Length, unit: Unit) -> np.ndarray:
    """Which layouts hands make gladly, by the sizes of their pieces alone.

    Args:
        sizes: n × kinds × 2, whole steps.
        step: what a step is.
        unit: in which the maker thinks.

    Returns:
        n truth values.
    """
    least = LEAST[unit]
    narrow, long, tile, apart = (Lattice(step).up(each) for each in (least.narrow, least.long, least.tile, least.apart))
    short, side = sizes.min(axis=2), sizes.max(axis=2)
    good = (((short >= narrow) & (side >= long)) | (short >= tile)).all(axis=1)
    for one in range(sizes.shape[1]):
        for other in range(one):
            good &= ~_mixed_up(sizes[:, one], sizes[:, other], apart) & ~_mixed_up(sizes[:, one], sizes[:, other, ::-1], apart)
    return good


def _mixed_up(one: np.ndarray, other: np.ndarray, apart: int) -> np.ndarray:
    """Whether two sizes are unlike, and nearer than hands keep apart both ways."""
    off = np.abs(one - other)
    return (off.max(axis=1) < apart) & (off.max(axis=1) > 0)


def kinds_of(sizes: np.ndarray, turns: bool) -> np.ndarray:
    """How many different sizes each layout has; where pieces may turn, 2 × 1 and 1 × 2 are one.

    Args:
        sizes: n × kinds × 2.
        turns: whether pieces may lie turned on their sheets.
    """
    seen = np.sort(sizes, axis=2) if turns else sizes
    found = np.ones(len(sizes), dtype=np.int64)
    for one in range(1, sizes.shape[1]):
        new = np.ones(len(sizes), dtype=bool)
        for other in range(one):
            new &= (seen[:, one] != seen[:, other]).any(axis=1)
        found += new
    return found
