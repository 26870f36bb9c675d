"""Several designs: their fronts side by side at one scale, and on a guide to which of them a piece goes."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from drawing.pictures import FACES, LOOKS, SHEETS
from kitwright.archive.pictures import pictures_of
from kitwright.cutting.tree import pieces
from kitwright.drawing.beside import beside, moved
from kitwright.drawing.designs import DesignFront, designs_card, designs_sketch
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.scene import Clip, Marks, Scene, SceneShape, Stamps
from kitwright.drawing.sketch import card_sketch
from kitwright.printable import EDITIONS, pictures
from kitwright.printable.front_plate import drawing
from kitwright.printable.guide_side import pages
from kitwright.printable.job import Job
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.goes import goes_on
from making import make_worked
from several import SEVERAL

DESIGNS = [DesignFront("Tall · 8 cards", FACES["side fold"][0]), DesignFront("Wide · 8 cards", FACES["top fold"][0])]


def said(scene: Scene) -> list[str]:
    return [text.text for text in scene.texts]


@pytest.mark.parametrize("width, slim, rows", [(500, False, 1), (245, True, 2)])
def test_designs_stand_beside_one_another_at_one_scale(width, slim, rows):
    scene = designs_sketch(DESIGNS, LOOKS, width=width, slim=slim)
    assert overlaps(scene) == [] and scene.width == width
    heads = [text for text in scene.texts if text.text.startswith(("Tall", "Wide"))]
    assert len({text.y for text in heads}) == rows
    assert scene.scale, "one for all"
    bases = [next(i for i in scene.shapes if isinstance(i, Clip))]
    (xs, ys) = zip(*bases[0].outline)
    assert (max(xs) - min(xs)) / (72 * scene.stated_scale) == DESIGNS[0].face.size.width.inches
    assert max(ys) - min(ys) == DESIGNS[0].face.size.height.inches * 72 * scene.stated_scale


def test_designs_are_drawn_smaller_for_a_height():
    low = designs_sketch(DESIGNS, LOOKS, width=500, height=180)
    assert low.height <= 180 and overlaps(low) == []


def test_what_is_set_beside_something_is_the_same_drawing_elsewhere():
    one = card_sketch(DESIGNS[0].face, LOOKS, width=200)
    both = beside([one, one], 500, "Both", 20)
    half = len(one.shapes)
    assert both.shapes[:half] == one.shapes, "the first stands where it stood"
    assert both.shapes[half:] == tuple(moved(shape, F(220), F(0)) for shape in one.shapes)
    for before, after in zip(one.shapes, both.shapes[half:]):
        assert type(before) is type(after)
        if isinstance(before, SceneShape):
            assert [(x + 220, y) for x, y in before.contours[0]] == list(after.contours[0])
        elif isinstance(before, Clip):
            assert [(x + 220, y) for x, y in before.outline] == list(after.outline)
            assert [type(item) for item in before.items] == [type(item) for item in after.items]
    assert moved(Stamps((), ((F(1), F(2)),), LOOKS["dots", "front"].inks[0]), F(3), F(4)).at == ((4, 6),)
    assert moved(Marks((((F(1), F(2)),),), LOOKS["dots", "front"].inks[0]), F(3), F(4)).outlines == (((4, 6),),)


@pytest.mark.parametrize("name, width", [("columns", 480), ("columns", 255), ("tiny", 480), ("metric", 255)])
def test_a_guide_tells_of_every_piece_to_which_design_it_goes(name, width):
    node, unit, look = SHEETS[name]
    labels = sorted({leaf.label for leaf in pieces(node)})
    goes = {label: ("Tall", "Wide", "Tall and Wide")[i % 3] for i, label in enumerate(labels)}
    scene = cutting_guide(node, unit=unit, look=look, width=width, goes=goes)
    assert overlaps(scene) == []
    text = " ".join(said(scene))
    for label in labels:
        assert goes[label] in text
    assert f"({goes[labels[0]]})" in scene.alt


def test_a_kit_of_one_design_has_the_guide_it_had():
    node, unit, look = SHEETS["columns"]
    assert cutting_guide(node, unit=unit, look=look) == cutting_guide(node, unit=unit, look=look, goes={})


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("several"), SEVERAL)


def test_a_kit_of_two_designs_is_shown_whole(worked):
    shown = pictures_of(worked)
    assert {"card", "thumbnail", "sketch", "base-standing", "base-lying", "layers-standing", "look-2-lying"} <= set(shown)
    assert "base" not in shown and "look-1" not in shown, "what is about one card bears the name of its design"
    heads = [text.text for text in shown["sketch"].wide.texts if text.role == "title"]
    assert heads == ["Standing · 8 cards · 4¼ × 5½ in", "Lying · 8 cards · 5½ × 4¼ in"]
    assert goes_on(worked, worked.layouts[0]) == {"A": "Standing", "B": "both", "C": "Lying"}
    for name in ("sketch", "guide-1", "card", "thumbnail"):
        assert all(overlaps(scene) == [] for scene in shown[name].scenes), name
    assert goes_on(worked.designs[0], worked.layouts[0]) == {}


def test_the_printable_shows_every_design_and_every_fold_once(worked):
    job = Job(worked, EDITIONS["letter"], "full", PreviewStamp("TEST"))
    sketch = drawing(job, 500, 300)
    assert overlaps(sketch) == [] and {"A", "C"} <= set(said(sketch))
    standing, _ = job.designs
    assert pictures.fold(standing, 400, 300) is None
    (page,) = pages(job)
    assert any("both" in text for text in said(page.cells[0].drawn(page.rows[0].percent, bare=False).scene))


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_every_design_is_on_the_small_picture_at_one_scale(count):
    designs = [DesignFront(f"Design {i}", FACES[("side fold", "top fold")[i % 2]][0]) for i in range(count)]
    scene = designs_card(designs, LOOKS, width=240, height=180)
    boxes: list[tuple[F, F, F, F]] = []
    for clip in (shape for shape in scene.shapes if isinstance(shape, Clip)):
        (left, right), (top, bottom) = ((min(edge), max(edge)) for edge in zip(*clip.outline))
        # The base is drawn first, and what lies on it within.
        if not any(one[0] <= left and one[1] <= top and right <= one[2] and bottom <= one[3] for one in boxes):
            boxes.append((left, top, right, bottom))
    assert len(boxes) == count and all(0 < left and right < 240 and 0 < top and bottom < 180 for left, top, right, bottom in boxes)
    scales = {(right - left) / design.face.size.width.inches for design, (left, _, right, _) in zip(designs, boxes)}
    scales |= {(bottom - top) / design.face.size.height.inches for design, (_, top, _, bottom) in zip(designs, boxes)}
    assert len(scales) == 1
    assert all(f"{design.said}: Card front" in scene.alt for design in designs)
    # No field around them: they reach to the same margin on two sides at least.
    across, along = min(box[0] for box in boxes), min(box[1] for box in boxes)
    assert scene.height <= 180 and (along == 10 or across == 10) and max(box[3] for box in boxes) == scene.height - along


def test_a_design_may_be_called_narrow(tmp_path):
    worked = make_worked(tmp_path, SEVERAL.replace("  Lying:", "  Standing narrow:"))
    shown = pictures_of(worked)
    assert "base-standing-narrow" in shown and shown["base-standing"].narrow_end == "--narrow"
    assert shown["base-standing-narrow"].narrow_end == shown["sketch"].narrow_end == "-narrow"


def test_many_designs_stand_in_rows_of_one_scale():
    designs = [DesignFront(f"Design {i}", FACES[("side fold", "top fold")[i % 2]][0]) for i in range(5)]
    scene = designs_sketch(designs, LOOKS, width=500)
    heads = [text for text in scene.texts if text.role == "title"]
    rows = [sum(text.y == y for text in heads) for y in sorted({text.y for text in heads})]
    assert len(heads) == 5 and len(rows) in (2, 3) and rows == sorted(rows, reverse=True), "rows are filled from the top"
    assert scene.scale and scene.stated_scale >= F(3, 10) and overlaps(scene) == []
