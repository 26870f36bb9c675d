"""The paper in hand: true proportions, the right edge at the ruler, and nothing that touches."""

from fractions import Fraction
from pathlib import Path

import demo
import pytest
from cutting_trees import trees
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.desk import desk_steps
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, Split
from kitwright.drawing.hand import hand_picture
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.png import png
from kitwright.drawing.scene import Box, Scene, SceneShape
from kitwright.drawing.svg import svg
from kitwright.geometry import Rect
from kitwright.telling.drawn import hand_alt
from kitwright.units import ZERO, Length, figure, length_text, parse_size, size_text

KITS = Path(__file__).parents[2] / "kits"
HOLD = Length(Fraction(5, 8))
SIZES = ((150, 130), (168, 88), (168, 68), (124, 80), (124, 60), (240, 200))
"""Points: as it is, and as a printable's rows of three and four have it."""
RULERS = ("left", "right")


def steps_of(node, ruler="left"):
    return desk_steps(Layout("Test", ("p",), node, "author", 0), HOLD, ruler_side=ruler)


@st.composite
def steps(draw):
    return draw(st.sampled_from(steps_of(draw(trees().filter(lambda n: isinstance(n, Split))))))


def box(contour) -> Box:
    xs, ys = [x for x, _ in contour], [y for _, y in contour]
    return Box(min(xs), min(ys), max(xs), max(ys))


def drawn(scene: Scene, role: str) -> list[Box]:
    return [box(c) for s in scene.shapes if isinstance(s, SceneShape) and s.stroke == role for c in s.contours]


def sheet_in_hand(scene: Scene) -> Box:
    """The paper on top: the last of the outlines."""
    return drawn(scene, "edge")[-1]


# --- any step ------------------------------------------------------------------------------------------


@given(steps(), st.sampled_from(SIZES), st.sampled_from(RULERS), st.sampled_from(["in", "mm"]), st.booleans())
def test_nothing_touches(step, size, ruler, unit, one_way):
    scene = hand_picture(step, unit=unit, width=size[0], height=size[1], ruler_side=ruler, one_way=one_way)
    assert overlaps(scene) == []


@given(steps(), st.sampled_from(SIZES), st.sampled_from(RULERS), st.booleans())
def test_nothing_runs_off_the_picture(step, size, ruler, one_way):
    scene = hand_picture(step, width=size[0], height=size[1], ruler_side=ruler, one_way=one_way)
    page = Box(Fraction(0), Fraction(0), scene.width, scene.height)
    assert (scene.width, scene.height) == size
    assert all(page.holds(box(c)) for s in scene.shapes for c in s.contours)


@given(steps(), st.sampled_from(SIZES), st.sampled_from(RULERS))
def test_proportions_are_true(step, size, ruler):
    """The paper, the mark and every further stroke at one scale, measured from the edge at the ruler."""
    scene = hand_picture(step, width=size[0], height=size[1], ruler_side=ruler)
    paper, (blade,) = sheet_in_hand(scene), drawn(scene, "cut")
    across, along = (step.hand.width, step.hand.height) if step.axis == "x" else (step.hand.height, step.hand.width)
    assert paper.width / across.inches == paper.height / along.inches
    scale = paper.width / across.inches
    near, way = (paper.left, 1) if ruler == "left" else (paper.right, -1)
    assert blade.left == blade.right == near + way * step.measure.inches * scale
    assert blade.top < paper.top and blade.bottom > paper.bottom, "the blade runs right across"
    later = drawn(scene, "hidden")
    assert [line.left for line in later] == [near + way * step.measure.inches * scale * k for k in range(2, step.strokes + 1)]
    assert all(paper.left < line.left < paper.right and (line.top, line.bottom) == (paper.top, paper.bottom) for line in later)


@given(steps(), st.sampled_from(RULERS), st.sampled_from(["in", "mm"]))
def test_the_mark_stands_over_it(step, ruler, unit):
    scene = hand_picture(step, unit=unit, ruler_side=ruler)
    paper = sheet_in_hand(scene)
    (mark,) = [t for t in scene.texts if t.role == "accent"]
    assert mark.text == figure(step.measure, unit) and mark.box.bottom < paper.top
    strokes = [t.text for t in scene.texts if t.text.startswith("×")]
    assert strokes == ([f"×{step.strokes}"] if step.strokes > 1 else [])
    assert all(t.size >= 8 for t in scene.texts)


@given(steps(), st.sampled_from(RULERS))
def test_a_label_stands_on_the_piece_that_falls_off(step, ruler):
    scene = hand_picture(step, ruler_side=ruler, height=200, width=240)
    paper, (blade,) = sheet_in_hand(scene), drawn(scene, "cut")
    labels = [t for t in scene.texts if t.role == "label"]
    assert len(labels) in (0, step.strokes)
    near = paper.left if ruler == "left" else paper.right
    mark = abs(blade.left - near)
    for k, label in enumerate(labels):
        assert label.text == step.falls[0].label and paper.holds(label.box)
        assert k * mark < abs((label.box.left + label.box.right) / 2 - near) < (k + 1) * mark


@given(steps(), st.sampled_from(["in", "mm"]))
def test_the_picture_in_words(step, unit):
    said = hand_alt(step, unit)
    assert said.endswith(".") and said == hand_picture(step, unit=unit).alt
    assert said.startswith(f"{step.what.capitalize()} of {size_text(step.hand.size, unit)} under the blade")
    assert f"its {step.side} edge at {length_text(step.measure, unit)}" in said
    assert ("one stroke." if step.strokes == 1 else f"{step.strokes} strokes.") in said


@given(steps())
def test_things_behind_the_first_peep_out(step):
    edges = drawn(hand_picture(step), "edge")
    assert len(edges) == min(step.things, 3) and len({(e.width, e.height) for e in edges}) == 1


# --- which way is up -----------------------------------------------------------------------------------------


def cut_from(side):
    """A 6 × 4 in sheet with one stroke off this side."""
    sheet = parse_size("6 x 4")
    one, rest = Length(1), (Length(5) if side in ("left", "right") else Length(3))
    first, second = (one, rest) if side in ("left", "top") else (rest, one)
    if side in ("left", "right"):
        parts = Rect(ZERO, ZERO, first, sheet.height), Rect(first, ZERO, second, sheet.height)
    else:
        parts = Rect(ZERO, ZERO, sheet.width, first), Rect(ZERO, first, sheet.width, second)
    (step,) = steps_of(Split(Rect.of(sheet), "x" if side in ("left", "right") else "y", tuple(Leaf(r, "A") for r in parts), side))
    return step


def arrow(scene) -> tuple[int, int]:
    """Where the arrow's head lies from the middle of its shaft: its way."""
    (shaft,) = drawn(scene, "accent")
    (head,) = [
        box(c)
        for s in scene.shapes
        if isinstance(s, SceneShape) and s.fill == "tag" and s.stroke is None and len(s.contours[0]) == 3
        for c in s.contours
    ]
    dx, dy = (h - s for h, s in zip(head.centre, shaft.centre))
    return (dx > 0) - (dx < 0), (dy > 0) - (dy < 0)


@pytest.mark.parametrize("ruler", RULERS)
@pytest.mark.parametrize("side", ["left", "top", "right", "bottom"])
def test_the_arrow_points_where_the_top_of_the_pattern_went(side, ruler):
    """With the side at the ruler, the top edge is found by turning the sheet's corners about."""
    sides = ["top", "right", "bottom", "left"]
    compass = {0: (0, -1), 1: (1, 0), 2: (0, 1), 3: (-1, 0)}
    # So many quarter turns to the right bring `side` to where the ruler is; they carry the top along.
    turns = (sides.index(ruler) - sides.index(side)) % 4
    step = cut_from(side)
    scene = hand_picture(step, one_way=True, ruler_side=ruler)
    assert arrow(scene) == compass[turns]
    assert not drawn(hand_picture(step, ruler_side=ruler), "accent")
    paper = sheet_in_hand(scene)
    assert (paper.width > paper.height) == (side in ("left", "right")), "6 across stays across when a side edge is at the ruler"


def test_the_arrow_lies_beside_the_paper():
    for side in ("left", "top", "right", "bottom"):
        scene = hand_picture(cut_from(side), one_way=True)
        (shaft,) = drawn(scene, "accent")
        assert shaft.left > sheet_in_hand(scene).right and shaft.right < scene.width


# --- the demo kits --------------------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=demo.BY_ID)
def worked(request):
    return demo.worked(request.param)


@pytest.mark.parametrize("ruler", RULERS)
def test_no_demo_step_has_anything_that_touches(worked, ruler):
    for layout in worked.layouts:
        one_way = any(worked.kit.papers[p].front.up for p in layout.papers)
        for step in desk_steps(layout, worked.kit.club.trimmer.least_hold, ruler_side=ruler):
            for width, height in SIZES:
                scene = hand_picture(step, unit=worked.kit.spec.unit, width=width, height=height, ruler_side=ruler, one_way=one_way)
                assert overlaps(scene) == [], (layout.name, step.number, width, height)


def crosses(a: Box, line: Box) -> bool:
    return a.left <= line.right and line.left <= a.right and a.top <= line.bottom and line.top <= a.bottom


@pytest.mark.parametrize("ruler", RULERS)
def test_the_arrow_crosses_neither_the_blade_nor_a_later_stroke(ruler):
    """Every step of the demo papers that have an up, at every size a printable uses."""
    for worked in map(demo.worked, demo.BY_ID):
        for layout in worked.layouts:
            if not any(worked.kit.papers[p].front.up for p in layout.papers):
                continue
            for step in desk_steps(layout, worked.kit.club.trimmer.least_hold, ruler_side=ruler):
                for width, height in SIZES:
                    scene = hand_picture(step, unit=worked.kit.spec.unit, width=width, height=height, ruler_side=ruler, one_way=True)
                    (shaft,) = drawn(scene, "accent")
                    assert shaft.left > sheet_in_hand(scene).right and shaft.right < scene.width
                    met = [line for line in drawn(scene, "cut") + drawn(scene, "hidden") if crosses(shaft, line)]
                    assert not met, (worked.kit.id, layout.name, step.number, width, height)


def test_every_demo_alt_text_is_its_own_within_a_guide(worked):
    """Two steps that read alike can't be told apart by ear, unless the same is done to another thing."""
    for layout in worked.layouts:
        steps = desk_steps(layout, worked.kit.club.trimmer.least_hold)
        said = [(hand_alt(s, worked.kit.spec.unit), tuple((f.what, f.label) for f in s.falls)) for s in steps]
        assert len(set(said)) == len(said)


def test_pens_draw_it_and_always_alike():
    scene = hand_picture(cut_from("top"), one_way=True)
    for pen in (png, svg):
        assert pen(scene) == pen(scene) and len(pen(scene)) > 200
