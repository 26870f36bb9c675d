"""The drawings of folds: true to `folding`, and nothing on them touches what it should not."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
from drawing.pictures import FACES
from drawing.pictures import LOOKS as FACE_LOOKS
from examples import tried
from folding.test_standing import lists
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.pictures import pictures_of
from kitwright.card.base import Base
from kitwright.card.face import Placed
from kitwright.card.hold import Hold
from kitwright.drawing import styles
from kitwright.drawing.base import base_flat
from kitwright.drawing.folds.diagram import fold_diagram
from kitwright.drawing.folds.lies import lying_on, on_panels
from kitwright.drawing.folds.opened import DEPTH, Opened, from_behind, hides
from kitwright.drawing.folds.plate import Plate, rows
from kitwright.drawing.folds.shut import Stack
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.png import image
from kitwright.drawing.scene import Clip, Frame, Scene, SceneShape
from kitwright.drawing.sketch import card_sketch
from kitwright.folding import Blocked, Closed, Score, Scored, closed
from kitwright.folding.kinds import kinds, scored
from kitwright.folding.kinds.kind import Asked
from kitwright.geometry import Rect
from kitwright.telling.panels import face_name
from kitwright.units import Length, figure, parse_length, parse_size
from making import make_worked

WIDE, NARROW = 500, 245
SIZES = {"in": ("11-7/8 in", "5-1/2 in"), "mm": ("297 mm", "105 mm")}
NAMED = [(name, unit, width) for name in kinds() for unit, width in (("in", NARROW), ("mm", WIDE))]


def shut(name: str, unit: str = "in") -> tuple[Closed, Length]:
    long, breadth = SIZES[unit]
    found = closed(scored(name, parse_length(long), Asked(metric=unit == "mm")))
    assert isinstance(found, Closed)
    return found, parse_length(breadth)


def contours(scene: Scene, role: str) -> list:
    return [c for s in scene.shapes if isinstance(s, SceneShape) and s.stroke == role for c in s.contours]


@pytest.mark.parametrize("name, unit, width", NAMED)
def test_nothing_touches_on_the_drawings_of_a_named_fold(name, unit, width):
    found, breadth = shut(name, unit)
    scene = fold_diagram(found, breadth, unit=unit, width=width, name=name)
    assert overlaps(scene) == []
    assert scene.width == width
    said = " ".join(text.text for text in scene.texts)
    for first, last in found.base.spans():
        assert figure(last - first, unit) in said
    for score in found.base.scores:
        assert f"fold {score.direction}" in said and figure(score.at, unit) in said
    for _, _, panel, side in found.seen():
        assert all(word in said for word in face_name(found, panel, side).split())


@given(lists(), st.sampled_from([WIDE, NARROW]), st.sampled_from(["down", "across"]))
@tried(12, deadline=None)
def test_nothing_touches_whatever_is_scored(base, width, runs):
    found = closed(Scored(base.length, base.lies, runs, base.scores, base.panels, base.front, base.back))
    if isinstance(found, Closed):
        assert overlaps(fold_diagram(found, parse_length("5-1/2 in"), width=width, name="Many")) == []


@pytest.mark.parametrize("runs", ["down", "across"])
def test_eight_scores_are_told_in_the_key_where_they_lie_too_near_one_another(runs):
    scores = tuple(Score(Length(F(3 * i, 2)), "back" if i % 2 else "forward") for i in range(1, 9))
    found = closed(Scored(Length(F(27, 2)), "outside up", runs, scores, tuple(f"panel {i}" for i in range(1, 10)), "panel 1", "panel 9"))
    assert isinstance(found, Closed)
    scene = fold_diagram(found, parse_length("5-1/2 in"), width=NARROW)
    assert overlaps(scene) == []
    said = [text.text for text in scene.texts]
    assert sum(t.endswith(("fold back", "fold forward")) for t in said) == 8
    assert len(contours(scene, "profile")) == 8, "each has its sign too"


@pytest.mark.parametrize("name", ["gate", "tri-fold", "z-fold", "stepped", "gate across"])
def test_the_flat_base_and_its_scores_are_true(name):
    found, breadth = shut(name)
    scene = fold_diagram(found, breadth)
    unit, down = 72 * scene.stated_scale, found.base.runs == "down"
    sheet = contours(scene, "sheet")[0]
    xs, ys = [x for x, _ in sheet], [y for _, y in sheet]
    long, wide = (max(xs) - min(xs), max(ys) - min(ys)) if down else (max(ys) - min(ys), max(xs) - min(xs))
    assert (long, wide) == (found.base.length.inches * unit, breadth.inches * unit)
    at = [(c[0][0] - min(xs) if down else c[0][1] - min(ys)) / unit for c in contours(scene, "score")[: len(found.base.scores)]]
    assert at == [score.at.inches for score in found.base.scores]


@pytest.mark.parametrize("name", ["gate", "tri-fold", "z-fold", "stepped", "tri-fold across", "stepped across"])
def test_the_standing_card_is_true_along_and_two_fifths_deep_and_its_panels_meet(name):
    found, breadth = shut(name)
    opened, frame = Opened(Plate(found, breadth, "in")), Frame(F(0), F(0), F(1, 4))
    unit, down = 18, found.base.runs == "down"
    panels = [opened.panel(frame, stood) for stood in opened.stood]
    for stood, contour in zip(opened.stood, panels):
        (ax, ay), (bx, by), _, (dx, dy) = contour
        along, off, across = (bx - ax, by - ay, dy - ay) if down else (by - ay, bx - ax, dx - ax)
        first, last = found.base.spans()[stood.panel]
        assert along**2 + (off / DEPTH) ** 2 == ((last - first).inches * unit) ** 2
        assert across == breadth.inches * unit
    for one, other in zip(panels, panels[1:]):
        assert (one[1], one[2]) == (other[0], other[3])
    drawn = contours(fold_diagram(found, breadth), "sheet")
    assert sum(len(c) == 4 and c[0][0] != c[1][0] and c[0][1] != c[1][1] for c in drawn) == sum(s.way[1] != 0 for s in opened.stood)


@given(lists())
@tried(40, deadline=None)
def test_panels_are_drawn_over_those_that_they_hide(base):
    found = closed(base)
    if isinstance(found, Blocked):
        return
    order = from_behind(Opened(Plate(found, Length(5), "in")).stood)
    assert not any(hides(one, other) for i, one in enumerate(order) for other in order[i + 1 :])


@given(lists())
@tried(40, deadline=None)
def test_the_layers_are_one_line_through_every_panel_and_never_cross(base):
    found = closed(base)
    if isinstance(found, Blocked):
        return
    stack = Stack(found)
    for one, other in found.above:
        assert stack.levels[one] > stack.levels[other]
    assert max(stack.levels) + 1 >= found.layers
    line = stack.line(F(1, 4))
    first, last = found.base.edges[0], found.base.edges[-1]
    assert line[0][0] == found.lying[0].at(first).inches * 18 and line[-1][0] == found.lying[-1].at(last).inches * 18


def test_the_layers_of_named_folds():
    assert {name: Stack(shut(name)[0]).levels for name in ("gate", "tri-fold", "z-fold", "stepped")} == {
        "gate": [1, 0, 1],
        "tri-fold": [2, 0, 1],
        "z-fold": [2, 1, 0],
        "stepped": [0, 1],
    }


def test_an_inside_is_dotted_at_every_level_of_ink():
    assert styles.line("inside").dash
    found, breadth = shut("gate")
    scene = fold_diagram(found, breadth)
    assert contours(scene, "inside")
    for level in ("full", "light", "outline"):
        image(scene, F(1), level)
    assert not contours(fold_diagram(*shut("z-fold")), "inside"), "all its outsides lie up"


def test_dots_stay_inside_their_panel():
    slanted = ((F(0), F(0)), (F(30), F(20)), (F(30), F(80)), (F(0), F(60)))
    lines = rows(slanted)
    assert lines
    for (ax, y), (bx, _) in lines:
        assert 0 < ax < bx < 30
        assert all(F(2, 3) * x < y < 60 + F(2, 3) * x for x in (ax, bx))


def test_a_height_is_kept_and_a_shared_scale():
    found, breadth = shut("gate")
    low = fold_diagram(found, breadth, height=225)
    assert low.height <= 225 and overlaps(low) == []
    assert fold_diagram(found, breadth, scale=F(1, 10)).stated_scale == F(1, 10)


def test_where_a_face_stands_on_its_head_its_top_is_shown():
    said = [t.text for t in fold_diagram(*shut("stepped across")).texts]
    assert "↓ top" in said and "↑ top" in said
    assert "↑ top" not in [t.text for t in fold_diagram(*shut("gate across")).texts]


def test_the_picture_is_told():
    alt = fold_diagram(*shut("tri-fold")).alt
    assert alt == (
        "Card base of 11⅞ × 5½ in, inside up, scored up and down. In order: 1. fold forward at 8 in from the left; "
        "2. fold forward at 4 in from the left. Panels from the left: inside front 4 in, inside 4 in, inside flap 3⅞ in. "
        "Closed it is 4 × 5½ in with 3 layers, and shows front."
    )


# --- what lies on panels ----------------------------------------------------------------------------

LOOKS = {("white", "front"): DrawnLook("plain", ("white",)), ("dots", "front"): DrawnLook("dots", ("blush", "white"))}


def base_of(fold: str, width: str, height: str) -> Base:
    size = parse_size(f"{width} x {height} in")
    lines = scored(fold, size.width if kinds()[fold].runs == "down" else size.height, Asked())
    return Base(size, fold, lines.scores[0].at, lines)


def piece(label: str, *sides, paper: str = "dots", hold: Hold | None = None) -> Placed:
    return Placed(label, paper, "front", Rect(*(Length(F(side)) for side in sides)), hold=hold)


def patches(scene: Scene) -> list:
    return [item.outline for item in scene.shapes if isinstance(item, Clip)]


def test_a_piece_across_doors_is_on_the_door_that_carries_it_and_lies_over_both():
    base = base_of("gate", "8-1/2", "5-1/2")
    plate = piece("S", "7/8", "3/2", "5/2", "5/2", hold=Hold("one panel", panel="right door"))
    lying = [("", piece("P", "1/8", "1/8", "15/8", "21/4")), ("", piece("Q", "9/4", "1/8", "15/8", "21/4")), ("", plate)]
    on = list(on_panels(base, lying))
    assert [(each.panel, each.side) for each in on] == [("left door", "outside"), ("right door", "outside"), ("right door", "outside")]
    assert [each.placed.rect.x for each in on] == [Length(F(1, 8)), Length(F(1, 8)), Length(F(-5, 4))], "each from its own panel's left"
    scene = fold_diagram(base.closed, base.breadth, lies=on, looks=LOOKS)
    assert overlaps(scene) == []
    unit = 72 * scene.stated_scale
    widths = [max(x for x, _ in c) - min(x for x, _ in c) for c in patches(scene)]
    assert widths == [F(15, 8) * unit, F(15, 8) * unit, F(5, 2) * unit], "doors closed: all flat and whole; open, their insides show"


def test_what_lies_under_the_front_is_covered_by_it():
    base = base_of("stepped", "7-1/2", "5-1/2")
    on = tuple(on_panels(base, [("", piece("A", "1/8", "1/8", 3, "21/4")), ("inside", piece("B", "1/8", "1/8", 4, "21/4"))]))
    scene = fold_diagram(base.closed, base.breadth, lies=on, looks=LOOKS)
    assert overlaps(scene) == []
    wide = [max(x for x, _ in c) - min(x for x, _ in c) for c in patches(scene)]
    unit = 72 * scene.stated_scale
    # Closed, the inside's piece first, then the front's; opened, the inside alone, since its front's outside is turned away.
    assert wide == [4 * unit, 3 * unit, 4 * unit]


@pytest.mark.parametrize(
    "fold, size", [("z-fold", ("12", "5-1/2")), ("z-fold across", ("5-1/2", "12")), ("tri-fold across", ("5-1/2", "11-7/8"))]
)
def test_a_piece_that_fills_its_face_stands_on_its_panel(fold, size):
    base = base_of(fold, *size)
    opened = Opened(Plate(base.closed, base.breadth, "in"))
    frame = Frame(F(0), F(0), F(1, 4))
    for stood in opened.stood:
        panel = base.closed.base.panels[stood.panel]
        whole = base.panel(panel)
        to = opened.on_picture(frame, stood)
        corners = {to(x, y) for x in (Length(0), whole.width) for y in (Length(0), whole.height)}
        assert corners == set(opened.panel(frame, stood)), panel
        # Read from its top: on a card folded across, a face whose top points down shows so.
        top, low = to(Length(0), Length(0)), to(Length(0), whole.height)
        if fold == "z-fold":
            assert top[1] < low[1]


GATE = """\
title: Garden gate
summary: Two doors.
cards: 4
papers:
  roses: {kind: patterned, name: Roses, size: 12 x 12, front: {look: blossoms, colours: [linen, blush]}}
  white: {kind: cardstock, name: White cardstock, size: Letter}
pieces:
  P: {size: 1-7/8 x 5-1/4, paper: roses, per card: 2}
  N: {size: 4 x 5-1/4, paper: white}
  S: {size: 2-1/2 x 2-1/2, paper: white, shape: circle}
card: {base: {size: 8-1/2 x 5-1/2, paper: white}, fold: gate}
faces:
  left door: {border: 1/8, rows: [P]}
  right door: {border: 1/8, rows: [P]}
  doors: {over: [{piece: S, fixed to: left door}]}
  inside: {border: 1/8, layers: [N], rows: [band]}
sentiments:
  - {text: come in, size: 1-3/4 x 1/2, on: S}
  - {text: the kettle is on, size: 2-1/2 x 1/2, on: inside, place: bottom, inset: 1/2}
  - {text: and the cat, size: 2 x 1/2, on: inside, place: top, inset: 1/2}
"""


def test_every_face_of_a_card_is_drawn_with_its_own_words(tmp_path):
    worked = make_worked(tmp_path, GATE)
    shown = pictures_of(worked)
    assert {"sketch-inside", "layers-inside", "fold"} <= set(shown)
    for name in ("sketch", "sketch-inside", "layers-inside", "fold"):
        assert all(overlaps(scene) == [] for scene in shown[name].scenes), name
    inside = [text.text for text in shown["sketch-inside"].wide.texts]
    assert {"the kettle is on", "and the cat"} <= set(inside) and "come in" not in inside
    assert "Inside, 4¼ × 5½ in" in [text.text for text in shown["layers-inside"].wide.texts], "it says which face is the ground"
    assert shown["sketch-inside"].alt.startswith("Card face “inside” of 4¼ × 5½ in")
    assert "come in" in [text.text for text in shown["sketch"].wide.texts]
    # The doors are drawn as two: the line between them is an edge of the base on every picture.
    unit = 72 * shown["sketch"].wide.stated_scale
    doors = [c for c in contours(shown["sketch"].wide, "edge") if max(x for x, _ in c) - min(x for x, _ in c) == F(17, 8) * unit]
    assert len(doors) == 2
    on = [each for each in on_panels(worked.base, lying_on(worked)) if each.placed.label != "S"]
    assert [(each.panel, each.side, each.placed.label) for each in on] == [
        ("left door", "outside", "P"),
        ("right door", "outside", "P"),
        ("back", "inside", "N"),
    ]


@pytest.mark.parametrize("width", [340, 202])
def test_what_is_not_folded_is_one_panel_with_its_two_sizes(width):
    base = base_of_flat("4", "6")
    scene = base_flat(base, width=width)
    assert overlaps(scene) == []
    said = [text.text for text in scene.texts]
    assert said.count("4") == 1 and said.count("6") == 1 and "front" in said
    assert not contours(scene, "score") and not any("up" in text.split() for text in said)


def base_of_flat(width: str, height: str) -> Base:
    size = parse_size(f"{width} x {height} in")
    return Base(size, "flat", Length(0), scored("flat", size.width, Asked()))


@pytest.mark.parametrize("edges, beside", [(("right",), False), (("bottom",), False), (("left", "right"), True), (("top", "bottom"), True)])
def test_a_fold_is_said_beside_it_or_in_the_key_where_sizes_stand(edges, beside):
    face = replace(FACES["metric"][0], creased=edges)
    scene = card_sketch(face, FACE_LOOKS, unit="mm", width=340)
    assert overlaps(scene) == []
    (word,) = [text for text in scene.texts if text.text == "fold"]
    lines = contours(scene, "fold")
    assert len(lines) == len(edges) + (not beside)
    card = contours(scene, "edge")[0]
    assert (word.y > max(y for _, y in card)) is not beside
