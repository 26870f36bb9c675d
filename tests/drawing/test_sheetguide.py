"""The compact guide of the printable: at every scale from its least up all is there, at true proportion, and nothing touches."""

from collections import Counter
from fractions import Fraction as F

import pytest
from cutting_trees import trees
from drawing.pictures import SHEETS
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.tree import Node, cuts, pieces
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.scene import SceneShape
from kitwright.drawing.sheetguide import LEAST, MOST, SheetGuide, guide_scales, guide_size, sheet_guide


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


def holds(node: Node, guide: SheetGuide, scale: F) -> None:
    """What holds of every sound guide."""
    assert guide.scene.scale == scale
    assert overlaps(guide.scene) == []
    assert labelled(guide) == Counter(leaf.label for leaf in pieces(node) for _ in range(leaf.gives))
    assert numbered(guide) == {stroke.number: 1 for stroke in cuts(node)}
    assert all(text.size >= (10 if text.role == "label" else 8) for text in guide.scene.texts)
    true(node, guide, scale)


def true(node: Node, guide: SheetGuide, scale: F) -> None:
    """Every cut lies where the sheet is cut, to scale."""
    lines = [s for s in guide.scene.shapes if isinstance(s, SceneShape) and s.stroke == "cut"]
    drawn = [line for s in lines for line in s.contours][: len(cuts(node))]
    (left, top), *_ = next(s.contours[0] for s in guide.scene.shapes if isinstance(s, SceneShape) and s.fill == "white")
    for stroke, ends in zip(cuts(node), drawn, strict=True):
        for (x, y), (across, along) in zip(ends, stroke.line):
            assert (x - left, y - top) == (across.inches * 72 * scale, along.inches * 72 * scale)


@pytest.mark.parametrize("name", SHEETS)
def test_a_guide_is_whole_from_its_least_scale_up(name):
    node, unit, look = SHEETS[name]
    found = guide_scales(node, unit=unit)
    for scale in {found.least, found.placed, F(MOST, 100)}:
        guide = sheet_guide(node, unit=unit, scale=scale, look=look)
        assert guide.sound
        holds(node, guide, scale)
        assert (guide.scene.width, guide.scene.height) == guide_size(node, scale, unit=unit)
        assert scale < found.placed or not guide.led


@tried(20)
@given(trees(), st.integers(LEAST, MOST), st.sampled_from(["in", "mm"]), st.booleans())
def test_nothing_touches_and_all_is_there_on_any_guide(node, per_cent, unit, whole):
    scale = F(per_cent, 100)
    guide = sheet_guide(node, unit=unit, scale=scale, whole=whole)
    assert overlaps(guide.scene) == []
    true(node, guide, scale)
    if guide.sound:
        holds(node, guide, scale)
