"""Which pieces of a front lie beside one another, and pieces parted into groups of one paper each so that neighbours are of two.

What is on the right door of a gate is of the paper that its mirror image on the left one is of.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from kitwright.geometry import Rect
from kitwright.proposing.records import Side, Spot
from kitwright.units import SIXTEENTH, Length

FEW = 512
"""Ways to part the pieces of a front that are all looked at."""


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The pieces of a front as they lie."""

    beside: tuple[frozenset[int], ...]
    """Of each spot, the spots that touch it but for a gap, or that lie over or under it; none of the other door."""
    mirror: tuple[int, ...]
    """Of each spot, the first one that is of its paper: itself, or its mirror image on the left door."""

    def groups(self, papers: int) -> tuple[int, ...]:
        """Of each spot its group: where there are few ways, the one with fewest clashes, its groups as even as can be; else piece by piece."""
        spots = sorted(set(self.mirror))
        if papers ** (len(spots) - 1) > FEW:
            return self._one_by_one(spots, papers)

        def told(ways: tuple[int, ...]) -> tuple[int, ...]:
            of = dict(zip(spots, (0, *ways)))
            return tuple(of[own] for own in self.mirror)

        every = map(told, product(range(papers), repeat=len(spots) - 1))
        return min(every, key=lambda ways: (self.clashes(ways), max(map(ways.count, range(papers))), ways))

    def _one_by_one(self, spots: list[int], papers: int) -> tuple[int, ...]:
        """That which has the least choice left comes first, and takes what fewest beside it are of, then the rarest."""
        found = {spots[0]: 0}
        while len(found) < len(spots):
            near = {spot: [found[other] for other in self.beside[spot] if other in found] for spot in spots if spot not in found}
            spot = max(near, key=lambda one: (len(set(near[one])), len(self.beside[one]), -one))
            used = list(found.values())
            found[spot] = min(range(papers), key=lambda group: (near[spot].count(group), used.count(group), group))
        return tuple(found[own] for own in self.mirror)

    def clashes(self, groups: Sequence[int]) -> int:
        """How often neighbours are of one group, or a piece on a door is not of its mirror image's."""
        alike = sum(groups[one] == groups[other] for one, some in enumerate(self.beside) for other in some if other > one)
        return alike + sum(groups[one] != groups[other] for one, other in enumerate(self.mirror))


def neighbours(side: Side) -> Neighbours:
    """What lies beside what on one front."""
    spots, fold = side.spots, side.card.closed.width if side.card.fold == "gate" else None
    reach = side.gap + Length(SIXTEENTH)
    beside = tuple(
        frozenset(j for j, other in enumerate(spots) if i != j and _touch(one, other, reach) and _on_one(one, other, fold))
        for i, one in enumerate(spots)
    )
    return Neighbours(beside, tuple(_mirror(i, spots, fold) for i in range(len(spots))))


def _touch(one: Spot, other: Spot, reach: Length) -> bool:
    """Whether two pieces lie within reach, not corner to corner."""
    across, down = _between(one.rect, other.rect)
    return max(across, down) <= reach and min(across, down).inches < 0


def _between(one: Rect, other: Rect) -> tuple[Length, Length]:
    """How far apart across and down; below zero where they are side by side that way."""
    return max(one.x, other.x) - min(one.right, other.right), max(one.y, other.y) - min(one.bottom, other.bottom)


def _on_one(one: Spot, other: Spot, fold: Length | None) -> bool:
    """Whether both are on one door."""
    return fold is None or (one.rect.right * 2 <= fold) == (other.rect.right * 2 <= fold)


def _mirror(i: int, spots: Sequence[Spot], fold: Length | None) -> int:
    if fold is None:
        return i
    rect = spots[i].rect
    image = Rect(fold - rect.right, rect.y, rect.width, rect.height)
    return min([i, *(j for j, other in enumerate(spots) if other.rect == image and other.label == spots[i].label)])
