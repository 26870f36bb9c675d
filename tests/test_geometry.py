"""Rectangles, with shapely as the reference."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.geometry import Rect
from kitwright.units import Length
from shapely import box

numbers = st.integers(-40, 40).map(lambda n: Length(Fraction(n, 8)))
sides = st.integers(1, 60).map(lambda n: Length(Fraction(n, 8)))
rects = st.builds(Rect, numbers, numbers, sides, sides)


def shape(r: Rect):
    return box(*(float(v.inches) for v in (r.x, r.y, r.right, r.bottom)))


@given(rects, rects)
def test_overlap_and_containment(a, b):
    """Eighths are exact as floats, so the reference is exact here as well."""
    assert a.overlaps(b) == b.overlaps(a) == (shape(a).intersection(shape(b)).area > 0)
    assert a.contains(b) == shape(a).covers(shape(b))
    assert a.contains(a) and a.overlaps(a)


@given(rects, numbers, numbers)
def test_moving_and_measuring(r, dx, dy):
    moved = r.moved(dx, dy)
    assert moved.size == r.size and moved.moved(-dx, -dy) == r and moved.x - r.x == dx and moved.y - r.y == dy
    assert float(r.area) == pytest.approx(shape(r).area)
    assert (float(r.centre[0].inches), float(r.centre[1].inches)) == pytest.approx(shape(r).centroid.coords[0])
    assert Rect.of(r.size).moved(r.x, r.y) == r


@given(rects, st.integers(0, 40).map(lambda n: Length(Fraction(n, 8))))
def test_an_inset_leaves_an_even_margin(r, margin):
    inner = r.inset(margin)
    assert inner.x - r.x == inner.y - r.y == r.right - inner.right == r.bottom - inner.bottom == margin
