"""Facts of the trade. Each one is common practice, no source.

Each is put to the library as a maker would meet it: a base that is cut, a card that is put
into an envelope, a sheet that is planned, a check that speaks up.
"""

from fractions import Fraction

import pytest
from kitwright.archive.starter import write_starter
from kitwright.card.enclosed import clearance
from kitwright.card.layout import base_of
from kitwright.card.shapes import clear_of_notches, notch_depth, notches_on_card, outline
from kitwright.check import errors
from kitwright.cutting import tree
from kitwright.cutting.guide import Reader
from kitwright.cutting.plan import Demand
from kitwright.cutting.strips import plan_paper
from kitwright.errors import Place, UserError
from kitwright.geometry import Rect
from kitwright.kit.model import Notch, Piece
from kitwright.kit.read import read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.papers import TRADE, envelope_named, sheet_named
from kitwright.telling.steps import steps_of
from kitwright.units import Length, Size, on_grid, parse_size
from kitwright.work.working import work
from making import BATCH, CLUB, changed, look_over, make_kit, make_worked, serious


def base(root, size, fold, score=""):
    text = changed(BATCH, ("size: 8-1/2 x 5-1/2", f"size: {size}"), ("fold: side", f"fold: {fold}{score}"))
    return base_of(make_kit(root, text))


def sheets_of(sheet: str, size: str, n: int) -> Fraction:
    """Sheets that `auto` takes for so many pieces of one size."""
    return plan_paper(Demand("p", sheet_named(sheet).size, {"X": n}, {"X": parse_size(size)}, {}), "Paper").sheets


# --- bases and envelopes ------------------------------------------------------------------------


def test_half_a_letter_sheet_scored_at_4_1_4_makes_a_4_1_4_by_5_1_2_card(tmp_path):
    """Common practice, no source."""
    letter = sheet_named("Letter").size
    half = Size(letter.width, letter.height / 2)
    assert half == parse_size("8-1/2 x 5-1/2")
    card = base(tmp_path, "8-1/2 x 5-1/2", "side")
    assert card.cut == half and card.score == Length(Fraction(17, 4)) and card.finished == parse_size("4-1/4 x 5-1/2")
    assert sheets_of("Letter", "8-1/2 x 5-1/2", 1) == Fraction(1, 2)


def test_it_goes_in_an_a2_envelope_of_4_3_8_by_5_3_4(tmp_path):
    """Common practice, no source."""
    envelope = envelope_named("US A2 envelope")
    assert envelope.size in (parse_size("4-3/8 x 5-3/4"), parse_size("5-3/4 x 4-3/8")) and envelope.source == TRADE
    assert clearance(base(tmp_path, "8-1/2 x 5-1/2", "side").finished, envelope.size) == parse_size("1/8 x 1/4")


def test_the_same_base_turned_makes_a_landscape_top_fold(tmp_path):
    """Common practice, no source."""
    side = base(tmp_path / "side", "8-1/2 x 5-1/2", "side")
    top = base(tmp_path / "top", "5-1/2 x 8-1/2", "top")
    assert top.cut == side.cut.turned and top.finished == side.finished.turned == parse_size("5-1/2 x 4-1/4") and top.score == side.score


def test_a_portrait_top_fold_needs_another_cut(tmp_path):
    """Common practice, no source: a 4¼ × 11 base, not the same base turned."""
    top = base(tmp_path, "4-1/4 x 11", "top")
    assert top.finished == parse_size("4-1/4 x 5-1/2") and top.score == Length(Fraction(11, 2))
    assert top.cut not in (parse_size("8-1/2 x 5-1/2"), parse_size("5-1/2 x 8-1/2"))


@pytest.mark.parametrize(
    "card, name, envelope",
    [
        ("4-1/4 x 5-1/2", "US A2 envelope", "4-3/8 x 5-3/4"),
        ("5 x 7", "US A7 envelope", "5-1/4 x 7-1/4"),
        ("4-1/2 x 6-1/4", "US A6 envelope", "4-3/4 x 6-1/2"),
        ("5-1/4 x 5-1/4", "5½ square envelope", "5-1/2 x 5-1/2"),
        ("3-1/2 x 8-1/2", "slimline envelope", "3-3/4 x 8-3/4"),
    ],
)
def test_inch_envelopes_leave_an_eighth_to_a_quarter_each_way(card, name, envelope):
    """Common practice, no source."""
    size = envelope_named(name).size
    assert size in (parse_size(envelope), parse_size(envelope).turned)
    room = clearance(parse_size(card), size)
    assert all(Length(Fraction(1, 8)) <= side <= Length(Fraction(1, 4)) for side in (room.width, room.height))
    assert clearance(parse_size(card).turned, size) == room.turned, "whichever way the card lies"


def test_iso_envelopes_leave_more():
    """Common practice, no source: an A6 card in C6 has 9 and 14 mm."""
    room = clearance(sheet_named("ISO A6").size, envelope_named("ISO C6 envelope").size)
    assert room == Size(Length.mm(9), Length.mm(14))


def test_a_card_in_an_envelope_made_for_another_is_caught(tmp_path):
    """Common practice, no source: a 5 × 7 card does not go in an A6 or A2 envelope."""
    for i, name in enumerate(("US A2 envelope", "US A6 envelope", "ISO C6 envelope")):
        text = changed(
            BATCH,
            ("size: 8-1/2 x 5-1/2", "size: 10 x 7"),
            ("    size: Letter\npieces", "    size: 12 x 12\npieces"),
            ("US A2 envelope", name),
        )
        assert [f for f in errors(look_over(tmp_path / str(i), text)) if "does not fit" in f.problem]


# --- yields of real sheets ------------------------------------------------------------------------


def test_a4_gives_one_base_where_letter_gives_two():
    """Common practice, no source: 210 mm is less than 215.9, so three Letter sheets become six A4."""
    assert parse_size("8-1/2 x 5-1/2").width > sheet_named("A4").size.width
    assert sheets_of("Letter", "8-1/2 x 5-1/2", 6) == 3
    assert sheets_of("A4", "8-1/2 x 5-1/2", 6) == 6


def test_or_the_card_becomes_iso_a6():
    """Common practice, no source: A4 gives two bases for an A6 side fold, without waste."""
    assert sheets_of("A4", "210 x 148 mm", 6) == 3
    base_size = parse_size("210 x 148 mm")
    assert Size(base_size.width / 2, base_size.height) == sheet_named("ISO A6").size


def test_letter_gives_four_mats():
    """Common practice, no source: four of 4 × 5¼."""
    assert [sheets_of("Letter", "4 x 5-1/4", n) for n in (2, 4, 5, 8)] == [Fraction(1, 2), 1, Fraction(3, 2), 2]


def test_a_whole_and_a_half_letter_sheet_give_six_mats_of_3_1_4_by_5_1_4():
    """Common practice, no source."""
    assert sheets_of("Letter", "3-1/4 x 5-1/4", 6) == Fraction(3, 2)


# --- sheets are not always true -------------------------------------------------------------------------


def six_by_six(root, strip):
    sheet = changed(BATCH, ("    size: 12 x 12\n", "    size: 6 x 6\n"), ("size: 3-3/4 x 1-1/4", f"size: {strip}"))
    start = sheet.index("guides:\n")
    inches = strip.split(" x ")
    return look_over(
        root,
        sheet[:start] + f"guides:\n  - papers: river\n    cuts:\n      - 2 columns of {inches[0]} off the left:\n"
        f"          - 4 strips of {inches[1]} off the top: A\n",
    )


def test_a_guide_without_slack_is_pointed_out(tmp_path):
    """Common practice, no source: a 6 × 6 can measure 5 15/16, or lose its glued edge; a guide without slack fails on it."""
    tight, loose = six_by_six(tmp_path / "a", "3 x 1-1/2"), six_by_six(tmp_path / "b", "2-7/8 x 1-3/8")
    said = [f for f in tight if "slack" in f.problem and "River" in f.problem]
    assert said and all(f.level == "hint" for f in said) and not [f for f in loose if "slack" in f.problem and "River" in f.problem]


def test_the_tight_guide_does_fail_on_a_short_sheet_and_the_loose_one_does_not():
    """Common practice, no source: the same cuts on a sheet of 5 15/16."""
    short = parse_size("5-15/16 x 5-15/16")

    def cut(strip):
        width, height = strip.split(" x ")
        return Reader({"A": parse_size(strip)}, "in", lambda *p: Place()).read(
            [{f"2 columns of {width} off the left": [{f"4 strips of {height} off the top": "A"}]}], short
        )

    with pytest.raises(UserError, match="past"):
        cut("3 x 1-1/2")
    node = cut("2-7/8 x 1-3/8")
    assert tree.yields(node) == {"A": 8} and tree.slack(node).fits(parse_size("1 x 1"))


# --- borders, gaps and the ruler ---------------------------------------------------------------------------


def test_the_starter_has_borders_and_gaps_of_an_eighth(tmp_path):
    """Common practice, no source."""
    (tmp_path / "kits").mkdir()
    (tmp_path / "kits" / "club.yaml").write_text(CLUB)
    kit = read_kit(write_starter(tmp_path / "kits", "2030-01-first", None), read_club(tmp_path / "kits"))
    assert kit.spec.front.border == kit.spec.front.gap == Length(Fraction(1, 8)) and not serious(check(work(kit)))


def test_trimmer_work_is_good_to_a_sixteenth(tmp_path):
    """Common practice, no source: a size between the marks is pointed out."""
    assert on_grid(Length(Fraction(15, 16))) and not on_grid(Length(Fraction(29, 32)))
    found = look_over(tmp_path, changed(BATCH, ("size: 3-3/4 x 7/8", "size: 3-3/4 x 29/32")))
    assert [f for f in found if "sixteenths" in f.problem]


# --- at the desk ---------------------------------------------------------------------------------------------


def test_a_one_way_paper_is_turned_the_right_way_up_before_its_first_cut(tmp_path):
    """Common practice, no source."""
    text = changed(BATCH, ("colours: [sky, white]}", "colours: [sky, white], up: right}"))
    cut = next(s for s in steps_of(make_worked(tmp_path / "a", text)) if s.stage == "cut")
    (line,) = [one for one in cut.lines if "River" in one]
    assert "right way up before the first cut" in line and line.startswith("Cut")
    assert "right way up" not in " ".join(next(s for s in steps_of(make_worked(tmp_path / "b", BATCH)) if s.stage == "cut").lines)


def test_cut_like_sizes_at_one_measure(tmp_path):
    """Common practice, no source: the ruler is set once for strips that are alike."""
    layout = make_worked(tmp_path, BATCH).layouts[0]
    marks = [cut.measure for cut in layout.cuts]
    changes = 1 + sum(a != b for a, b in zip(marks, marks[1:]))
    assert changes == len(layout.measures) == 3, "3¾, 1¼, ⅞: each set once"


def test_halve_first_then_strip():
    """Common practice, no source: a maker's guide can say it so, and the halving is the first stroke."""
    node = Reader({"A": parse_size("6 x 2")}, "in", lambda *p: Place()).read(
        [{"halve at 6 down": [{"6 strips of 2 off the top": "A"}]}], parse_size("12 x 12")
    )
    strokes = tree.cuts(node)
    assert (
        strokes[0].axis == "x" and strokes[0].at == Length(6) and all(c.axis == "y" for c in strokes[1:]) and tree.yields(node) == {"A": 12}
    )


def test_a_last_narrow_piece_is_more_than_the_trimmer_can_hold(tmp_path):
    """Common practice, no source: it is held flat with removable tape, so the check speaks up."""
    narrow = changed(
        BATCH,
        (
            "          - 6 strips of 7/8 off the top: B\n",
            "          - 6 strips of 7/8 off the top: B\n          - 3 strips of 3/4 off the top:\n              - 2 strips of 3/8 off the top: leftover\n",
        ),
    )
    assert [f for f in look_over(tmp_path / "a", narrow) if "too narrow" in f.problem]
    assert not [f for f in look_over(tmp_path / "b", BATCH) if "too narrow" in f.problem]


def test_cardstock_is_cut_one_sheet_at_a_time(tmp_path):
    """Common practice, no source: what a club says of its trimmer, unless it says otherwise."""
    assert make_kit(tmp_path, BATCH).club.trimmer.sheets_at_once == 1


def test_score_before_folding(tmp_path):
    """Common practice, no source."""
    (score,) = [s for s in steps_of(make_worked(tmp_path, BATCH)) if s.stage == "score"]
    words = " ".join(score.lines).lower()
    assert words.index("score") < words.index("fold and press")


def test_heavy_stock_is_scored_on_the_side_that_becomes_the_outside(tmp_path):
    """Common practice, no source."""

    def lines(weight, name):
        text = changed(BATCH, ("    name: White cardstock\n", f"    name: White cardstock\n    weight: {weight}\n"))
        (score,) = [s for s in steps_of(make_worked(tmp_path / name, text)) if s.stage == "score"]
        return " ".join(score.lines)

    assert "outside of the fold" in lines("110 lb cover", "heavy") and "outside" not in lines("176 gsm", "light")


# --- notches ---------------------------------------------------------------------------------------------------

STRIP = Piece(size=parse_size("3 x 3/4"), paper="p", notch=Notch())


def test_a_right_angled_notch_is_half_as_deep_as_the_strip_is_tall():
    """Common practice, no source: made with the corner of a square punch."""
    depth = notch_depth(STRIP.size, STRIP.notch)
    assert depth * 2 == STRIP.size.height
    corners = outline(Rect.of(STRIP.size), notches_on_card(STRIP, False))
    tip = next(c for c in corners if c[0] == STRIP.size.width - depth)
    above, below = (STRIP.size.width, Length(0)), (STRIP.size.width, STRIP.size.height)
    # The two edges that meet at the notch's bottom stand at a right angle: their product is nothing.
    one, other = ((a[0] - tip[0], a[1] - tip[1]) for a in (above, below))
    assert one[0].inches * other[0].inches + one[1].inches * other[1].inches == 0


def test_it_does_not_shorten_the_strip_but_takes_room_between_the_notch_bottoms():
    """Common practice, no source."""
    rect, notches = Rect.of(STRIP.size), notches_on_card(STRIP, False)
    across = [x for x, _ in outline(rect, notches)]
    assert max(across) - min(across) == STRIP.size.width
    assert clear_of_notches(rect, notches).width == STRIP.size.width - STRIP.size.height


def test_a_square_of_side_s_notches_a_strip_up_to_s_times_root_two_tall():
    """Common practice, no source: the notch's own edges are as long as the square that cuts them, and no longer."""
    for tall in (Fraction(1, 2), Fraction(3, 4), Fraction(1), Fraction(5, 4)):
        strip = Piece(size=Size(Length(4), Length(tall)), paper="p", notch=Notch(ends="right"))
        corners = outline(Rect.of(strip.size), notches_on_card(strip, False))
        (tip,) = [c for c in corners if c[1] == strip.size.height / 2]
        edge_squared = (strip.size.width - tip[0]).inches ** 2 + tip[1].inches ** 2
        assert 2 * edge_squared == tall**2, "tall = s√2"
