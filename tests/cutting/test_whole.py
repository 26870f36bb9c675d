"""Programmes in whole numbers: what is found, what is proved, and that neither rests on floats.

Independent judges: every value tried (small ones), and OR-Tools CP-SAT, a reference library.
"""

from itertools import product
from random import Random

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.batch.cover import Cover, cover
from kitwright.cutting.solver.linear import Linear, Proposed
from kitwright.cutting.solver.whole import Programme
from kitwright.cutting.solver.work import Work
from ortools.sat.python import cp_model


@st.composite
def programmes(draw):
    """Each variable's most; rows of multipliers, least and most; two goals."""
    n = draw(st.integers(1, 4))
    numbers = st.lists(st.integers(-4, 5), min_size=n, max_size=n)
    sides = st.one_of(st.none(), st.integers(-9, 12))
    rows = draw(st.lists(st.tuples(numbers, sides, sides), max_size=4))
    return draw(st.lists(st.integers(0, 3), min_size=n, max_size=n)), rows, [draw(numbers), draw(numbers)]


def made(most, rows, steps=10**9):
    programme = Programme(Work(), steps)
    for m in most:
        programme.variable(m)
    for terms, low, high in rows:
        programme.must(dict(enumerate(terms)), least=low, most=high)
    return programme


def total(terms, values):
    return sum(a * x for a, x in zip(terms, values))


def all_of(most, rows):
    """Every value that the rows allow."""
    for values in product(*(range(m + 1) for m in most)):
        if all((low is None or total(t, values) >= low) and (high is None or total(t, values) <= high) for t, low, high in rows):
            yield values


@tried(80)
@given(programmes())
def test_the_least_of_all_values(programme):
    most, rows, (goal, _) = programme
    every = list(all_of(most, rows))
    answer = made(most, rows).least(dict(enumerate(goal)))
    assert answer.proved
    if every:
        assert answer.values in every
        assert total(goal, answer.values) == answer.bound == min(total(goal, values) for values in every)
    else:
        assert answer.values is None


@tried(50)
@given(programmes())
def test_goals_in_turn_and_always_the_same_of_equals(programme):
    most, rows, goals = programme
    every = list(all_of(most, rows))
    answer = made(most, rows).in_turn([dict(enumerate(goal)) for goal in goals])
    rank = {values: (*(total(goal, values) for goal in goals), *reversed(values)) for values in every}
    assert answer.values == min(every, key=rank.get, default=None)


@tried(50)
@given(programmes(), st.integers(0, 10**6), st.sampled_from([200, 3_000, 10**9]))
def test_bad_floats_and_a_small_purse_never_make_a_claim_false(programme, seed, steps):
    """HiGHS's answers are replaced by nonsense: what is claimed stays true, and with work enough is the whole truth."""
    most, rows, (goal, _) = programme
    random = Random(seed)

    def nonsense(self):
        point = [random.choice([-1.0, 0.3, 0.5, 2.0, 7.25]) for _ in most] if random.random() < 0.7 else None
        return Proposed(point, [random.choice([0.0, 1.0, -1.0, random.gauss(0, 3)]) for _ in rows], 1)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Linear, "proposed", nonsense)
        answer = made(most, rows, steps).least(dict(enumerate(goal)))
    every = list(all_of(most, rows))
    assert answer.values is None or answer.values in every
    assert all(total(goal, values) >= answer.bound for values in every)
    assert not answer.proved or bool(every) == (answer.values is not None)
    assert answer.proved or steps < 10**9


@tried(40)
@given(programmes())
def test_narrowing_keeps_every_value_that_may_be(programme):
    most, rows, (goal, _) = programme
    every = list(all_of(most, rows))
    limit = sorted(total(goal, values) for values in every)[len(every) // 2] if every else 0
    narrowed = made(most, rows)
    kept = [values for values in every if total(goal, values) <= limit]
    assert narrowed.tighten(dict(enumerate(goal)), limit) or not kept
    assert all(low <= x <= high for values in kept for x, (low, high) in zip(values, narrowed.bounds))


def fewest_patterns(whole, half, needs, units):
    """Fewest patterns, then fewest labels in them, by CP-SAT; None when they can't do it."""
    model = cp_model.CpModel()
    sheets, odd = divmod(units, 2)
    times = [model.new_int_var(0, sheets, "") for _ in whole]
    used = [model.new_bool_var("") for _ in whole]
    halved = [model.new_bool_var("") for _ in half]
    for t, u in zip(times, used):
        model.add(t <= sheets * u)
    model.add(sum(times) <= sheets)
    model.add(sum(halved) <= odd)
    for k, n in enumerate(needs):
        model.add(sum(t * p[k] for t, p in zip(times, whole)) + sum(h * p[k] for h, p in zip(halved, half)) >= n)
    model.minimize(sum(u * (100 + sum(map(bool, p))) for u, p in zip(used, whole)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    state = solver.solve(model)
    assert state in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return divmod(round(solver.objective_value), 100) if state == cp_model.OPTIMAL else None


@st.composite
def batches(draw):
    labels = draw(st.integers(1, 3))
    pattern = st.tuples(*[st.integers(0, 6)] * labels)
    whole = draw(st.lists(pattern, min_size=1, max_size=8, unique=True))
    return (
        whole,
        draw(st.lists(pattern, max_size=4, unique=True)),
        draw(st.tuples(*[st.integers(0, 25)] * labels)),
        draw(st.integers(1, 17)),
    )


@tried(50)
@given(batches())
def test_covers_against_another_solver(batch):
    whole, half, needs, units = batch
    judged = fewest_patterns(whole, half, needs, units)
    found, any_ = (cover(whole, half, needs, units, fewest, work=Work()) for fewest in (True, False))
    if judged is None:
        assert found is False and any_ is False
        return
    for one in (found, any_):
        assert isinstance(one, Cover)
        assert 2 * sum(n for _, n in one.whole) + (one.half is not None) <= units
        assert all(sum(n * p[k] for p, n in one.whole) + (one.half or needs)[k] * (one.half is not None) >= n for k, n in enumerate(needs))
    assert (found.least, sum(sum(map(bool, p)) for p, _ in found.whole)) == judged == (len(found.whole), judged[1])


def test_an_answer_does_not_depend_on_the_order_of_the_patterns():
    whole, half, needs = [(2, 3, 0), (0, 4, 1), (1, 1, 6), (3, 0, 2), (0, 0, 9), (2, 2, 2)], [(1, 1, 0), (0, 1, 2), (1, 0, 1)], (17, 19, 23)
    answers = {repr(cover(Random(i).sample(whole, 6), Random(i).sample(half, 3), needs, 23, work=Work())) for i in range(12)}
    assert len(answers) == 1


def test_nothing_is_printed(capfd):
    """HiGHS greets on standard output unless it is kept from it."""
    assert made([3, 3], [([1, 2], 4, None)]).least({0: 1, 1: 1}).values
    assert made([3, 3], [([1, 2], 40, None)]).least({0: 1, 1: 1}).proved
    assert capfd.readouterr() == ("", "")


def test_work_is_counted_and_ends_a_search():
    """Wide and without an answer: 2x + 2y + … is never odd, and no bound shows it."""
    work = Work()
    programme = Programme(work, 50_000)
    for _ in range(30):
        programme.variable(1000)
    programme.must(dict.fromkeys(range(30), 2), least=10_001, most=10_001)
    answer = programme.least({0: 1})
    assert answer.values is None and not answer.proved
    assert 50_000 <= work.spent < 60_000
