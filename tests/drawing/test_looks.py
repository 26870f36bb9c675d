"""Paper looks: each covers its outline, shows its marks, keeps to its repeat, differs in grey."""

import itertools
from fractions import Fraction as F

import pytest
from kitwright.colours import parts
from kitwright.drawing import looks
from kitwright.drawing.looks import PATTERNS, UPS, DrawnLook, Patch, lay
from kitwright.drawing.palette import Ink
from kitwright.drawing.png import image
from kitwright.drawing.scene import Box, Draft, SceneShape, Stamps
from kitwright.kit.looks import LOOKS, ONE_WAY, PAPERS
from PIL import ImageChops, ImageStat

SIDE = F(144)
SQUARE = Box(F(0), F(0), SIDE, SIDE)


def picture(look: DrawnLook, up: str | None = None, origin=(F(0), F(0)), scale=F(1)):
    draft = Draft()
    draft.shapes.append(lay(look, SQUARE.corners, origin, scale, up))
    return image(draft.scene(SIDE, SIDE, "", ""), F(1))


def test_every_name_has_its_drawing():
    assert tuple(PATTERNS) == LOOKS and set(ONE_WAY) <= set(LOOKS)


@pytest.mark.parametrize("pattern", LOOKS)
def test_a_look_fills_its_outline_with_its_ground(pattern):
    shape = lay(DrawnLook(pattern, ("sage", "white")), SQUARE.corners, (F(0), F(0)), F(1)).items[0]
    assert isinstance(shape, SceneShape) and shape.contours == (SQUARE.corners,)


@pytest.mark.parametrize("pattern", [p for p in LOOKS if p != "plain"])
@pytest.mark.parametrize("up", [*UPS, (F(3, 5), F(4, 5))])
def test_marks_reach_every_part_of_the_paper(pattern, up):
    found = picture(DrawnLook(pattern, ("white", "night")), up).convert("L")
    for i, j in itertools.product(range(2), range(2)):
        corner = found.crop((72 * i, 72 * j, 72 * i + 72, 72 * j + 72))
        assert ImageStat.Stat(corner).stddev[0] > 12, (i, j)


def test_patterns_are_told_apart_in_grey():
    greys = {name: picture(DrawnLook(name, ("white", "night", "sky"))).convert("L") for name in LOOKS}
    for a, b in itertools.combinations(greys, 2):
        assert ImageStat.Stat(ImageChops.difference(greys[a], greys[b])).mean[0] > 10, (a, b)


@pytest.mark.parametrize("pattern", ONE_WAY)
def test_a_one_way_look_turns_with_its_paper(pattern):
    look = DrawnLook(pattern, ("white", "night"))
    upright = picture(look, "top")
    for quarters, up in enumerate(UPS):
        corner = [(0, 0), (SIDE, 0), (SIDE, SIDE), (0, SIDE)][quarters]
        turned = picture(look, up, corner).rotate(90 * quarters)
        assert ImageStat.Stat(ImageChops.difference(upright, turned).convert("L")).mean[0] < 6, up
    half = ImageChops.difference(upright, upright.rotate(180)).convert("L")
    assert ImageStat.Stat(half).mean[0] > 10


def test_the_looks_own_up_is_used_when_none_is_given():
    look = DrawnLook("houses", ("white", "night"), "right")
    assert picture(look).tobytes() == picture(DrawnLook("houses", ("white", "night")), "right").tobytes()


def test_the_repeat_is_true_to_scale():
    """Dots stand 0.4 in apart: at half scale twice as many fit."""

    def count(scale):
        return sum(
            len(s.at)
            for s in lay(  # noqa: E731
                DrawnLook("dots", ("white", "night")), SQUARE.corners, (F(0), F(0)), scale
            ).items[1:]
        )

    assert 2.5 < count(F(1, 2)) / count(F(1)) < 4.5


def test_unknown_names_are_refused():
    with pytest.raises(ValueError, match="no look"):
        DrawnLook("tartan of nowhere")
    with pytest.raises(ValueError, match="no paper colour"):
        DrawnLook("dots", ("mauveine",))


def test_unsaid_marks_show_on_their_ground():
    for ground in ("white", "linen", "butter", "night", "sage"):
        ink = DrawnLook("dots", (ground,)).inks
        assert ink[0] != ink[1]


@pytest.mark.parametrize("up", [*UPS, (F(3, 5), F(4, 5))])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_patterns_places_are_those_next_to_the_exact_ones(pattern, up, monkeypatch):
    box, origin = Box(F(1, 3), F(2, 7), F(50), F(61)), (F(10, 3), F(-5, 7))

    def placed():
        patch = Patch(DrawnLook(pattern, ("linen", "clay", "sky")), box.corners, origin, F(97, 130), up, F(1))
        return [(item.motif, item.at) if isinstance(item, Stamps) else item.outlines for item in patch.items[1:]]

    quick = placed()

    def exact(tile, spots):
        (left, top), turned = tile.origin, (looks._turn(spot, tile.turn) for spot in spots)
        return tuple((float(left + x * tile.unit), float(top + y * tile.unit)) for x, y in turned)

    monkeypatch.setattr(looks._Tile, "places", exact)
    assert placed() == quick and (quick or pattern == "plain")


def test_patches_are_alike_that_are_made_from_the_same():
    look, box = DrawnLook("dots", ("linen", "clay")), Box(F(0), F(0), F(20), F(30))
    one = lay(look, box.corners, (F(0), F(0)), F(1))
    assert one == lay(look, box.corners, (F(0), F(0)), F(1), "top") and hash(one) == hash(lay(look, box.corners, (F(0), F(0)), F(1)))
    for other in (
        lay(look, box.corners, (F(1), F(0)), F(1)),
        lay(look, box.corners, (F(0), F(0)), F(1, 2)),
        lay(look, box.corners, (F(0), F(0)), F(1), "left"),
        lay(look, box.corners, (F(0), F(0)), F(1), strength=F(1, 3)),
        lay(look, box.grown(1).corners, (F(0), F(0)), F(1)),
        lay(DrawnLook("dots", ("linen", "sky")), box.corners, (F(0), F(0)), F(1)),
    ):
        assert other != one


def test_film_is_seen_through_and_vellum_half():
    """Below lies night: it shows as it is through film, paler through vellum, not at all through paper."""
    outline = Box(F(10), F(10), F(90), F(90)).corners

    def middle(**look) -> tuple[int, int, int]:
        draft = Draft()
        draft.box(Box(F(0), F(0), F(100), F(100)), None, Ink("night"))
        draft.shapes.append(lay(DrawnLook("plain", ("white",), **look), outline, (F(10), F(10)), F(1)))
        return image(draft.scene(F(100), F(100), "x", "x"), F(2)).getpixel((120, 120))

    night, white = parts(PAPERS["night"]), parts(PAPERS["white"])
    assert middle(shows="through") == night and middle() == white
    veiled = middle(shows="dimly")
    assert all(dark < seen < light for dark, seen, light in zip(night, veiled, white))
    assert veiled == pytest.approx([0.65 * light + 0.35 * dark for dark, light in zip(night, white)], abs=1)
