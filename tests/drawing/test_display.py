"""Finished cards on a plain ground: shapes and margins, cards in rows and as a fan, titles, and what pens make of them."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction as F

import numpy as np
import pypdfium2 as pdfium
import pytest
from drawing.pictures import FACES, LOOKS
from foldedkits import GATE, Z
from kitwright.drawing.display import display as shown
from kitwright.drawing.display.cards import every_card, fans
from kitwright.drawing.display.display import GROUND, alone, display, fanned_out, in_rows_of, on_nothing
from kitwright.drawing.display.ratios import LEAST_PIXELS, PIXELS, RATIOS, SHARE
from kitwright.drawing.display.spread import fanned, in_rows
from kitwright.drawing.display.standing import standing_open
from kitwright.drawing.display.title import DisplayTitle
from kitwright.drawing.display.turned import turn_of, turned
from kitwright.drawing.palette import Ink
from kitwright.drawing.pdf import pdf
from kitwright.drawing.png import image, png, see_through
from kitwright.drawing.scene import Box, Clip, Draft, Frame, SceneShape, Stamps, Text
from kitwright.drawing.shown import looks_on
from kitwright.drawing.sketch import picture
from kitwright.drawing.svg import svg
from making import BATCH, changed, make_worked
from PIL import Image
from pytest import approx

SIDE, TOP, SQUARE = (FACES[name][0] for name in ("side fold", "top fold", "square"))
TITLE = DisplayTitle("The long way round by the river", "November 2026")


def looking(face, *times):
    """The same card in several looks, each so many times."""
    return tuple(replace(face, name=f"look {i}", cards=cards) for i, cards in enumerate(times))


def drawn(exhibits, ratio, title=None):
    scene = display(exhibits, ratio, title=title)
    assert scene is not None
    return scene


def test_the_shapes_are_exactly_those_asked_for_and_wide_enough():
    assert {ratio.said: ratio.proportion for ratio in RATIOS.values()} == {
        "16:9": F(16, 9),
        "1:1": 1,
        "4:5": F(4, 5),
        "9:16": F(9, 16),
        "1.91:1": F(191, 100),
    }
    assert all(ratio.width >= 1280 and name == ratio.name for name, ratio in RATIOS.items())
    assert SHARE.width >= 1280 and float(SHARE.proportion) == approx(1.91, rel=1e-3)


def test_words_and_cards_keep_to_the_safe_title_area():
    # SMPTE ST 2046-1: the safe title area is nine tenths of the width and of the height of a 16:9 picture.
    for ratio in RATIOS.values():
        width, height = ratio.size
        assert ratio.safe.width <= width * F(9, 10) and ratio.safe.height <= height * F(9, 10)
    tall = RATIOS["9x16"]
    assert tall.above >= F(1, 8) and tall.below >= F(1, 5), "a tall video has names above, buttons and a caption below"


WAYS = {
    "one": lambda: alone(SIDE, LOOKS),
    "rows": lambda: in_rows_of([TOP] * 7, [LOOKS] * 7),
    "fan": lambda: fanned_out([SQUARE] * 3, [LOOKS] * 3),
    "fan of two sizes": lambda: fanned_out([SIDE, TOP, SIDE], [LOOKS] * 3),
}


@pytest.mark.parametrize("ratio", RATIOS.values(), ids=list(RATIOS))
@pytest.mark.parametrize("way", WAYS)
def test_nothing_of_a_card_or_a_title_leaves_the_safe_area_and_no_text_is_too_small(ratio, way):
    for title in (None, TITLE):
        scene = drawn(WAYS[way](), ratio, title)
        assert (scene.width * PIXELS, scene.height * PIXELS) == (ratio.width, ratio.height)
        assert all(text.size * PIXELS >= LEAST_PIXELS for text in scene.every_text) and LEAST_PIXELS >= 24
        assert all(ratio.safe.holds(text.box) for text in scene.texts) and bool(scene.texts) == bool(title)
        bases = [item for item in scene.shapes if isinstance(item, Clip)]
        corners = [corner for item in bases for corner in item.outline]
        # A strip may stick out past its card by an eighth of an inch.
        over = 9 * max(item.made_from[3] for item in bases)
        assert ratio.safe.grown(over).holds(Box(*(edge(corner[i] for corner in corners) for edge in (min, max) for i in (0, 1))))


def test_a_title_stands_above_or_beside_the_cards_and_never_on_them():
    for ratio in RATIOS.values():
        scene = drawn(WAYS["rows"](), ratio, TITLE)
        outlines = [item.outline for item in scene.shapes if isinstance(item, Clip)]
        for text in scene.texts:
            for outline in outlines:
                xs, ys = zip(*outline)
                assert not text.box.meets(Box(min(xs), min(ys), max(xs), max(ys)))
        assert " ".join(text.text for text in scene.texts) == f"{TITLE.head} {TITLE.under}"


def test_words_that_fit_at_no_size_are_refused():
    assert display(WAYS["one"](), RATIOS["9x16"], title=DisplayTitle("so" * 200)) is None


def test_words_are_read_on_any_ground():
    roles = {ground: {text.role for text in display(WAYS["one"](), SHARE, ground=Ink(ground), title=TITLE).texts} for ground in GROUNDS}
    assert roles == GROUNDS


GROUNDS = {
    "linen": {"title", "note"},
    "sage": {"sentiment-black"},
    "night": {"sentiment-light"},
    "accent": {"tag"},
    "paper": {"title", "note"},
    "ink": {"sentiment-light"},
    "#FFFFFF": {"title", "note"},
    "#000000": {"sentiment-light"},
}


def test_the_whole_batch_is_there_and_every_look_as_often_as_it_is_made():
    looks = looking(SIDE, 5, 3, 1)
    every = every_card([looks])
    assert [every.count(look) for look in looks] == [5, 3, 1] and every[0] is looks[0]
    for spread in in_rows([face.size for face in every]):
        assert sorted(lying.card for lying in spread.lying) == list(range(9))


def test_ten_cards_leave_none_alone_in_its_row():
    for spread in in_rows([SIDE.size] * 10):
        rows = [sum(lying.y == y for lying in spread.lying) for y in {lying.y for lying in spread.lying}]
        assert max(rows) - min(rows) <= 1


@pytest.mark.parametrize(
    ("times", "shown"), [((1,), []), ((2,), [2]), ((12,), [3, 5]), ((6, 6), [3, 5]), ((1, 1), [2]), ((8, 1, 1, 1), [5])]
)
def test_a_fan_has_every_look_and_the_leading_one_on_top(times, shown):
    looks = looking(SIDE, *times)
    parts = fans([looks])
    assert [len(part) for part in parts] == shown
    for part in parts:
        assert {*part} == {*looks} and all(part.count(look) <= look.cards for look in looks)
        for spread in fanned([face.size for face in part]):
            assert spread.lying[-1].card == 0, "what lies on top is drawn last"


def test_more_looks_than_a_fan_takes():
    (part,) = fans([looking(SIDE, *[1] * 40)])
    assert len(part) == len({*part}) == 15


def test_turns_are_exact():
    for half in (F(1, 26), F(-3, 15)):
        cos, sin = turn_of(half)
        assert cos * cos + sin * sin == 1
    own = Draft()
    picture(own, SIDE, LOOKS, Frame(F(0), F(0), F(1)))
    for item in own.shapes:
        if isinstance(item, SceneShape):
            was, now = item.contours[0], turned(item, turn_of(F(1, 7)), (F(5), F(9))).contours[0]
            far = [(a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 for ring in (was, now) for a, b in zip(ring, ring[1:])]
            assert far[: len(far) // 2] == far[len(far) // 2 :]


def test_words_turn_with_the_card_in_every_pen():
    plain = Text("hello", F(60), F(60), F(20))
    upward, carried = replace(plain, upward=True), replace(plain, carry=(F(0), F(-1), F(1), F(0)))
    assert upward.box == carried.box
    dark = [np.asarray(image(_scene(shapes=[text]), F(1)).convert("L")) < 128 for text in (upward, carried)]
    places = [[(axis.min(), axis.max()) for axis in np.nonzero(each)] for each in dark]
    assert np.abs(np.array(places[0]) - np.array(places[1])).max() <= 1
    assert 'transform="matrix(0.00000 -1.00000 1.00000 0.00000 0 120)"' in svg(_scene(shapes=[carried]))
    with pdfium.PdfDocument(pdf(_scene(shapes=[upward]))) as one, pdfium.PdfDocument(pdf(_scene(shapes=[carried]))) as other:
        pages = [np.asarray(each[0].render().to_pil().convert("L"), dtype=int) for each in (one, other)]
    assert np.abs(pages[0] - pages[1]).max() <= 8


def _scene(shapes=(), texts=()):
    draft = Draft(list(shapes), list(texts))
    return draft.scene(120, 120, "", "")


def test_what_lies_over_words_on_a_card_covers_them():
    words, cover = Text("hello", F(20), F(60), F(20)), SceneShape((Box(F(0), F(0), F(120), F(120)).corners,), None, "white")
    assert np.asarray(image(_scene(shapes=[words, cover]), F(1))).min() == 255
    assert np.asarray(image(_scene(shapes=[cover, words]), F(1))).min() < 128
    written = svg(_scene(shapes=[words, cover]))
    assert written.index("hello</text>") < written.index("<path d=")


def test_a_card_on_nothing_lets_the_ground_through_and_its_shadow_half():
    # One pixel to a point does for a test.
    scene = on_nothing(SIDE, LOOKS)
    assert scene.width * PIXELS >= 1280 and max(scene.width, scene.height) * PIXELS >= 1600
    with Image.open(io.BytesIO(see_through(scene, F(1, 2)))) as found:
        assert found.mode == "RGBA"
        cover = np.asarray(found)[:, :, 3]
        on_grey = np.asarray(Image.alpha_composite(Image.new("RGBA", found.size, (128, 128, 128, 255)), found).convert("RGB"), dtype=int)
    assert cover[0, 0] == 0 and cover[cover.shape[0] // 2, cover.shape[1] // 2] == 255
    assert ((cover > 20) & (cover < 200)).any(), "the soft shadow"
    assert np.abs(on_grey - np.asarray(image(scene, F(1, 2), ground=(128, 128, 128)), dtype=int)).max() <= 2


def test_the_same_cards_are_the_same_bytes():
    first, second = (png(drawn(WAYS["fan"](), SHARE), F(1, 2)) for _ in range(2))
    assert first == second


def test_a_card_of_another_outline_casts_its_own_shadow():
    ring = ((F(0), F(0)), (F(100), F(0)), (F(50), F(80)))
    for layer in shown.soft_shadow(ring, turn_of(F(0)), (F(50), F(40)), F(72)):
        assert len(layer.contours[0]) == 3


def test_the_ground_is_darker_than_most_cardstock():
    ground = np.asarray(image(drawn(WAYS["one"](), SHARE), F(1, 4)))[0, 0]
    assert tuple(ground) == tuple(int(GROUND.name[i : i + 2], 16) for i in (1, 3, 5))


def test_a_folded_card_stands_open_with_its_words_on_the_panels_that_are_seen(tmp_path):
    gate = make_worked(tmp_path / "gate", GATE)
    opened = standing_open(gate, looks_on(gate, gate.face))
    assert opened is not None
    words = {text.text: text for text in drawn([opened], RATIOS["16x9"]).every_text}
    assert {*words} == {"the kettle is on"}, "the plate with the other greeting lies on a door, and is seen from behind"
    # The panel that the card stands before faces the reader: nothing on it leans.
    assert words["the kettle is on"].carry == (1, 0, 0, 1)
    blank = make_worked(tmp_path / "blank", changed(BATCH, ("fold: side", "fold: stepped")))
    assert standing_open(blank, looks_on(blank, blank.face)) is None, "it is empty inside"
    plain = make_worked(tmp_path / "plain", BATCH)
    assert standing_open(plain, looks_on(plain, plain.face)) is None


def test_a_pattern_leans_with_its_panel(tmp_path):
    screen = make_worked(tmp_path, Z)
    opened = standing_open(screen, looks_on(screen, screen.face))
    assert opened is not None
    leaning = [item for item in drawn([opened], RATIOS["1x1"]).shapes if isinstance(item, Clip) and len(item.items) > 1]
    assert len(leaning) == 3
    for item in leaning:
        waves = next(each for each in item.items if isinstance(each, Stamps))
        (ax, ay), (bx, by) = waves.motif[0][0], waves.motif[0][1]
        top = item.outline[1][0] - item.outline[0][0], item.outline[1][1] - item.outline[0][1]
        assert ay != by and ax != bx and top[1] != 0
