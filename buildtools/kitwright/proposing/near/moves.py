"""Every way to move a kit’s sizes by whole steps of the ruler so that every sum goes on holding."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import combinations, product
from math import lcm

import numpy as np

from kitwright.proposing.freedom import Dial, Freedom, Shift
from kitwright.units import Length
from kitwright.work.worked import Worked

STEPS: Mapping[Length, int] = {Length(Fraction(1, 8)): 4, Length(Fraction(1, 16)): 5, Length.mm(1): 8}
"""Steps that a kit's sizes may lie on, the coarsest first, each with how many of them a size may move: half an inch at most."""
MOST_MOVES = 60_000
"""Moves that are looked at for one kit."""


def step_of(worked: Worked) -> tuple[Length, int]:
    """The coarsest step that all sizes of a kit lie on, and how many of it a size may move; the finest where they lie on none."""
    spec = worked.kit.spec
    sides = [side for piece in spec.pieces.values() if not (piece.band or piece.liner) for side in (piece.size.width, piece.size.height)]
    metric = spec.unit == "mm"
    steps = [(step, reach) for step, reach in STEPS.items() if (step == Length.mm(1)) == metric]
    return next((one for one in steps if all((side / one[0]).denominator == 1 for side in sides)), steps[-1])


def moves_of(free: Freedom, step: Length, reach: int) -> tuple[np.ndarray, bool]:
    """Every way to move dials by whole steps within reach so that all ties hold, up to three of those that may be chosen freely.

    Returns:
        moves × dials, and whether all were taken that there are.
    """
    dials = list(free.now)
    pivots, chosen, given = _solved(dials, free.ties)
    most = 3
    while most > 1 and _count(len(chosen), most, reach) > MOST_MOVES:
        most -= 1
    values = [by for by in range(-reach, reach + 1) if by]
    rows: list[np.ndarray] = []
    for n in range(1, most + 1):
        if (places := len(list(combinations(chosen, n)))) == 0:
            continue
        by = np.array(list(product(values, repeat=n)), dtype=np.int64)
        block = np.zeros((places, len(by), len(chosen)), dtype=np.int64)
        for at, which in enumerate(combinations(range(len(chosen)), n)):
            block[at][:, which] = by
        rows.append(block.reshape(-1, len(chosen)))
    if not rows:
        return np.zeros((0, len(dials)), dtype=np.int64), True
    by_choice = np.concatenate(rows)[:MOST_MOVES]
    # What follows from the chosen ones, over one denominator; only whole steps are on the ruler.
    scale = lcm(*(times.denominator for row in given for times in row), 1)
    follows = (
        by_choice @ np.array([[int(times * scale) for times in row] for row in given], dtype=np.int64).reshape(len(pivots), len(chosen)).T
    )
    good = (follows % scale == 0).all(axis=1) & (np.abs(follows) <= reach * scale).all(axis=1)
    moves = np.zeros((int(good.sum()), len(dials)), dtype=np.int64)
    moves[:, chosen], moves[:, pivots] = by_choice[good], follows[good] // scale
    return moves, most == 3 and _count(len(chosen), most, reach) <= MOST_MOVES


def _count(chosen: int, most: int, reach: int) -> int:
    return sum(len(list(combinations(range(chosen), n))) * (2 * reach) ** n for n in range(1, most + 1))


def _solved(dials: list[Dial], ties: list[Shift]) -> tuple[list[int], list[int], list[list[Fraction]]]:
    """Dials that follow from the others, by the ties (Gauss and Jordan's elimination, exactly).

    Returns:
        places of those that follow, places of those that may be chosen, and how each of the first moves with the second.
    """
    rows = [[tie.get(dial, Fraction(0)) for dial in dials] for tie in ties]
    pivots: list[int] = []
    done = 0
    # Borders and gaps are chosen last, so that they follow where they can: a move is then told by its pieces.
    order = sorted(range(len(dials)), key=lambda i: dials[i][0] in ("width", "height"))
    for column in order:
        at = next((i for i in range(done, len(rows)) if rows[i][column]), None)
        if at is None:
            continue
        rows[done], rows[at] = rows[at], rows[done]
        first = rows[done][column]
        rows[done] = [each / first for each in rows[done]]
        for i, row in enumerate(rows):
            if i != done and (times := row[column]):
                rows[i] = [each - times * own for each, own in zip(row, rows[done])]
        pivots.append(column)
        done += 1
    chosen = [i for i in range(len(dials)) if i not in pivots]
    return pivots, chosen, [[-rows[i][j] for j in chosen] for i in range(done)]
