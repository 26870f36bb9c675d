"""Designs that stand on more than the front: which face is which, where things lie closed, and what that is layer by layer."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from kitwright.card.enclosed import closed_card, foam_of, stocks_of
from kitwright.card.face import everything
from kitwright.card.pile import whole
from kitwright.card.post import thickest
from kitwright.errors import UserError
from kitwright.geometry import Rect
from kitwright.materials import Range
from kitwright.telling.facts import tables
from kitwright.telling.steps import steps_of
from kitwright.units import Length
from making import changed, line_of, make_kit, make_worked

GATE = """\
title: Two doors
summary: They open.
cards: 4
papers:
  fern: {kind: patterned, name: Fern, size: 12 x 12, thickness: 0.01, front: {look: stripes, colours: [sage, white]}}
  white: {kind: cardstock, name: White, size: Letter, thickness: 0.012}
pieces:
  P: {size: 1-3/4 x 5, paper: fern, per card: 2}
  N: {size: 4 x 5, paper: white}
  S: {size: 2 x 2, paper: white, shape: circle}
card:
  base: {size: 8-1/2 x 5-1/2, paper: white}
  fold: gate
  envelope: US A2 envelope
faces:
  left door: {border: 1/4, rows: [P]}
  right door: {rows: [P]}
  doors: {over: [{piece: S, fixed to: left door}]}
  inside: {layers: [N]}
sentiments:
  - {text: come in, size: 1 x 1/2, on: S}
  - {text: sit down, size: 2 x 1/2, on: N, place: bottom}
  - {text: from us, size: 1 x 1/2, on: back}
"""

SCREEN = """\
title: A screen
summary: It stands.
cards: 2
unit: mm
papers:
  mist: {kind: patterned, name: Mist, size: A4, thickness: 0.2, front: {look: waves, colours: [sky, white]}}
  white: {kind: cardstock, name: White, size: A4, thickness: 0.3}
pieces:
  A: {size: 90 x 140, paper: mist, per card: 3}
  S: {size: 60 x 20, paper: white}
card:
  base: {size: 297 x 148, paper: white}
  fold: z-fold
faces:
  front: {rows: [A], over: [{piece: S, on: A}]}
  middle: {rows: [A]}
  last: {rows: [A]}
"""


def inch(n: int, d: int = 1) -> Length:
    return Length(F(n, d))


@pytest.fixture(scope="module")
def gate(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("gate"), GATE)


def test_doors_lead_together_and_the_rest_stands_beside(gate):
    face = gate.face
    assert (face.on, face.size.width, face.hinges) == ("", inch(17, 4), ("left", "right"))
    left, right = (p.rect for p in face.pieces)
    assert left == Rect(inch(3, 16), inch(1, 4), inch(7, 4), inch(5)) and right.x == inch(17, 8) + inch(3, 16)
    assert [p.rect.centre for p in face.over] == [(inch(17, 8), inch(11, 4))], "in the middle of both"
    assert [side.on for side in face.sides] == ["inside", "back"]
    assert [[said.text for said in each.sentiments] for each in (face, *face.sides)] == [["come in"], ["sit down"], ["from us"]]
    assert [(on, p.label) for on, p in everything(face, None)] == [("", "P"), ("", "P"), ("", "S"), ("inside", "N")]


def test_what_leads_may_be_typed_by_either_word(tmp_path, gate):
    turned = GATE.replace("  doors: {over: [{piece: S, fixed to: left door}]}\n", "") + "front: {over: [{piece: S, fixed to: left door}]}\n"
    assert make_worked(tmp_path, turned).faces == gate.faces


def test_one_word_too_many_is_told_at_its_line(tmp_path):
    with pytest.raises(UserError) as told:
        make_kit(tmp_path, GATE + "front: {rows: [P]}\n")
    assert (told.value.code, told.value.place.line) == ("faces.front-twice", line_of(GATE, "  doors:"))


def test_the_closed_card_layer_by_layer(gate, tmp_path):
    assert [(ply.label, ply.panel) for ply in gate.plies] == [
        ("base", "back"),
        ("N", "back"),
        ("base", "left door"),
        ("P", "left door"),
        ("S", "left door"),
    ]
    assert whole(gate.plies) == Range.exact(F(58, 1000) * F(254, 10))
    screen = make_worked(tmp_path, SCREEN)
    # Facing one another: the last panel's piece, then the middle one's; 3 × 0.3 + 3 × 0.2 + 0.3 mm.
    assert [(ply.label, ply.panel) for ply in screen.plies] == [
        ("base", "last"),
        ("A", "last"),
        ("A", "middle"),
        ("base", "middle"),
        ("base", "front"),
        ("A", "front"),
        ("S", "front"),
    ]
    assert whole(screen.plies) == Range.exact(F(18, 10))
    told = next(table for table in tables(screen) if table.title.startswith("Closed"))
    assert told.rows[-1] == ("together", "", "about 1.80 mm")


def test_a_band_lies_behind_twice_and_once_in_front(tmp_path, gate):
    banded = make_worked(tmp_path, changed(GATE, ("  S: {", "  B: {paper: white, band: {height: 1}}\n  S: {")))
    strip = banded.plies[0]
    assert (strip.label, strip.paper) == ("B", "white") and banded.plies == (strip, strip, *gate.plies, strip)
    alone, around = gate.enclosed.parcel, banded.enclosed.parcel
    assert around.thickness.high - alone.thickness.high == strip.thick.high * 3


@pytest.mark.parametrize("text", [GATE, SCREEN])
def test_the_layers_are_as_thick_as_the_post_finds_the_card(tmp_path, text):
    worked = make_worked(tmp_path, text)
    shut = closed_card(worked.base, worked.face, worked.enclosed.inside)
    assert whole(worked.plies) == thickest(shut, stocks_of(worked.kit), foam_of(worked.kit))


def test_steps_go_from_face_to_face(gate):
    lines = [line for step in steps_of(gate) for line in step.lines]
    folds = [line for line in lines if "fold forward" in line]
    assert folds == [
        "First, at 2⅛ in, fold forward, towards you; press the crease.",
        "Last, at 6⅜ in, fold forward, towards you; press the crease.",
    ]
    assert any(line.startswith("On the inside: Fix N (White) on the base") for line in lines)
    assert any(line.startswith("On the back: Place “from us” once") for line in lines)
