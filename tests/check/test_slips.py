"""Slips of the base, of decoration, of names and of the reveal: a sound kit is silent, a slip is told at its line with what would be right."""

import pytest
from examples import tried
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.otherwise.checked import check
from kitwright.release.calendar import findings
from kitwright.release.lookover import look_over as whole
from kitwright.work.working import work
from making import BATCH, CLUB, changed, line_of, look_over, make_kit, make_worked, serious

BASE = "    size: 8-1/2 x 5-1/2\n"
RAISED = changed(
    BATCH,
    ("  M:\n", "  S:\n    size: 3 x 1\n    for: sentiment strip\n    paper: cream\n  M:\n"),
    ("sentiment:\n", "  over:\n    - {piece: S, on: band, raised: yes}\nsentiment:\n"),
    ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 1-3/4 x 3/4\n  on: S\n"),
)
"""The batch with a raised strip over the band."""
COLUMN = changed(
    BATCH,
    ("    size: 8-1/2 x 5-1/2\n", "    size: 5-1/2 x 8-1/2\n"),
    ("fold: side", "fold: top"),
    ("size: 4 x 5-1/4", "size: 5-1/4 x 4"),
    ("  rows:\n    - A\n    - B\n    - band\n    - B\n", "  columns:\n    - A turned\n    - B turned\n    - band\n    - B turned\n"),
    ("size: 2-1/2 x 3/4", "size: 1-1/4 x 3/4"),
)
"""The same as a landscape card that opens at the top."""


def said(found, words):
    return [f for f in found if words in f.problem]


# --- the base -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "good, typed, fold, line, write",
    [
        (BATCH, "4-1/4 x 5-1/2", "", "size: 4-1/4 x 5-1/2", "size: 8 1/2 x 5 1/2 in"),
        (BATCH, "5-1/2 x 8-1/2", "", "size: 5-1/2 x 8-1/2", "size: 8 1/2 x 5 1/2 in"),
        (BATCH, "4-1/4 x 11", "", "fold: side", "fold: top"),
        (BATCH, "8-1/2 x 5-1/2", "top", "fold: top", "fold: side"),
        (BATCH, "11 x 4-1/4", "", "size: 11 x 4-1/4", "size: 4 1/4 x 11 in  and  fold: top"),
        (BATCH, "4-1/4 x 5-1/2", "top", "size: 4-1/4 x 5-1/2", "size: 4 1/4 x 11 in"),
        (BATCH, "108 x 140 mm", "", "size: 108 x 140 mm", "size:"),
        (COLUMN, "5-1/2 x 4-1/4", "", "size: 5-1/2 x 4-1/4", "size: 5 1/2 x 8 1/2 in"),
        (COLUMN, "8-1/2 x 5-1/2", "", "size: 8-1/2 x 5-1/2", "size: 5 1/2 x 8 1/2 in"),
        (COLUMN, "11 x 4-1/4", "", "fold: top", "fold: side"),
    ],
)
def test_a_base_typed_otherwise_than_meant(tmp_path, good, typed, fold, line, write):
    old = BASE if good is BATCH else "    size: 5-1/2 x 8-1/2\n"
    text = changed(good, (old, f"    size: {typed}\n"), *([("fold: side", f"fold: {fold}")] if fold else []))
    (found,) = [f for f in look_over(tmp_path, text) if "not everything fits on it" in f.problem]
    assert (found.level, found.place.line) == ("error", line_of(text, line)) and write in found.remedy


def test_a_base_typed_as_the_folded_card_and_scored_at_its_edge(tmp_path):
    text = changed(BATCH, (BASE, "    size: 4-1/4 x 5-1/2\n"), ("fold: side", "fold: side\n  score: 4-1/4"))
    (found,) = said(look_over(tmp_path, text), "size of the folded card")
    assert "8 1/2 x 5 1/2" in found.remedy and "no card" in found.problem


@pytest.mark.parametrize(
    "text",
    [
        BATCH,
        COLUMN,
        changed(BATCH, ("  envelope: US A2 envelope\n", "  envelope: 9 x 6\n")),
        changed(BATCH, ("  envelope: US A2 envelope\n", "")),
        changed(BATCH, ("size: 4 x 5-1/4", "size: 4-1/2 x 5-1/4"), ("  envelope: US A2 envelope\n", "")),
        changed(BATCH, ("fold: side", "fold: side\n  score: 4-1/8")),
    ],
    ids=["side", "top", "large envelope", "none", "a mat too wide", "off the middle"],
)
def test_a_base_that_is_right_is_not_advised_on(tmp_path, text):
    assert not [f for f in look_over(tmp_path, text) if "not everything fits" in f.problem]


@pytest.mark.parametrize(
    "paper, words",
    [
        ("    weight: 169 gsm\n", "169 g/m²,"),
        ("    weight: 24 lb bond\n", "24 lb bond (90 g/m²)"),
        ("    weight: 120 gsm\n", "120 g/m²,"),
        ("    thickness: 0.005\n", "thin"),
        ("    weight: 60 lb text\n", "thin"),
    ],
)
def test_a_base_of_thin_paper(tmp_path, paper, words):
    text = changed(BATCH, ("    name: White cardstock\n    size: Letter\n", f"    name: White cardstock\n    size: Letter\n{paper}"))
    (found,) = serious(look_over(tmp_path, text))
    assert found.level == "warning" and words in found.problem and found.place.line == line_of(text, "    paper: white")
    meant = changed(text, ("    paper: white\n", "    paper: white\n    meant: thin\n"))
    assert serious(look_over(tmp_path / "meant", meant)) == []


def test_a_base_of_patterned_paper(tmp_path):
    text = changed(BATCH, ("    kind: cardstock\n    name: White cardstock\n", "    kind: patterned\n    name: White paper\n"))
    (found,) = serious(look_over(tmp_path, text))
    assert "patterned paper" in found.problem
    assert (
        serious(look_over(tmp_path / "heavy", changed(text, ("    name: White paper\n", "    name: White paper\n    weight: 216 gsm\n"))))
        == []
    )


@given(st.integers(20, 400))
@example(170)
@example(169)
@tried(6)
def test_thin_is_below_sixty_five_pound_cover(tmp_path_factory, grams):
    text = changed(
        BATCH, ("    name: White cardstock\n    size: Letter\n", f"    name: White cardstock\n    size: Letter\n    weight: {grams} gsm\n")
    )
    assert bool(said(look_over(tmp_path_factory.mktemp("g"), text), "thin for a card base")) == (grams < 170)


# --- borders --------------------------------------------------------------------------------------

INSIDE = changed(BATCH, ("  M:\n", "  P:\n    size: 4 x 5\n    paper: cream\n  M:\n"), ("  envelope:", "  inside: P\n  envelope:"))
TWO = changed(BATCH, ("  M:\n", "  L:\n    size: 4-1/8 x 5-3/8\n    paper: white\n  M:\n"), ("    - M\n", "    - L\n    - M\n"))
BORDERS = {  # name: (sound text, old, new, words, line)
    "a mat at the left edge": (BATCH, "    - M\n", "    - {piece: M, left: 0}\n", "touches the left edge of the base", "{piece: M"),
    "a mat at the bottom edge": (BATCH, "    - M\n", "    - {piece: M, bottom: 0}\n", "touches the bottom edge of the base", "{piece: M"),
    "a mat that slid to the edge": (BATCH, "    - M\n", "    - {piece: M, left: 1/4}\n", "touches the right edge of the base", "{piece: M"),
    "the upper of two layers": (TWO, "    - M\n", "    - {piece: M, top: 0}\n", "touches the top edge of L", "{piece: M"),
    "the lower of two layers": (TWO, "    - L\n", "    - {piece: L, right: 1/32}\n", "L on the base", "{piece: L"),
    "by more than an eighth": (
        changed(BATCH, ("  M:\n    size: 4 x 5-1/4", "  M:\n    size: 4 x 4-1/2"), ("    - band\n    - B\n", "    - band\n")).replace(
            "per card: 2", "per card: 1"
        ),
        "    - M\n",
        "    - {piece: M, top: 1/4}\n",
        "¼ in at the top, but ¾ in at the bottom",
        "{piece: M",
    ),
    "the panel inside": (
        INSIDE,
        "  inside: P\n",
        "  inside: {piece: P, top: 1/8}\n",
        "P on the inside: ⅛ in at the top, but ⅜ in at the bottom",
        "inside:",
    ),
    "the panel inside, at the edge": (
        changed(INSIDE, ("size: 4 x 5\n", "size: 2 x 5\n")),
        "  inside: P\n",
        "  inside: {piece: P, right: 0}\n",
        "P touches the right edge of the inside",
        "inside:",
    ),
    "a strip that misses the middle": (
        RAISED,
        "{piece: S, on: band, raised: yes}",
        "{piece: S, on: band, left: 5/16, raised: yes}",
        "S on the band: 5⁄16 in at the left, but 7⁄16 in at the right",
        "piece: S",
    ),
}


@pytest.mark.parametrize("name", BORDERS)
def test_opposite_borders_of_any_layer(tmp_path, name):
    good, old, new, words, line = BORDERS[name]
    assert serious(look_over(tmp_path / "good", good)) == []
    text = changed(good, (old, new))
    (found,) = serious(look_over(tmp_path / "slip", text))
    assert (
        found.level == "warning" and words in found.problem and found.place.line == line_of(text, line) and "meant: uneven" in found.remedy
    )
    meant = changed(text, (new, new.replace("}", ", meant: uneven}")))
    assert serious(look_over(tmp_path / "meant", meant)) == []


def test_a_panel_inside_with_a_free_place_beside_it_is_placed_on_purpose(tmp_path):
    text = changed(INSIDE, ("size: 4 x 5\n", "size: 2 x 5\n"), ("  inside: P\n", "  inside: {piece: P, right: 1/8}\n"))
    assert serious(look_over(tmp_path, text)) == []


@pytest.mark.parametrize("bottom, silent", [("1/8", True), ("7/16", False), ("1/2", True), ("3/4", True), ("1/4", False)])
def test_a_free_place_of_half_an_inch_beside_pieces_by_position(tmp_path, bottom, silent):
    """From half an inch on the place is left for something; below, the borders look meant to be equal."""
    text = changed(
        BATCH,
        (
            "  rows:\n    - A\n    - B\n    - band\n    - B\n",
            "  places:\n    - {piece: A, top: 1/8}\n    - {piece: B, top: 1-1/2}\n    - {piece: B, bottom: " + bottom + "}\n",
        ),
        ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 2-1/2 x 1/4\n  on: M\n"),
        ("  border: 1/8\n", ""),
    )
    assert bool(said(look_over(tmp_path, text), "the pieces on their layer")) != silent


def test_a_strip_far_from_the_middle_is_placed_on_purpose(tmp_path):
    for place in ("left: 0", "left: 1/8", "right: 1/16"):
        text = changed(RAISED, ("{piece: S, on: band, raised: yes}", f"{{piece: S, on: band, {place}, raised: yes}}"))
        assert serious(look_over(tmp_path / place.replace("/", "").replace(": ", ""), text)) == []


# --- decoration -------------------------------------------------------------------------------------


def decorated(said_):
    return changed(RAISED, ("guides:\n", f"decorations:\n  - {{name: a leaf, {said_}}}\nguides:\n"))


@pytest.mark.parametrize(
    "said_",
    [
        "size: 1/4 x 1/4, on: S, right: 1/8",
        "size: 1/4 x 1/4, on: band, left: 1/16",
        "size: 1/4 x 1/4, on: A, right: 1/4",
        "size: 1/2 x 1/2, on: front, top: 1/8, left: 1/4",
        "size: 3 x 2, on: S, meant: larger",
        "size: 1/4 x 1/4, on: band, left: 1/4, meant: overhang",
    ],
)
def test_decoration_that_is_carried(tmp_path, said_):
    text = decorated(said_)
    assert [f for f in serious(look_over(tmp_path, text)) if "sentiment" not in f.problem] == []


@pytest.mark.parametrize(
    "said_, words",
    [
        ("size: 1/2 x 1-1/4, on: S, right: 1/8", "larger than S, 3 × 1 in"),
        ("size: 1/4 x 2, on: band, right: 0", "larger than the band"),
        ("size: 3-7/8 x 1/4, on: A", "larger than A"),
        ("size: 1/4 x 1/4, on: band, left: 1/4", "half under S"),
        ("size: 1/4 x 1/4, on: M, left: 3/8, top: 3", "half under S"),
        ("size: 1/4 x 1/4, on: front, left: 1, top: 3", "under S, which stands on foam"),
        ("size: 1/4 x 1/4, on: A, right: 3-5/8", None),
        ("size: 1/4 x 1/4, on: A, right: 3-9/16", "past the left edge of A"),
    ],
)
def test_decoration_that_is_not(tmp_path, said_, words):
    text = decorated(said_)
    found = [f for f in serious(look_over(tmp_path, text)) if "covers" not in f.problem]
    if words is None:
        # Past what carries it by a little, yet on the card.
        assert len(found) == 1 and "past the left edge of A" in found[0].problem
        return
    assert [f.level for f in found if words in f.problem] == ["warning"] and all(
        f.place.line == line_of(text, "a leaf") and f.remedy for f in found
    )


def test_decoration_half_under_a_raised_piece_of_the_front_itself(tmp_path):
    text = changed(
        BATCH,
        (
            "  rows:\n    - A\n    - B\n    - band\n    - B\n",
            "  places:\n    - {piece: A, top: 1/8}\n    - {piece: B, top: 1-1/2, raised: yes}\n    - {piece: B, bottom: 1/8}\n",
        ),
        ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 2-1/2 x 1/4\n  on: M\n"),
        (
            "guides:\n",
            "decorations:\n  - {name: a leaf, size: 1/2 x 1/2, on: front, left: 1, top: 2-1/8}\n  - {name: a dot, size: 1/8 x 1/8, on: front, left: 1/4, top: 4}\nguides:\n",
        ),
    )
    (found,) = [f for f in serious(look_over(tmp_path, text)) if "covers" not in f.problem and "sentiment" not in f.problem]
    assert "a leaf lies on the front, half under B" in found.problem


# --- names ------------------------------------------------------------------------------------------


def with_piece(piece):
    return changed(
        BATCH,
        ("  M:\n", f"  C: {piece}\n  M:\n"),
        ("sentiment:\n", "  over:\n    - {piece: C, on: band, left: 1/8}\nsentiment:\n"),
        ("  size: 2-1/2 x 3/4\n", "  size: 1/4 x 1/4\n"),
    )


@pytest.mark.parametrize(
    "piece",
    [
        "{size: 1 x 1, for: circle, paper: cream, shape: {rounded: 1/2}}",
        "{size: 1-1/2 x 1, for: pill, paper: cream, shape: {rounded: 1/2}}",
        "{size: 1 x 1, for: panel, paper: cream, shape: {rounded: 1/4}}",
        "{size: 1 x 1/2, for: half circle, paper: cream, shape: {arch: top}}",
        "{size: 1 x 1-1/4, for: doorway, paper: cream, shape: {arch: top}}",
        "{size: 1 x 1, for: square, paper: cream}",
        "{size: 1 x 1-1/4, for: round window, paper: cream, shape: {window: {size: 1/2 x 1/2, rounded: 1/4}}}",
        "{size: 1-1/4 x 1, for: corner of a circle, paper: cream}",
    ],
)
def test_shapes_that_are_what_they_are_called(tmp_path, piece):
    assert serious(look_over(tmp_path, with_piece(piece))) == []


@pytest.mark.parametrize(
    "piece, words, remedy",
    [
        ("{size: 1 x 1, for: circle, paper: cream, shape: {rounded: 3/8}}", "is called a circle", "rounded: 1/2"),
        ("{size: 1 x 1-1/16, for: disc, paper: cream, shape: {rounded: 1/2}}", "is called a circle", "1 x 1"),
        ("{size: 1 x 1, paper: cream, shape: {rounded: 7/16}}", "looks like a circle", "rounded: 1/2"),
        ("{size: 1 x 1-1/8, paper: cream, shape: {rounded: 1/2}}", "looks like a circle", "1 x 1"),
        (
            "{size: 1 x 1, for: circles, paper: cream, shape: {rounded: 1/2, corners: [top left, top right]}}",
            "is called a circle",
            "rounded",
        ),
        ("{size: 1 x 1, for: circle, paper: cream}", "is called a circle", "rounded: 1/2"),
        ("{size: 1 x 9/16, for: sun, paper: cream, shape: {arch: top}}", "looks like a half circle", "½ in deep"),
        ("{size: 1 x 3/4, for: half circle, paper: cream, shape: {arch: top}}", "is called a half circle", "½ in deep"),
        ("{size: 1 x 3/4, for: half circle, paper: cream}", "is called a half circle", "arch"),
        ("{size: 1 x 3/4, for: small square, paper: cream}", "is called a square", "3/4 x 3/4"),
        (
            "{size: 1 x 1, for: pane, paper: cream, shape: {window: {size: 1/2 x 1/2, rounded: 3/16}}}",
            "the window of C looks like a circle",
            "rounded: 1/4",
        ),
    ],
)
def test_shapes_that_are_not(tmp_path, piece, words, remedy):
    text = with_piece(piece)
    (found,) = serious(look_over(tmp_path, text))
    assert found.level == "warning" and words in found.problem and remedy in found.remedy and found.place.line == line_of(text, "  C: {")


@pytest.mark.parametrize(
    "name, level", [("Kraft cardstock", "warning"), ("Navy", "warning"), ("Heavy cardstock", "hint"), ("Snow white", None), ("White", None)]
)
def test_cardstock_without_a_colour(tmp_path, name, level):
    text = changed(
        BATCH, ("  cream:\n", "  stock:\n"), ("name: Cream cardstock", f"name: {name}"), ("    paper: cream\n", "    paper: stock\n")
    )
    found = said(look_over(tmp_path, text), "drawn white")
    assert [f.level for f in found] == ([level] if level else []) and all(f.place.line == line_of(text, "  stock:") for f in found)
    coloured = changed(text, (f"name: {name}\n", f"name: {name}\n    front: {{colours: sage}}\n"))
    assert said(look_over(tmp_path / "coloured", coloured), "drawn white") == []


# --- the reveal ---------------------------------------------------------------------------------------


@given(st.datetimes(min_value=__import__("datetime").datetime(2028, 1, 1), max_value=__import__("datetime").datetime(2032, 1, 1)))
@tried(20)
def test_a_reveal_in_another_month_stops(tmp_path_factory, at):
    kit = make_kit(tmp_path_factory.mktemp("r"), BATCH + f"reveal: {at:%Y-%m-%d %H:%M}\n")
    assert bool(said(findings(kit, kit.club), "the reveal is in")) == ((at.year, at.month) != (2030, 1))


def test_a_reveal_a_year_early_says_so_and_may_be_meant(tmp_path):
    text = BATCH + "reveal: 2029-01-06 10:00\n"
    worked = make_worked(tmp_path, text)
    (found,) = [f for f in whole(worked, {}) if f.level == "error"]
    assert (
        "1 year early" in found.problem
        and "2030-01-06 10:00" in found.remedy
        and "meant: reveal" in found.remedy
        and found.place.line == line_of(text, "reveal:")
    )
    meant = work(make_kit(tmp_path / "meant", text + "meant: reveal\n"))
    assert [f for f in (*whole(meant, {}), *check(meant)) if f.level == "error"] == []


# --- what being meant does not excuse ------------------------------------------------------------------


def test_rows_that_overflow_their_band_are_told_though_uneven_is_meant(tmp_path):
    """Uneven is meant of what is left free; what reaches past the layer can't be glued."""
    text = changed(BATCH, ("- band", "- band 1-3/4"), ("  gap: 1/8\n", "  gap: 1/8\n  meant: uneven\n"))
    assert [f.level for f in look_over(tmp_path / "over", text) if "5⅜ in, not 5¼ in" in f.problem] == ["error"]
    short = changed(text, ("band 1-3/4", "band 1-1/2"))
    assert not [f for f in look_over(tmp_path / "short", short) if "not 5¼ in" in f.problem]


REACH = changed(
    BATCH,
    (
        "      - 3 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
        "      - 1 column of 11-1/4 off the left:\n          - turn\n          - 3 rows of 3-3/4 off the top:\n              - turn left\n              - 3 strips of 1-1/4 off the top: A\n              - 6 strips of 7/8 off the top: B\n",
    ),
)


@pytest.mark.parametrize("reach, told", [("12", False), ("8", False), ("3-3/4", False), ("3-1/2", True)])
def test_a_cut_may_be_set_from_either_side_of_the_ruler(tmp_path, reach, told):
    """11¼ of a 12 in sheet is ¾ from its other edge; 3¾ of what is left must be reached."""
    club = CLUB.replace("  least hold: 1\n", f"  least hold: 1/2\n  reach: {reach}\n")
    assert bool([f for f in said(look_over(tmp_path, REACH, club=club), "past the ruler's") if "River" in f.problem]) == told


def test_an_edge_that_is_never_cut_needs_no_slack(tmp_path):
    """Strips as wide as their sheet: only the way that is cut can fall short."""
    text = changed(
        BATCH,
        ("    size: 12 x 12\n", "    size: 3-3/4 x 12\n"),
        ("summary: Nine cards from one sheet.", "summary: Nine cards."),
        (
            "      - 3 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
            "      - 3 strips of 1-1/4 off the top: A\n      - 6 strips of 7/8 off the top: B\n",
        ),
    )
    assert not [f for f in said(look_over(tmp_path / "wide", text), "hardly any slack") if "River" in f.problem]
    tight = changed(text, ("    size: 3-3/4 x 12\n", "    size: 3-3/4 x 9\n"))
    (hint,) = [f for f in said(look_over(tmp_path / "tight", tight), "hardly any slack") if "River" in f.problem]
    assert "along" in hint.problem and "across" not in hint.problem


# --- a foot, and what it is rounded to ------------------------------------------------------------------


@pytest.mark.parametrize(
    "sheet, told", [("30.5 x 30.5 cm", False), ("12 x 12 in", False), ("306 x 306 mm", True), ("12-1/16 x 12-1/16 in", True)]
)
def test_a_trimmer_for_12_inches_cuts_a_sheet_of_30_5_cm(tmp_path, sheet, told):
    text = changed(BATCH, ("size: 12 x 12", f"size: {sheet}"))
    assert any("past the trimmer" in f.problem for f in look_over(tmp_path, text)) == told
