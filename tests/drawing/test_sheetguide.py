"""The compact guide of the printable: from its least scale up all is there, at true proportion, and nothing touches."""

from collections import Counter
from fractions import Fraction as F

import pytest
from cutting_trees import trees
from drawing.pictures import SHEETS, cut, rect
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.tree import Leaf, Node, cuts, leaves, pieces
from kitwright.drawing import styles
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.scene import SceneShape
from kitwright.drawing.sheetguide import LEAST, MOST, SheetGuide, guide_scales, guide_size, sheet_guide
from kitwright.drawing.untouched import STUB
from kitwright.telling.guidetexts import missing_text
from kitwright.units import sides_text

STRIPS = cut(rect(0, 0, 210, 297, "mm"), "y", [(111, ("x", [(16, "S")] * 12 + [(None, None)])), (None, None)], "mm")
TRIANGLES = cut(rect(0, 0, 6, 6), "y", [(F(3, 2), ("x", [(F(3, 2), "T")] * 3 + [(None, None)]))] * 2 + [(None, None)])
EASY = [name for name in SHEETS if name != "tiny"]
"""Those that are sound at a small scale."""


def halved(node: Node) -> Node:
    """The same sheet, its pieces cut from corner to corner."""
    if isinstance(node, Leaf):
        return Leaf(node.rect, node.label, False, "falling" if node.label else None)
    return type(node)(node.rect, node.axis, tuple(halved(part) for part in node.parts), node.off)


def drawn(node: Node, per_cent: int, unit: str = "in", **asked) -> SheetGuide:
    return sheet_guide(node, unit=unit, scale=F(per_cent, 100), **asked)


def words(guide: SheetGuide) -> list[str]:
    return [text.text for text in guide.scene.texts]


def numbered(guide: SheetGuide) -> Counter:
    """How often the number of each stroke is told, alone or in a run."""
    found: Counter = Counter()
    for tag in (t.text for t in guide.scene.texts if t.role == "tag"):
        first, _, last = tag.partition("–")
        found.update(range(int(first), int(last or first) + 1))
    return found


def labelled(guide: SheetGuide) -> Counter:
    """How many pieces carry each label; one that is led out stands for a row."""
    found: Counter = Counter()
    for text in (t.text for t in guide.scene.texts if t.role == "label"):
        n, _, label = text.rpartition(" × ")
        found[label] += int(n or 1)
    return found


def true(node: Node, guide: SheetGuide) -> None:
    """Every cut lies where the sheet is cut, to scale."""
    scale = guide.scene.stated_scale
    shapes = [s for s in guide.scene.shapes if isinstance(s, SceneShape)]
    lines = [line for s in shapes if s.stroke == "cut" for line in s.contours]
    (left, top), *_ = next(s.contours[0] for s in shapes if s.fill == "white")
    for stroke, ends in zip(cuts(node), lines):
        for (x, y), (across, along) in zip(ends, stroke.line):
            assert (x - left, y - top) == (across.inches * 72 * scale, along.inches * 72 * scale)
    assert len(lines) == len(cuts(node)) + sum(bool(leaf.diagonal) for leaf in leaves(node))


def readable(guide: SheetGuide) -> None:
    """In full ink and large enough: it stays in a copy of black dots."""
    for text in guide.scene.texts:
        assert text.size >= (10 if text.role == "label" else 8)
        assert styles.TEXTS[text.role] in ("ink", "on-accent") and text.font.weight in ("semibold", "bold")
    for shape in (s for s in guide.scene.shapes if isinstance(s, SceneShape) and s.stroke):
        line = styles.LINES[shape.stroke]
        assert line.width >= F(1, 2) and line.colour in ("ink", "accent", "white") and not line.dash


def told(node: Node, guide: SheetGuide, unit: str) -> None:
    """Every size stands on the drawing, or is told as one that does not."""
    said, also = words(guide), dict(guide.also_left)
    rests = Counter(leaf.rect.size for leaf in leaves(node) if leaf.label is None)
    assert also.items() <= rests.items()
    for size, n in rests.items():
        if guide.broken != size:
            # Pieces may be of that size too, and other sizes read the same.
            assert size in also or said.count(sides_text(size, unit)) >= n
    for leaf in pieces(node):
        assert leaf.label in guide.unsized or sides_text(leaf.rect.size, unit) in said


def whole(node: Node, guide: SheetGuide, unit: str) -> None:
    """What holds of every sound guide."""
    assert overlaps(guide.scene) == []
    assert labelled(guide) == Counter(leaf.label for leaf in pieces(node) for _ in range(leaf.gives))
    assert numbered(guide) == {stroke.number: 1 for stroke in cuts(node)}
    true(node, guide)
    readable(guide)
    told(node, guide, unit)


@pytest.mark.parametrize("name", EASY)
def test_a_guide_is_whole_from_its_least_scale_up(name):
    node, unit, look = SHEETS[name]
    found = guide_scales(node, unit=unit)
    for per_cent in (int(found.least * 100), int(found.placed * 100), 27, 45):
        guide = drawn(node, per_cent, unit, look=look)
        assert guide.sound and guide.scene.scale == F(per_cent, 100)
        whole(node, guide, unit)
        assert (guide.scene.width, guide.scene.height) == guide_size(node, F(per_cent, 100), unit=unit)
        assert per_cent < found.placed * 100 or not guide.led


@tried(15)
@given(trees(), st.integers(LEAST, MOST), st.sampled_from(["in", "mm"]), st.booleans())
def test_nothing_touches_on_any_guide_and_what_is_missing_is_told(node, per_cent, unit, all_of_it):
    guide = drawn(node, per_cent, unit, whole=all_of_it)
    assert overlaps(guide.scene) == []
    true(node, guide)
    told(node, guide, unit)
    readable(guide)
    if guide.sound:
        whole(node, guide, unit)
    bare = drawn(node, per_cent, unit, whole=all_of_it, bare=True)
    assert (bare.also_left, bare.unsized, bare.led, bare.sound) == (guide.also_left, guide.unsized, guide.led, guide.sound)


def test_what_is_sound_at_its_least_scale_is_sound_at_every_larger_one():
    for node, unit in ((STRIPS, "mm"), (halved(TRIANGLES), "in"), (SHEETS["pad"][0], "mm")):
        found = guide_scales(node, unit=unit)
        assert found.least <= found.placed < F(40, 100)
        larger = range(int(found.least * 100), 42, 2)
        assert all(drawn(node, per_cent, unit, bare=True).sound for per_cent in larger)


def test_like_strokes_share_a_mark_where_single_numbers_have_no_room():
    assert "2–13" in words(drawn(STRIPS, 30, "mm"))
    assert {"2", "13"} <= {*words(drawn(STRIPS, 45, "mm"))}


def test_sizes_of_pieces_go_before_single_numbers_and_labels_are_led_out_last():
    large, small = drawn(STRIPS, 45, "mm"), drawn(STRIPS, 24, "mm")
    assert not large.unsized and not large.led and small.unsized == {"S"} and not small.led
    found = guide_scales(halved(TRIANGLES))
    led = sheet_guide(halved(TRIANGLES), scale=found.least)
    assert found.least < found.placed and led.led and led.sound
    # A row of three squares gives six triangles; one leader a row.
    assert led.led == ("6 × T", "6 × T")


def test_what_stays_whole_is_cut_short_by_a_break_line_that_says_so():
    short, full = drawn(STRIPS, 30, "mm"), drawn(STRIPS, 30, "mm", whole=True)
    *_, last = leaves(STRIPS)
    assert short.broken == last.rect.size and full.broken is None
    assert "210 × 186 stays whole" in words(short) and "210 × 186" in words(full)
    saved = short.broken.height.inches * 72 * F(30, 100) - STUB
    assert full.scene.height - short.scene.height == saved and full.scene.width == short.scene.width
    assert [s for s in short.scene.shapes if isinstance(s, SceneShape) and s.stroke == "break"]
    # The ruler reads a little past the cut, and no farther.
    beside = {text.text for text in short.scene.texts if text.upward and text.text.isdigit()}
    assert beside == {"0", "50", "100"}
    aside = cut(rect(0, 0, 12, 6), "x", [(6, "A"), (None, None)])
    assert drawn(aside, 30).scene.width < drawn(aside, 30, whole=True).scene.width
    assert drawn(cut(rect(0, 0, 12, 6), "x", [(9, "A"), (None, None)]), 30).broken is None


def test_what_has_no_room_at_all_is_told():
    slivers = cut(rect(0, 0, 12, 12), "x", [(F(1, 8), "A")] * 8 + [(None, "B")])
    assert guide_scales(slivers).least == F(MOST, 100)
    guide = drawn(slivers, 20)
    assert not guide.sound and guide.scene.crowded and guide.unlabelled == ("8 × A",)
    assert missing_text(guide.unlabelled, guide.unmarked) == "8 × A"
    assert missing_text((), ("3–7",)) == "the numbers 3–7" and missing_text((), ()) == ""


def test_the_alternate_text_tells_all_of_the_sheet_and_the_ruler_thins_its_figures():
    guide = drawn(SHEETS["one way"][0], 18, look=SHEETS["one way"][2], backs={"C": "back up"}, goes={"D": "Tall"})
    assert "its right edge up" in guide.scene.alt and "C of" in guide.scene.alt and "(back up)" in guide.scene.alt
    assert "D" in guide.unsaid or any("Tall" in text for text in words(guide))
    metric = [int(t.text) for t in drawn(SHEETS["metric"][0], 20, "mm").scene.texts if t.text.isdigit() and t.role == "figure"]
    assert {0, 50, 100, 150, 200, 250} == {*metric}
