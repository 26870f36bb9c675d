"""The scene: exact points, type never too small, boxes that hold their glyphs."""

from fractions import Fraction as F

import pytest
from kitwright.drawing.fonts import Font
from kitwright.drawing.png import image
from kitwright.drawing.scene import Box, Draft, Frame, Text, circle, points, rounded
from kitwright.geometry import Rect
from kitwright.units import Length
from PIL import Image, ImageChops


def test_text_under_eight_points_is_refused():
    with pytest.raises(ValueError, match="under 8 pt"):
        Text("A", F(0), F(0), F(15, 2))


def test_an_inch_is_72_points_and_a_millimetre_360_over_127():
    # 72 points to the inch (PostScript and PDF, ISO 32000); 25.4 mm to the inch.
    assert points(Length(F(1)), F(1)) == 72
    assert points(Length.mm(1), F(1, 2)) == F(180, 127)


def test_a_frame_carries_rectangles_in_true_proportion():
    box = Frame(F(5), F(7), F(1, 2)).box(Rect(Length(F(1)), Length(F(2)), Length(F(3)), Length(F(1, 8))))
    assert box == Box(F(41), F(79), F(149), F(79) + F(9, 2))


@pytest.mark.parametrize("radius", [3, 20])
def test_corners_of_circles_lie_on_the_circle_exactly(radius):
    corners = circle(radius, 1, 2)
    assert all((x - 1) ** 2 + (y - 2) ** 2 == radius**2 for x, y in corners)
    assert len(set(corners)) == len(corners)


def test_round_corners_stay_inside_the_box():
    box = Box(F(0), F(0), F(30), F(10))
    assert all(0 <= x <= 30 and 0 <= y <= 10 for x, y in rounded(box, 50))


@pytest.mark.parametrize("upward", [False, True])
@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
@pytest.mark.parametrize("words", ["Ag 3 15⁄16", "fold", "12", "Quay, by"])
def test_a_text_box_holds_every_dark_pixel(words, anchor, upward):
    draft = Draft()
    text = draft.text(words, 150, 150, 24, "label", anchor, "serif" if "Q" in words else "sans", "bold", upward)
    picture = image(draft.scene(300, 300, "", ""), F(2)).convert("L")
    dark = ImageChops.invert(picture).point(lambda v: 255 if v > 60 else 0).getbbox()
    box, slack = text.box, 3
    assert dark[0] >= 2 * box.left - slack and dark[1] >= 2 * box.top - slack
    assert dark[2] <= 2 * box.right + slack and dark[3] <= 2 * box.bottom + slack
    assert isinstance(picture, Image.Image) and text.font == Font("serif" if "Q" in words else "sans", "bold")
