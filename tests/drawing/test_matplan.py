"""The drawing of a layout on a cutting mat: true proportions, every piece inside, labelled where there is room."""

from __future__ import annotations

from fractions import Fraction

from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.outlines import plain
from kitwright.drawing.matplan import MatCut, mat_plan
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length, Size

MAT = Size(Length(12), Length(12))


def length(sixteenths: int) -> Length:
    return Length(Fraction(sixteenths, 16))


@tried(20)
@given(st.integers(8, 60), st.integers(8, 60), st.integers(1, 3), st.integers(1, 3))
def test_pieces_lie_where_they_are_cut(width, height, across, along):
    size = Size(length(width), length(height))
    cuts = [
        MatCut("A", plain(size).moved(length(4) + size.width * i, length(4) + size.height * j)) for i in range(across) for j in range(along)
    ]
    scene = mat_plan(
        MAT,
        "12 × 12 in",
        Rect(length(4), length(4), size.width * across, size.height * along),
        cuts,
        None,
        width=200,
        height=226,
        name="a layout",
        alt="A layout.",
    )
    mat, sheet, *pieces = [shape for shape in scene.shapes if shape.stroke in ("frame", "hidden", "edge")]

    def box(shape):
        xs, ys = [x for x, _ in shape.contours[0]], [y for _, y in shape.contours[0]]
        return min(xs), min(ys), max(xs), max(ys)

    point = 72 * scene.scale
    outer = box(mat)
    assert outer[2] - outer[0] == MAT.width.inches * point and scene.width <= 200 and scene.height <= 226
    assert len(pieces) == across * along
    for shape in pieces:
        found = box(shape)
        assert found[2] - found[0] == size.width.inches * point and found[3] - found[1] == size.height.inches * point
        assert outer[0] <= found[0] and found[2] <= outer[2] and outer[1] <= found[1] and found[3] <= outer[3]
    labels = [text for text in scene.texts if text.text == "A"]
    assert len(labels) <= across * along
    if min(width, height) * point / 16 > 16:
        assert len(labels) == across * along
    for text in labels:
        assert any(
            b[0] <= text.box.left and text.box.right <= b[2] and b[1] <= text.box.top and text.box.bottom <= b[3] for b in map(box, pieces)
        )


def test_a_frame_is_open_and_keeps_its_label_on_its_side():
    from kitwright.card.outlines import Outline, rectangle

    frame = Outline(
        rectangle(Rect(ZERO, ZERO, Length(6), Length(4))), (tuple(reversed(rectangle(Rect(Length(1), Length(1), Length(4), Length(2))))),)
    )
    scene = mat_plan(
        MAT,
        "12 × 12 in",
        Rect(ZERO, ZERO, Length(8), Length(8)),
        [MatCut("F", frame)],
        None,
        width=200,
        height=226,
        name="a frame",
        alt="A frame.",
    )
    label = next(text for text in scene.texts if text.text == "F")
    point = 72 * scene.scale
    middle = ((label.box.left + label.box.right) / 2 - 6) / point, ((label.box.top + label.box.bottom) / 2 - 6) / point
    assert not (1 < middle[0] < 5 and 1 < middle[1] < 3)
