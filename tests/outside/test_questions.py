"""Followers' questions against the trade, and against another library.

Trade facts are common practice, no source. Sheet sizes: Letter, ANSI/ASME Y14.1; A4 and A6,
ISO 216; an inch is 25.4 mm exactly (NIST SP 811). The number of sheets is compared with an
independent model of OR-Tools CP-SAT in which pieces need not be cut edge to edge, so that
it may only be smaller, and with counting by hand.
"""

from fractions import Fraction
from math import floor

import pytest
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import HALF, Demand
from kitwright.cutting.stock import from_sheet, halved
from kitwright.materials import MATERIALS
from kitwright.otherwise.planned import one_way, other_stock
from kitwright.papers import sheet_named
from kitwright.telling.questions import change_text, other_text
from kitwright.units import Length, Size, parse_size
from kitwright.work.batches import batches
from making import BATCH, changed, make_worked
from ortools.sat.python import cp_model

LETTER, A4, A6 = (sheet_named(name).size for name in ("Letter", "A4", "ISO A6"))
BASE = parse_size("8-1/2 x 5-1/2")


def demand(sheet, n, size, lies=None, label="base"):
    return Demand("p", sheet, {label: n}, {label: size}, lies or {})


def six(root, *edits):
    """The batch for six cards: three Letter sheets of bases."""
    text = changed(BATCH, ("cards: 9\n", "cards: 6\n"), *edits)
    return make_worked(root, text[: text.index("guides:\n")])


# --- Letter and A4 ----------------------------------------------------------------------------------------


def test_a_kit_of_three_letter_sheets_becomes_six_a4(tmp_path):
    """Common practice, no source: 210 mm is less than 215.9, so A4 gives one 8½ × 5½ base."""
    worked = six(tmp_path)
    white = worked.plan("white")
    assert white.sheets == 3
    (a4,) = other_stock(worked, white)
    assert a4.name == "A4" and a4.plan.sheets == 6 and a4.plan.made == {"base": 6}
    assert all(run.layout.yields == {"base": 1} for run in a4.plan.runs)
    assert other_text(worked, a4).startswith("6 sheets; a sheet gives one base, not two, since half of it is ")


def test_what_would_give_two_bases_from_a4(tmp_path):
    """Common practice, no source: … or the card becomes ISO A6, which 148 mm high wants an envelope longer than 5¾ in."""
    worked = six(tmp_path, ("US A2 envelope", "6-3/8 x 4-1/2"))
    (a4,) = other_stock(worked, worked.plan("white"))
    assert change_text(worked, a4) == (
        "with a base of 8¼ × 5½ in a sheet gives two, and the card is 4⅛ × 5½ in; "
        "or make the card ISO A6, 105 × 148 mm: half a sheet, folded"
    )


def test_a4_gives_one_base_for_each_batch_and_letter_two():
    for cards in range(1, 61):
        assert plan_paper(demand(LETTER, cards, BASE), "p").sheets == Fraction(cards, 2)
        assert plan_paper(demand(A4, cards, BASE), "p").sheets == cards, "half an A4 does not give one: 148.5 mm by 210 mm"


def test_or_the_card_becomes_iso_a6():
    """Common practice, no source: half an A4 folded in half is ISO A6 (ISO 216 halves and rounds down to whole millimetres)."""
    half = halved(A4)
    assert half == Size(Length.mm(210), Length.mm(Fraction(297, 2)))
    folded = Size(half.width / 2, half.height)
    assert Size(folded.width, Length.mm(floor(folded.height.millimetres))) == A6
    assert halved(half.turned) == folded.turned
    assert plan_paper(demand(A4, 6, Size(A6.width * 2, A6.height)), "p").sheets == 3


def test_halving_letter_gives_the_base_of_the_trade():
    assert halved(LETTER) == BASE


def test_a_metric_kit_from_letter_loses_its_second_base(tmp_path):
    """The other way round: an A6 base is 148 mm, and half of Letter's 279.4 mm is 139.7."""
    assert from_sheet(demand(A4, 6, Size(A6.width * 2, A6.height)), "Letter", LETTER, plan_paper).plan.sheets == 6
    assert LETTER.height / 2 == Length.mm(Fraction(1397, 10))


def test_letter_mats_from_a4(tmp_path):
    """By hand: 4 × 5¼ in is 101.6 × 133.35 mm, and two by two of them lie on 210 × 297 mm."""
    assert 2 * Fraction(1016, 10) <= 210 and 2 * Fraction(13335, 100) <= 297
    worked = six(tmp_path)
    (a4,) = other_stock(worked, worked.plan("cream"))
    assert a4.plan.sheets == Fraction(3, 2) and worked.plan("cream").sheets == Fraction(3, 2)


# --- pads ---------------------------------------------------------------------------------------------------


def grid(sheet: Size, piece: Size) -> int:
    """The most that lie in straight rows, either way round: not the best there is, but what anybody finds."""
    return max((sheet.width // p.width) * (sheet.height // p.height) for p in (piece, piece.turned))


SOLD = MATERIALS["patterned"].sold + MATERIALS["cardstock"].sold


@pytest.mark.parametrize("name, sheet", SOLD, ids=[n for n, _ in SOLD])
def test_no_sheet_gives_less_than_straight_rows_nor_more_than_its_area(name, sheet):
    piece = parse_size("3-3/4 x 1-1/4")
    rows = grid(sheet, piece)
    most = floor(sheet.area / piece.area)
    for n in (1, rows, rows + 1, 20):
        sheets = plan_paper(demand(sheet, n, piece, label="A"), name).sheets
        assert Fraction(n, most) <= sheets <= -(-n // rows)


def test_a_pad_sold_as_15_cm_is_smaller_than_six_inches():
    """Common practice, no source: pads sold as 15 × 15 are often 15.2 cm; either is less than 6 in (152.4 mm)."""
    sold = dict(MATERIALS["patterned"].sold)
    assert sold["15 × 15 cm"].width < sold["15.2 × 15.2 cm"].width < sold["6 × 6 in"].width
    whole = Size(Length(3), Length(Fraction(3, 2)))
    plain = [plan_paper(demand(sold[n], 8, whole, label="A"), n).sheets for n in ("6 × 6 in", "15.2 × 15.2 cm", "15 × 15 cm")]
    assert plain[0] == 1 and plain[1] > 1 and plain[2] > 1, "eight of 3 × 1½ fill a true 6 × 6 to its edge"


def test_a_sheet_measured_at_5_15_16_fails_what_fills_a_true_one():
    """Common practice, no source."""
    short = parse_size("5-15/16 x 5-15/16")
    wanted = demand(parse_size("6 x 6"), 4, parse_size("3 x 3"), label="A")
    assert plan_paper(wanted, "p").sheets == 1 and from_sheet(wanted, "short", short, plan_paper).plan.sheets == 4
    slack = plan_paper(wanted, "p").runs[0].layout.slack
    assert not slack.width and not slack.height


# --- one-way ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "size, sheet, plain, upright",
    [("8-1/2 x 5-1/2", "8-1/2 x 11", 3, 3), ("5-1/2 x 8-1/2", "8-1/2 x 11", 3, 6), ("5 x 2", "12 x 12", HALF, HALF)],
)
def test_one_way_takes_what_it_takes(size, sheet, plain, upright):
    """By hand: a top-fold base 5½ × 8½ upright is one to a Letter sheet, since 11 in across would be needed for two."""
    wanted = demand(parse_size(sheet), 6, parse_size(size))
    assert plan_paper(wanted, "p").sheets == plain
    assert from_sheet(wanted, "p", wanted.sheet, plan_paper, one_way=True).plan.sheets == upright


def test_one_way_in_the_table(tmp_path):
    worked = six(tmp_path / "a")
    assert one_way(worked, worked.plan("white")) is None, "cardstock has no up"
    patterned = six(
        tmp_path / "b",
        ("kind: cardstock\n    name: White cardstock", "kind: patterned\n    name: White\n    front: {look: dots, colours: [white, sky]}"),
    )
    assert one_way(patterned, patterned.plan("white")).plan.sheets == 3, "side-fold bases lie upright on upright Letter"


# --- any batch, against another solver -----------------------------------------------------------------------------


def most_by_cp_sat(sheet: tuple[int, int], piece: tuple[int, int], upright: bool) -> int:
    """The most pieces that lie on a sheet without overlap, edge to edge or not: a bound from outside."""
    model, most = cp_model.CpModel(), (sheet[0] * sheet[1]) // (piece[0] * piece[1])
    xs, ys, used, corners = [], [], [], []
    for i in range(most):
        on, turned = model.new_bool_var(f"on{i}"), model.new_bool_var(f"turned{i}")
        if upright:
            model.add(turned == 0)
        w, h = (model.new_int_var(min(piece), max(piece), f"{d}{i}") for d in "wh")
        model.add(w == piece[0]).only_enforce_if(~turned)
        model.add(h == piece[1]).only_enforce_if(~turned)
        model.add(w == piece[1]).only_enforce_if(turned)
        model.add(h == piece[0]).only_enforce_if(turned)
        x, y = model.new_int_var(0, sheet[0], f"x{i}"), model.new_int_var(0, sheet[1], f"y{i}")
        x2, y2 = model.new_int_var(0, sheet[0], f"x2{i}"), model.new_int_var(0, sheet[1], f"y2{i}")
        xs.append(model.new_optional_interval_var(x, w, x2, on, f"ix{i}"))
        ys.append(model.new_optional_interval_var(y, h, y2, on, f"iy{i}"))
        used.append(on)
        corners.append(x * (sheet[1] + 1) + y)
    model.add_no_overlap_2d(xs, ys)
    for a, b in zip(used, used[1:]):
        model.add_implication(b, a)
    # Which piece is which makes no difference: counted from left to right, and upward in a column, none is looked at twice.
    for before, after, on in zip(corners, corners[1:], used[1:]):
        model.add(before < after).only_enforce_if(on)
    model.maximize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers, solver.parameters.max_deterministic_time = 1, 20
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value)


@pytest.mark.parametrize("piece, sheet", [((5, 2), (12, 12)), ((5, 3), (12, 12)), ((4, 3), (11, 8)), ((7, 3), (12, 12))])
@pytest.mark.parametrize("upright", [False, True])
def test_batches_of_one_piece_against_cp_sat(piece, sheet, upright):
    """Small enough that the best packing is edge to edge: both agree on what a sheet gives, hence on whole sheets for any batch."""
    size, whole = (Size(Length(w), Length(h)) for w, h in (piece, sheet))
    lies = {"A": False} if upright else {}
    most = most_by_cp_sat(sheet, piece, upright)
    for n in (1, most, most + 1, 2 * most, 60):
        sheets = plan_paper(demand(whole, n, size, lies, "A"), "p").sheets
        assert -(-n // most) - HALF <= sheets <= -(-n // most)


def test_the_table_is_monotone_and_not_linear(tmp_path):
    """Not linear: 10 cards do not take ten ninths of what nine take."""
    worked = make_worked(tmp_path, BATCH)
    river = [each["river"] for _, each in batches(worked)]
    assert river == sorted(river) and river[9] == Fraction(3, 2) and river[8] == 1 and river[59] == 7
