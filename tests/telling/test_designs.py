"""What is told of a kit of several designs: each by its name, what is cut and bought once."""

import pytest
from kitwright.archive.asked import questions_of
from kitwright.otherwise.planned import planned
from kitwright.telling.cutplan import as_text
from kitwright.telling.facts import tables
from kitwright.telling.goes import split_text
from kitwright.telling.kitpage import line_of, makes_text, use_text
from kitwright.telling.steps import steps_of
from kitwright.telling.supplies import supply_lines
from kitwright.telling.your_paper import on_your_paper
from kitwright.work.supplies import supplies
from making import make_worked
from several import SEVERAL


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("several"), SEVERAL)


def test_every_design_has_its_own_steps_and_the_cutting_stands_once(worked):
    steps = steps_of(worked)
    assert [(step.stage, step.design) for step in steps] == [
        ("cut", ""),
        ("stamp", "Standing"),
        ("score", "Standing"),
        ("build", "Standing"),
        ("score", "Lying"),
        ("build", "Lying"),
    ]
    assert len({step.anchor for step in steps}) == len(steps) and steps[3].title == "Standing: build all the fronts"
    assert "4¼ × 5½ in card" in steps[2].lines[0] and "5½ × 4¼ in card" in steps[4].lines[0]
    assert not any("A (Moss)" in line for line in steps[5].lines) and any("top edge of the Lying base" in line for line in steps[5].lines)


def test_an_author_s_own_words_for_a_stage_stand_once(tmp_path):
    steps = steps_of(make_worked(tmp_path, SEVERAL + "steps:\n  build: [Lay them down.]\n"))
    assert [(step.stage, step.design) for step in steps if step.stage == "build"] == [("build", "")]


def test_facts_are_told_of_each_design_and_of_the_sheets_once(worked):
    assert [table.title for table in tables(worked)] == [
        "Card: Standing",
        "Card: Lying",
        "Closed, layer by layer: Standing",
        "Closed, layer by layer: Lying",
        "Pieces",
        "Sheets",
        "Cutting guides",
        "Your guides beside the planner’s",
        "How the front adds up: Standing",
        "How the front adds up: Lying",
    ]
    assert makes_text(worked) == "16 cards in two designs"
    assert line_of(worked) == ("16 cards", "two designs", "upright 4¼ × 5½ in", "landscape 5½ × 4¼ in")


def test_which_piece_goes_to_which_design_is_told_wherever_it_is_cut(worked):
    parted = "8 A and 8 B for Standing, 8 B and 16 C for Lying"
    assert f"Then part the stacks: {parted}." in steps_of(worked)[0].lines
    (pieces,) = [table for table in tables(worked) if table.title == "Pieces"]
    goes = {(row[0], row[2]): row[pieces.columns.index("goes to")] for row in pieces.rows}
    assert goes["B", "Moss"] == "Standing 4, Lying 4" and goes["C", "Shore"] == "Lying 8"
    lines = "\n".join(as_text(worked, planned(worked)))
    assert lines.count("  4 A and 4 B for Standing, 4 B and 8 C for Lying") == 2
    # Another batch is planned in proportion, and how it is parted is not told.
    assert "for Lying" not in "\n".join(as_text(worked, planned(worked, cards=20)))


def test_what_is_not_folded_is_told_so(tmp_path):
    tag = "  Tag:\n    cards: 4\n    card: {base: {size: 2 x 4, paper: white}, fold: flat}\n    front: {}\n"
    worked = make_worked(tmp_path, SEVERAL.replace("guides:", f"{tag}guides:").replace("sheets: 8", "sheets: 9"))
    assert [use_text(worked, label) for label in list(worked.sizes)[:3]] == ["card base", "card base", "not folded"]
    facts = next(dict(table.rows) for table in tables(worked) if table.title == "Card: Tag")
    assert facts["finished card"].startswith("2 × 4 in") and not {"score", "grain"} & set(facts)
    assert not [step.stage for step in steps_of(worked) if step.design == "Tag"], "nothing is done to it but cutting"
    assert worked.cut("white").demand.needs["Tag base"] == 4 and worked.troubles == ()


def test_other_batches_say_how_cards_are_shared(worked):
    assert on_your_paper(worked).split.startswith("Cards are shared among the designs as in the batch: of 16, 8 Standing and 8 Lying.")
    assert split_text(worked.designs[0]) == ""


def test_a_question_may_be_about_one_design(tmp_path):
    asked = (
        "questions:\n  - {ask: 'How large?', design: Lying, step: score, answer: '[[size of card]]'}\n"
        "  - {ask: 'The other fold?', design: Lying, computed: other fold}\n  - {ask: 'And this?', computed: other fold}\n"
    )
    worked = make_worked(tmp_path, SEVERAL + asked)
    lying, other, first = questions_of(worked)
    assert lying.told.answer == "5½ × 4¼ in" and lying.place == "step-score-lying"
    assert "11 × 4¼ in" in other.told.answer and "4¼ × 11 in" in first.told.answer


def test_a_batch_takes_envelopes_for_every_design(worked, tmp_path):
    said = {line.about: line.text for line in supply_lines(worked, supplies(worked))}
    assert said["envelopes"] == "16, US A2 envelope" and supplies(worked).envelopes == 16
    wide = make_worked(tmp_path, SEVERAL.replace("fold: top\n      envelope: US A2 envelope", "fold: top\n      envelope: ISO C6 envelope"))
    assert {line.about: line.text for line in supply_lines(wide, supplies(wide))}["envelopes"] == "8, US A2 envelope; 8, ISO C6 envelope"
    # Adhesive by hand: a run all round a piece of 1½ in and more the short way, else along it.
    standing, lying = 8 * (2 * (4 + 3) + 4), 8 * (2 * 2 * (4 + 2) + 4)
    assert supplies(worked).adhesive.inches == standing + lying
