"""The steps for the batch: all stages, in the order of the work, derived from the layers."""

from foldedkits import GATE, TRI
from kitwright.telling.steps import TITLES, steps_of
from kitwright.telling.sums import face_sums
from making import BATCH, TWO_PAPERS, changed, make_worked
from oddkits import kit

STRIP = changed(
    BATCH,
    ("  M:\n", "  S:\n    size: 3 x 1\n    paper: cream\n  M:\n"),
    ("sentiment:\n", "  over:\n    - {piece: S, on: band, raised: yes}\nsentiment:\n"),
    ("  on: band\n", "  on: S\n"),
    ("guides:\n", "decorations:\n  - {name: three dots, size: 1/2 x 1/4, right: 1/8, bottom: 1/8, optional: yes}\nguides:\n"),
)


def lines(worked, stage):
    return next((" ".join(s.lines) for s in steps_of(worked) if s.stage == stage), "")


def test_stages_come_in_the_order_of_the_work(tmp_path):
    assert list(TITLES) == ["cut", "stamp", "score", "build", "mount", "finish"]
    stages = [s.stage for s in steps_of(make_worked(tmp_path / "a", STRIP))]
    assert stages == list(TITLES)
    assert [s.stage for s in steps_of(make_worked(tmp_path / "b", BATCH))] == ["cut", "stamp", "score", "build", "mount"], (
        "nothing to finish, no such step"
    )


def test_every_sheet_that_is_cut_is_named_with_its_count(tmp_path):
    cut = lines(make_worked(tmp_path, BATCH), "cut")
    assert all(words in cut for words in ("1 sheet of River", "2½ sheets of Cream cardstock", "4½ sheets of White cardstock"))


def test_stamping_is_done_in_one_go_with_a_test_print_and_drying(tmp_path):
    for i, text in enumerate((BATCH, STRIP)):
        stamp = lines(make_worked(tmp_path / str(i), text), "stamp")
        assert all(words in stamp for words in ("once", "test print", "all 9 in one go", "dry"))
    assert "S" in stamp and "before" in stamp, "a strip is stamped before it goes on"


def test_scoring_says_where_and_before_folding(tmp_path):
    score = lines(make_worked(tmp_path / "side", BATCH), "score")
    assert "4¼ in from the left edge" in score and score.index("core") < score.index("fold")
    top = changed(BATCH, ("size: 8-1/2 x 5-1/2", "size: 4-1/4 x 11"), ("fold: side", "fold: top"))
    assert "5½ in from the top edge" in lines(make_worked(tmp_path / "top", top), "score")


def test_heavy_stock_is_scored_on_the_outside(tmp_path):
    """Common practice, no source."""

    def said(weight, name):
        text = changed(BATCH, ("    name: White cardstock\n", f"    name: White cardstock\n    weight: {weight}\n"))
        return "outside of the fold" in lines(make_worked(tmp_path / name, text), "score")

    assert said("110 lb cover", "heavy") and not said("65 lb cover", "light")


def test_a_front_is_built_from_the_edges_inward_with_each_distance(tmp_path):
    build = lines(make_worked(tmp_path, BATCH), "build")
    assert "edges inward" in build and "free band" in build
    assert build.index("A (River)") < build.index("B (River)") and "bottom edge of M" in build and build.count("⅛ in") >= 6


def test_raised_pieces_and_decoration_come_at_the_end(tmp_path):
    worked = make_worked(tmp_path, STRIP)
    finish = lines(worked, "finish")
    assert "S" in finish and "foam" in finish and "three dots" in finish and "If you like" in finish
    assert "foam" not in lines(worked, "build")


def test_the_mat_goes_on_the_base_with_its_border(tmp_path):
    mount = lines(make_worked(tmp_path / "a", BATCH), "mount")
    assert "M (Cream cardstock) on the base" in mount and "⅛ in showing all round" in mount
    off = lines(make_worked(tmp_path / "b", changed(BATCH, ("    - M\n", "    - {piece: M, left: 1/4, top: 0, meant: uneven}\n"))), "mount")
    assert "¼ in from its left edge" in off


def test_own_words_take_the_place_of_one_stage_only(tmp_path):
    worked = make_worked(tmp_path, BATCH + "steps:\n  score: Fold with care.\n")
    assert [(s.lines, s.own) for s in steps_of(worked) if s.stage == "score"] == [(("Fold with care.",), True)]
    assert not any(s.own for s in steps_of(worked) if s.stage != "score") and lines(worked, "cut")


def test_a_one_way_paper_is_laid_the_right_way_up_before_its_first_cut(tmp_path):
    text = changed(BATCH, ("colours: [sky, white]}", "colours: [sky, white], up: top}"))
    cut = lines(make_worked(tmp_path, text), "cut")
    assert "River the right way up before the first cut" in cut


def test_papers_cut_alike_are_cut_by_one_guide(tmp_path):
    cut = lines(make_worked(tmp_path, TWO_PAPERS), "cut")
    assert "River" in cut and "Meadow" in cut and "alike" in cut
    # Found by the planner, each has a guide of its own that says the same.
    found = lines(make_worked(tmp_path / "auto", TWO_PAPERS.partition("guides:\n")[0]), "cut")
    assert "1 sheet of River and 1 sheet of Meadow as drawn" in found and "alike" in found


def test_the_last_half_sheet_is_halved_first(tmp_path):
    cut = lines(make_worked(tmp_path, BATCH), "cut")
    assert cut.count("Half of the last sheet is enough") == 2, "2½ of cream, 4½ of white; the one sheet of River is whole"


def test_a_band_is_told_where_it_will_be_while_nothing_lies_beside_it(tmp_path):
    """Worked by hand: ⅛ + 1¼ + ⅛ + ⅞ + ⅛ = 2½ down, and 5¼ − 2½ − ⅛ − ⅞ − ⅛ = 1⅝ tall."""
    stamp = lines(make_worked(tmp_path, BATCH), "stamp")
    assert "The band begins 2½ in from the top of M and is 1⅝ in tall." in stamp and "stamp each M" in stamp


def test_shaped_pieces_are_shaped_and_others_not_spoken_of(tmp_path):
    notched = changed(STRIP, ("    size: 3 x 1\n", "    size: 3 x 1\n    notch: {ends: both}\n"))
    assert "Shape S as the templates show." in lines(make_worked(tmp_path / "a", notched), "cut")
    assert "Shape" not in lines(make_worked(tmp_path / "b", STRIP), "cut")


def test_another_look_is_told_by_the_papers_that_change_places(tmp_path):
    build = lines(make_worked(tmp_path, TWO_PAPERS), "build")
    assert "take Meadow for River" in build and "For " in build


def test_decoration_is_measured_from_what_it_lies_on(tmp_path):
    assert "from the left edge of M and" in lines(make_worked(tmp_path, STRIP), "finish")


def test_two_alike_side_by_side_are_told_apart(tmp_path):
    beside = changed(
        BATCH,
        ("    - B\n    - band\n    - B\n", "    - [C, C]\n    - band\n    - B\n"),
        ("    per card: 2\n", "    per card: 1\n"),
        ("  M:\n", "  C: {size: 1-13/16 x 7/8, paper: river, per card: 2}\n  M:\n"),
    )
    beside = beside[: beside.index("guides:\n")]
    assert "⅛ in from the C before it" in lines(make_worked(tmp_path, beside), "build")


def test_of_three_alike_the_one_to_measure_from_is_told(tmp_path):
    """Of bunting, the outer flags go down first: “the one before it” would be at the other end."""
    flags = "".join(f"    - {{piece: D, {at}}}\n" for at in ("left: 1/8, top: 1/8", "left: 1-1/8, top: 1/8", "right: 1/8, top: 1/8"))
    text = changed(
        BATCH[: BATCH.index("guides:\n")],
        ("  M:\n", "  D: {size: 3/4 x 3/4, paper: river, per card: 3}\n  M:\n"),
        ("    - A\n    - B\n    - band\n    - B\n", ""),
        ("  rows:\n", f"  places:\n{flags}"),
        ("  on: band\n", "  on: M\n"),
    )
    build = lines(make_worked(tmp_path, text), "build")
    assert "before it" not in build and "from the first D" in build, build


def test_a_neighbour_that_lies_there_twice_is_told_with_its_paper(tmp_path):
    text = changed(BATCH, ("    - A\n    - B\n    - band\n    - B\n", "    - B\n    - A\n    - band\n    - B\n"))
    (build,) = [step for step in steps_of(make_worked(tmp_path, text)) if step.stage == "build"]
    (line,) = [line for line in build.lines if line.startswith("A (River): ")]
    assert "from B (River)" in line


def test_a_bare_front_does_not_take_the_first_move_for_the_way_to_go_about_it(tmp_path):
    """The first line of a stage tells how to go about it; the moves that follow are counted."""
    bare = changed(TRI, ("  front: {border: 1/8, rows: [A]}", "  inside front: {border: 1/8, rows: [A]}"))
    (built,) = [step for step in steps_of(make_worked(tmp_path, bare)) if step.stage == "build"]
    assert built.lines[0].startswith("Work from the edges") and built.lines[1].startswith("On the inside of the front")


def test_a_sum_names_its_face_once(tmp_path):
    """What lies on a full layer of a face is told with the face; what lies on the face itself names it."""
    inside = "  inside: {border: 1/8, rows: [N]}"
    for text, said in ((GATE, ""), (changed(GATE, (inside, "  inside: {layers: [N], border: 1/8, rows: [band]}")), "Inside")):
        worked = make_worked(tmp_path / (said or "itself"), text)
        assert {face for face, line in face_sums(worked) if line.on in ("inside", "N")} == {said}


def test_of_one_card_nothing_is_told_as_of_a_batch(tmp_path):
    worked = make_worked(tmp_path, kit(greeting=True))
    told = " ".join(line for step in steps_of(worked) for line in step.lines)
    assert "lay one piece at a time" in told and "in one go" not in told and "all 1" not in told
