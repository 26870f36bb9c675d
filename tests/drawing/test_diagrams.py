"""What each diagram shows, and that nothing on it touches what it should not."""

from collections import Counter
from fractions import Fraction as F

import pytest
from cutting_trees import STEP, trees
from drawing.pictures import BASES, FACES, LOOKS, SHEETS
from examples import tried
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.cutting.tree import Leaf, Split, cuts, leftovers, pieces
from kitwright.drawing.base import base_flat
from kitwright.drawing.dimensions import round_scale, scale_text
from kitwright.drawing.front import fit
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.layers import layer_steps, stages
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.scene import Box, Clip, Draft, Scene, SceneShape
from kitwright.drawing.sketch import card_sketch
from kitwright.drawing.thumbnail import thumbnail
from kitwright.geometry import Rect
from kitwright.units import ZERO, Size, figure, size_text

WIDE, NARROW = 480, 255
"""Points: a page's width, and a phone's (340 pixels)."""


def words(scene: Scene) -> list[str]:
    return [t.text for t in scene.texts]


def outlines(scene: Scene, role: str) -> list[Box]:
    """The boxes around the contours drawn with a line role."""
    return [
        Box(min(x for x, _ in c), min(y for _, y in c), max(x for x, _ in c), max(y for _, y in c))
        for s in scene.shapes
        if isinstance(s, SceneShape) and s.stroke == role
        for c in s.contours
    ]


# --- the check for overlaps itself -----------------------------------------------------------


def drawn(draw) -> Scene:
    draft = Draft()
    draw(draft)
    return draft.scene(100, 100, "", "")


def test_overlaps_are_seen():
    def two(d):
        d.text("alpha", 10, 20)
        d.text("beta", 20, 22)

    def through(d):
        d.line("cut", (0, 17), (100, 17))
        d.text("alpha", 10, 20)

    def off(d):
        d.text("alpha", 90, 20)

    def half_on_tag(d):
        d.box(Box(F(20), F(5), F(60), F(30)), None, "tag")
        d.text("alpha", 10, 20)

    for draw in (two, through, off, half_on_tag):
        assert overlaps(drawn(draw)), draw.__name__


def test_a_line_under_the_ground_of_a_text_does_not_count_but_one_over_it_does():
    def under(d):
        d.line("cut", (0, 17), (100, 17))
        d.box(Box(F(5), F(5), F(60), F(30)), None, "patch")
        d.text("alpha", 10, 20)

    def over(d):
        d.box(Box(F(5), F(5), F(60), F(30)), None, "patch")
        d.line("cut", (0, 17), (100, 17))
        d.text("alpha", 10, 20)

    assert overlaps(drawn(under)) == []
    assert overlaps(drawn(over)) == ["“alpha” meets a line of “cut”"]


# --- cutting guides --------------------------------------------------------------------------


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("name", SHEETS)
def test_nothing_touches_on_a_guide(name, width):
    node, unit, look = SHEETS[name]
    scene = cutting_guide(node, unit=unit, look=look, width=width, name="Morning paper")
    assert scene.width == width
    assert overlaps(scene) == []


def slivers() -> Split:
    """A sheet with strips a sixteenth wide near its right edge, cut across: their numbers are wider than they are."""

    def parts(rect, axis, sizes, *labels):
        at = ZERO
        for size, label in zip(sizes, labels):
            size = STEP * size
            yield Leaf(Rect(rect.x + at, rect.y, size, rect.height) if axis == "x" else Rect(rect.x, rect.y + at, rect.width, size), label)
            at = at + size

    sheet = Rect.of(Size(STEP * 174, STEP * 89))
    a, b, last = parts(sheet, "x", (73, 80, 21), "A", "A", None)
    c, d, e, f = parts(last.rect, "x", (12, 1, 1, 7), "A", None, None, "A")
    c = Split(c.rect, "x", tuple(parts(c.rect, "x", (1, 11), "A", "A")), "right")
    d = Split(d.rect, "y", tuple(parts(d.rect, "y", (75, 14), "B", "B")), "bottom")
    e = Split(e.rect, "y", tuple(parts(e.rect, "y", (1, 44, 38, 6), *"CBCD")), "bottom")
    return Split(sheet, "x", (a, b, Split(last.rect, "x", (c, d, e, f), "left")), "left")


@tried(25)
@given(trees(), st.sampled_from([WIDE, NARROW]), st.sampled_from(["in", "mm"]))
@example(slivers(), NARROW, "in")
def test_nothing_touches_on_any_guide(node, width, unit):
    assert overlaps(cutting_guide(node, unit=unit, width=width, look=DrawnLook("stripes", ("white", "sage")))) == []


@pytest.mark.parametrize("name", SHEETS)
def test_every_piece_carries_its_label_and_every_cut_its_number(name):
    node, unit, look = SHEETS[name]
    scene = cutting_guide(node, unit=unit, look=look, width=WIDE)
    shown = Counter()
    for text in scene.texts:
        head, _, tail = text.text.partition(" × ")
        if text.font.weight == "bold" and text.role == "label":
            shown[tail if tail in "ABCDEFKMSVW" and tail else text.text] += int(head) if tail else 1
    wanted = Counter(leaf.label for leaf in pieces(node))
    keys = {t.text for t in scene.texts if t.role == "label" and t.size == 9}
    for label, count in wanted.items():
        assert shown[label] - (label in keys) == count, label
    numbered = set()
    for tag in (t.text for t in scene.texts if t.role == "tag"):
        first, _, last = tag.partition("–")
        numbered |= set(range(int(first), int(last or first) + 1))
    # The legend shows a 1 as well, so that a sheet that is not cut has just that.
    assert numbered >= {cut.number for cut in cuts(node)} and numbered <= {1} | {cut.number for cut in cuts(node)}


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("name", SHEETS)
def test_every_size_is_said_once_at_least(name, width):
    node, unit, look = SHEETS[name]
    text = " ".join(words(cutting_guide(node, unit=unit, look=look, width=width)))
    for leaf in pieces(node):
        assert size_text(leaf.rect.size, unit) in text
    for rest in leftovers(node):
        assert size_text(rest.size, unit) in text


@given(trees(), st.sampled_from([WIDE, NARROW]))
@tried(25)
def test_cuts_lie_where_they_are_in_true_proportion(node, width):
    scene = cutting_guide(node, width=width)
    sheet = outlines(scene, "sheet")[0]
    unit = 72 * scene.scale
    assert (sheet.width, sheet.height) == (node.rect.width.inches * unit, node.rect.height.inches * unit)
    wanted = {
        ((sheet.left + ax.inches * unit, sheet.top + ay.inches * unit), (sheet.left + bx.inches * unit, sheet.top + by.inches * unit))
        for (ax, ay), (bx, by) in (cut.line for cut in cuts(node))
    }
    assert wanted == {c for s in scene.shapes if isinstance(s, SceneShape) and s.stroke == "cut" for c in s.contours}


@given(trees())
@tried(15)
def test_hatching_covers_leftovers_and_nothing_else(node):
    scene = cutting_guide(node)
    sheet, unit = outlines(scene, "sheet")[0], 72 * scene.scale
    rests = [
        Box(
            sheet.left + r.x.inches * unit,
            sheet.top + r.y.inches * unit,
            sheet.left + r.right.inches * unit,
            sheet.top + r.bottom.inches * unit,
        )
        for r in leftovers(node)
    ]
    lines = [c for s in scene.shapes if isinstance(s, SceneShape) and s.stroke == "waste" for c in s.contours]
    for (ax, ay), (bx, by) in lines:
        assert any(r.holds(Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))) for r in rests)
    for rest in rests:
        if rest.width + rest.height > 24:
            assert any(rest.left <= (a[0] + b[0]) / 2 <= rest.right and rest.top <= (a[1] + b[1]) / 2 <= rest.bottom for a, b in lines)


def test_hatching_leaves_room_for_figures():
    box, hole = Box(F(0), F(0), F(60), F(40)), Box(F(20), F(10), F(40), F(30))
    from kitwright.drawing.placing import crosses, hatched

    assert not any(crosses(hole, a, b) for a, b in hatched(box, [hole]))
    assert len(hatched(box, [hole])) > len(hatched(box))


def test_the_ruler_has_a_tick_for_each_eighth_and_a_number_for_each_inch():
    node, unit, look = SHEETS["one way"]
    scene = cutting_guide(node, unit=unit, look=look, width=WIDE)
    sheet = outlines(scene, "sheet")[0]
    ticks = {
        x
        for s in scene.shapes
        if isinstance(s, SceneShape) and s.stroke in ("ruler", "ruler-fine")
        for (x, y), (x2, _) in s.contours
        if x == x2 and y == sheet.top
    }
    assert ticks == {sheet.left + F(i, 8) * 72 * scene.scale for i in range(49)}
    numbers = [t.text for t in scene.texts if t.role == "note" and t.box.bottom < sheet.top and t.size == 8]
    assert numbers == list("0123456")


def test_a_millimetre_ruler_has_a_tick_for_each_millimetre():
    node, unit, look = SHEETS["pad"]
    scene = cutting_guide(node, unit=unit, look=look, width=WIDE)
    sheet = outlines(scene, "sheet")[0]
    ticks = [
        x
        for s in scene.shapes
        if isinstance(s, SceneShape) and s.stroke in ("ruler", "ruler-fine")
        for (x, y), (x2, _) in s.contours
        if x == x2 and y == sheet.top
    ]
    assert len(ticks) == 153


def test_a_one_way_paper_shows_its_up():
    node, unit, look = SHEETS["one way"]
    scene = cutting_guide(node, unit=unit, look=look)
    assert "this side up" in words(scene) and "right edge up" in scene.alt
    assert "this side up" not in words(cutting_guide(node, unit=unit))


def test_the_phone_gets_its_own_drawing_with_text_of_the_same_size():
    node, unit, look = SHEETS["columns"]
    wide, narrow = (cutting_guide(node, unit=unit, look=look, width=w) for w in (WIDE, NARROW))
    assert narrow.scale < wide.scale
    assert min(t.size for t in narrow.texts) == min(t.size for t in wide.texts) == 8
    assert len(narrow.texts) < len(wide.texts)


@pytest.mark.parametrize("height", [200, 300, 420])
@pytest.mark.parametrize("name", ["columns", "metric", "tall strips"])
def test_a_guide_keeps_to_the_height_it_is_given(name, height):
    node, unit, look = SHEETS[name]
    scene = cutting_guide(node, unit=unit, look=look, width=WIDE, height=height)
    assert scene.height <= height and overlaps(scene) == []


def test_guides_can_share_a_scale():
    node, unit, look = SHEETS["one way"]
    assert cutting_guide(node, unit=unit, width=WIDE, scale=F(1, 3)).scale == F(1, 3)


def test_the_scale_is_stated():
    assert scale_text(F(1, 2)) == "Scale 1:2" and scale_text(F(1)) == "True size" and scale_text(F(43, 100)) == "Drawn at 43 %"
    node, unit, look = SHEETS["columns"]
    scene = cutting_guide(node, unit=unit, look=look)
    assert scale_text(scene.scale) in words(scene)


@given(st.fractions(F(1, 50), 3))
def test_a_stated_percentage_is_exact(scale):
    rounded = round_scale(scale)
    assert rounded <= scale and (rounded * 100).denominator == 1


def test_alt_text_of_the_worked_sheet():
    # The batch worked by hand in the job: 9 strips of 1¼, 18 of ⅞, 3 in left in each column and ¾ × 12 beside.
    node, unit, look = SHEETS["columns"]
    assert cutting_guide(node, unit=unit).alt == (
        "A sheet of 12 × 12 in cut with 30 cuts into 9 × A of 3¾ × 1¼ in, 18 × B of 3¾ × ⅞ in. "
        "The first cut runs up and down, 3¾ in from the left. Left over: 3 of 3¾ × 3 in, ¾ × 12 in."
    )


# --- card sketches ---------------------------------------------------------------------------


@pytest.mark.parametrize("slim", [False, True])
@pytest.mark.parametrize("width", [360, NARROW])
@pytest.mark.parametrize("name", FACES)
def test_nothing_touches_on_a_sketch(name, width, slim):
    face, unit = FACES[name]
    assert overlaps(card_sketch(face, LOOKS, unit=unit, width=width, name="The front", slim=slim)) == []


@pytest.mark.parametrize("name", FACES)
def test_on_a_narrow_screen_the_card_fills_most_of_the_width_and_every_figure_stays(name):
    face, unit = FACES[name]
    usual, slim = (card_sketch(face, LOOKS, unit=unit, width=NARROW, slim=s) for s in (False, True))
    assert slim.scale > usual.scale
    shown = face.size.width.inches * 72 * slim.scale / NARROW
    assert shown >= F(3, 5) or slim.scale == 1
    # Sizes and labels all stay; of the words down the side only what a gap or a border is called goes.
    figures, labels = (
        [{t.text.partition(" ")[0] for t in scene.texts if t.role in roles} for scene in (usual, slim)]
        for roles in (("figure",), ("label",))
    )
    borders = [{t.text.partition(" ")[0] for t in scene.texts if t.role == "note" and t.text[0].isnumeric()} for scene in (usual, slim)]
    for before, after in (figures, labels, borders):
        assert before <= after


@pytest.mark.parametrize("width", [130, 360])
@pytest.mark.parametrize("name", FACES)
def test_a_sketch_says_where_its_fold_is_beside_it_or_in_its_key(name, width):
    face, unit = FACES[name]
    said = [text.text for text in card_sketch(face, LOOKS, unit=unit, width=width).texts]
    assert said.count("fold") == (1 if face.hinges else 0)


@pytest.mark.parametrize("width", [360, NARROW])
@pytest.mark.parametrize("name", FACES)
def test_every_paper_on_a_sketch_is_labelled(name, width):
    face, unit = FACES[name]
    shown = Counter(t.text for t in card_sketch(face, LOOKS, unit=unit, width=width).texts if t.role == "label")
    assert shown == Counter(p.label for p in face.stack if p.layer != "base")


@pytest.mark.parametrize("name", FACES)
def test_the_chain_down_the_side_is_the_sum_of_the_front(name):
    face, unit = FACES[name]
    shown = words(card_sketch(face, LOOKS, unit=unit, width=360))
    longest = max((s for s in face.sums if s.direction == "along"), key=lambda s: len(s.terms))
    wanted = Counter(f"{figure(t.length, unit)} {t.name}" for t in longest.terms)
    assert wanted <= Counter(shown)


@pytest.mark.parametrize("name", FACES)
def test_papers_lie_in_true_proportion(name):
    face, unit = FACES[name]
    scene = card_sketch(face, LOOKS, unit=unit, width=360)
    clips = [s.outline for s in scene.shapes if isinstance(s, Clip)]
    assert len(clips) == len(face.stack)
    x0, y0 = clips[0][0]
    for placed, contour in zip(face.stack, clips):
        corners = placed.outline or (
            (placed.rect.x, placed.rect.y),
            (placed.rect.right, placed.rect.y),
            (placed.rect.right, placed.rect.bottom),
            (placed.rect.x, placed.rect.bottom),
        )
        assert contour == tuple((x0 + x.inches * 72 * scene.scale, y0 + y.inches * 72 * scene.scale) for x, y in corners)


def test_the_fold_is_a_long_dash_on_its_side():
    for name, upright in (("side fold", True), ("top fold", False)):
        face, unit = FACES[name]
        scene = card_sketch(face, LOOKS, unit=unit)
        fold = outlines(scene, "fold")[0]
        assert (fold.width == 0) == upright and (fold.height == 0) != upright
        assert "fold" in words(scene)


def test_edges_under_a_strip_are_dashed_and_the_greeting_stays_clear():
    face, unit = FACES["top fold"]
    assert outlines(card_sketch(face, LOOKS, unit=unit), "hidden")
    assert not outlines(card_sketch(FACES["side fold"][0], LOOKS), "hidden")


def test_a_plain_picture_has_the_greeting_and_nothing_else_to_read():
    for face, unit in FACES.values():
        scene = card_sketch(face, LOOKS, unit=unit, width=320, plain=True)
        assert " ".join(words(scene)) == face.sentiment.text
        assert overlaps(scene) == []
        assert scene.alt == card_sketch(face, LOOKS, unit=unit).alt


def test_a_plain_picture_keeps_to_its_canvas():
    scene = card_sketch(FACES["side fold"][0], LOOKS, width=200, height=150, plain=True)
    assert (scene.width, scene.height) == (200, 150)


def test_a_sketch_keeps_to_its_height():
    for face, unit in FACES.values():
        assert card_sketch(face, LOOKS, unit=unit, width=360, height=260).height <= 260


@given(st.text(alphabet="abcdef gh", min_size=1, max_size=40).filter(str.strip), st.integers(10, 300), st.integers(5, 100))
def test_a_greeting_is_set_inside_its_printed_area(text, wide, high):
    from kitwright.drawing.fonts import width
    from kitwright.drawing.front import GREETING

    area = Box(F(0), F(0), F(wide), F(high))
    lines, size = fit(text, area.width, area.height)
    if size:
        assert size >= 8 and all(width(line, size, GREETING) <= wide for line in lines)
        assert " ".join(lines).split() == text.split()


def test_alt_text_of_a_sketch_comes_from_its_geometry():
    alt = card_sketch(FACES["side fold"][0], LOOKS).alt
    assert alt == (
        "Card front of 4¼ × 5½ in, folded at the left. On the base lies M of 4 × 5¼ in. Pieces: "
        "A of 3¾ × 1¼ in, ¼ from the left and ¼ from the top; B of 3¾ × ⅞ in, ¼ from the left and 1⅝ from the top; "
        "B of 3¾ × ⅞ in, ¼ from the left and 4⅜ from the top. The greeting reads “thinking of you”."
    )


# --- base, layers, thumbnail -------------------------------------------------------------------


@pytest.mark.parametrize("grain", [None, "up and down", "across"])
@pytest.mark.parametrize("width", [320, 230])
@pytest.mark.parametrize("name", BASES)
def test_the_base_shows_its_score_its_front_and_its_grain(name, width, grain):
    base, unit = BASES[name]
    scene = base_flat(base, unit=unit, width=width, grain=grain, name="Linen")
    assert overlaps(scene) == []
    sheet, score = outlines(scene, "sheet")[0], outlines(scene, "score")[0]
    offset = score.left - sheet.left if base.fold == "side" else score.top - sheet.top
    assert offset == base.score.inches * 72 * scene.scale
    assert {"front", "back", "score"} <= set(words(scene))
    assert ("grain" in " ".join(words(scene))) == bool(grain)


def test_alt_text_of_a_base():
    assert base_flat(BASES["side fold"][0], grain="up and down").alt == (
        "Card base of 8½ × 5½ in, scored up and down 4¼ in from the left edge; folded, the front is 4¼ × 5½ in. The grain runs up and down."
    )


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("name", FACES)
def test_layers_grow_from_the_lowest_at_one_scale(name, width):
    face, unit = FACES[name]
    scene = layer_steps(face, LOOKS, unit=unit, width=width)
    assert overlaps(scene) == []
    steps = stages(face, unit)
    assert [t.text for t in scene.texts if t.role == "tag"] == [str(i + 1) for i in range(len(steps))]
    for before, after in zip(steps, steps[1:]):
        assert after.before == before.before + before.added
    assert steps[-1].before + steps[-1].added == face.stack
    bases = [s.outline for s in scene.shapes if isinstance(s, Clip)]
    sizes = {(c[2][0] - c[0][0], c[2][1] - c[0][1]) for c in bases if c[2][0] - c[0][0] == face.size.width.inches * 72 * scene.scale}
    assert (face.size.width.inches * 72 * scene.scale, face.size.height.inches * 72 * scene.scale) in sizes


@pytest.mark.parametrize("width", [WIDE, NARROW, 150])
@pytest.mark.parametrize("name", FACES)
def test_a_size_beside_a_layer_is_never_in_two(name, width):
    face, unit = FACES[name]
    lines = [t.text for t in layer_steps(face, LOOKS, unit=unit, width=width).texts if t.role == "title"]
    for line in lines:
        assert line not in ("in", "mm") and not line.startswith("×") and not line.endswith("×")
    for layer in face.layers:
        assert any(size_text(layer.rect.size, unit) in line for line in lines)


def test_thumbnails_are_four_to_three():
    for face, _ in FACES.values():
        scene = thumbnail([face], [LOOKS], width=320)
        assert scene.width * 3 == scene.height * 4 and overlaps(scene) == []
    both = thumbnail([FACES["side fold"][0]] * 2, [LOOKS] * 2)
    assert len(both.shapes) > len(thumbnail([FACES["side fold"][0]], [LOOKS]).shapes)
