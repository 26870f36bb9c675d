"""Decorations drawn as what they are: outlines that fill their places, with the areas that shapely finds."""

from fractions import Fraction as F
from math import cos, pi, sin
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.ornaments import ornament
from kitwright.card.outlines import Area
from kitwright.drawing.front import ornament as drawn
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import Draft, Frame, SceneShape
from kitwright.geometry import Rect
from kitwright.kit.model.front import OrnamentShape
from kitwright.release.state import state_of
from kitwright.units import Length
from making import BATCH, look_over, make_worked
from shapely import Polygon

SHAPES = get_args(OrnamentShape)
SIDES = st.integers(4, 64).map(lambda n: Length(F(n, 16)))
RECTS = st.builds(Rect, SIDES, SIDES, SIDES, SIDES)
DECORATED = BATCH + "decorations:\n  - {name: a star, shape: star, size: 1/2 x 1/2, on: band, left: 0, top: 0, thickness: 1/16}\n"


@pytest.mark.parametrize("shape", SHAPES)
@given(rect=RECTS)
def test_a_shape_fills_its_place_and_has_the_area_that_shapely_finds(shape, rect):
    found = ornament(shape, rect)
    assert found.bounds == rect, "it touches all four sides, and no more"
    ring, *holes = [[(float(x.inches), float(y.inches)) for x, y in contour] for contour in found.rounded_off(64)]
    paper = Polygon(ring, holes)
    assert paper.is_valid and float(found.area) == pytest.approx(paper.area, rel=1e-3)


def test_areas_are_exact():
    """A circle is π r², a leaf is two quarters of an ellipse less their triangles: (π/2 − 1) times its rectangle."""
    rect = Rect(Length(0), Length(0), Length(2), Length(3))
    assert ornament("circle", rect).area == Area(F(0), F(3, 2))
    assert ornament("leaf", rect).area == Area(F(-6), F(3))
    assert ornament("rectangle", rect).area == Area(F(6))


def test_a_star_is_the_regular_one_to_a_ten_thousandth():
    """Corners of a five-pointed star lie on two circles a tenth of a turn apart, the inner smaller by the square of the golden section."""
    inner = ((5**0.5 - 1) / 2) ** 2
    corners = [(r * sin(k * pi / 5), -r * cos(k * pi / 5)) for k in range(10) for r in [inner if k % 2 else 1]]
    wide, high = 2 * sin(2 * pi / 5), 1 + cos(pi / 5)
    drawn_at = [
        (float(e.start[0].inches), float(e.start[1].inches))
        for e in ornament("star", Rect(Length(0), Length(0), Length(1), Length(1))).edge
    ]
    for (x, y), (a, b) in zip(corners, drawn_at, strict=True):
        assert (x / wide + 0.5, (y + 1) / high) == pytest.approx((a, b), abs=1e-4)


def test_it_is_drawn_in_its_outline_and_colour_and_counted_where_it_lies(tmp_path):
    worked = make_worked(tmp_path, DECORATED)
    (spot,) = worked.face.spots
    draft = Draft()
    drawn(draft, spot, Frame(F(0), F(0), F(1)))
    assert [s.fill for s in draft.shapes if isinstance(s, SceneShape) and isinstance(s.fill, Ink)] == [Ink("butter")]
    assert any(isinstance(s, SceneShape) and len(s.contours[0]) == 10 for s in draft.shapes)
    plain = make_worked(tmp_path / "plain", DECORATED.replace("shape: star, ", ""))
    assert worked.enclosed.parcel.thickness == plain.enclosed.parcel.thickness and spot.edges and not plain.face.spots[0].edges
    assert "'shape'" not in str(state_of(plain)) and "'shape'" in str(state_of(worked)), "a spelling of before says nothing new"


@pytest.mark.parametrize(
    "typed, code",
    [
        ("shape: circle, size: 1/4 x 3/8", "named.decoration-not-even"),
        ("shape: star, size: 1/4 x 1/4, colour: tomato", "pieces.no-such-colour"),
        ('shape: star, size: 1/4 x 1/4, colour: "#d0a030"', None),
    ],
)
def test_slips_of_a_decoration_are_told(tmp_path, typed, code):
    text = BATCH + f"decorations:\n  - {{name: a dot, {typed}, on: band, left: 0, top: 0}}\n"
    found = {one.code for one in look_over(tmp_path, text) if one.place.line == len(text.splitlines())}
    assert found == ({code} if code else set())
