"""Notched strips, with shapely as the reference for area and containment."""

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.card.shapes import clear_of_notches, notch_depth, notch_ends, notches_on_card, outline
from kitwright.geometry import Rect
from kitwright.kit.model import Notch, Piece
from kitwright.units import ZERO, Length, Size, total
from shapely import Polygon, box

STEP = Fraction(1, 16)
sixteenths = st.integers(4, 120).map(lambda n: Length(n * STEP))


def polygon(points) -> Polygon:
    return Polygon([(float(x.inches), float(y.inches)) for x, y in points])


def shape(rect: Rect):
    return box(*(float(v.inches) for v in (rect.x, rect.y, rect.right, rect.bottom)))


def piece(size: Size, notch: Notch | None) -> Piece:
    return Piece(size=size, paper="p", notch=notch)


@given(
    sixteenths,
    sixteenths,
    st.sampled_from(["both", "left", "right", "top", "bottom"]),
    st.booleans(),
    st.integers(-16, 64),
    st.integers(-16, 64),
)
def test_a_notch_takes_a_triangle_and_nothing_else(width, height, ends, turned, x, y):
    strip = piece(Size(width, height), Notch(ends=ends))
    size = strip.size.turned if turned else strip.size
    rect = Rect(Length(x * STEP), Length(y * STEP), size.width, size.height)
    notches = notches_on_card(strip, turned)
    corners = outline(rect, notches)
    drawn = polygon(corners)
    fits = {
        end: total(d for e, d in notches.items() if (e in ("left", "right")) == (end in ("left", "right")))
        < (size.width if end in ("left", "right") else size.height)
        for end in notches
    }
    assume(all(fits.values()))  # a deeper notch is no strip any more: check refuses it
    assert drawn.is_valid and drawn.covered_by(shape(rect).buffer(1e-9)) and len(corners) == 4 + len(notches)
    taken = sum(depth.inches * (size.height if end in ("left", "right") else size.width).inches / 2 for end, depth in notches.items())
    assert drawn.area == pytest.approx(float(rect.area - taken))
    # From tip to tip it is as long as the plain strip.
    assert drawn.bounds == pytest.approx(shape(rect).bounds)
    clear = clear_of_notches(rect, notches)
    assert clear.width > ZERO and clear.height > ZERO and shape(clear).covered_by(drawn.buffer(1e-9))


@given(sixteenths, sixteenths)
def test_both_ends_are_the_short_ends_and_a_right_angle_is_half_as_deep(width, height):
    size = Size(width, height)
    ends = notch_ends(size, Notch())
    assert ends == (("left", "right") if width >= height else ("top", "bottom"))
    assert notch_depth(size, Notch()) == min(width, height) / 2


def test_a_said_depth_and_a_single_end():
    notch = Notch(ends="right", depth=Length(Fraction(1, 4)))
    assert notches_on_card(piece(Size(Length(4), Length(1)), notch), False) == {"right": Length(Fraction(1, 4))}
    assert notches_on_card(piece(Size(Length(4), Length(1)), notch), True) == {"bottom": Length(Fraction(1, 4))}


@pytest.mark.parametrize("end, lies", [("left", "top"), ("top", "right"), ("right", "bottom"), ("bottom", "left")])
def test_a_quarter_turn_to_the_right_moves_each_end(end, lies):
    assert list(notches_on_card(piece(Size(Length(4), Length(4)), Notch(ends=end)), True)) == [lies]


def test_no_notch_no_outline():
    assert outline(Rect.of(Size(Length(1), Length(1))), {}) == ()
    assert notches_on_card(piece(Size(Length(1), Length(1)), None), True) == {}
