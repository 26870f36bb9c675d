"""Pockets, shakers and belly bands drawn: true to what `card` says of them, and nothing touching what it should not."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from fixedkits import SHAKE, laid_out
from kitwright.archive.pictures import looks_of, pictures_of
from kitwright.card.band import Band
from kitwright.card.face import Placed
from kitwright.card.hold import Hold
from kitwright.card.pocket import Pocket
from kitwright.card.shaker import Shaker
from kitwright.drawing.holds.band import band_picture
from kitwright.drawing.holds.held import held_of
from kitwright.drawing.holds.pocket import pocket_picture
from kitwright.drawing.holds.shaker import shaker_picture
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.scene import Box, Scene, SceneShape
from kitwright.drawing.sketch import card_sketch
from kitwright.geometry import Rect
from kitwright.materials import Range
from kitwright.telling.holds import thin_text
from kitwright.units import Length, Size
from making import changed, make_worked

WIDE, NARROW = 340, 245
LOOKS = {
    ("white", "front"): DrawnLook("plain", ("white",)),
    ("reeds", "front"): DrawnLook("pinstripes", ("sage", "white")),
    ("night", "front"): DrawnLook("dots", ("night", "sky")),
    ("shells", "front"): DrawnLook("waves", ("butter", "clay")),
}


def rect(*sides) -> Rect:
    return Rect(*(Length(F(side)) for side in sides))


def inches(value) -> Length:
    return Length(F(value))


def thick(value: str) -> Range:
    return Range.exact(F(value) * F(127, 5))


PANEL = Placed("base", "white", "front", rect(0, 0, "17/4", "11/2"), layer="base")
LYING = {
    "top": rect("1/8", "19/8", 4, 3),
    "bottom": rect("1/8", "1/8", 4, 3),
    "left": rect("5/4", "1/2", 3, 4),
    "right": rect(0, "1/2", 3, 4),
}


def pocket(edge, paper: str = "reeds") -> tuple[tuple[Placed, ...], Placed]:
    value = Pocket(LYING[edge], edge, inches("1/4"))
    size = Size(inches("13/4"), inches("9/2")) if value.upright else Size(inches(4), inches("13/4"))
    tag = Placed("T", "white", "front", value.home(size), layer="over", hold=Hold("loose", into="K"))
    piece = Placed("K", paper, "front", value.rect, layer="over", hold=Hold("pocket", pocket=value))
    return (PANEL, tag, piece), piece


def shaker() -> tuple[tuple[Placed, ...], Placed, Shaker]:
    frame = rect("3/8", "1/4", "7/2", "7/2")
    window = frame.inset(inches("5/8"))
    value = Shaker(frame, window, inches("1/8"), inches("1/4"), inches("1/4"))
    rings = tuple(((r.x, r.y), (r.right, r.y), (r.right, r.bottom), (r.x, r.bottom)) for r in (frame, window))
    outer, inner = rings
    outline = (*outer, outer[0], inner[0], *reversed(inner[1:]), inner[0])
    piece = Placed("F", "white", "front", frame, raised=True, layer="over", outline=outline, edges=rings, hold=Hold("shaker", shaker=value))
    film = Placed("Film", "clear", "front", value.film, layer="over", hold=Hold("film", shaker=value))
    floor = Placed("P", "shells", "front", rect("1/8", "1/8", 4, "21/4"), layer="layer")
    return (PANEL, floor, film, piece), piece, value


def shaken(width: int = WIDE, **more) -> Scene:
    stack, piece, _ = shaker()
    known = {"white": thick("0.012"), "shells": thick("0.008"), "clear": thick("0.005")}
    return shaker_picture(stack, piece, LOOKS, known, thick("1/8"), inside="sequins", names={"base": "card front"}, width=width, **more)


def boxes(scene: Scene, role: str) -> list[Box]:
    return [
        Box(min(x for x, _ in c), min(y for _, y in c), max(x for x, _ in c), max(y for _, y in c))
        for s in scene.shapes
        if isinstance(s, SceneShape) and s.stroke == role
        for c in s.contours
    ]


def said(scene: Scene) -> list[str]:
    return [text.text for text in scene.texts]


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("edge, paper", [("top", "reeds"), ("bottom", "night"), ("left", "night"), ("right", "reeds")])
def test_a_pocket_opens_where_it_is_said(edge, paper, width):
    stack, piece = pocket(edge, paper)
    scene = pocket_picture(stack, piece, LOOKS, width=width)
    assert overlaps(scene) == []
    words = said(scene)
    assert {"T", "K", f"open edge: {edge}", "pull"} <= set(words)
    assert any("on three edges: 10 in" in text for text in words)


def test_the_glue_is_hatched_on_three_edges_only_and_the_tag_is_dashed_below():
    stack, piece = pocket("top")
    scene = pocket_picture(stack, piece, LOOKS)
    unit = 72 * scene.stated_scale
    card = boxes(scene, "edge")[0]
    box = Box(
        *(
            edge
            for edge in (card.left + F(1, 8) * unit, card.top + F(19, 8) * unit, card.left + F(33, 8) * unit, card.top + F(43, 8) * unit)
        )
    )
    inner = Box(box.left + unit / 4, box.top, box.right - unit / 4, box.bottom - unit / 4)
    lines = [line for line in boxes(scene, "glue") if line.bottom <= box.bottom]
    assert lines and all(box.holds(line) and not inner.meets(line) for line in lines)
    hidden = boxes(scene, "hidden")
    assert inner in hidden
    sides = {line.left for line in hidden if line.width == 0}
    assert sides == {card.left + F(1, 2) * unit, card.left + F(15, 4) * unit}


def test_an_empty_pocket_is_drawn_without_a_tag():
    stack, piece = pocket("top")
    scene = pocket_picture((stack[0], piece), piece, LOOKS)
    assert overlaps(scene) == [] and "pull" not in said(scene) and scene.title == "Pocket K"


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_a_shaker_is_told_layer_by_layer(width):
    scene = shaken(width)
    assert overlaps(scene) == []
    assert {"card front 0.012", "P 0.008", "foam ⅛", "Film 0.005", "F 0.012"} <= set(said(scene))
    assert "film, 2¾ × 2¾ in" in said(scene)


def test_foam_lies_like_a_pinwheel_round_the_window_under_the_frame():
    stack, piece, value = shaker()
    scene = shaken()
    unit, card = 72 * scene.stated_scale, boxes(scene, "edge")[0]
    wanted = [
        Box(
            card.left + s.x.inches * unit,
            card.top + s.y.inches * unit,
            card.left + s.right.inches * unit,
            card.top + s.bottom.inches * unit,
        )
        for s in value.strips
    ]
    drawn = boxes(scene, "hidden")
    assert all(strip in drawn for strip in wanted)
    assert not any(a.meets(b) for i, a in enumerate(wanted) for b in wanted[i + 1 :])
    film = boxes(scene, "film")[0]
    assert film.width == value.film.width.inches * unit


def test_the_cut_shows_every_layer_as_many_times_thicker():
    scene = shaken()
    times = int(next(text for text in said(scene) if text.startswith("Cut through")).split("× ")[1])
    unit = 72 * scene.stated_scale * times
    cut = [box for box in boxes(scene, "edge") if box.top > boxes(scene, "edge")[0].bottom]
    assert sorted({box.height / unit for box in cut}) == [F(5, 1000), F(8, 1000), F(12, 1000), F(1, 8)]
    foot = max(box.bottom for box in cut)
    assert foot - min(box.top for box in cut) == F(162, 1000) * unit, "one lies on another"


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize(
    "band, unit, words",
    [
        (
            Band(inches("17/4"), inches("0.194"), inches("0.008"), inches("1/2")),
            "in",
            "2 × (4¼ + 0.194) + 4 × 0.008 + ½ overlap = 9.42; cut 9½ in",
        ),
        (
            Band(Length.mm(105), Length.mm(0), Length.mm(F(3, 10)), Length.mm(12), "mm"),
            "mm",
            "2 × (105 + 0) + 4 × 0.3 + 12 overlap = 223.2; cut 224 mm",
        ),
    ],
)
def test_a_belly_band_says_how_its_length_comes_about(band, unit, words, width):
    scene = band_picture(band, inches("3/2"), "B", unit=unit, width=width)
    assert overlaps(scene) == []
    assert words in " ".join(said(scene))
    strip, scale = boxes(scene, "sheet")[0], 72 * scene.stated_scale
    assert strip.width == band.length.inches * scale
    scores = [box for box in boxes(scene, "score") if box.height == strip.height]
    assert [(box.left - strip.left) / scale for box in scores] == [at.inches for at in band.scores]
    hatched = [box for box in boxes(scene, "glue") if box.bottom <= strip.bottom]
    assert min(box.left for box in hatched) == strip.right - band.lapped.inches * scale


def test_a_band_reaches_over_itself_at_least_as_far_as_was_asked():
    band = Band(inches("17/4"), inches("0.194"), inches("0.008"), inches("1/2"))
    assert band.lapped >= band.overlap and band.lapped == band.length - band.width * 2 - band.edge * 2


def test_what_is_thin_is_told_finer_than_a_ruler():
    assert thin_text(thick("1/8"), "in") == "⅛" and thin_text(thick("0.012"), "in") == "0.012"
    assert thin_text(Range.exact(F(3, 10)), "mm") == "0.3"
    assert thin_text(Range(F(1), F(2)), "mm") == "1 to 2"
    # 0.291 to 0.469 mm are 0.01146 to 0.01846 in: bounds hold, as in the list of layers.
    assert thin_text(Range(F(291, 1000), F(469, 1000)), "in") == "0.011 to 0.019"
    assert thin_text(Range(F(291, 1000), F(469, 1000)), "mm") == "0.29 to 0.47"


def test_a_kit_shows_whatever_it_holds(tmp_path):
    worked = make_worked(tmp_path, changed(SHAKE, ("card:\n", "  B: {paper: tide, band: {height: 1-1/2}}\ncard:\n")))
    shown = pictures_of(worked)
    assert [name for name in shown if name.startswith(("pocket", "shaker", "band"))] == ["shaker-f", "pocket-k", "band-b"]
    for held in held_of(worked, looks_of(worked)):
        for width, height in ((WIDE, None), (NARROW, None), (250, 240)):
            scene = held.draw(width, height)
            assert overlaps(scene) == [], held.name
            assert height is None or scene.height <= height


@pytest.mark.parametrize("border, patched", [("1-1/4", False), ("1/2", True)])
def test_a_frame_is_named_on_its_own_paper_or_on_a_patch(tmp_path, border, patched):
    """A shaker's frame is white; what shows in its window is not, so no bare letter stands there. Film is named with the shaker."""
    worked = laid_out(tmp_path, changed(SHAKE, ("border: 3/4", f"border: {border}")))
    scene = card_sketch(worked.face, looks_of(worked), width=WIDE)
    assert "Film" not in " ".join(said(scene)) and overlaps(scene) == []
    (name,) = [text for text in scene.texts if text.text == "F"]
    patches = [shape.contours[0] for shape in scene.shapes if isinstance(shape, SceneShape) and shape.fill == "patch"]
    assert patched == any(
        min(x for x, _ in patch) < name.box.left < max(x for x, _ in patch)
        and min(y for _, y in patch) < name.box.top < max(y for _, y in patch)
        for patch in patches
    )
