"""Cuts from corner to corner: two triangles from each rectangle, in guides, plans, steps and what is kept.

Sources: Euclid, Elements I.34 (a diagonal halves a parallelogram) and I.47 (Pythagoras).
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.auto import count_sheets, plan_paper
from kitwright.cutting.batch.proof import OneLabel, Priced
from kitwright.cutting.batch.table import sheets_table
from kitwright.cutting.desk import corner_steps, desk_steps
from kitwright.cutting.guide import Reader
from kitwright.cutting.plan import Demand, Layout, half_yields, made_by, sheets_for
from kitwright.cutting.stock import for_cards
from kitwright.cutting.tree import Leaf, cuts, faults, leaves, moved, pieces, slants, yields
from kitwright.errors import Place, UserError
from kitwright.geometry import other_diagonal
from kitwright.release.kept import plain, restored
from kitwright.telling.cutplan import gives_text
from kitwright.telling.instructions import corner_text, step_text
from kitwright.units import Length, Size, parse_size
from shapely import LineString, Polygon

EIGHTH = Fraction(1, 8)
eighths = st.integers(2, 40).map(lambda n: Length(n * EIGHTH))
SIZES = {"T": parse_size("2 x 2"), "R": parse_size("2 x 1"), "A": parse_size("3 x 2")}
HALVES = {"T": "falling", "R": "rising"}


def reader(sizes=SIZES, halves=HALVES) -> Reader:
    return Reader(sizes, "in", lambda *path: Place("kit.yaml", 1 + sum(part for part in path if isinstance(part, int))), halves)


def read(cuts_, sheet: str, **more):
    found = reader(**more)
    node = found.read(cuts_, parse_size(sheet))
    assert found.odd == []
    return node


@given(eighths, eighths, eighths)
def test_a_strip_of_squares_gives_two_of_each_and_no_waste_within_them(side, wide, high):
    """2⌊W/s⌋⌊H/s⌋ triangles of side s from any sheet; they cover the squares, and none lies over another."""
    across, down = wide // side, high // side
    if not across or not down or across * down > 400:
        return
    s, sheet = side.inches, Size(wide, high)
    line = {
        f"{across} columns of {s.numerator}/{s.denominator}": [
            {f"{down} rows of {s.numerator}/{s.denominator}": [{"corner to corner": "T"}]}
        ]
    }
    node = read([line], f"{wide.inches} x {high.inches}", sizes={"T": Size(side, side)})
    assert yields(node) == {"T": 2 * across * down}
    assert faults(node, sheet, {"T": Size(side, side)}, halved=HALVES) == []
    squares = pieces(node)
    assert sum(leaf.rect.area for leaf in squares) == across * down * s * s
    assert len(slants(node)) == across * down
    assert [cut.number for cut in cuts(node)] + [slant.number for slant in slants(node)] == list(
        range(1, len(cuts(node)) + across * down + 1)
    )


@given(eighths, eighths, st.sampled_from(["falling", "rising"]), st.booleans())
def test_the_stroke_halves_the_rectangle_as_it_lies(width, height, way, turned):
    size = Size(width, height)
    lies = size.turned if turned else size
    node = read([{"corner to corner": "T"}], f"{lies.width.inches} x {lies.height.inches}", sizes={"T": size}, halves={"T": way})
    (slant,) = slants(node)
    (ax, ay), (bx, by) = [(float(x.inches), float(y.inches)) for x, y in slant.line]
    blade, w, h = LineString([(ax, ay), (bx, by)]), float(lies.width.inches), float(lies.height.inches)
    assert blade.length == pytest.approx((w * w + h * h) ** 0.5)  # Elements I.47
    # Each side of the blade has half of the paper (I.34), with the corner that is not on the blade.
    for corner in ((w, 0), (0, h)) if slant.way == "falling" else ((0, 0), (w, h)):
        assert Polygon([(ax, ay), (bx, by), corner]).area == pytest.approx(w * h / 2)
    lies_turned = turned and width != height
    assert slant.way == (other_diagonal(way) if lies_turned else way) and slant.leaf.turned == lies_turned


def test_the_line_reads_in_every_spelling_and_ends_what_is_in_hand():
    for text in ("corner to corner", "Cut corner to corner", "from corner to corner", "cut  from corner to corner."):
        assert yields(read([{text: "T"}], "2 x 2")) == {"T": 2}
    node = read([{"2 columns of 2": [{"2 rows of 2": [{"corner to corner": "T"}]}]}, {"the rest": "leftover"}], "5 x 4")
    assert yields(node) == {"T": 8} and [leaf.rect.size for leaf in leaves(node) if not leaf.label] == [parse_size("1 x 4")]
    turned = read([{"2 columns of 1": [{"corner to corner": "R"}]}], "2 x 2")
    assert {(leaf.turned, leaf.diagonal) for leaf in pieces(turned)} == {(True, "falling")}
    assert {(leaf.turned, leaf.diagonal) for leaf in pieces(moved(turned, Length(1), Length(1)))} == {(True, "falling")}


@pytest.mark.parametrize(
    "cuts_, code",
    [
        ([{"2 rows of 1": "T"}], "guide.triangle-uncut"),
        ([{"halve": "T"}], "guide.triangle-uncut"),
        ([{"corner to corner": "A"}], "guide.no-triangle"),
        ([{"corner to corner": "X"}], "guide.no-such-piece"),
        (["corner to corner"], "guide.corners-of-what"),
        ([{"corner to corner": ["turn"]}], "guide.not-a-label"),
        ([{"corner to corner": "T"}, {"the rest": "A"}], "guide.nothing-in-hand"),
    ],
)
def test_what_no_cut_gives_is_refused_at_its_line(cuts_, code):
    with pytest.raises(UserError) as refused:
        reader().read(cuts_, parse_size("2 x 2"))
    assert refused.value.code == code
    if code != "guide.nothing-in-hand":
        assert [error.code for error in reader().unreadable(cuts_)] == [code]


def test_a_triangle_with_no_rectangle_of_its_size_is_one_error():
    found = reader()
    found.read([{"3 rows of 1": [{"2 columns of 1-1/2": [{"corner to corner": "T"}]}]}], parse_size("3 x 3"))
    (error,) = found.odd
    assert error.code == "guide.no-rectangle" and error.values["lies"] == parse_size("1-1/2 x 1")
    assert error.problem == "no line gives T a 2 × 2 in rectangle: what is in hand here is 1½ × 1 in"


# --- the planner --------------------------------------------------------------------------------


def wanted(n: int, sheet: str = "8 x 8", **more) -> Demand:
    return Demand("kites", parse_size(sheet), {"T": n, **more}, SIZES, {}, halves={"T": "falling"})


@given(st.integers(1, 80))
def test_so_many_triangles_take_half_as_many_squares(n):
    """Ceil(n/2) squares, sixteen to a sheet, and an odd one is over."""
    plan = plan_paper(wanted(n), "Kites")
    squares = plan_paper(Demand("kites", parse_size("8 x 8"), {"A": -(-n // 2)}, {"A": SIZES["T"]}, {}), "Kites")
    assert plan.sheets == squares.sheets == count_sheets(wanted(n), "") and not plan.short
    assert plan.made["T"] == 2 * squares.made["A"] and plan.made["T"] % 2 == 0
    assert plan.proof[0].proved and plan.proof[0].value == (plan.sheets,)
    for run in plan.runs:
        assert faults(run.layout.tree, parse_size("8 x 8"), SIZES, halved={"T": "falling"}) == []
        assert faults(run.layout.tree, parse_size("8 x 8"), SIZES) != []
    # What proves that a sheet less won't do is told in triangles.
    if isinstance(reason := plan.proof[0].reason, OneLabel):
        assert reason.needed == n and reason.most < n and reason.whole == 32


def test_the_planner_makes_triangles_beside_other_pieces_and_proves_it():
    demand = wanted(21, A=3)
    plan = plan_paper(demand, "Kites")
    assert plan.made["T"] >= 21 and plan.made["A"] >= 3 and not plan.short
    assert all(leaf.diagonal == ("falling" if leaf.label == "T" else None) for run in plan.runs for leaf in pieces(run.layout.tree))
    assert plan.proof[0].proved
    if isinstance(plan.proof[0].reason, Priced):
        assert set(plan.proof[0].reason.pairs) <= {"T"}
    assert demand.area == 11 * 4 + 3 * 6


def test_batches_count_rectangles():
    demand = wanted(8)
    table = sheets_table(lambda cards: for_cards(demand, cards, 8), 40)
    assert [row.sheets for row in table] == [count_sheets(for_cards(demand, row.cards, 8), "") for row in table]
    assert table[31].sheets == 1 and table[32].sheets > 1


def test_a_half_sheet_and_a_whole_one_give_two_from_each():
    node = read([{"4 columns of 2": [{"4 rows of 2": [{"corner to corner": "T"}]}]}], "8 x 8")
    assert half_yields(node) == [{"T": 16}] * 4
    assert sheets_for(node, {"T": 33}) == Fraction(3, 2) and made_by(node, Fraction(3, 2), {"T": 33}) == {"T": 48}
    layout = Layout("Kites", ("kites",), node, "author")
    assert layout.strokes == 3 + 4 * 3 + 16 and layout.measures == [Length(2)] and layout.used == 1
    assert gives_text(layout, Fraction(1)) == "a sheet gives 32 T"


# --- the desk, and what is kept ----------------------------------------------------------------


def test_its_step_is_without_the_ruler():
    node = read([{"4 columns of 2": [{"4 rows of 2": [{"corner to corner": "T"}]}]}], "8 x 8")
    *_, last = desk_steps(Layout("Kites", ("kites",), node, "author"), Length(1))
    assert "Twelve squares for T fall off." in step_text(last, "in") and "four squares for T" in step_text(last, "in")
    (step,) = corner_steps(node)
    assert step.number == last.number + 1 and [slant.number for slant in step.slants] == list(range(16, 32))
    assert corner_text(step, "in") == (
        "Take the 16 squares of 2 × 2 in for T, one after another. Without the ruler, lay the top left and bottom right corners of each "
        "on the blade line, hold each flat and cut: one stroke on each. 32 T come of them."
    )
    assert corner_steps(read([{"halve": "A"}], "3 x 4")) == ()


def test_oblongs_that_lie_both_ways_are_two_steps():
    node = read(
        [{"1 row of 1": [{"1 column of 2": [{"corner to corner": "R"}]}]}, {"2 columns of 1": [{"corner to corner": "R"}]}], "2 x 3"
    )
    assert {(step.size, step.way) for step in corner_steps(node)} == {(parse_size("2 x 1"), "rising"), (parse_size("1 x 2"), "falling")}


def test_a_plan_is_kept_and_read_back_and_a_leaf_of_old_says_nothing_new():
    plan = plan_paper(wanted(7), "Kites")
    assert restored(plain(plan), type(plan)) == plan
    assert "diagonal" not in plain(Leaf(plan.runs[0].layout.tree.rect, "A"))
    assert "halves" not in plain(Demand("p", parse_size("1 x 1"), {}, {}, {}))
