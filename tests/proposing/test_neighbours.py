"""Pieces of two or three papers: neighbours of two of them, and the doors of a gate alike."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest
from imagined import any_layout, fields, wish_of
from kitwright.geometry import Rect
from kitwright.proposing.families import families
from kitwright.proposing.neighbours import neighbours
from kitwright.proposing.records import Side
from kitwright.units import Length

SIDES = 3
"""Layouts of a family that are looked at."""


def some(name: str) -> list[Side]:
    family, random, found = families()[name], Random(7), []
    fold = "gate" if name == "gate doors" else "side"
    for edge in ("1/8", "3/16") * SIDES:
        layout = any_layout(random, family, fields(wish_of("in", fold, "5 x 5-1/2", edge=edge, mat=False, band=False)))
        if layout and len(found) < SIDES:
            found.append(layout[0])
    return found


def _grown(rect: Rect, more: Length) -> Rect:
    return Rect(rect.x - more, rect.y - more, rect.width + more * 2, rect.height + more * 2)


def alike(side: Side, papers: tuple[int, ...]) -> int:
    """Pairs of pieces of one paper that have a gap between them along an edge, or lie one over the other; doors apart."""
    fold = side.card.closed.width / 2 if side.card.fold == "gate" else None
    found, grown = 0, [_grown(spot.rect, side.gap / 2) for spot in side.spots]
    for i, one in enumerate(grown):
        for j, other in enumerate(grown[:i]):
            across = min(one.right, other.right) - max(one.x, other.x)
            down = min(one.bottom, other.bottom) - max(one.y, other.y)
            beside = min(across, down).inches >= 0 and max(across, down) > side.gap
            if beside and papers[i] == papers[j] and (fold is None or (one.x < fold) == (other.x < fold)):
                found += 1
    return found


@pytest.mark.parametrize("name", families())
def test_no_way_to_deal_two_or_three_papers_has_fewer_neighbours_alike(name):
    for side in some(name):
        for papers in (2, 3):
            groups = neighbours(side).groups(papers)
            assert groups[0] == 0 and set(groups) <= set(range(papers))
            if papers ** len(side.spots) <= 3**5 and not any(spot.point for spot in side.spots):
                every = product(range(papers), repeat=len(side.spots))
                assert alike(side, groups) == min(alike(side, ways) for ways in every)


def test_doors_of_a_gate_are_mirror_images_in_their_papers_too():
    for side in some("gate doors"):
        where = {(spot.rect.x, spot.rect.y): group for spot, group in zip(side.spots, neighbours(side).groups(2))}
        for spot in side.spots:
            assert where[spot.rect.x, spot.rect.y] == where[side.card.closed.width - spot.rect.right, spot.rect.y]
