"""A sheet, small: its pieces where they lie, its strokes, and nothing to read."""

from __future__ import annotations

from kitwright.cutting.tree import leaves
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.miniature import miniature
from kitwright.drawing.scene import SceneShape
from making import BATCH, make_worked


def test_a_small_sheet_shows_its_pieces_in_their_colour_and_every_stroke_and_no_words(tmp_path):
    layout = make_worked(tmp_path, BATCH).layouts[0]
    look = DrawnLook("stripes", ("sky", "white"))
    scene = miniature(layout.tree, look, width=42, height=42, name="Sheet", alt="Sheet")
    assert (scene.width, scene.height, scene.texts) == (42, 42, ())
    shapes = [shape for shape in scene.shapes if isinstance(shape, SceneShape)]
    sheet, *pieces = [shape for shape in shapes if shape.stroke is None]
    assert len(pieces) == sum(leaf.label is not None for leaf in leaves(layout.tree)) and {piece.fill.name for piece in pieces} == {"sky"}
    [strokes] = [shape for shape in shapes if shape.stroke == "cut"]
    assert len(strokes.contours) == layout.strokes
    # All at one scale, in the middle, and inside the picture.
    (left, top), _, (right, bottom), _ = sheet.contours[0]
    assert left + right == top + bottom == 42 and min(left, top) >= 2
    scale = (right - left) / layout.sheet.width.inches
    assert scale == (bottom - top) / layout.sheet.height.inches
    named = (leaf for leaf in leaves(layout.tree) if leaf.label is not None)
    for piece, leaf in zip(pieces, named):
        (x, y), _, (x1, y1), _ = piece.contours[0]
        assert (x, y) == (left + leaf.rect.x.inches * scale, top + leaf.rect.y.inches * scale)
        assert ((x1 - x), (y1 - y)) == (leaf.rect.width.inches * scale, leaf.rect.height.inches * scale)
