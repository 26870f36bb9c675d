"""A layout of a front, before it is shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from kitwright.proposing.choices import CardClass, Place
from kitwright.proposing.families import families
from kitwright.proposing.fronts import Grade
from kitwright.proposing.pool import Origin
from kitwright.proposing.records import Side
from kitwright.proposing.sheets import DealtSets


@dataclass(frozen=True, eq=False)
class Graded:
    """A layout of a front."""

    of: CardClass
    places: tuple[Place, ...]
    """One for each design."""
    grade: Grade
    pieces: np.ndarray
    """Its set."""
    item: DealtSets


def side_of(sources: Sequence[Origin], place: Place) -> Side:
    """The front of one design, as its family builds it."""
    source = sources[place[0]]
    return families()[source.family].side(source.field, source.batch, place[1])
