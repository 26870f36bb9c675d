"""The number of sheets against an independent model of the same problem.

OR-Tools CP-SAT (a reference library) on an integer programme of its own, which shares
nothing with the planner: plates of every whole size go in and out. A variable says how
often each size is cut at each step or used as a piece; no plate is used that was not made.
"""

from fractions import Fraction

from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.batch.plan import plan_batch
from kitwright.cutting.batch.table import sheets_table
from kitwright.cutting.plan import Demand
from kitwright.units import Length, Size
from ortools.sat.python import cp_model


def half_sheets(width, height, sizes, needs, lies):
    """The fewest half sheets, whole sheets and at most one half, halved either way; sides are whole steps."""
    model = cp_model.CpModel()
    plates = [(w, h) for w in range(1, width + 1) for h in range(1, height + 1)]
    balance = {plate: [] for plate in plates}
    many = sum(needs.values())
    whole = model.new_int_var(0, many, "whole")
    across, along = model.new_bool_var("across"), model.new_bool_var("along")
    model.add(across + along <= 1)
    balance[width, height].append(whole)
    balance[width // 2, height].append(across)
    balance[width, height // 2].append(along)
    used = {label: [] for label in needs}
    for w, h in plates:
        most = many * width * height
        for c in range(1, w // 2 + 1):
            times = model.new_int_var(0, most, "")
            balance[w, h].append(-times)
            balance[c, h].append(times)
            balance[w - c, h].append(times)
        for c in range(1, h // 2 + 1):
            times = model.new_int_var(0, most, "")
            balance[w, h].append(-times)
            balance[w, c].append(times)
            balance[w, h - c].append(times)
        for label, (a, b) in sizes.items():
            upright, turned = (a, b) == (w, h), (b, a) == (w, h)
            may = upright or turned if label not in lies or a == b else turned if lies[label] else upright
            if may:
                times = model.new_int_var(0, many, "")
                balance[w, h].append(-times)
                used[label].append(times)
    for terms in balance.values():
        model.add(sum(terms) >= 0)
    for label, n in needs.items():
        model.add(sum(used[label]) >= n)
    model.minimize(2 * whole + across + along)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@st.composite
def kits(draw):
    width, height = 2 * draw(st.integers(2, 4)), 2 * draw(st.integers(2, 5))
    sizes, needs, lies = {}, {}, {}
    for label in "ABC"[: draw(st.integers(1, 3))]:
        w, h = draw(st.integers(1, width)), draw(st.integers(1, height))
        sizes[label], needs[label] = (w, h), draw(st.integers(1, 7))
        way = draw(st.sampled_from([None, None, False, True]))
        if way is not None and (not way or h <= width and w <= height):
            lies[label] = way
    return width, height, sizes, needs, lies


def demand(width, height, sizes, needs, lies):
    step = Length(Fraction(3, 4))
    return Demand(
        "paper", Size(step * width, step * height), needs, {label: Size(step * w, step * h) for label, (w, h) in sizes.items()}, lies
    )


@tried(40)
@given(kits())
def test_small_kits_take_as_many_sheets(kit):
    plan = plan_batch(demand(*kit), "Card")
    fewest = Fraction(half_sheets(*kit), 2)
    sheets = plan.proof[0]
    assert sheets.bound[0] <= fewest <= plan.sheets
    assert sheets.proved
    assert plan.sheets == fewest


@tried(5)
@given(kits())
def test_the_table_of_batches_agrees(kit):
    width, height, sizes, needs, lies = kit

    def of(cards):
        return {label: min(n, 2) * cards for label, n in needs.items()}

    table = sheets_table(lambda cards: demand(width, height, sizes, of(cards), lies), 6)
    for row in table:
        assert row.proved
        assert row.sheets == Fraction(half_sheets(width, height, sizes, of(row.cards), lies), 2)
