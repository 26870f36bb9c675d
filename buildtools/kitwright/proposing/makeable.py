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
    # Columns, one after another: over a short axis numpy is many times slower.
    sides = [(sizes[:, kind, 0], sizes[:, kind, 1]) for kind in range(sizes.shape[1])]
    good = np.ones(len(sizes), dtype=bool)
    for i, (width, height) in enumerate(sides):
        short, side = np.minimum(width, height), np.maximum(width, height)
        good &= ((short >= narrow) & (side >= long)) | (short >= tile)
        for across, down in sides[:i]:
            good &= ~_mixed_up(width - across, height - down, apart) & ~_mixed_up(width - down, height - across, apart)
    return good


def _mixed_up(across: np.ndarray, down: np.ndarray, apart: int) -> np.ndarray:
    """Whether two sizes that differ by so much are unlike, and nearer than hands keep apart both ways."""
    off = np.maximum(np.abs(across), np.abs(down))
    return (off < apart) & (off > 0)


def kinds_of(sizes: np.ndarray, turns: bool) -> np.ndarray:
    """How many different sizes each layout has; where pieces may turn, 2 × 1 and 1 × 2 are one.

    Args:
        sizes: n × kinds × 2.
        turns: whether pieces may lie turned on their sheets.
    """
    width, height = sizes[:, :, 0], sizes[:, :, 1]
    one_side, other_side = (np.minimum(width, height), np.maximum(width, height)) if turns else (width, height)
    found = np.ones(len(sizes), dtype=np.int64)
    for one in range(1, sizes.shape[1]):
        new = np.ones(len(sizes), dtype=bool)
        for other in range(one):
            new &= (one_side[:, one] != one_side[:, other]) | (other_side[:, one] != other_side[:, other])
        found += new
    return found
