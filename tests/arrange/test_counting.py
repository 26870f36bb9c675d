"""Counting against listing, against permutations tried one by one, and rank by rank."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.errors import UserError
from kitwright.otherwise.arrangements import counting as counting_module
from kitwright.otherwise.arrangements.counting import Counting, listing
from kitwright.otherwise.arrangements.slots import Fill

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
    return [row for row in itertools.product(*choices) if all(sum(f.paper == p for f in row) <= pool[("A", p)] for p in PAPERS)]


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
    weights = weights[: len(choices)]
    tried = [
        row
        for row in itertools.product(*choices)
        if all(sum(w for f, w in zip(row, weights) if f.paper == p) <= pool[("A", p)] for p in PAPERS)
    ]
    assert Counting(choices, pool, weights).total == len(tried)


@pytest.mark.parametrize("n", [8, 24])
def test_as_many_papers_as_places_are_counted_at_once(n):
    """n! orders: papers that every place takes alike are one to the count, which remembers one state a place."""
    counting = Counting([[fill(f"p{i}") for i in range(n)]] * n, {("A", f"p{i}"): 1 for i in range(n)})
    assert counting.total == math.factorial(n) and len(counting._known) == n
    for rank in (0, 1, math.factorial(n) // 3, math.factorial(n) - 1):
        # The order at a rank, by the factorial number system.
        papers, rest, order = [f"p{i}" for i in range(n)], rank, []
        for k in range(n - 1, -1, -1):
            i, rest = divmod(rest, math.factorial(k))
            order.append(papers.pop(i))
        assert [f.paper for f in counting.at(rank)] == order


def test_what_is_too_much_to_count_is_refused_with_the_limit(monkeypatch):
    """Papers that each place takes in its own way: every handful left is a state of its own."""
    monkeypatch.setattr(counting_module, "MOST_KNOWN", 50)
    choices = [[fill(f"p{i}") for i in range(8) if i != skip] for skip in range(8)]
    with pytest.raises(UserError, match="within 50 steps"):
        assert Counting(choices, {("A", f"p{i}"): 1 for i in range(8)}).total


def test_a_rank_past_the_end():
    with pytest.raises(IndexError):
        Counting([[fill("a")]], {("A", "a"): 1}).at(1)
