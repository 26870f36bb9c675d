"""The batch planner: sound plans, true bounds, natural orders, clear refusals."""

from fractions import Fraction

import pytest
from cutting_demands import A4, HALF, LETTER, check, demands
from cutting_small import every_tree, on_paper, small_kits
from examples import tried
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.cutting.batch import exhaust
from kitwright.cutting.batch.builds import judged, layings, real_turns
from kitwright.cutting.batch.natural import blocks, natural
from kitwright.cutting.batch.paper import Lattice
from kitwright.cutting.batch.plan import count_sheets, plan_batch
from kitwright.cutting.batch.proof import OneLabel, Priced, TooLittle
from kitwright.cutting.batch.search import Search
from kitwright.cutting.batch.table import sheets_table
from kitwright.cutting.plan import Demand, sheets_for
from kitwright.cutting.solver.work import Work
from kitwright.cutting.strips import plan_paper
from kitwright.cutting.tree import cuts, faults, leftovers, pieces, yields
from kitwright.errors import UserError
from kitwright.units import Length, Size, parse_size


@tried(30)
@given(demands())
def test_plans_are_sound_and_never_worse_than_plain_strips(demand):
    plan = plan_batch(demand, "Card")
    check(plan, demand)
    assert plan.sheets <= plan_paper(demand, "Card").sheets


@tried(50)
@given(demands(labels=1, cards=60))
def test_one_label_is_always_proved(demand):
    plan = plan_batch(demand, "Card")
    check(plan, demand)
    assert plan.proof[0].proved


@tried(120)
@given(demands(labels=3, cards=4), st.booleans())
def test_natural_layouts_are_sound(demand, as_blocks):
    """Thousands of layouts against the checker, judged as the shown tree is counted."""
    paper = Lattice.of(demand.sheet, demand.sizes, demand.lies, demand.needs)
    wanted = tuple(demand.needs.values())
    made = blocks(paper, wanted, paper.width, paper.height) if as_blocks else natural(paper, wanted)
    for build, _ in zip(made, range(12)):
        for plate in list(layings(build, paper.width, paper.height))[:2]:
            node = paper.node(plate)
            assert faults(node, demand.sheet, demand.sizes) == []
            layout = judged(paper, plate)
            assert all(a >= b for a, b in zip(layout.counts, wanted))
            assert dict(zip(demand.needs, layout.counts)) == yields(node)
            for units in (1, 2, 3):
                needs = {label: n * units for label, n in demand.needs.items()}
                asked = sheets_for(node, needs)
                # Half a sheet alone must leave the other half whole, in one piece.
                alone = units > 1 or any(
                    2 * rest.area >= demand.sheet.area and (rest.width == demand.sheet.width or rest.height == demand.sheet.height)
                    for rest in leftovers(node)
                )
                assert layout.serves(tuple(needs.values()), units) == (alone and asked <= Fraction(units, 2))


@tried(7)
@given(demands(labels=3, cards=8), st.integers(1, 3))
def test_more_cards_never_take_fewer_sheets(demand, per):
    def of(cards):
        return Demand("paper", demand.sheet, {label: min(n, per) * cards for label, n in demand.needs.items()}, demand.sizes, demand.lies)

    table = sheets_table(of, 12)
    assert [row.cards for row in table] == list(range(1, 13))
    assert all(a.sheets <= b.sheets for a, b in zip(table, table[1:]))
    for row in (table[0], table[5], table[-1]):
        plan = plan_batch(of(row.cards), "Card")
        if row.proved and plan.proof[0].proved:
            assert row.sheets == plan.sheets


@tried(12)
@given(demands(labels=3, cards=12), st.sampled_from([Fraction(1, 3), Fraction(5, 127), Fraction(7)]))
def test_only_proportions_matter_for_the_count(demand, factor):
    scaled = Demand(
        "paper",
        _times(demand.sheet, factor),
        demand.needs,
        {label: _times(size, factor) for label, size in demand.sizes.items()},
        demand.lies,
    )
    assert plan_batch(demand, "Card").sheets == plan_batch(scaled, "Card").sheets


def _times(size, factor):
    return Size(size.width * factor, size.height * factor)


@tried(8)
@given(demands(labels=3, cards=12), st.sampled_from([0, 5_000, 10_000_000]))
def test_sheets_are_counted_as_the_plan_takes_them(demand, steps):
    """With no work left too: the search stops where the other does."""
    assert count_sheets(demand, steps=steps) == plan_batch(demand, "Card", steps=steps).sheets


@tried(12)
@given(demands(labels=3, cards=10))
def test_same_demand_same_plan(demand):
    assert plan_batch(demand, "Card") == plan_batch(demand, "Card")


def plan(sheet, needs, sizes, lies=None, name="White card"):
    demand = Demand("white", sheet, needs, {label: parse_size(size) for label, size in sizes.items()}, lies or {})
    made = plan_batch(demand, name)
    check(made, demand)
    return made


# Common practice, no source.


@pytest.mark.parametrize(
    "sheet, needs, size, sheets",
    [
        (LETTER, 9, "4 x 5-1/4", Fraction(5, 2)),
        (LETTER, 9, "8-1/2 x 5-1/2", Fraction(9, 2)),
        (LETTER, 6, "8-1/2 x 5-1/2", Fraction(3)),
        (A4, 6, "8-1/2 x 5-1/2", Fraction(6)),
        (LETTER, 6, "3-1/4 x 5-1/4", Fraction(3, 2)),
        (LETTER, 4, "4 x 5-1/4", Fraction(1)),
        (A4, 12, "148 x 105 mm", Fraction(3)),
    ],
)
def test_sheets_that_makers_know(sheet, needs, size, sheets):
    made = plan(sheet, {"A": needs}, {"A": size})
    assert made.sheets == sheets
    assert made.proof[0].proved
    assert len(made.runs) == 1


def test_a_letter_base_turned_is_one_from_a4_and_two_from_letter():
    for size in ("8-1/2 x 5-1/2", "5-1/2 x 8-1/2"):
        assert plan(LETTER, {"base": 2}, {"base": size}).sheets == 1
        assert plan(A4, {"base": 2}, {"base": size}).sheets == 2


def test_the_last_half_base_sheet_gives_the_sentiment_strips():
    made = plan(LETTER, {"base": 9, "S": 9}, {"base": "8-1/2 x 5-1/2", "S": "2-3/4 x 3/4"})
    assert [(run.layout.name, run.sheets, run.layout.yields) for run in made.runs] == [
        ("White card: base", 4, {"base": 2}),
        ("White card: base and S", 1, {"S": 9, "base": 1}),
    ]
    assert [proof.proved for proof in made.proof[:2]] == [True, True]
    assert made.proof[1].reason == "no-single-way"


def test_one_layout_carries_just_the_name_of_its_paper():
    assert plan(LETTER, {"M": 8}, {"M": "4 x 5-1/4"}).runs[0].layout.name == "White card"


def test_half_a_sheet_leaves_the_other_half_whole():
    made = plan(parse_size("12 x 12"), {"A": 12}, {"A": "3-1/4 x 1-3/8"})
    assert made.sheets == HALF
    rest = made.runs[0].layout.leftovers[0]
    assert rest.width == parse_size("12 x 12").width and rest.height >= rest.width / 2


def test_pieces_of_one_label_lie_one_way_where_sheets_allow():
    made = plan(parse_size("12 x 12"), {"A": 12}, {"A": "3-1/4 x 1-3/8"})
    assert len({leaf.turned for leaf in pieces(made.runs[0].layout.tree)}) == 1


def test_strips_then_pieces_beat_fewer_cuts():
    """Three heights of one width: columns first, though mixed blocks take two cuts fewer."""
    made = plan(parse_size("8 x 8"), {"A": 3, "B": 3, "C": 3}, {"A": "1 x 3-1/8", "B": "1 x 5-7/8", "C": "1 x 4-1/2"})
    layout = made.runs[0].layout
    directions = [cut.axis for cut in layout.cuts]
    assert sum(a != b for a, b in zip(directions, directions[1:])) == 1
    assert len(layout.measures) == 4


def test_strips_of_one_measure_are_cut_together_and_wide_ones_first():
    made = plan(LETTER, {"M": 4, "S": 9}, {"M": "4 x 4-1/4", "S": "2-3/4 x 3/4"})
    tree = made.runs[0].layout.tree
    thick = [part.rect.height if tree.axis == "y" else part.rect.width for part in tree.parts]
    used = thick[:-1] if leftovers(tree) and tree.parts[-1].rect in leftovers(tree) else thick
    assert used == sorted(used, reverse=True)


def test_a_hard_sheet_is_cut_as_well_as_an_expert_does():
    """Eighteen pieces from one 12 × 12 sheet: five ruler marks and 22 cuts by hand."""
    made = plan(parse_size("12 x 12"), {"A": 6, "B": 6, "C": 6}, {"A": "2-1/4 x 4-1/2", "B": "4-1/8 x 1-5/8", "C": "4-1/8 x 3/4"})
    assert made.sheets == 1
    layout = made.runs[0].layout
    assert (len(layout.measures), len(layout.cuts)) <= (5, 22)


# What is proved, and why.


@pytest.mark.parametrize(
    "needs, sizes, reason",
    [
        ({"M": 9}, {"M": "4 x 5-1/4"}, TooLittle(pieces=Fraction(189), fewer=Fraction(187))),
        ({"M": 6}, {"M": "6-3/4 x 4-3/4"}, OneLabel("M", whole=2, half=1, most=5, needed=6)),
        ({"base": 1}, {"base": "8-1/2 x 5-1/2"}, "half-a-sheet"),
    ],
)
def test_the_reason_is_known(needs, sizes, reason):
    fewest = plan(LETTER, needs, sizes).fewest
    assert fewest.reason == reason
    assert fewest.plain == (reason != "half-a-sheet")


def test_prices_prove_what_area_and_single_labels_cannot():
    """A4, 40 bases and 40 mats: one base a sheet leaves room for no mat, so 40 + 10 sheets."""
    made = plan(A4, {"base": 40, "M": 40}, {"base": "8-1/2 x 5-1/2", "M": "4 x 5-1/4"})
    assert made.sheets == 50
    assert made.proof[0].proved
    assert made.fewest.reason == Priced((("base", 4), ("M", 1)), batch=200, whole=4, half=2)
    assert not made.fewest.plain


def test_a_tight_sheet_is_proved_to_be_needed_whole():
    """Three 6 × 4¼ from Letter: two side by side take all of its 8½."""
    made = plan(LETTER, {"M": 10}, {"M": "6 x 4-1/4"})
    assert made.sheets == Fraction(7, 2)
    assert made.proof[3].proved and made.proof[3].value == (1,)
    assert made.proof[3].reason == "tight-however"


def test_two_bases_from_letter_need_it_whole_both_ways():
    made = plan(LETTER, {"base": 8}, {"base": "8-1/2 x 5-1/2"})
    assert made.proof[3].proved and made.proof[3].value == (2,)


def test_a_plain_grid_is_proved_at_every_level():
    """Two mats from Letter: a column, then strips. Two marks, three cuts, one turn."""
    made = plan(LETTER, {"M": 6}, {"M": "6-3/4 x 4-3/4"})
    assert [proof.proved for proof in made.proof] == [True] * 5
    assert made.proof[2].value == (0, 2, 3, 1)


def test_whole_sheets_that_leave_nothing_for_the_half():
    """Crosswise pieces: some ways to share them out ask nothing of the half sheet."""
    assert plan(parse_size("15.2 x 15.2 cm"), {"A": 2, "B": 2}, {"A": "4 x 1", "B": "1 x 4"}, {"A": False, "B": False}).sheets == Fraction(
        3, 2
    )


# Refusals.


@pytest.mark.parametrize(
    "needs, lies, problem, remedy",
    [
        ({"A": 0}, {}, "nothing is to be cut", "number of cards"),
        ({}, {}, "nothing is to be cut", "number of cards"),
        ({"A": -1, "B": 3}, {}, "fewer than no pieces", "0 or more"),
        ({"C": 3}, {}, "C, 9 × 12 in, is 1 in larger than the sheet, 8½ × 11 in", "at 8½ × 11 in it fits"),
        ({"D": 3}, {"D": False}, "D, 9 × 8 in, is ½ in larger than the sheet, 8½ × 11 in; it may not be turned", "at 8½ × 8 in it fits"),
    ],
)
def test_impossible_demands_are_refused(needs, lies, problem, remedy):
    sizes = {"A": "4 x 5", "B": "4 x 5", "C": "9 x 12", "D": "9 x 8"}
    for ask in (
        lambda: plan(LETTER, needs, sizes, lies),
        lambda: sheets_table(lambda n: Demand("w", LETTER, needs, {k: parse_size(s) for k, s in sizes.items()}, lies), 3),
    ):
        with pytest.raises(UserError) as caught:
            ask()
        assert problem in caught.value.problem
        assert remedy in caught.value.remedy


def test_ten_thousand_pieces():
    made = plan(LETTER, {"M": 10_000}, {"M": "4 x 5-1/4"})
    assert made.sheets == 2500 and made.proof[0].proved


def test_ten_thousand_cards_of_three_labels():
    made = plan(LETTER, {"base": 10_000, "M": 10_000, "S": 10_000}, {"base": "8-1/2 x 5-1/2", "M": "4 x 5-1/4", "S": "2-3/4 x 3/4"})
    assert made.proof[0].proved
    assert made.sheets == Fraction(15417, 2)


def test_out_of_work_still_gives_a_plan_and_a_true_bound():
    sizes = {"A": "3-1/8 x 2-7/8", "B": "4-3/8 x 1-5/8", "C": "2-1/8 x 5-1/4", "D": "3-3/8 x 3-1/4"}
    demand = Demand("w", LETTER, dict.fromkeys(sizes, 17), {k: parse_size(s) for k, s in sizes.items()}, {})
    hurried, unhurried = plan_batch(demand, "Card", steps=0), plan_batch(demand, "Card")
    assert hurried.short == {}
    assert hurried.proof[0].bound[0] <= unhurried.sheets <= hurried.sheets


def test_a_lattice_too_fine_for_tables_still_gives_a_plan():
    sizes = {
        "A": Size(Length(Fraction(30_001, 10_007)), Length(Fraction(50_003, 10_009))),
        "B": Size(Length(Fraction(20_011, 9_973)), Length(Fraction(22, 7))),
    }
    demand = Demand("w", LETTER, {"A": 5, "B": 5}, sizes, {})
    made = plan_batch(demand, "Card")
    check(made, demand)
    assert made.sheets <= plan_paper(demand, "Card").sheets


# The pieces of the machinery that promise something of their own.


@tried(20)
@given(demands(labels=3, cards=10))
def test_bounds_hold_against_the_strip_plan(demand):
    search = Search(Lattice.of(demand.sheet, demand.sizes, demand.lies, demand.needs), Work())
    needs = tuple(demand.needs.values())
    reached = int(2 * plan_paper(demand, "Card").sheets)
    assert search.pricing.least(needs) <= reached
    assert not search.pricing.rule_out(needs, reached)
    assume(reached > 1)
    assert search.count(needs)[0] <= reached


def test_turns_are_counted_stroke_by_stroke():
    paper = Lattice.of(LETTER, {"M": parse_size("4 x 5-1/4")}, {}, ["M"])
    build = next(natural(paper, (4,)))
    plate = next(layings(build, paper.width, paper.height))
    strokes = cuts(paper.node(plate))
    assert real_turns(paper, plate) == sum(a.axis != b.axis for a, b in zip(strokes, strokes[1:]))
    # Before the strokes are counted a layout is judged by its levels: strips, then pieces, is one turn.
    assert judged(paper, plate).turns == 1 == real_turns(paper, plate)


# Against every cut at every step of a small lattice.


@tried(40)
@given(small_kits())
def test_fewest_and_largest_leftovers(kit):
    demand = on_paper(*kit)
    paper = Lattice.of(demand.sheet, demand.sizes, demand.lies, demand.needs)
    found = exhaust.leftovers(paper, kit[3])
    expected = every_tree(*kit)
    if found is not None:
        assert (found[0], found[1] * paper.step.inches**2) == (expected[0], expected[1] * Fraction(5, 127) ** 2)
    else:
        assert expected is None or sum(kit[3]) > 1


@tried(20)
@given(small_kits(), st.integers(2, 4))
def test_two_layouts_only_where_one_cannot_do(kit, times):
    width, height, kinds, counts = kit
    needs = tuple(n * times + i for i, n in enumerate(counts))
    plan = plan_batch(on_paper(width, height, kinds, needs), "Card")
    alike = plan.proof[1]
    if plan.sheets.denominator == 1 and alike.proved and len(plan.runs) > 1:
        each = tuple(-(-n // int(plan.sheets)) for n in needs)
        assert every_tree(width, height, kinds, each) is None
