"""The same pieces from other sheets: what fits, and the nearest change that does."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand
from kitwright.cutting.stock import for_cards, from_sheet, halved, misfits, too_large
from kitwright.errors import UserError
from kitwright.materials import MATERIALS
from kitwright.papers import sheet_named
from kitwright.units import MM, SIXTEENTH, Length, Size, parse_size

STEP, HAIR = Length(SIXTEENTH), Length(Fraction(1, 1000))
SIDES = st.integers(1, 320).map(lambda n: STEP * n)
SIZES = st.builds(Size, SIDES, SIDES)
LIES = st.sampled_from([None, False, True])


def demand(sheet, size, lies=None, n=1, label="A"):
    return Demand("p", sheet, {label: n}, {label: size}, {} if lies is None else {label: lies})


def can(size: Size, sheet: Size, lies) -> bool:
    """Whether a piece lies within a sheet, said once more."""
    upright = size.width <= sheet.width and size.height <= sheet.height
    turned = size.height <= sheet.width and size.width <= sheet.height
    return upright or turned if lies is None else turned if lies else upright


# --- misfits ------------------------------------------------------------------------------------------


@given(SIZES, SIZES, LIES)
def test_a_piece_is_a_misfit_exactly_when_it_lies_within_the_sheet_no_way(sheet, size, lies):
    assert bool(misfits(demand(sheet, size, lies))) == (not can(size, sheet, lies))


@given(SIZES, SIZES, LIES)
def test_the_nearest_change_does_fit(sheet, size, lies):
    assume(not can(size, sheet, lies))
    (wrong,) = misfits(demand(sheet, size, lies))
    assert wrong.label == "A" and wrong.size == size and wrong.over > Length(0)
    assert wrong.largest.fits(size), "it is only made smaller, never larger"
    assert not misfits(demand(sheet, wrong.largest, lies))


@given(SIZES, SIZES, LIES, st.data())
def test_no_smaller_change_does(sheet, size, lies, data):
    """Nothing that takes less than that off both sides fits; nor does the piece with a hair of it put back."""
    assume(not can(size, sheet, lies))
    (wrong,) = misfits(demand(sheet, size, lies))
    less = [data.draw(st.integers(0, int(wrong.over / HAIR))) for _ in range(2)]
    off = [min(HAIR * n, wrong.over - HAIR) for n in less]
    smaller = Size(size.width - off[0], size.height - off[1])
    if smaller.width > Length(0) and smaller.height > Length(0):
        assert not can(smaller, sheet, lies)
    taken = max(size.width - wrong.largest.width, size.height - wrong.largest.height)
    assert taken == wrong.over, "it says by how much"
    for back in (Size(wrong.largest.width + HAIR, wrong.largest.height), Size(wrong.largest.width, wrong.largest.height + HAIR)):
        if back.fits(size):
            assert not can(back, sheet, lies)


@given(SIZES, SIZES, LIES)
def test_a_sheet_larger_by_that_much_each_way_would_do(sheet, size, lies):
    assume(not can(size, sheet, lies))
    (wrong,) = misfits(demand(sheet, size, lies))
    assert can(size, Size(sheet.width + wrong.over, sheet.height + wrong.over), lies)
    short = wrong.over - HAIR
    assert not can(size, Size(sheet.width + short, sheet.height + short), lies)


def test_every_misfit_is_named_in_order():
    wanted = Demand(
        "p",
        parse_size("6 x 6"),
        {"C": 1, "A": 2, "B": 1},
        {"A": parse_size("7 x 1"), "B": parse_size("5 x 5"), "C": parse_size("8 x 8")},
        {},
    )
    assert [(m.label, m.over, m.largest) for m in misfits(wanted)] == [
        ("C", Length(2), parse_size("6 x 6")),
        ("A", Length(1), parse_size("6 x 1")),
    ]


def test_it_is_turned_only_where_it_may_be():
    letter = parse_size("8-1/2 x 11")
    assert not misfits(demand(letter, parse_size("11 x 8")))
    (upright,) = misfits(demand(letter, parse_size("11 x 8"), False))
    assert upright.over == Length(Fraction(5, 2)) and upright.largest == parse_size("8-1/2 x 8")
    assert not misfits(demand(letter, parse_size("11 x 8"), True))


def test_a_square_that_lies_turned_is_made_smaller_the_right_way_round():
    """Its width lies down the sheet: on a sheet that is too low, the width gives way."""
    sheet = parse_size("6 x 4")
    (wrong,) = misfits(demand(sheet, parse_size("5 x 5"), True))
    assert wrong.largest == parse_size("4 x 5") and not misfits(demand(sheet, wrong.largest, True))


# --- the error ------------------------------------------------------------------------------------------


def test_the_error_says_what_by_how_much_and_what_would_do():
    wanted = demand(parse_size("8 x 8"), parse_size("8-1/4 x 3"))
    (wrong,) = misfits(wanted)
    error = too_large(wanted, wrong)
    assert isinstance(error, UserError)
    assert error.problem == "A, 8¼ × 3 in, is ¼ in larger than the sheet, 8 × 8 in"
    assert error.remedy == "at 8 × 3 in it fits; or use a larger sheet"


def test_the_error_tells_of_a_one_way_paper():
    wanted = demand(parse_size("8-1/2 x 11"), parse_size("11 x 8"), False)
    (wrong,) = misfits(wanted)
    error = too_large(wanted, wrong, "mm")
    assert error.problem.endswith("; it may not be turned") and " in" not in error.problem.replace(" is ", "")
    assert error.remedy.endswith(", or a paper that is not one-way")


# --- from another sheet -------------------------------------------------------------------------------------


def test_a_misfit_is_never_planned():
    def planner(*_):
        raise AssertionError("asked to plan what does not fit")

    other = from_sheet(demand(parse_size("12 x 12"), parse_size("7 x 7")), "small", parse_size("6 x 6"), planner)
    assert other.plan is None and [m.label for m in other.misfits] == ["A"] and other.demand.sheet == parse_size("6 x 6")


@given(st.integers(1, 12), st.integers(3 * 16, 14 * 16), st.integers(3 * 16, 14 * 16))
def test_the_plan_from_another_sheet_gives_the_pieces(n, across, down):
    sheet = Size(STEP * across, STEP * down)
    other = from_sheet(
        replace(demand(parse_size("12 x 12"), parse_size("2-3/4 x 1-1/4"), n=n), given=Fraction(9)), "other", sheet, plan_paper
    )
    assert other.misfits == () and other.demand.given is None, "how many are at hand is said of the old sheets"
    assert not other.plan.short and other.plan.made["A"] >= n
    for run in other.plan.runs:
        assert tree.faults(run.layout.tree, sheet, {"A": parse_size("2-3/4 x 1-1/4")}) == []


def test_one_way_keeps_every_piece_upright_unless_it_lies_turned_already():
    base = Demand("p", parse_size("12 x 12"), {"A": 4, "B": 4}, {"A": parse_size("5 x 2"), "B": parse_size("4 x 1")}, {"B": True})
    other = from_sheet(base, "p", base.sheet, plan_paper, one_way=True)
    assert other.demand.lies == {"A": False, "B": True}
    for run in other.plan.runs:
        assert {(leaf.label, leaf.turned) for leaf in tree.pieces(run.layout.tree)} <= {("A", False), ("B", True)}
    assert from_sheet(base, "p", base.sheet, plan_paper).demand.lies == {"B": True}


@given(st.integers(1, 9), st.integers(1, 9), st.integers(1, 14))
def test_one_way_never_takes_fewer_sheets(w, h, n):
    base = demand(parse_size("9 x 6"), Size(Length(w), Length(h)), n=n)
    assume(can(Size(Length(w), Length(h)), base.sheet, False))
    plain, upright = (from_sheet(base, "p", base.sheet, plan_paper, one_way) for one_way in (False, True))
    assert plain.plan.sheets <= upright.plan.sheets


# --- other numbers of cards -------------------------------------------------------------------------------------


@given(st.dictionaries(st.sampled_from("ABCD"), st.integers(1, 90), min_size=1), st.integers(1, 200), st.integers(1, 60))
def test_needs_of_another_batch_are_in_proportion_and_never_too_few(needs, cards, of):
    found = for_cards(Demand("p", parse_size("1 x 1"), needs, {}, {}, Fraction(3)), cards, of)
    assert found.given is None and list(found.needs) == list(needs)
    for label, n in needs.items():
        assert found.needs[label] * of >= n * cards > (found.needs[label] - 1) * of
    assert for_cards(found, of, of).needs == found.needs


@pytest.mark.parametrize(
    "text, half",
    [("8-1/2 x 11", "8-1/2 x 5-1/2"), ("11 x 8-1/2", "5-1/2 x 8-1/2"), ("12 x 12", "12 x 6"), ("210 x 297 mm", "210 x 148.5 mm")],
)
def test_halved_across_the_longer_side(text, half):
    assert halved(parse_size(text)) == parse_size(half)


@given(SIZES)
def test_two_halves_are_the_sheet(sheet):
    half = halved(sheet)
    assert half.area * 2 == sheet.area
    assert Size(half.width * 2, half.height) == sheet or Size(half.width, half.height * 2) == sheet
    assert max(half.width, half.height) <= max(sheet.width, sheet.height)


# --- what is sold ---------------------------------------------------------------------------------------------


def test_stock_is_what_the_issue_of_the_trade_lists():
    """Patterned: common practice, no source. Letter: ANSI/ASME Y14.1; A4: ISO 216."""
    sides = [Length(6), Length(8), Length(12), Length.mm(150), Length.mm(152), Length.mm(200), Length.mm(300)]
    assert [size for _, size in MATERIALS["patterned"].sold] == [Size(s, s) for s in sides]
    assert dict(MATERIALS["cardstock"].sold) == {"Letter": sheet_named("Letter").size, "A4": sheet_named("A4").size}
    assert sheet_named("A4").size.width.inches == 210 * MM
