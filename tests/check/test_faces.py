"""Whatever is looked for on the front is looked for on every face, each finding at its own line."""

from __future__ import annotations

from fractions import Fraction

import pytest
from fixedkits import laid_out
from foldedkits import GATE
from kitwright.check import OF_A_DESIGN, figures
from kitwright.units import Length
from making import changed, line_of, make_worked

LEFT = "  left door: {border: 1/8, rows: [P]}\n"
INSIDE = "  inside: {border: 1/8, rows: [N]}\n"
HILL = ("pieces:\n", "pieces:\n  H: {size: 1-1/2 x 1, for: hill, paper: rose}\n  G: {size: 4-1/4 x 1, for: ground, paper: moss}\n")


def door(says: str) -> list[tuple[str, str]]:
    return [HILL, (LEFT, f"  left door: {says}\n")]


def inside(says: str) -> list[tuple[str, str]]:
    return [HILL, (INSIDE, f"  inside: {says}\n"), ("size: 2-1/2 x 1/2, on: N}", "size: 1 x 1/2, on: inside}")]


SLIPS = [
    # what is changed, the line that is told, the code, words of the problem
    (door("{border: 1/8, rows: [H]}"), "  left door:", "front.sum-off", "left door, along: border ⅛ in + H"),
    (inside("{border: 1/8, rows: [H]}"), "  inside:", "front.sum-off", "inside, along: border ⅛ in + H"),
    (door("{border: 1/8, layers: [P], rows: [H, band]}"), "  left door:", "front.sum-off", "P, across"),
    (inside("{places: [{piece: H, left: 1, top: 1}, {piece: P, left: 1-1/2, top: 1/8}]}"), "  inside:", "front.overlapping", "H and P lie over each other on “inside”"),
    (door("{border: 1/8, layers: [P], over: [{piece: H, left: 1}]}"), "  left door:", "front.past-the-edge", "H reaches ½ in past the right edge of the card"),
    (door("{layers: [G]}"), "  left door:", "front.layer-not-within", "G, 4¼ × 1 in, does not lie within"),
    (inside("{layers: [{piece: P, left: 1/8}]}"), "  inside:", "borders.uneven", "P"),
    (inside("{rows: [band], over: [{piece: H, left: 1-5/16}]}"), "  inside:", "borders.uneven", "H"),
    (inside("{border: 1/4, places: [{piece: H, left: 3/16, top: 1/4}, {piece: N, right: 1/4}]}"), "  inside:", "borders.not-the-border", "H"),
]  # fmt: skip


@pytest.mark.parametrize("pairs, needle, code, problem", SLIPS, ids=[f"{one[2]} {i}" for i, one in enumerate(SLIPS)])
def test_slips_on_other_faces(tmp_path, pairs, needle, code, problem):
    text = changed(GATE, *pairs)
    worked = laid_out(tmp_path, text)
    found = [one for kind in OF_A_DESIGN if kind.__name__.endswith("front") for one in kind.find(worked)]
    told = [one for one in found if one.code == code and problem in one.problem]
    assert [one.place.line for one in told] == [line_of(text, needle)], [str(one) for one in found]


@pytest.mark.parametrize(
    "pairs",
    [
        door("{border: 1/8, meant: uneven, rows: [{piece: H, place: left}]}"),
        door("{border: 1/8, layers: [P], rows: [{piece: H, place: centre}, band]}"),
        door("{border: 1/8, layers: [P], over: [{piece: H, left: 1, meant: overhang}]}"),
        inside("{layers: [{piece: P, left: 1/8, meant: uneven}]}"),
    ],
)
def test_what_is_meant_there_is_silent(tmp_path, pairs):
    worked = laid_out(tmp_path, changed(GATE, *pairs))
    assert [str(one) for kind in OF_A_DESIGN if kind.__name__.endswith("front") for one in kind.find(worked)] == []


@pytest.mark.parametrize(
    "said, wrong",
    [
        ("The plate S, two doors P on a card, scored at 2⅛ in and 6⅜ in", 0),
        ("Each door has a border of ⅛ in", 0),
        ("Each door has a border of ¼ in", 1),
        ("Three P on a card", 1),
    ],
)
def test_figures_of_every_face_are_known(tmp_path, said, wrong):
    text = changed(GATE, ("Two doors meet on the front, and a plate keeps them shut.", f"{said}."))
    assert len(list(figures.find(make_worked(tmp_path, text)))) == wrong


def test_words_and_decoration_may_stand_on_the_panel_inside(tmp_path):
    pairs = [
        (INSIDE, ""),
        ("  fold: gate\n", "  fold: gate\n  inside: N\n"),
        ("card:\n", "decorations: [{name: a dot, size: 1/2 x 1/2, on: N, top: 1}]\ncard:\n"),
    ]
    worked = laid_out(tmp_path, changed(GATE, *pairs))
    (inside,) = worked.face.sides
    assert inside.on == "inside" and [said.text for said in inside.sentiments] == ["the kettle is on"]
    # In the middle of N, 4 × 5¼ on a back of 4¼ × 5½; the dot an inch below its top, an eighth below the face's.
    assert inside.sentiments[0].rect.centre == inside.layers[1].rect.centre and inside.spots[0].rect.y == Length(Fraction(9, 8))
