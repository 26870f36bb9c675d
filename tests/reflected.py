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


def lies(length: Fraction, creases: list[Crease], panel: int, x: Fraction, up: bool) -> Fraction:
    """Where a point of a face comes to lie, from the left end of the folded strip, for whoever looks at it as it lay.

    `x` is measured from the left of the face as it is read; `up`: the face that lay up, else the one that lay down,
    which is read from below, so that its left is the panel's right.
    """
    ends, marks = walked(length, creases), [Fraction(0), *(at for at, _ in creases), length]
    start, wide = min(min(e) for e in ends), marks[panel + 1] - marks[panel]
    here, there = ends[panel]
    along = x if up else wide - x
    return here + (along if there > here else -along) - start


def nearest(length: Fraction, creases: list[Crease], above: frozenset[tuple[int, int]], at: Fraction, over: bool) -> tuple[int, bool]:
    """What is met first at a place of the folded strip, from above or from below: which panel, and whether by the face that lay up."""
    here = covering(length, creases, at)
    first = next(p for p in here if all((q, p) not in above if over else (p, q) not in above for q in here))
    # Every second panel lies on its face.
    return first, (first % 2 == 0) == over


def covering(length: Fraction, creases: list[Crease], at: Fraction) -> list[int]:
    """The panels that lie at a place of the folded strip."""
    ends = walked(length, creases)
    start = min(min(e) for e in ends)
    return [p for p, e in enumerate(ends) if min(e) - start < at < max(e) - start]
