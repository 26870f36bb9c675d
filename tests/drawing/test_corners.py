"""Triangles on drawings: both halves of each rectangle labelled on its own side of the cut, and both corners on the blade line."""

from __future__ import annotations

from fractions import Fraction

import pytest
from kitwright.cutting.desk import corner_steps
from kitwright.cutting.guide import Reader
from kitwright.cutting.tree import slants
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.hand import corner_picture
from kitwright.drawing.scene import SceneShape
from kitwright.errors import Place
from kitwright.units import parse_size

SIZES, HALVES = {"T": parse_size("2 x 2"), "R": parse_size("3 x 1")}, {"T": "falling", "R": "rising"}


def cut(*lines, sheet: str):
    return Reader(SIZES, "in", lambda *path: Place("kit.yaml", 1), HALVES).read(list(lines), parse_size(sheet))


MIXED = cut(
    {"1 column of 2": [{"4 rows of 2": [{"corner to corner": "T"}]}]},
    {"2 columns of 3": [{"8 rows of 1": [{"corner to corner": "R"}]}]},
    sheet="8 x 8",
)
"""Squares whose cut falls, and oblongs whose cut rises."""


@pytest.mark.parametrize("width", [340, 245])
def test_each_triangle_has_its_label_on_its_own_side(width):
    scene = cutting_guide(MIXED, width=width)
    strokes = {line for shape in scene.shapes if isinstance(shape, SceneShape) and shape.stroke == "cut" for line in shape.contours}
    diagonals = [line for line in strokes if line[0][0] != line[1][0] and line[0][1] != line[1][1]]
    assert len(diagonals) == len(slants(MIXED)) == 20
    found = [
        text.box
        for text in scene.texts
        if text.text in ("T", "R") and text.role == "label" and text.size >= 8 and text.y < max(y for line in strokes for _, y in line)
    ]
    assert len(found) == 40

    def side(line, x, y) -> Fraction:
        (ax, ay), (bx, by) = line
        return (bx - ax) * (y - ay) - (by - ay) * (x - ax)

    for line in diagonals:
        left, right = sorted((line[0][0], line[1][0]))
        top, bottom = sorted((line[0][1], line[1][1]))
        within = [box for box in found if left < box.centre[0] < right and top < box.centre[1] < bottom]
        sides = [{side(line, x, y) > 0 for x, y in box.corners} for box in within]
        assert sorted(map(tuple, sides)) == [(False,), (True,)], "one label wholly on each side of the cut"
    told = " ".join(text.text for text in scene.texts)
    assert "corner to corner, each of the 4 squares for T" in told and "two from each 2 × 2 in" in told
    assert "20 go from corner to corner" in scene.alt and "8 × T halved from 2 × 2 in" in scene.alt


def test_what_has_no_room_is_told_once():
    tiny = Reader({"T": parse_size("1/4 x 1/4")}, "in", lambda *path: Place("kit.yaml", 1), HALVES).read(
        [{"24 columns of 1/4": [{"24 rows of 1/4": [{"corner to corner": "T"}]}]}], parse_size("6 x 6")
    )
    scene = cutting_guide(tiny, width=245)
    assert scene.crowded and "too small to label here: 1152 × T" in " ".join(text.text for text in scene.texts)


@pytest.mark.parametrize("step", corner_steps(MIXED), ids=lambda step: step.label)
def test_both_corners_lie_on_the_blade_line(step):
    scene = corner_picture(step, width=150, height=112)
    paper = next(shape.contours[0] for shape in scene.shapes if shape.stroke == "edge")
    blade = next(shape.contours[0] for shape in scene.shapes if shape.stroke == "cut" and not shape.closed)
    x = blade[0][0]
    on_it = [corner for corner in paper if corner[0] == x]
    assert len(on_it) == 2 and blade[1][0] == x and blade[0][1] < min(y for _, y in on_it) < max(y for _, y in on_it) < blade[1][1]
    # Turned, not bent: right angles stay, and so do its sides to one another; nothing leaves the picture.
    (a, b, c, d) = paper
    assert (b[0] - a[0]) * (d[0] - a[0]) + (b[1] - a[1]) * (d[1] - a[1]) == 0
    sides = [(q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2 for p, q in ((a, b), (b, c))]
    assert sides[0] * step.size.height.inches**2 == sides[1] * step.size.width.inches**2
    assert all(0 < px < 150 and 0 < py < 112 for px, py in paper)
    assert [text.text for text in scene.texts] == [step.label] * 2
