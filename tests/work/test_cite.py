"""Citations: prose names a size or a count, and never retypes it."""

import pytest
from kitwright.errors import UserError
from kitwright.release.answers import read_answers
from kitwright.telling.steps import steps_of
from kitwright.work.cite import notes_of
from making import BATCH, changed, line_of, make_worked
from several import SEVERAL


@pytest.mark.parametrize(
    "phrase, says",
    [
        ("cards", "9 cards"),
        ("title", "Nine strips"),
        ("size of A", "3¾ × 1¼ in"),
        ("width of A", "3¾ in"),
        ("height of B", "⅞ in"),
        ("count of A", "9"),
        ("count of B in river", "18"),
        ("sheets of cream", "2½ sheets"),
        ("sheets of white", "4½ sheets"),
        ("sheets of river", "1 sheet"),
        ("name of river", "River"),
        ("sheet of cream", "Letter"),
        ("sheet of river", "12 × 12 in"),
        ("size of base", "8½ × 5½ in"),
        ("count of base", "9"),
        ("size of card", "4¼ × 5½ in"),
        ("score", "4¼ in"),
        ("border", "⅛ in"),
        ("gap", "⅛ in"),
        ("band", "1⅝ in"),
        ("envelope", "US A2 envelope"),
        ("sentiment", "thank you"),
        ("M per sheet of cream", "4"),
        ("  size   of  A ", "3¾ × 1¼ in"),
    ],
)
def test_each_kind_of_citation(tmp_path, phrase, says):
    assert notes_of(make_worked(tmp_path, BATCH, f"Here: [[{phrase}]].\n")) == f"Here: {says}.\n"


def test_many_on_one_line_and_prose_untouched(tmp_path):
    notes = "# A & B\n\nCut [[count of A]] of [[size of A]]; a[1] and [link](x) stay.\n"
    assert notes_of(make_worked(tmp_path, BATCH, notes)) == "# A & B\n\nCut 9 of 3¾ × 1¼ in; a[1] and [link](x) stay.\n"


def test_in_a_metric_kit_millimetres_come_first(tmp_path):
    text = changed(BATCH, ("cards: 9\n", "cards: 9\nunit: mm\n"), ("3-3/4 x 1-1/4", "95.5 x 32"), ("border: 1/8", "border: 3"))
    assert notes_of(make_worked(tmp_path, text, "[[size of A]], [[border]]")) == "95.5 × 32 mm, 3 mm"


GATE = changed(
    BATCH, ("  fold: side\n", "  fold: gate\n"), ("sentiment:\n", "faces:\n  inside: {border: 1/4, gap: 1/16, rows: [band]}\nsentiment:\n")
)


@pytest.mark.parametrize(
    "phrase, says",
    [
        ("border of inside", "¼ in"),
        ("gap of inside", "1⁄16 in"),
        ("band of inside", "3¾ in"),
        ("score", "2⅛ in and 6⅜ in"),
        ("border", "⅛ in"),
    ],
)
def test_what_holds_for_one_face(tmp_path, phrase, says):
    worked = make_worked(tmp_path, GATE, f"Here: [[{phrase}]].\n")
    assert notes_of(worked) == f"Here: {says}.\n"


@pytest.mark.parametrize(
    "phrase, code",
    [("sentiment of inside", "cite.none-here"), ("cards of inside", "cite.names-nothing"), ("gap of attic", "cite.names-nothing")],
)
def test_what_no_face_says(tmp_path, phrase, code):
    with pytest.raises(UserError) as refused:
        notes_of(make_worked(tmp_path, GATE, f"Here: [[{phrase}]].\n"))
    assert refused.value.code == code and refused.value.place.line == 1


def test_what_holds_for_one_design(tmp_path):
    says = {
        "cards": "16 cards",
        "cards of Lying": "8 cards",
        "score of Lying": "4¼ in",
        "size of Standing base": "8½ × 5½ in",
        "sentiment of Standing": "thinking of you",
    }
    assert notes_of(make_worked(tmp_path, SEVERAL, "; ".join(f"[[{phrase}]]" for phrase in says))) == "; ".join(says.values())


@pytest.mark.parametrize(
    "phrase",
    [
        "size of Q",
        "count of Q",
        "count of A in cream",
        "sheets of moss",
        "name of moss",
        "size of",
        "cardz",
        "",
        "size of A of B",
        "1 + 1",
        "inset",
        "Q per sheet of cream",
        "A per sheet of cream",
        "SIZE OF A",
        "x" * 81,
        "size of A " * 30,
        "depth of A",
    ],
)
def test_what_names_nothing_is_an_error_at_its_line(tmp_path, phrase):
    worked = make_worked(tmp_path, BATCH, f"One.\n\nThree [[{phrase}]].\n")
    with pytest.raises(UserError) as caught:
        notes_of(worked)
    error = caught.value
    assert error.problem and error.remedy and (error.place.file.name, error.place.line) == ("notes.md", 3)


def test_one_that_runs_over_a_line_end_is_read_or_refused(tmp_path):
    worked = make_worked(tmp_path, BATCH, "Cut the [[size\nof A]] first.\n")
    try:
        assert notes_of(worked) == "Cut the 3¾ × 1¼ in first.\n"
    except UserError as error:
        assert error.place.line in (1, 2)


def test_what_this_kit_has_not(tmp_path):
    text = changed(
        BATCH,
        ("  envelope: US A2 envelope\n", ""),
        ("  gap: 1/8\n", ""),
        ("  border: 1/8\n", ""),
        ("    - band\n", ""),
        ("sentiment:\n  text: thank you\n  size: 2-1/2 x 3/4\n  on: band\n", ""),
    )
    for i, phrase in enumerate(["envelope", "gap", "border", "band", "sentiment"]):
        with pytest.raises(UserError, match="none") as caught:
            notes_of(make_worked(tmp_path / str(i), text, f"[[{phrase}]]"))
        assert caught.value.place.line == 1 and caught.value.remedy


def test_in_the_authors_own_steps(tmp_path):
    good = BATCH + "steps:\n  cut:\n    - Cut [[count of A]] of A.\n"
    (cut,) = [s for s in steps_of(make_worked(tmp_path / "good", good)) if s.stage == "cut"]
    assert cut.lines == ("Cut 9 of A.",) and cut.own
    bad = BATCH + "steps:\n  cut:\n    - Cut well.\n    - Cut [[count of Q]].\n"
    with pytest.raises(UserError) as caught:
        steps_of(make_worked(tmp_path / "bad", bad))
    assert (caught.value.place.file.name, caught.value.place.line) == ("kit.yaml", line_of(bad, "count of Q"))


@pytest.mark.parametrize(
    "text, says",
    [
        ("On [[cards]], all [[count of cards]] bands.", "On 9 cards, all 9 bands."),
        ("[[pieces of B]], [[pieces of B in river]], [[pieces of base]]", "18 pieces, 18 pieces, 9 bases"),
        ("[[count of sheets of cream]] and [[count of sheets of river]]", "2½ and 1"),
        ("A [[size of base]] base, an [[size of A]] piece, a [[envelope]].", "An 8½ × 5½ in base, a 3¾ × 1¼ in piece, a US A2 envelope."),
        ("M[[gap]] a[[gap]]", "M⅛ in a⅛ in"),
    ],
)
def test_a_phrase_and_a_bare_number_and_the_article_before_them(tmp_path, text, says):
    assert notes_of(make_worked(tmp_path, BATCH, text)) == says


def test_in_the_singular(tmp_path):
    one = changed(
        BATCH,
        ("cards: 9\n", "cards: 1\n"),
        ("    per card: 2\n", "    per card: 1\n"),
        ("    - B\n    - band\n    - B\n", "    - B\n    - band\n"),
    )
    says = notes_of(
        make_worked(
            tmp_path,
            one,
            "[[sheets of cream]] gives [[pieces of A]], and a card; [[cards]] in all. [[sheets of river]] or [[sheets of cream]].\n\n- [[sheets of cream]], e.g. [[sheets of cream]]",
        )
    )
    assert (
        says == "Half a sheet gives 1 piece, and a card; 1 card in all. Half a sheet or half a sheet.\n\n- Half a sheet, e.g. half a sheet"
    )


@pytest.mark.parametrize(
    "notes, line",
    [
        ("All [[cards]] cards.", 1),
        ("One.\n\n[[sheets of cream]] sheets", 3),
        ("[[name of white]] cardstock", 1),
        ("[[count of sheets of river]] sheets", 1),
    ],
)
def test_what_would_read_twice_is_told(tmp_path, notes, line):
    from kitwright.otherwise.checked import check

    found = [f for f in check(make_worked(tmp_path, BATCH, notes)) if "this reads" in f.problem]
    assert [(f.level, f.place.line) for f in found] == [("warning", line)]


@pytest.mark.parametrize(
    "notes",
    ["All [[count of cards]] cards.", "[[cards]], cards.", "[[count of A]] sheets", "[[gap]] in from the left", "[[cards]]\n\ncards"],
)
def test_what_reads_well_is_left_alone(tmp_path, notes):
    from kitwright.otherwise.checked import check

    assert not [f for f in check(make_worked(tmp_path, BATCH, notes)) if "this reads" in f.problem]


def test_pieces_from_a_sheet_where_only_some_sheets_give_them(tmp_path):
    two = BATCH[: BATCH.index("guides:\n")] + (
        "guides:\n  - papers: river\n    sheets: 1\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n"
        "  - papers: river\n    sheets: 1\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n          - 6 strips of 7/8 off the top: B\n"
    )
    assert notes_of(make_worked(tmp_path, two, "[[A per sheet of river]] and [[B per sheet of river]]")) == "9 and 18"


def test_told_in_the_other_unit_what_is_cited_is_read_on_that_ruler(tmp_path):
    steps = "steps:\n  build:\n    - Leave [[border]] round [[count of A]] of A.\n"
    asked = 'questions:\n  - {ask: "How tall?", answer: "[[height of B]]."}\n'
    worked = make_worked(tmp_path, BATCH + steps + asked, notes="The card is [[size of card]].\n")
    other = worked.told_in("mm")
    (own,), (told,) = ([step.lines for step in steps_of(one) if step.stage == "build"] for one in (worked, other))
    assert own == ("Leave ⅛ in round 9 of A.",) and told == ("Leave ≈3 mm round 9 of A.",)
    assert read_answers(worked) == ["⅞ in."] and read_answers(other) == ["≈22 mm."]
    assert notes_of(worked) == "The card is 4¼ × 5½ in.\n" and notes_of(other) == "The card is ≈108 × 139.5 mm.\n"
