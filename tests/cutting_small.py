"""Small kits on a coarse lattice, and every way to cut them: every cut at every step, nothing clever."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import product

from hypothesis import strategies as st
from kitwright.cutting.plan import Demand
from kitwright.units import Length, Size


def every_tree(width, height, kinds, counts):
    """Fewest leftovers and the largest one over all trees that cut just these pieces; None when there is none."""

    @cache
    def best(w, h, left):
        if not any(left):
            return 1, w * h
        found = []
        if sum(left) == 1:
            a, b, may_turn = kinds[left.index(1)]
            if (w, h) == (a, b) or may_turn and (w, h) == (b, a):
                found.append((0, 0))
        for one in product(*(range(n + 1) for n in left)):
            other = tuple(n - m for n, m in zip(left, one))
            pairs = [(best(c, h, one), best(w - c, h, other)) for c in range(1, w)]
            pairs += [(best(w, c, one), best(w, h - c, other)) for c in range(1, h)]
            found += [(a[0] + b[0], max(a[1], b[1])) for a, b in pairs if a and b]
        return (min(f[0] for f in found), max(f[1] for f in found)) if found else None

    return best(width, height, counts)


@st.composite
def small_kits(draw):
    sheet = 2 * draw(st.integers(2, 4)), 2 * draw(st.integers(2, 4))
    kinds, counts = [], []
    for _ in range(draw(st.integers(1, 2))):
        w, h = draw(st.integers(1, sheet[0])), draw(st.integers(1, sheet[1]))
        kinds.append((w, h, w != h and draw(st.booleans())))
        counts.append(draw(st.integers(1, 3)))
    return *sheet, kinds, tuple(counts)


def on_paper(width, height, kinds, counts):
    step = Length(Fraction(5, 127))
    labels = "AB"[: len(kinds)]
    sizes = {label: Size(step * w, step * h) for label, (w, h, _) in zip(labels, kinds)}
    lies = {label: False for label, (_, _, may_turn) in zip(labels, kinds) if not may_turn}
    return Demand("p", Size(step * width, step * height), dict(zip(labels, counts)), sizes, lies)
