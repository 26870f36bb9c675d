"""Pieces that a punch or a die stamps out of a blank: sheets count the blank, cards show the piece."""

from __future__ import annotations

from fractions import Fraction

import pytest
from kitwright.cutfiles.parts import sizes
from kitwright.errors import UserError
from kitwright.telling.shapes import shaped_with
from kitwright.telling.steps import steps_of
from kitwright.units import Length, Size, parse_size
from making import BATCH, changed, look_over, make_worked

PLATE = """\
  S:
    size: 2-1/2 x 2-1/2
    for: plate
    paper: cream
    shape: circle
    made with: {made}
card:
"""


def plated(made: str) -> str:
    return changed(BATCH, ("card:\n", PLATE.replace("{made}", made)), ("  - A\n    - B\n", "  - A\n    - B\n")).replace(
        "sentiment:\n", "  over:\n    - {piece: S, on: M}\nsentiment:\n"
    )


@pytest.mark.parametrize(
    "made, blank",
    [
        ("punch", "2-3/4 x 2-3/4"),
        ("die", "2-3/4 x 2-3/4"),
        ("{tool: punch, margin: 1/4}", "3 x 3"),
        ("{tool: die, margin: 3 mm}", "69.5 mm x 69.5 mm"),
    ],
)
def test_sheets_are_cut_into_blanks(tmp_path, made, blank):
    worked = make_worked(tmp_path, plated(made))
    assert worked.sizes["S"] == parse_size(blank)
    assert worked.cut("cream").demand.sizes["S"] == parse_size(blank)
    # What lies on the card, and what an electronic cutter cuts, is the piece itself.
    plate = next(p for p in worked.face.over if p.label == "S")
    assert plate.rect.size == sizes(worked)["S"] == Size(Length(Fraction(5, 2)), Length(Fraction(5, 2)))
    assert plate.form == (("circle", ()),)


def test_a_blank_of_a_metric_kit_is_3_mm_larger_on_each_side(tmp_path):
    worked = make_worked(tmp_path, "unit: mm\n" + BATCH.replace("3-3/4 x 1-1/4\n", "3-3/4 in x 1-1/4 in\n    made with: die\n"))
    assert worked.sizes["A"].width - worked.kit.spec.pieces["A"].size.width == Length.mm(6)


def test_what_is_stamped_is_told(tmp_path):
    worked = make_worked(tmp_path, plated("punch"))
    assert shaped_with(worked.kit.spec.pieces["S"], "in") == "circle, punched 2½ × 2½ in"
    cut = steps_of(worked)[0].lines
    assert any(line.startswith("Punch S (2½ × 2½ in), each") for line in cut)
    # It needs no template to be shaped by.
    assert not any("templates" in line for line in cut)


def test_nothing_is_found_in_a_plate_that_is_called_a_circle(tmp_path):
    found = look_over(tmp_path, plated("punch").replace("for: plate", "for: round plate"))
    assert not [f for f in found if f.code.startswith(("named.", "shapes."))]


def test_a_circle_that_is_not_even_is_told_at_its_line(tmp_path):
    text = plated("punch").replace("size: 2-1/2 x 2-1/2", "size: 2-1/2 x 2")
    line = text.splitlines().index("    shape: circle") + 1
    assert [(f.code, f.place.line) for f in look_over(tmp_path, text) if f.code.startswith("shapes.")] == [("shapes.no-circle", line)]


@pytest.mark.parametrize("made, code", [("scissors", "spec.no-choice"), ("{tool: punch, margin: 0}", "lengths.zero")])
def test_another_tool_is_refused(tmp_path, made, code):
    with pytest.raises(UserError) as refused:
        make_worked(tmp_path, plated(made))
    assert refused.value.code == code


@pytest.mark.parametrize("size, gives", [("1/2 x 1/2", 9), ("2-1/2 x 2-1/2", 3), ("3 x 3", 0)])
def test_blanks_may_come_from_what_a_guide_leaves(tmp_path, size, gives):
    """On no guide, they would take further sheets; hers leaves three times 3¾ × 3 in, and ¾ × 12."""
    text = changed(plated("punch"), ("    paper: cream\n    shape: circle\n", "    paper: river\n    shape: circle\n"))
    text = text.replace("size: 2-1/2 x 2-1/2", f"size: {size}")
    found = [f for f in look_over(tmp_path, text) if f.code == "sheets.blanks-from-leftovers"]
    assert [(f.level, f.values["label"], f.values["gives"], f.values["needed"]) for f in found] == (
        [("hint", "S", gives, 9)] if gives else []
    )
    # Trimmed pieces are cut to their lines, and stay where auto puts them.
    trimmed = look_over(tmp_path / "trimmed", text.replace("    made with: punch\n", ""))
    assert not [f for f in trimmed if f.code == "sheets.blanks-from-leftovers"]
