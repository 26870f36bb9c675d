"""Pockets, shakers and belly bands as geometry: numbers worked by hand, and what holds for any of them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.band import Band
from kitwright.card.face import Placed
from kitwright.card.fixing import hidden_edges_of
from kitwright.card.pocket import OPPOSITE, Pocket
from kitwright.card.shaker import Shaker
from kitwright.card.shapes import misshapes, on_card, outline_of, stays_clear
from kitwright.geometry import Rect
from kitwright.kit.model import Piece, PocketSpec, Shape, Window
from kitwright.units import MM, ZERO, Length, Size, parse_length, parse_size
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

SIXTEENTHS = st.integers(1, 96).map(lambda n: Length(Fraction(n, 16)))
HALF_MILLIMETRES = st.integers(1, 240).map(lambda n: Length.mm(Fraction(n, 2)))
LENGTHS = st.one_of(SIXTEENTHS, HALF_MILLIMETRES)
EDGES = st.sampled_from(["top", "right", "bottom", "left"])


def of(text: str, unit: str = "in") -> Length:
    return parse_length(text, unit)


def lying(size: str, unit: str = "in", x: str = "0", y: str = "0") -> Rect:
    return Rect.of(parse_size(size, unit)).moved(parse_length(x, unit, allow_zero=True), parse_length(y, unit, allow_zero=True))


def boxed(rect: Rect):
    """The rectangle for shapely: in 1/508 inch: every length here is then exact in binary."""
    return box(*(float(side.inches * 508) for side in (rect.x, rect.y, rect.right, rect.bottom)))


# --- pockets ----------------------------------------------------------------------------------------


def test_a_pocket_by_hand():
    pocket = Pocket(lying("4-1/2 x 3-1/2"), "top", of("1/4"))
    assert (pocket.mouth, pocket.depth) == (of("4"), of("3-1/4"))
    assert pocket.run == of("11-1/2")  # 4½ at the closed end, twice 3½ at the sides
    assert pocket.takes(of("1/8")) == of("3-3/4")
    tag = parse_size("3-3/4 x 5")
    assert pocket.shows(tag) == of("1-3/4")
    assert pocket.home(tag) == Rect(of("3/8"), Length(Fraction(-7, 4)), of("3-3/4"), of("5"))
    assert pocket.glued == ("bottom", "left", "right")
    aside = Pocket(lying("100 x 70", "mm"), "right", of("6", "mm"))
    assert (aside.mouth, aside.depth, aside.run) == (of("58", "mm"), of("94", "mm"), of("270", "mm"))
    assert aside.glued == ("left", "top", "bottom")


@tried(30)
@given(LENGTHS, LENGTHS, LENGTHS, LENGTHS, LENGTHS, LENGTHS, EDGES)
def test_what_goes_in_stays_off_the_glue(takes, depth, glue, across, along, clearance, edge):
    """What is narrow enough lies between the glued strips with its air on both sides, touches the closed one, and comes out by the open edge."""
    wide, high = takes + (clearance + glue) * 2, depth + glue
    if edge in ("left", "right"):
        wide, high = high, wide
    pocket = Pocket(Rect(of("1"), of("2"), wide, high), edge, glue)
    assert (pocket.takes(clearance), pocket.depth) == (takes, depth)
    width = min(across, takes)
    size = Size(width, along) if pocket.upright else Size(along, width)
    home, outer = pocket.home(size), pocket.rect
    free = {"top": home.y - outer.y, "bottom": outer.bottom - home.bottom, "left": home.x - outer.x, "right": outer.right - home.right}
    closed, one, other = pocket.glued
    assert free[closed] == glue and closed == OPPOSITE[edge]
    assert free[one] == free[other] >= glue + clearance
    assert max(-free[edge], ZERO) == pocket.shows(size)
    sides = {"top": wide, "bottom": wide, "left": high, "right": high}
    assert pocket.run.inches == sum(sides[each].inches for each in pocket.glued)


# --- shakers ----------------------------------------------------------------------------------------


def test_a_shaker_by_hand():
    shaker = Shaker(lying("4 x 3-1/2"), lying("2-1/2 x 2", x="3/4", y="3/4"), of("1/8"), of("1/4"), of("1/4"))
    assert shaker.border == of("3/4") and shaker.least_border == of("3/8")
    assert shaker.film.size == parse_size("3 x 2-1/2")
    assert (shaker.room.size, shaker.outer.size) == (parse_size("2-3/4 x 2-1/4"), parse_size("3-1/4 x 2-3/4"))
    # Each strip runs from the ring's corner to the side of the next: 2¾ + ¼, and 2¼ + ¼.
    assert shaker.lengths == (of("3"), of("2-1/2"))
    assert shaker.run == of("11")
    assert shaker.foam_area == Fraction(11, 4)


@tried(30)
@given(LENGTHS, LENGTHS, LENGTHS, LENGTHS, LENGTHS)
def test_strips_close_the_ring_and_never_overlap(wide, high, set_back, foam, lap):
    """Against shapely: four strips cover the ring between room and outside, and no place of it twice."""
    window = Rect(of("3"), of("4"), wide, high)
    shaker = Shaker(window.inset(-(set_back + foam)), window, set_back, foam, lap)
    assert shaker.border == shaker.least_border and shaker.frame == shaker.outer
    ring = boxed(shaker.outer).difference(boxed(shaker.room))
    strips = [boxed(strip) for strip in shaker.strips]
    assert unary_union(strips).symmetric_difference(ring).area == 0
    assert sum(strip.area for strip in strips) == ring.area
    # The formula of the bench: twice the window's sides and four set-backs each, and four foam widths.
    assert shaker.run == (wide + high + set_back * 4) * 2 + foam * 4
    assert shaker.foam_area == shaker.outer.area - shaker.room.area
    assert shaker.film.size == Size(wide + lap * 2, high + lap * 2)


# --- belly bands ------------------------------------------------------------------------------------


def test_a_belly_band_by_hand():
    # 2 × (4¼ + 0.194) + 4 × 0.008 + ½ = 9.42
    band = Band(of("4-1/4"), of("0.194"), of("0.008"), of("1/2"))
    assert band.exact == Length(Fraction(942, 100)) and band.length == of("9-1/2")
    assert band.edge == of("3/16")
    assert band.ends == (of("2-7/16"), of("2-7/16"))
    assert band.scores == (of("2-7/16"), of("2-5/8"), of("6-7/8"), of("7-1/16"))


def test_a_metric_band_is_cut_to_the_millimetre():
    # 2 × (105 + 1.2) + 4 × 0.2 + 12 = 225.2
    band = Band(of("105", "mm"), of("1.2", "mm"), of("0.2", "mm"), of("12", "mm"), "mm")
    assert band.length == of("226", "mm") and band.edge == of("1", "mm")
    assert band.ends == (of("59.5", "mm"), of("59.5", "mm"))


def test_a_thin_card_is_scored_once_at_each_edge():
    band = Band(of("4-1/4"), of("0.02"), of("0.01"), of("1/2"))
    assert band.edge == ZERO and len(band.scores) == 2
    assert band.scores[1] - band.scores[0] == of("4-1/4")


@tried(40)
@given(LENGTHS, st.integers(0, 80), st.integers(1, 8), LENGTHS, st.sampled_from(["in", "mm"]))
def test_a_band_goes_round_and_over_itself(width, thick, own, overlap, unit):
    band = Band(width, Length.mm(Fraction(thick, 10)), Length.mm(Fraction(own, 10)), overlap, unit)
    mark = Length(MM) if unit == "mm" else of("1/8")
    assert band.exact <= band.length < band.exact + mark and band.length % mark == ZERO
    first, last = band.ends
    assert first <= last and first + last + band.width + band.edge * 2 == band.length
    # What meets on the back covers it and laps, but for what rounding takes of the two edges.
    fine = MM / 2 if unit == "mm" else Fraction(1, 16)
    assert first + last >= width + overlap - Length(fine)
    assert sorted(band.scores) == list(band.scores)


@pytest.mark.parametrize("edge", ["top", "right", "bottom", "left"])
def test_the_open_edge_is_not_glued(edge):
    assert {*Pocket(lying("4 x 3"), edge, of("1/4")).glued, edge} == {"top", "right", "bottom", "left"}


# --- thumb notches ----------------------------------------------------------------------------------


@tried(20)
@given(st.integers(8, 96), st.integers(8, 96), st.integers(1, 60), EDGES, st.tuples(*[st.integers(0, 90)] * 4))
def test_a_thumb_notch_against_shapely(wide, high, thumb, edge, printed):
    """A half circle is taken out of the open edge, and what is printed keeps clear of it and of the edges."""
    size, across = Size(Length(Fraction(wide, 16)), Length(Fraction(high, 16))), Length(Fraction(thumb, 16))
    piece = Piece(size=size, paper="p", pocket=PocketSpec(open=edge, thumb_notch=across))
    along, deep = (wide, high) if edge in ("top", "bottom") else (high, wide)
    assert bool(list(misshapes(piece))) == (thumb >= along or thumb >= 2 * deep)
    if list(misshapes(piece)):
        return
    outline = outline_of(piece)
    assert outline.area.plain == size.area and outline.area.of_pi == -(across.inches**2) / 8
    ring = Polygon([(float(x.inches), float(y.inches)) for x, y in outline.rounded_off(48)[0]])
    middle = {"top": (wide / 32, 0), "bottom": (wide / 32, high / 16), "left": (0, high / 32), "right": (wide / 16, high / 32)}[edge]
    paper = box(0, 0, wide / 16, high / 16).difference(Point(middle).buffer(thumb / 32, quad_segs=96))
    assert ring.symmetric_difference(paper).area < 0.002 * paper.area
    x, y, w, h = (Length(Fraction(n, 16)) for n in printed)
    words = Rect(x, y, w + Length(Fraction(1, 16)), h + Length(Fraction(1, 16)))
    if stays_clear(outline, words):
        assert ring.buffer(1e-9).contains(box(*(float(at.inches) for at in (words.x, words.y, words.right, words.bottom))))


# --- hidden edges -----------------------------------------------------------------------------------


def put(label: str, rect: Rect, piece: Piece | None = None) -> Placed:
    shape = on_card(piece, rect, False) if piece else None
    return Placed(label, "p", "front", rect, edges=shape.rounded_off() if shape else ())


def test_edges_that_something_hides():
    """A run ¼ wide along an edge is hidden by what lies over all of it: not beside a window, not at the corner of a circle."""
    v = put("V", lying("3 x 2", x="1", y="1"))
    strip = put("S", lying("4 x 1", x="1/2", y="2-1/2"))
    assert hidden_edges_of(v, (v, strip), "in") == ("bottom",)
    assert hidden_edges_of(v, (strip, v), "in") == ()
    whole = put("W", lying("3 x 2", x="1", y="1"))
    assert hidden_edges_of(v, (v, whole), "in") == ("top", "bottom", "left", "right")
    window = Shape(window=Window(size=parse_size("2 x 1-3/4")))
    frame = put("F", lying("3 x 2", x="1", y="1"), Piece(size=parse_size("3 x 2"), paper="p", shape=window))
    assert hidden_edges_of(v, (v, frame), "in") == ("left", "right")  # ⅛ of the frame is left above and below its window
    disc = put("O", lying("3 x 3", x="1", y="1/2"), Piece(size=parse_size("3 x 3"), paper="p", shape=Shape(circle=True)))
    assert hidden_edges_of(v, (v, disc), "in") == ()
