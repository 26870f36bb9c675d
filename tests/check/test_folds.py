"""Folds: each slip is one clear finding at its line, with what would be right; what is meant, and what is sound, is silent.

Rooms and distances are common practice, no source; thicknesses are added by hand.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from fixedkits import laid_out
from foldedkits import GATE, TRI, Z
from kitwright.check import folds
from kitwright.units import Length
from kitwright.work.supplies import adhesive_of, foam_of
from making import BATCH, changed, line_of, look_over

ACROSS = "fixed to: left door"
INSIDE = "  inside: {border: 1/8, rows: [N]}\n"
FOAM = ("  envelope: US A2 envelope\n", "  envelope: US A2 envelope\n  foam: 1/16\n")


def found_in(tmp_path, text):
    return list(folds.find(laid_out(tmp_path, text)))


def over_inside(entry: str) -> tuple[str, str]:
    return INSIDE, f"  inside: {{border: 1/8, rows: [N], over: [{entry}]}}\n"


SLIPS = [
    # what is changed, the line that is told, level and code, words of the problem, words of the remedy
    (GATE, [("fold: gate", "fold: gate\n  score: 2-1/4"), ("N: {size: 4 x", "N: {size: 3-3/4 x")], "score:", "error", "doors-overlap", "overlap by ½ in", "score: 2 1/8"),
    (GATE, [("fold: gate", "fold: gate\n  score: 2")], "score:", "error", "doors-apart", "½ in is free", "meant: gap"),
    (
        GATE,
        [("fold: gate", "fold:\n    lies: inside up\n    scores:\n      - 2 forward\n      - 6-3/8 forward\n    panels: [left door, back, right door]\n    front: left door")],
        "  fold:",
        "error",
        "doors-apart",
        "¼ in is free",
        "2 3⁄16 in wide each",
    ),
    (
        GATE,
        [("left door}", "left door, left: 0}")],
        None,
        None,
        None,
        "",
        "",
    ),
    (GATE, [("card:\n", "decorations: [{name: a bow, size: 1 x 1, on: doors, top: 0}]\ncard:\n")], "a bow", "warning", "decoration-across", "a bow lies across", "move it onto one"),
    (GATE, [over_inside("{piece: W, left: 1/8, raised: yes}")], "  inside:", "warning", "near-the-fold", "W on foam lies ⅛ in from a fold", "keep it ¼ in"),
    (GATE, [over_inside("{piece: W, left: 0}")], "  inside:", "warning", "near-the-fold", "right at a fold that closes over the inside", "1⁄16 in"),
    (GATE, [over_inside("{piece: M}"), ("  W: {", "  M: {size: 4-1/2 x 1, for: strip, paper: white}\n  W: {")], "  inside:", "error", "past-the-fold", "M reaches ⅛ in past a fold", "move it in"),
    (GATE, [(INSIDE, ""), ("  fold: gate\n", "  fold: gate\n  inside: N\n"), ("N: {size: 4 x", "N: {size: 4-3/16 x")], "  inside: N", "warning", "near-the-fold", "N lies less than 1⁄16 in from a fold that closes over the inside", "1⁄16 in"),
    (TRI, [("fold: tri-fold", "fold: {lies: inside up, scores: [7-1/4 forward, 3-45/64 forward], panels: [front, back, flap]}")], "fold:", "warning", "rolled-in-tight", "the flap has", "make that panel shorter"),
    (TRI, [("size: 10-3/4 x 5-1/2", "size: 10-1/2 x 5-1/2"), ("fold: tri-fold", "fold: {lies: inside up, scores: [7 forward, 3-1/2 forward], panels: [front, back, flap]}")], "fold:", "error", "rolled-in-tight", "the flap has no room to the fold at 3½ in", "free"),
]  # fmt: skip


@pytest.mark.parametrize("text, pairs, needle, level, code, problem, remedy", SLIPS, ids=[f"{one[4]} {i}" for i, one in enumerate(SLIPS)])
def test_each_slip_at_its_line(tmp_path, text, pairs, needle, level, code, problem, remedy):
    text = changed(text, *pairs)
    found = [one for one in found_in(tmp_path, text) if one.level != "hint"]
    if code is None:
        assert found == []
        return
    assert [(one.code, one.level, one.place.line) for one in found] == [(f"folds.{code}", level, line_of(text, needle))], found
    assert problem in found[0].problem and remedy in found[0].remedy, (found[0].problem, found[0].remedy)


@pytest.mark.parametrize("score, told", [("3-3/4", 1), ("4-1/4", 1), ("5", 0)])
def test_a_stepped_front_shows_a_step(tmp_path, score, told):
    """A back of 4¼ in or less has no more than the front of an 8½ in base to show beside; one of 5 in shows 1½ in."""
    text = changed(BATCH, ("fold: side\n", f"fold: stepped\n  score: {score}\n"))
    found = found_in(tmp_path, text)
    assert [one.code for one in found if one.code == "folds.nothing-shows"] == ["folds.nothing-shows"] * told
    for one in found:
        if one.code == "folds.nothing-shows":
            assert one.place.line == line_of(text, "  score:") and "the inside of the back" in one.problem and "4 3/4" in one.remedy


def test_good_ones_are_silent(tmp_path):
    for name, text in (("gate", GATE), ("tri", TRI), ("z", Z)):
        assert [str(one) for one in look_over(tmp_path / name, text) if one.level != "hint"] == []


@pytest.mark.parametrize(
    "text, pairs",
    [
        (GATE, [("fold: gate", "fold: gate\n  score: 2\n  meant: gap")]),
        (GATE, [("fold: gate", "fold: gate\n  score: 2-1/4\n  meant: [overlap, gap]"), ("N: {size: 4 x", "N: {size: 3-3/4 x")]),
        (GATE, [over_inside("{piece: W, left: 0, meant: overhang}")]),
        # A gap of ⅛ in still looks met.
        (GATE, [("fold: gate", "fold: gate\n  score: 2-3/32")]),
    ],
)
def test_what_is_meant_or_as_usual_is_silent(tmp_path, text, pairs):
    assert [one for one in found_in(tmp_path, changed(text, *pairs)) if one.level != "hint"] == []


def test_doors_that_meet_in_millimetres(tmp_path):
    # 210 mm: a quarter is on no mark; doors of 52 leave 2 mm, those of 51 leave 6.
    metric = changed(GATE, ("cards: 4\n", "cards: 4\nunit: mm\n"), ("8-1/2 x 5-1/2", "210 x 148"), ("US A2", "ISO C6"), ("1-7/8 x 5-1/4", "46 x 142"), ("4 x 5-1/4", "100 x 142"), ("2-1/2 x 2-1/2", "60 x 60"), ("W: {size: 1-3/4 x 1/2", "W: {size: 45 x 14"), ("1-1/2 x 3/8", "38 x 10"), ("size: 2-1/2 x 1/2", "size: 60 x 14"))  # fmt: skip
    metric = (
        metric.replace("size: 12 x 12", "size: 12 in x 12 in")
        .replace("border: 1/8", "border: 3")
        .replace("0.008", "0.2")
        .replace("0.012", "0.3")
    )
    assert found_in(tmp_path / "two", metric) == []
    (one,) = found_in(tmp_path / "six", changed(metric, ("fold: gate", "fold: gate\n  score: 51")))
    assert one.code == "folds.doors-apart" and one.values["gap"] == Length.mm(6) and "score: 52.5" in one.remedy


def test_foam_that_faces_foam_keeps_twice_as_far(tmp_path):
    # ⅜ in from the left fold of the inside is far enough for W alone, and too near where the door brings foam down on it.
    one = changed(GATE, over_inside("{piece: W, left: 3/8, raised: yes}"))
    assert [each.code for each in found_in(tmp_path / "one", one) if each.level != "hint"] == []
    # The inside of the left door has that fold at its right, as it is read: closed, the two lie on one another.
    two = changed(one, ("  doors:\n", "  inside left door: {over: [{piece: W, right: 3/8, raised: yes}]}\n  doors:\n"))
    found = [each for each in found_in(tmp_path / "two", two) if each.level != "hint"]
    assert {(each.code, each.values["least"], each.values["faced"]) for each in found} == {
        ("folds.near-the-fold", Length(Fraction(1, 2)), True)
    }
    assert {each.values["on"] for each in found} == {"inside", "inside left door"}


def test_the_thickness_rolled_in_is_what_lies_in_the_fold(tmp_path):
    # The flap of 0.012 in, C 0.012 on it, B 0.008 below it: 0.032 in. With ⅛ in of foam under C 0.157.
    tight = changed(TRI, ("{piece: C}", "{piece: C, raised: yes}"), ("fold: tri-fold", "fold: tri-fold\n  foam: 1/8"))
    (one,) = [one for one in found_in(tmp_path, tight) if one.code == "folds.rolled-in-tight"]
    assert one.level == "error" and one.values["room"] == Length(Fraction(1, 8))
    assert one.values["thick"].known and one.values["thick"].high * 5 / 127 == Fraction(157, 1000)
    assert found_in(tmp_path / "meant", changed(tight, ("foam: 1/8", "foam: 1/8\n  meant: tight")))[0].level == "hint"


def test_a_thick_fold_wants_two_score_lines(tmp_path):
    thick = changed(GATE, over_inside("{piece: W, raised: yes}"), ("envelope: US A2 envelope\n", "envelope: US A2 envelope\n  foam: 1/8\n"))
    # N 0.012, foam ⅛, W 0.012: 0.149 in under either door.
    found = found_in(tmp_path, thick)
    assert [(one.level, one.code, one.values["at"]) for one in found] == [
        ("hint", "folds.thick", Length(Fraction(17, 8))),
        ("hint", "folds.thick", Length(Fraction(51, 8))),
    ]
    assert all(one.values["thick"].high * 5 / 127 == Fraction(149, 1000) for one in found)


def test_several_folds_go_along_the_grain(tmp_path):
    # 10¾ in of Letter lie along its long side: scores up and down want a short grain.
    found = [one for one in look_over(tmp_path, TRI.replace("grain: short", "grain: long")) if one.level != "hint"]
    assert [(one.code, one.level) for one in found] == [("folds.against-the-grain", "warning")]


def test_what_is_fixed_to_one_door_is_glued_there_alone(tmp_path):
    worked = laid_out(tmp_path, GATE)
    plate, words = (next(placed for placed in worked.face.over if placed.label == label) for label in "SW")
    # S, 2½ in wide in the middle of 4¼, lies 1¼ in on the left door.
    assert plate.hold.panel == "left door" and plate.hold.glued.size.width == Length(Fraction(5, 4))
    # 1¼ × 2½ is narrow: one run along its middle. W, carried by S alone, is glued to all of that: a run of 1¾.
    assert adhesive_of(plate, worked.face.stack) == Length(Fraction(5, 2))
    assert words.hold.panel == "left door" and adhesive_of(words, worked.face.stack) == Length(Fraction(7, 4))
    raised = laid_out(tmp_path / "raised", changed(GATE, (ACROSS, f"{ACROSS}, raised: yes")))
    lifted = next(placed for placed in raised.face.over if placed.label == "S")
    # Two strips of ¼ in along 2½ in, under what lies on the left door.
    assert adhesive_of(lifted, raised.face.stack) == Length(Fraction(0)) and foam_of(lifted) == Fraction(5, 4)
