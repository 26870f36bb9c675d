"""A separate small model of folding paper, for the tests: reflections, and every order of layers there is.

It knows nothing of how kitwright folds. A strip is walked panel by panel, each the mirror image of the one
before; then every order of the panels is tried, and those stay that paper allows: a panel lies on the side of
its neighbour that their crease says, no panel passes through a crease, and no two creases through one another.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, permutations

Crease = tuple[Fraction, bool]
"""Where on the flat strip, and whether it folds towards whoever looks at it."""


def walked(length: Fraction, creases: list[Crease]) -> list[tuple[Fraction, Fraction]]:
    """Where each panel begins and ends, walked along: to the right, then back, and so on."""
    marks = [Fraction(0), *(at for at, _ in creases), length]
    here, step, ends = Fraction(0), 1, []
    for a, b in zip(marks, marks[1:]):
        there = here + step * (b - a)
        ends.append((here, there))
        here, step = there, -step
    return ends


def orders(length: Fraction, creases: list[Crease]) -> set[frozenset[tuple[int, int]]]:
    """Every order of layers that paper allows, as pairs of panels that overlap: the first nearer to whoever looks."""
    ends = walked(length, creases)
    spans = [(min(e), max(e)) for e in ends]
    overlapping = [(p, q) for p, q in combinations(range(len(spans)), 2) if max(spans[p][0], spans[q][0]) < min(spans[p][1], spans[q][1])]
    found = set()
    for order in permutations(range(len(spans))):
        height = {panel: at for at, panel in enumerate(order)}
        if _allowed(ends, spans, creases, height):
            found.add(frozenset((p, q) if height[p] > height[q] else (q, p) for p, q in overlapping))
    return found


def _allowed(ends, spans, creases, height) -> bool:
    for i, (_, towards) in enumerate(creases):
        # Every second panel lies on its face: what folds towards the maker there folds away from whoever looks.
        if (height[i + 1] > height[i]) != (towards if i % 2 == 0 else not towards):
            return False
        c, pair = ends[i][1], sorted((height[i], height[i + 1]))
        for p, (start, end) in enumerate(spans):
            if start < c < end and pair[0] < height[p] < pair[1]:
                return False
        for j in range(i + 2, len(creases)):
            # Two creases at one place, open to the same side: one lies in the other, or beside it.
            if ends[j][1] == c and (ends[j][0] < c) == (ends[i][0] < c):
                other = sorted((height[j], height[j + 1]))
                if pair[0] < other[0] < pair[1] < other[1] or other[0] < pair[0] < other[1] < pair[1]:
                    return False
    return True
