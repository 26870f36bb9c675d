"""Readers' questions: those that are arithmetic are computed and right."""

import tempfile
from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.errors import UserError
from kitwright.telling.answers import answers, computed
from making import BATCH, changed, make_worked


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


def test_a4_gives_one_base_not_two(worked):
    """Common practice, no source: A4 gives one 8½ × 5½ base, since 210 mm is less than 8½ in (215.9 mm, ISO 216 and ANSI/ASME Y14.1)."""
    said = computed(worked, "A4")
    assert "White cardstock from A4: 9 sheets instead of 4½ sheets; a sheet gives one base, not two" in said


def test_letter_is_what_it_is_made_from(worked):
    assert computed(worked, "Letter") == "Cream cardstock is Letter already. White cardstock is Letter already."


def test_one_sheet_makes_the_batch(worked):
    """The batch worked by hand: one 12 × 12 sheet gives nine A and eighteen B."""
    assert (
        computed(worked, "one sheet")
        == "One sheet of River makes 9 cards, with 2½ sheets of Cream cardstock and 4½ sheets of White cardstock."
    )


def test_the_other_fold_turns_the_base(worked):
    """Common practice, no source: a portrait top fold needs a 4¼ × 11 base; a Letter sheet, 8½ × 11, gives two."""
    assert computed(worked, "other fold") == (
        "Yes: cut the base 4¼ × 11 in and score it at 5½ in from the top. White cardstock: 4½ sheets, as before; everything else stays."
    )


def test_a_fold_that_no_sheet_gives(tmp_path):
    text = changed(BATCH, ("    size: 8-1/2 x 5-1/2", "    size: 8-1/2 x 7"), ("  envelope: US A2 envelope\n", ""))
    assert (
        computed(make_worked(tmp_path, text), "other fold")
        == "A top fold takes a base of 4¼ × 14 in, which does not come out of a sheet of White cardstock."
    )


@given(st.integers(1, 60))
def test_more_cards_never_take_too_little(cards):
    """Against plain counting: nine cards a sheet of River, and two bases a Letter sheet."""
    said = computed(shared(), "more cards", cards).removesuffix(".").split(": ", 1)[1].replace(" and ", ", ").split(", ")
    sheets = {}
    for part in said:
        amount, name = part.split(" of ", 1) if not part.startswith("half a sheet") else ("½", part.removeprefix("half a sheet of "))
        sheets[name] = float(amount.removesuffix(" sheets").removesuffix(" sheet").replace("½", ".5"))
    assert sheets["White cardstock"] == cards / 2
    assert sheets["River"] * 9 >= cards > (sheets["River"] - 1) * 9
    assert sheets["Cream cardstock"] * 4 >= cards > (sheets["Cream cardstock"] - 1) * 4


@lru_cache
def shared():
    return make_worked(Path(tempfile.mkdtemp()), BATCH)


QUESTIONS = """\
questions:
  - {ask: "May I sew?", answer: "Yes, before [[size of A]] goes on.", step: build}
  - {ask: "And A4?", computed: A4, sheet: white}
  - {ask: "What is M?", answer: The mat., piece: M}
"""


def test_questions_are_tied_and_cite(tmp_path):
    found = answers(make_worked(tmp_path, BATCH + QUESTIONS))
    assert [(a.tied, a.to, a.computed) for a in found] == [("step", "build", False), ("sheet", "white", True), ("piece", "M", False)]
    assert found[0].answer == "Yes, before 3¾ × 1¼ in goes on." and found[1].answer.startswith("Cream cardstock from A4")


@pytest.mark.parametrize(
    "old, new, told",
    [
        ("[[size of A]]", "[[size of Q]]", "names a piece Q"),
        ("piece: M}", "piece: Q}", "no piece Q"),
        ("sheet: white}", "sheet: pink}", "does not use a paper pink"),
        ("computed: A4,", "computed: A3,", "can't stand for"),
        ("computed: A4,", "computed: A4, answer: x,", "one answer"),
        ("piece: M}", "piece: M, step: cut}", "more than one thing"),
    ],
)
def test_slips_are_told_at_their_line(tmp_path, old, new, told):
    text = BATCH + changed(QUESTIONS, (old, new))
    with pytest.raises(UserError, match=told.replace("[", "\\[")) as error:
        answers(make_worked(tmp_path, text))
    assert error.value.place.line == next(i for i, line in enumerate(text.splitlines(), 1) if new in line)


def test_one_sheet_of_each_is_what_the_scarcer_allows(tmp_path):
    """Of two papers, one of which gives fewer cards, all cards need both."""
    text = changed(
        BATCH,
        (
            "  cream:\n    kind",
            "  meadow:\n    kind: patterned\n    name: Meadow\n    size: 6 x 6\n    front: {look: dots, colours: [sage, white]}\n  cream:\n    kind",
        ),
        ("    for: mat\n    paper: cream\n", "    for: mat\n    paper: meadow\n"),
    )
    worked = make_worked(tmp_path, text)
    # A mat of 4 × 5¼ comes once out of 6 × 6; River alone would do for nine.
    assert computed(worked, "one sheet").startswith("One sheet of each of River and Meadow makes 1 card, ")
