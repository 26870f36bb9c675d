"""Counting against listing, against permutations tried one by one, and rank by rank."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitwright.card.arrangements.counting import Counting, listing
from kitwright.card.arrangements.slots import Fill

PAPERS = "abcd"
FACES = ("front", "back")


def fill(paper: str, face: str = "front") -> Fill:
    return Fill("A", paper, face, False, False)


@st.composite
def problems(draw):
    """Places with their choices, and a pool that may be too small."""
    every = [fill(p, f) for p in PAPERS for f in FACES]
    choices = draw(st.lists(st.lists(st.sampled_from(every), unique=True, min_size=1, max_size=6), min_size=1, max_size=5))
    return choices, {("A", p): draw(st.integers(0, 3)) for p in PAPERS}


def by_trying(choices, pool):
    """Every combination, kept when the pool has enough."""
    return [row for row in itertools.product(*choices)
            if all(sum(f.paper == p for f in row) <= pool[("A", p)] for p in PAPERS)]


@given(problems())
def test_counted_as_listed_as_tried(problem):
    choices, pool = problem
    counting, tried = Counting(choices, pool), by_trying(choices, pool)
    assert list(listing(choices, pool)) == tried
    assert counting.total == len(tried)
    assert [counting.at(i) for i in range(counting.total)] == tried


@given(problems(), st.integers(0, 5))
def test_how_many_begin_alike(problem, n):
    choices, pool = problem
    counting, tried = Counting(choices, pool), by_trying(choices, pool)
    for start in {row[:n] for row in tried}:
        assert counting.beginning(start) == sum(row[:n] == start for row in tried)
    assert counting.beginning((fill("z"),)) == 0


@given(problems(), st.lists(st.integers(1, 3), min_size=5, max_size=5))
def test_places_filled_together_use_up_as_many(problem, weights):
    choices, pool = problem
    weights = weights[:len(choices)]
    tried = [row for row in itertools.product(*choices)
             if all(sum(w for f, w in zip(row, weights) if f.paper == p) <= pool[("A", p)] for p in PAPERS)]
    assert Counting(choices, pool, weights).total == len(tried)


def test_a_rank_past_the_end():
    with pytest.raises(IndexError):
        Counting([[fill("a")]], {("A", "a"): 1}).at(1)
