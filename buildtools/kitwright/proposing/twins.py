"""Near twins: the same picture with a size or two a step or so away, told with the best of them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from kitwright.proposing.graded import Graded
from kitwright.proposing.pool import Origin
from kitwright.proposing.shares import Desk
from kitwright.proposing.wish import Unit
from kitwright.units import Length

NEAR: dict[Unit, Length] = {"in": Length(Fraction(1, 4)), "mm": Length.mm(6)}
"""Sizes no farther apart than makeable sizes keep (`makeable.LEAST`) look alike on a card."""


def merged(desk: Desk, sources: Sequence[Origin], found: Sequence[Graded]) -> list[list[Graded]]:
    """Layouts with their twins, each list the best first; lists in the order of their best.

    A set of pieces that came out of two ways to deal the batch is one layout.
    """
    near = desk.lattice.down(NEAR[desk.wish.unit])
    leaders: dict[object, list[tuple[np.ndarray, list[Graded]]]] = {}

    def rank(one: Graded) -> tuple[object, ...]:
        # Of those that do as well, the one whose narrowest piece is widest.
        narrow = min(int(sources[source].batch.sizes[index].min()) for source, index in one.places)
        return (one.grade.order, -narrow, one.of.card, one.of.families, one.places)

    order = sorted(found, key=rank)
    clusters: list[list[Graded]] = []
    for one in order:
        sides = [(sources[source], index) for source, index in one.places]
        alike = (one.of, tuple((s.family, id(s.field), repr(s.batch.shape), s.batch.each, s.batch.halved) for s, _ in sides))
        sizes = np.concatenate([s.batch.sizes[i].ravel() for s, i in sides])
        for other, cluster in leaders.setdefault(alike, []):
            if np.abs(other - sizes).max() <= near:
                if not (other == sizes).all():
                    cluster.append(one)
                break
        else:
            clusters.append([one])
            leaders[alike].append((sizes, clusters[-1]))
    return clusters
