"""What is told of a kit of several designs: each by its name, what is cut and bought once."""

import pytest
from kitwright.telling.facts import tables
from kitwright.telling.kitpage import line_of, makes_text
from kitwright.telling.steps import steps_of
from kitwright.telling.supplies import supply_lines
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
    assert line_of(worked) == ("16 cards", "upright 4¼ × 5½ in and landscape 5½ × 4¼ in")


def test_a_batch_takes_envelopes_for_every_design(worked, tmp_path):
    said = {line.about: line.text for line in supply_lines(worked, supplies(worked))}
    assert said["envelopes"] == "16, US A2 envelope" and supplies(worked).envelopes == 16
    wide = make_worked(tmp_path, SEVERAL.replace("fold: top\n      envelope: US A2 envelope", "fold: top\n      envelope: ISO C6 envelope"))
    assert {line.about: line.text for line in supply_lines(wide, supplies(wide))}["envelopes"] == "8, US A2 envelope; 8, ISO C6 envelope"
    # Adhesive by hand: a run all round a piece of 1½ in and more the short way, else along it.
    standing, lying = 8 * (2 * (4 + 3) + 4), 8 * (2 * 2 * (4 + 2) + 4)
    assert supplies(worked).adhesive.inches == standing + lying
