"""Exact tables against every cut at every step, against an independent solver, and against the planner's own search of a sheet."""

from __future__ import annotations

from functools import cache
from itertools import product

import numpy as np
import pytest
from examples import tried
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.proposing.lattice import Lattice
from kitwright.proposing.tables import MEMORY, ExactTables, at_once, held
from kitwright.proposing.traced import Cuttable, Tracer, to_tree
from kitwright.units import SIXTEENTH, Length, parse_length
from onesheet import PieceKind, solve
from ortools.sat.python import cp_model
from tables_and_planner import Asked

LATTICE = Lattice(Length(SIXTEENTH))


def kinds(side: int, most: int, pieces: int):
    """Sizes with how many there are of each."""
    one = st.tuples(st.integers(1, side), st.integers(1, side), st.integers(1, pieces))
    return st.lists(one, min_size=1, max_size=most)


def all_that_comes_out(width: int, height: int, sizes, most, turns: bool):
    """For every size up to a sheet the vectors that it gives, by every cut at every step and nothing clever."""

    @cache
    def sets(w, h):
        found = {(0,) * len(sizes)}
        for i, (a, b) in enumerate(sizes):
            if any(x <= w and y <= h for x, y in {(a, b), (b, a) if turns else (a, b)}):
                found.add(tuple(int(i == j) for j in range(len(sizes))))
        pairs = [(sets(c, h), sets(w - c, h)) for c in range(1, w // 2 + 1)]
        pairs += [(sets(w, c), sets(w, h - c)) for c in range(1, h // 2 + 1)]
        for ones, others in pairs:
            for one, other in product(ones, others):
                both = tuple(a + b for a, b in zip(one, other))
                if all(n <= m for n, m in zip(both, most)):
                    found.add(both)
        return found

    return sets


@tried(25)
@given(st.integers(1, 9), st.integers(1, 9), kinds(6, 3, 3), st.booleans())
def test_against_every_cut_at_every_step(width, height, asked, turns):
    sizes, most = [one[:2] for one in asked], tuple(one[2] for one in asked)
    tables = ExactTables(width, height, np.array([sizes]), most, turns)
    sets = all_that_comes_out(width, height, sizes, most, turns)
    for vector in product(*(range(n + 1) for n in most)):
        for x in range(1, width + 1):
            least = next((y for y in range(1, height + 1) if vector in sets(x, y)), None) if any(vector) else 0
            assert int(tables.f[vector][0, x]) == (tables.none if least is None else least)
        for y in range(1, height + 1):
            least = next((x for x in range(1, width + 1) if vector in sets(x, y)), None) if any(vector) else 0
            assert int(tables.g[vector][0, y]) == (tables.none if least is None else least)


def comes_out_by_cp_sat(width: int, height: int, sizes, most, turns: bool) -> bool:
    """Plates in, plates out: how often each size is cut at each step, or is a piece; solved by OR-Tools CP-SAT."""
    model = cp_model.CpModel()
    plates = {(w, h): [] for w in range(1, width + 1) for h in range(1, height + 1)}
    pieces: list[list] = [[] for _ in sizes]
    for (w, h), terms in plates.items():
        times = (width // w) * (height // h)
        for one, other in [((c, h), (w - c, h)) for c in range(1, w // 2 + 1)] + [((w, c), (w, h - c)) for c in range(1, h // 2 + 1)]:
            cut = model.new_int_var(0, times, "")
            terms.append(-cut)
            plates[one].append(cut)
            plates[other].append(cut)
        for i, size in enumerate(sizes):
            if (w, h) == size or turns and (h, w) == size:
                piece = model.new_int_var(0, times, "")
                terms.append(-piece)
                pieces[i].append(piece)
    for size, terms in plates.items():
        model.add(sum(terms) + (size == (width, height)) >= 0)
    for terms, n in zip(pieces, most):
        model.add(sum(terms) >= n)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    state = solver.solve(model)
    assert state in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)
    return state != cp_model.INFEASIBLE


@tried(10)
@given(st.integers(3, 8), st.integers(0, 1), kinds(4, 3, 3), st.booleans())
def test_against_an_independent_solver(width, more, asked, turns):
    """On sheets that the pieces all but fill, since everything comes out of a large one."""
    sizes, most = [one[:2] for one in asked], tuple(one[2] for one in asked)
    height = -(-sum(w * h * n for w, h, n in asked) // width) + more
    assume(height <= 9)
    found = ExactTables(width, height, np.array([sizes]), most, turns).fits(width, height)
    assert bool(found[0]) == comes_out_by_cp_sat(width, height, sizes, most, turns)


@tried(12)
@given(st.integers(0, 2**32), st.booleans())
def test_against_the_planners_search_of_a_sheet(seed, turns):
    """Candidates as a maker's ruler has them: a 6 × 6 in eighths, pieces of three sizes for three cards; the cuts are sound as well."""
    rng = np.random.default_rng(seed)
    most = tuple(int(n) for n in rng.integers(1, 4, rng.integers(2, 4)))
    sizes = rng.integers(5, 26, (60, len(most), 2))
    area = (sizes[:, :, 0] * sizes[:, :, 1] * np.array(most)).sum(axis=1)
    sizes = sizes[(area > 47 * 47 * 3 // 4) & (area <= 47 * 47)][:4]
    assume(len(sizes))
    tables = ExactTables(47, 47, sizes, most, turns)
    for c, fits in enumerate(tables.fits(47, 47).tolist()):
        kinds = [PieceKind(int(w), int(h), int(w * h), n, turns) for (w, h), n in zip(sizes[c], most)]
        total = sum(kind.value * kind.limit for kind in kinds)
        best = solve(47, 47, kinds, above=total - 1)
        assert fits == (best.value == total) or not fits and not best.proved
        if fits:
            hold = int(rng.integers(0, 9))
            trace = Tracer(tables, c, hold).trace(most, 47, 47, (True, True), (48, 48))
            labels = [Cuttable("ABC"[i]) for i in range(len(most))]
            node = to_tree(trace.taken, LATTICE.size(48, 48), LATTICE, tuple(labels))
            wanted = {"ABC"[i]: LATTICE.size(int(w), int(h)) for i, (w, h) in enumerate(sizes[c])}
            assert tree.faults(node, LATTICE.size(48, 48), wanted, frozenset() if turns else frozenset(wanted)) == []
            assert tree.yields(node) == {"ABC"[i]: n for i, n in enumerate(most)}
            assert {cut.measure for cut in tree.cuts(node)} == {LATTICE.length(mark) for mark in trace.marks}
            assert len(tree.cuts(node)) == trace.strokes and trace.holds == tree.holds(node, LATTICE.length(hold))
            slack = tree.slack(node)
            assert min(slack.width, slack.height) >= LATTICE.length(1)


FROM_QUESTIONS = [
    ("1/4", 23, 31, ((18, 7), (18, 6)), (2, 2), True, True),
    ("1/4", 23, 31, ((15, 4), (9, 2), (12, 4)), (6, 6, 3), True, True),
    ("1/4", 33, 43, ((4, 4), (19, 8)), (8, 5), True, True),
    ("1/4", 33, 43, ((11, 4), (11, 11), (4, 4)), (8, 4, 4), True, True),
    ("5 mm", 39, 39, ((25, 3), (25, 8)), (6, 4), True, True),
    ("5 mm", 39, 39, ((25, 6), (25, 11), (25, 3)), (4, 2, 2), True, True),
    ("5 mm", 39, 39, ((6, 22), (18, 5), (4, 22)), (6, 3, 3), False, False),
    ("1/4", 47, 47, ((26, 12), (26, 5)), (4, 4), True, False),
    ("1/4", 33, 43, ((9, 26), (18, 7)), (4, 2), False, False),
    ("1/8", 47, 47, ((4, 30), (7, 30)), (9, 3), False, False),
    ("1/4", 23, 31, ((4, 9), (4, 8)), (9, 9), False, False),
    ("1/4", 31, 31, ((12, 8), (6, 18)), (4, 4), False, False),
]
"""Sets that random questions choose among, as `tables_and_planner.py` draws them: the ruler's step, the sheet, sizes, how many of each,
whether they may turn, whether they come out."""


@pytest.mark.parametrize(("step", "across", "down", "sizes", "counts", "turns", "fits"), FROM_QUESTIONS)
def test_against_the_planner(step, across, down, sizes, counts, turns, fits):
    """The planner needs one sheet for what the tables say one gives, and proves that it needs more for what they say it doesn't."""
    asked = Asked(Lattice(parse_length(step)), across, down, sizes, counts, turns)
    assert asked.by_tables() == asked.by_planner(5_000_000) == fits


def test_many_at_once_are_what_each_is_alone():
    rng = np.random.default_rng(3)
    sizes = rng.integers(3, 15, (40, 2, 2))
    together = ExactTables(30, 24, sizes, (3, 4), True)
    for c in range(0, 40, 9):
        alone = ExactTables(30, 24, sizes[c : c + 1], (3, 4), True)
        assert (together.f[..., c, :] == alone.f[..., 0, :]).all()
        assert (together.g[..., c, :] == alone.g[..., 0, :]).all()


def test_wide_sheets_have_wider_numbers():
    """A3 in half millimetres: sums of two entries are no longer held by a byte, or by the next."""
    for side in (126, 127, 300, 33_000):
        tables = ExactTables(side, 5, np.array([[(side, 5)]]), (1,), False)
        assert tables.f.dtype.itemsize == {126: 1, 127: 2, 300: 2, 33_000: 4}[side]
        assert tables.fits(side, 5).tolist() == [True]
        assert tables.fits(side - 1, 5).tolist() == [False]


def test_what_is_reckoned_at_once_stays_small():
    for side, most in ((96, (1, 1)), (64, (4, 8, 8)), (840, (10, 10)), (300, (9, 18, 18))):
        tables = ExactTables(side, side, np.ones((1, len(most), 2), int), most, True) if sum(most) < 10 else None
        assert tables is None or tables.f.nbytes + tables.g.nbytes == held(side, side, most)
        assert held(side, side, most) * at_once(side, side, most) <= MEMORY
