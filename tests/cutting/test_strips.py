"""`auto`: random demands, looked over by the checker and by counting."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.cutting.batch.plan import plan_batch
from kitwright.cutting.plan import Demand, turned_wrongly
from kitwright.cutting.strips import plan_paper
from kitwright.errors import UserError
from kitwright.units import Length, Size, parse_size

STEP = Length(Fraction(1, 8))


BOTH = st.booleans()


@st.composite
def demands(draw, one_way=BOTH):
    """A sheet and up to five labels that fit on it, some of them one-way."""
    width, height = draw(st.integers(16, 96)), draw(st.integers(16, 96))
    sizes, needs, lies = {}, {}, {}
    for label in "ABCDE"[: draw(st.integers(1, 5))]:
        across, down = draw(st.integers(4, width)), draw(st.integers(4, height))
        turned = draw(st.booleans())
        # Written so that it fits at least one way round, which is how it has to lie if it must.
        sizes[label] = Size(STEP * down, STEP * across) if turned else Size(STEP * across, STEP * down)
        needs[label] = draw(st.integers(1, 9))
        if draw(one_way):
            lies[label] = turned
    return Demand("p", Size(STEP * width, STEP * height), needs, sizes, lies)


@given(demands())
def test_every_sheet_is_sound_and_the_batch_comes_out(demand):
    plan = plan_paper(demand, "Paper")
    assert not plan.short
    for run in plan.runs:
        fixed = frozenset(k for k, turned in demand.lies.items() if not turned)
        assert tree.faults(run.layout.tree, demand.sheet, demand.sizes, fixed) == []
        assert turned_wrongly(run.layout, demand) == []
        assert run.layout.source == "auto" and run.sheets > 0 and (run.sheets * 2).denominator == 1


@given(demands())
def test_no_sheet_is_cut_for_nothing(demand):
    plan = plan_paper(demand, "Paper")
    area = sum(demand.sizes[k].area * n for k, n in demand.needs.items())
    assert plan.sheets * demand.sheet.area >= area
    assert plan.sheets <= sum(demand.needs.values())
    assert len({run.layout.tree for run in plan.runs}) == len(plan.runs), "sheets cut alike share one guide"


@given(demands())
def test_two_stages_only(demand):
    """Strips right across, then pieces: that is what it promises."""
    for run in plan_paper(demand, "Paper").runs:

        def depth(node):
            return 0 if isinstance(node, tree.Leaf) else 1 + max(map(depth, node.parts))

        assert depth(run.layout.tree) <= 2


@given(demands())
def test_the_same_demand_gives_the_same_plan(demand):
    assert plan_paper(demand, "Paper") == plan_paper(demand, "Paper")


def test_four_mats_to_a_letter_sheet_and_nine_take_two_and_a_half():
    mats = Demand("c", Size(Length(Fraction(17, 2)), Length(11)), {"M": 9}, {"M": Size(Length(4), Length(Fraction(21, 4)))}, {})
    (run,) = plan_paper(mats, "Cream").runs
    assert run.layout.yields == {"M": 4} and run.sheets == Fraction(5, 2) and run.made == {"M": 10}


def test_a_piece_larger_than_the_sheet_is_told():
    demand = Demand(
        "p", Size(Length(6), Length(6)), {"A": 1, "B": 1}, {"A": Size(Length(2), Length(2)), "B": Size(Length(7), Length(2))}, {}
    )
    with pytest.raises(UserError, match="B, .* larger than the sheet") as caught:
        plan_paper(demand, "Paper")
    assert caught.value.remedy


def test_a_one_way_piece_that_fits_only_turned_is_told():
    demand = Demand("p", Size(Length(6), Length(3)), {"A": 1}, {"A": Size(Length(2), Length(5))}, {"A": False})
    with pytest.raises(UserError) as caught:
        plan_paper(demand, "Paper")
    assert "one-way" in str(caught.value) or "turn" in str(caught.value), "it does fit the other way round: say why not"


def test_only_one_sheet_is_counted_as_half():
    """Fifteen 3½ in squares and one of 5½ in from Letter: a half of 4¼ × 11 and a half of 8½ × 5½ are not halves of one sheet."""
    wanted = Demand(
        "paper", parse_size("8-1/2 x 11"), {"A": 1, "B": 15}, {"A": parse_size("5-1/2 x 5-1/2"), "B": parse_size("3-1/2 x 3-1/2")}, {}
    )
    plan = plan_paper(wanted, "Card")
    assert sum(run.sheets.denominator > 1 for run in plan.runs) == 1 and plan.sheets == Fraction(7, 2)
    assert plan_batch(wanted, "Card").sheets == Fraction(7, 2)
