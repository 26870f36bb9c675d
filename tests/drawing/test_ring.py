"""The ring round a place: exact, all round it, told from other lines in grey too, the same with every pen."""

from __future__ import annotations

import io
from fractions import Fraction

from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.drawing import palette, styles
from kitwright.drawing.png import png
from kitwright.drawing.ring import CLEAR, STEPS, TURN, UNIT, ring, ringed, words_in
from kitwright.drawing.scene import Box, Draft, SceneShape
from kitwright.drawing.svg import svg
from PIL import Image

EDGES = st.integers(0, 300).map(lambda n: Fraction(n, 2))


def holds(line, point) -> bool:
    """Whether a point lies inside a closed line (the rule of even and odd crossings)."""
    (x, y), inside = point, False
    for (a, b), (c, d) in zip(line, line[1:] + line[:1]):
        if (b > y) != (d > y) and x < (c - a) * (y - b) / (d - b) + a:
            inside = not inside
    return inside


def test_its_places_lie_on_the_unit_circle_exactly():
    assert all(a * a + b * b == 1 for a, b in UNIT) and len(set(UNIT)) == TURN == 16


@tried(60)
@given(EDGES, EDGES, st.integers(-500, 500), st.integers(-500, 500))
def test_it_goes_round_the_whole_box_and_stays_near(width, height, x, y):
    box = Box(Fraction(x), Fraction(y), x + width, y + height)
    line = ring(box)
    assert all(isinstance(v, Fraction) for point in line for v in point)
    one_turn = line[: TURN * STEPS]
    assert all(holds(one_turn, corner) for corner in box.corners)
    # Never farther off than a finger's breadth, so that it is clear what is meant.
    far = box.grown(max(width, height) / 4 + 3 * CLEAR)
    assert all(far.left < a < far.right and far.top < b < far.bottom for a, b in line)


def test_its_end_lies_beyond_its_start_as_a_pencil_leaves_it():
    box = Box(Fraction(0), Fraction(0), Fraction(40), Fraction(20))
    line = ring(box)
    assert len(line) > TURN * STEPS and line[0] != line[-1]
    assert not holds(line[: TURN * STEPS], line[-1])


def picture() -> Draft:
    draft = Draft()
    draft.box(Box(Fraction(0), Fraction(0), Fraction(120), Fraction(80)), None, palette.Ink("night"))
    draft.text("B", 50, 40, 15, "label")
    draft.text("2 × 3 in", 40, 54, 9)
    draft.text("far away", 4, 76, 9)
    return draft


def test_words_are_found_in_their_piece_with_the_size_or_without():
    scene = picture().scene(120, 80, "x", "A sheet.")
    room = Box(Fraction(20), Fraction(10), Fraction(100), Fraction(70))
    both, alone = words_in(scene, room, "B"), words_in(scene, room, "B", sized=False)
    letter, size, other = (next(t for t in scene.texts if t.text == words).box for words in ("B", "2 × 3 in", "far away"))
    assert both.holds(letter) and both.holds(size) and not both.meets(other)
    assert alone.left == letter.left and not alone.meets(size)
    assert words_in(scene, room, "C") is None and words_in(scene, Box(Fraction(0), Fraction(0), Fraction(9), Fraction(9)), "B") is None


def test_a_ring_changes_the_picture_only_where_it_is_and_says_so():
    bare = picture().scene(120, 80, "x", "A sheet.")
    box = Box(Fraction(44), Fraction(20), Fraction(66), Fraction(44))
    with_ring = ringed(bare, [box], "Circled: B.")
    assert with_ring.alt == "A sheet. Circled: B." and with_ring.texts == bare.texts and with_ring.shapes[: len(bare.shapes)] == bare.shapes
    assert [s.stroke for s in with_ring.shapes[-2:] if isinstance(s, SceneShape)] == ["ring-ground", "ring"]
    assert ringed(bare, [], "nothing") is bare
    assert svg(with_ring).count("<path") > svg(bare).count("<path") or svg(with_ring) != svg(bare)
    before, after = (Image.open(io.BytesIO(png(s))).convert("L") for s in (bare, with_ring))
    scale = Fraction(before.size[0], 120)
    # In grey: the line stands out from the dark paper through the bare rim beside it.
    row = [after.getpixel((x, round(32 * scale))) for x in range(before.size[0])]
    assert max(row) - min(row) > 120
    assert before.getpixel((3, 3)) == after.getpixel((3, 3))


def test_the_ring_is_thicker_than_any_other_line():
    ring_line = styles.line("ring")
    assert all(
        styles.LINES[name].width < ring_line.width for name in styles.LINES if not name.startswith("ring") and not name.endswith("-ground")
    )
    assert styles.line("ring-ground").width >= ring_line.width + 2
