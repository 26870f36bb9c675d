"""The same answer at any speed: searches end by counted work, never by a clock."""

import ast
import time
from fractions import Fraction
from pathlib import Path

import kitwright
import pytest
import throttled
from cutting_demands import LETTER, check, demands
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.batch.plan import plan_batch
from kitwright.cutting.batch.table import sheets_table
from kitwright.cutting.plan import Demand
from kitwright.cutting.solver.work import OutOfWork, Work
from kitwright.units import parse_size

PACKAGE = Path(kitwright.__file__).parent
SEARCHING = sorted(
    path for folder in ("cutting", "card", "cutfiles", "check", "work", "otherwise") for path in (PACKAGE / folder).rglob("*.py")
)
SEARCHING += [PACKAGE / f"{name}.py" for name in ("units", "geometry")]
CHANGING = {"time", "datetime", "random", "secrets", "threading", "multiprocessing", "concurrent", "asyncio", "signal", "resource", "uuid"}
"""Modules by which an answer could depend on the hour, the load or the run."""


@pytest.mark.parametrize("path", SEARCHING, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_answer_asks_a_clock_or_a_die(path):
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Import, ast.ImportFrom)):
            names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else [node.module or ""]
            assert not {name.partition(".")[0] for name in names} & CHANGING, f"{path.name}:{node.lineno}"
        word = {ast.Name: "id", ast.Attribute: "attr", ast.keyword: "arg", ast.arg: "arg"}.get(type(node))
        said = (getattr(node, word) or "").casefold() if word else ""
        assert not any(
            bad in said for bad in ("seconds", "wall_time", "time_limit", "timelimit", "monotonic", "perf_counter", "cpu_count")
        ), f"{path.name}: {said}"
    # The library that solves linear programmes is asked in one place, which tells it to count its steps.
    assert ("highspy" in text) == (path.name == "linear.py") == ("simplex_iteration_limit" in text)


def test_a_purse_is_empty_when_it_is_spent():
    purse = Work(10)
    purse.spend(9)
    assert not purse.over
    with pytest.raises(OutOfWork):
        purse.spend(1)
    assert purse.over and purse.spent == 10
    Work().spend(10**18)


@tried(4)
@given(demands(labels=2, cards=12), st.sampled_from([0, 300, 5_000, 60_000]))
def test_stopped_anywhere_a_plan_is_sound_its_bound_true_and_the_same_again(demand, steps):
    stopped = plan_batch(demand, "Card", steps=steps)
    check(stopped, demand)
    assert stopped == plan_batch(demand, "Card", steps=steps)
    whole = plan_batch(demand, "Card")
    assert stopped.proof[0].bound[0] <= whole.sheets <= stopped.sheets


@tried(4)
@given(demands(labels=3, cards=3), st.sampled_from([0, 5_000]))
def test_a_table_that_is_stopped_still_rises_and_is_true(demand, steps):
    def of(cards):
        return Demand("paper", demand.sheet, {label: n * cards for label, n in demand.needs.items()}, demand.sizes, demand.lies)

    stopped, whole = sheets_table(of, 8, steps=steps), sheets_table(of, 8)
    for rows in (stopped, whole):
        assert all(a.sheets <= b.sheets for a, b in zip(rows, rows[1:]))
    for one, other in zip(stopped, whole):
        assert one.sheets >= other.sheets
        assert not one.proved or one.sheets == other.sheets


SIZES = {"A": "5-3/4 x 1-1/8", "B": "3-7/16 x 2-1/8", "C": "2-3/4 x 3/4"}
HARD = Demand("p", LETTER, {"A": 31, "B": 53, "C": 17}, {label: parse_size(size) for label, size in SIZES.items()}, {})


def test_a_clock_that_races_changes_nothing(monkeypatch):
    plan = plan_batch(HARD, "Card")
    start = {name: getattr(time, name)() for name in ("monotonic", "perf_counter", "time", "process_time")}
    for name, real in [(name, getattr(time, name)) for name in start]:
        monkeypatch.setattr(time, name, lambda name=name, real=real: start[name] + 100_000 * (real() - start[name]))
    assert plan_batch(HARD, "Card") == plan


def test_a_tenth_of_a_processor_and_another_order_of_sets_change_nothing(capsys):
    """Honestly slowed: the child is stopped nine tenths of the time. A year's kits: the script itself."""
    assert throttled.main(["2026-01-low-tide", "--cards", "36", "--table", "3"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) >= 4 and all(line.endswith(" same") for line in lines)


def test_a_large_batch_ends_by_itself_well_within_its_work():
    """Three strips for 500 cards, from 30 × 30 cm: by the clock it took more sheets on a busy machine."""
    sizes = {"A": "3-1/8 x 1", "B": "3-1/8 x 5-7/8", "C": "2-1/4 x 7/8"}
    demand = Demand("p", parse_size("30 x 30 cm"), {"A": 167, "B": 84, "C": 250}, {k: parse_size(v) for k, v in sizes.items()}, {})
    whole = plan_batch(demand, "Card")
    assert whole.proof[0].proved and whole == plan_batch(demand, "Card", steps=4_000_000)
    assert whole.sheets == Fraction(whole.proof[0].bound[0])
