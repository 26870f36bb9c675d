"""Exact outlines: turning, joining, and where a shape can't be; and how notches are explained."""

from fractions import Fraction

import pytest
from examples import tried
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.card import outlines
from kitwright.card.notches import cut_size, ways
from kitwright.card.outlines import Area, Edge, Outline
from kitwright.card.post import area as shoelace
from kitwright.card.shapes import misshapes, notches_on_card, on_card, outline, outline_of, stays_clear
from kitwright.errors import said
from kitwright.geometry import Rect
from kitwright.kit.model import Notch, Parallelogram, Piece, Scalloped, Shape, Tag, Trapezoid, Window
from kitwright.telling.notches import notch_differences, way_steps
from kitwright.telling.shapes import shape_words
from kitwright.units import ZERO, Length, Size
from pydantic import ValidationError
from shapely import Polygon


def inches(text: str) -> Length:
    return Length(Fraction(text))


def piece(width: str, height: str, **more) -> Piece:
    return Piece(size=Size(inches(width), inches(height)), paper="p", **more)


SHAPES = {
    "oval": Shape(oval=True),
    "ring": Shape(oval=True, window=Window(size=Size(Length(1), Length(1)), rounded=inches("1/2"))),
    "rounded": Shape(rounded=inches("1/4")),
    "one round corner": Shape(rounded=inches("1/2"), corners=("bottom left",)),
    "snipped": Shape(snipped=inches("3/8"), corners=("top left", "bottom right")),
    "arch": Shape(arch="left"),
    "tag": Shape(tag=Tag(end="right", snip=inches("1/2"), hole=inches("1/4"))),
    "triangle": Shape(triangle="rising"),
    "trapezoid": Shape(trapezoid=Trapezoid(end="right", by=inches("1/4"))),
    "point": Shape(trapezoid=Trapezoid(end="top", by=inches("3/2"))),
    "parallelogram": Shape(parallelogram=Parallelogram(lean="up", by=inches("1/2"))),
    "scalloped": Shape(scalloped=Scalloped(edge=("left", "right"), width=inches("1/2"))),
    "scalloped all round": Shape(scalloped=Scalloped(width=inches("1/3"))),
    "frame": Shape(window=Window(border=inches("1/4"))),
    "round window off the middle": Shape(
        rounded=inches("1/8"), window=Window(size=Size(Length(1), Length(1)), left=inches("1/4"), rounded=inches("1/2"))
    ),
    "tag with a window": Shape(
        tag=Tag(end="top", snip=inches("1/4"), hole=inches("1/8")), window=Window(size=Size(Length(1), inches("3/4")), bottom=inches("1/4"))
    ),
}


@pytest.fixture(params=SHAPES, ids=list(SHAPES))
def shaped(request) -> Piece:
    return piece("3", "2", shape=SHAPES[request.param])


def test_every_sample_is_sound(shaped):
    assert list(misshapes(shaped)) == []
    assert outline_of(shaped).bounds == Rect.of(shaped.size)


def test_four_quarter_turns_lead_back(shaped):
    first = shape = outline_of(shaped)
    size = shaped.size
    for _ in range(4):
        shape, size = shape.turned(size.height), size.turned
        assert shape.bounds == Rect.of(size) and shape.area == first.area
    assert shape == first


def test_one_polygon_covers_what_the_contours_do(shaped):
    shape = outline_of(shaped)
    ring, *openings = shape.rounded_off()
    joined = shape.one_polygon()
    assert shoelace(joined) == shoelace(ring) - sum(shoelace(o) for o in openings)
    drawn = Polygon([(float(x.inches), float(y.inches)) for x, y in joined]).buffer(0)
    assert drawn.area == pytest.approx(float(shoelace(joined))) and len(drawn.interiors) == len(openings)


def test_points_for_the_pens_lie_exactly_on_the_circle(shaped):
    for contour in outline_of(shaped).contours:
        for edge in contour:
            if edge.centre:
                cx, cy = edge.centre
                across, down = edge.radii
                assert {((x - cx) / across) ** 2 + ((y - cy) / down) ** 2 for x, y in edge.points()} == {1}


def test_contours_are_closed_and_run_as_they_should(shaped):
    shape = outline_of(shaped)
    for contour in shape.contours:
        assert all(a.end == b.start for a, b in zip(contour, (*contour[1:], contour[0])))
        assert all(e.start != e.end for e in contour)
    assert float(outlines.contour_area(shape.edge)) > 0
    assert all(float(outlines.contour_area(o)) < 0 for o in shape.openings)


@given(st.integers(1, 40), st.integers(1, 40), st.sampled_from(["both", "left", "right", "top", "bottom"]), st.booleans())
def test_a_notched_strip_lies_on_the_card_as_before(width, height, ends, turned):
    strip = Piece(size=Size(Length(width), Length(height)), paper="p", notch=Notch(ends=ends))
    assume(not list(misshapes(strip)))
    size = strip.size.turned if turned else strip.size
    rect = Rect(Length(2), Length(3), size.width, size.height)
    mine = on_card(strip, rect, turned).one_polygon()
    other = outline(rect, notches_on_card(strip, turned))
    assert set(mine) == set(other) and shoelace(mine) == shoelace(other)


def test_a_plain_piece_has_no_outline_of_its_own():
    assert on_card(piece("2", "1"), Rect.of(Size(Length(2), Length(1))), False) is None
    assert outline_of(piece("2", "1")) == outlines.plain(Size(Length(2), Length(1)))


def test_an_arc_is_a_quarter_circle():
    with pytest.raises(ValueError, match="quarter"):
        Edge((Length(1), ZERO), (Length(-1), ZERO), (ZERO, ZERO))
    with pytest.raises(ValueError, match="quarter"):
        Edge((Length(1), Length(1)), (Length(-2), Length(2)), (ZERO, ZERO))
    # Along the frame it may be a quarter of an ellipse.
    assert Edge((Length(1), ZERO), (ZERO, Length(2)), (ZERO, ZERO)).radii == (Length(1), Length(2))


def test_a_circle():
    circle = Outline(outlines.circle(Length(5), Length(5), Length(2)))
    assert circle.area == Area(Fraction(0), Fraction(4)) and circle.bounds == Rect(Length(3), Length(3), Length(4), Length(4))


@pytest.mark.parametrize(
    "shape, path, remedy",
    [
        (Shape(rounded=inches("9/8")), ("shape", "rounded"), "1 in is the most"),
        (Shape(snipped=inches("5/2"), corners=("top left",)), ("shape", "snipped"), "2 in is the most"),
        (Shape(tag=Tag(end="left", snip=inches("5/4"), hole=inches("1/4"))), ("shape", "tag", "snip"), "1 in is the most"),
        (
            Shape(tag=Tag(end="left", snip=inches("1/2"), hole=inches("1"))),
            ("shape", "tag", "hole"),
            "make the hole smaller or set it further in",
        ),
        (Shape(arch="right"), None, None),
        (Shape(arch="top"), None, None),
        (Shape(window=Window(border=inches("1"))), ("shape", "window"), "make the border narrower"),
        (Shape(window=Window(border=inches("1/2"), rounded=inches("3/4"))), ("shape", "window", "rounded"), "½ in is the most"),
        (Shape(window=Window(size=Size(Length(3), Length(1)))), ("shape", "window"), "make the window smaller or move it in"),
    ],
)
def test_what_no_scissors_can_cut(shape, path, remedy):
    part = piece("3", "2", shape=shape)
    found = list(misshapes(part))
    if path is None:
        assert found == []
    else:
        told = [(m.path, said(m.code, {"label": "A", "unit": "in", **m.values})) for m in found]
        assert [(where, right) for where, (_, right) in told] == [(path, remedy)] and "A" in told[0][1][0]
        assert outline_of(part) == outlines.plain(part.size)


def test_an_arch_higher_than_its_piece():
    assert [m.path for m in misshapes(piece("3", "1", shape=Shape(arch="top")))] == [("shape", "arch")]


@pytest.mark.parametrize(
    "typed, words",
    [
        ({}, "does not say which shape"),
        ("round", "is no shape"),
        ({"circle": "yes", "oval": "yes"}, "can't be both"),
        ({"circle": "yes", "corners": ["top left"]}, "neither rounded nor snipped"),
        ({"rounded": "1/4", "snipped": "1/4"}, "can't be both"),
        ({"arch": "top", "corners": ["top left"]}, "neither rounded nor snipped"),
        ({"window": {}}, "either a size or an even border"),
        ({"window": {"size": "1 x 1", "border": "1/4"}}, "either a size or an even border"),
        ({"window": {"border": "1/4", "top": "1/2"}}, "lies in the middle"),
        ({"window": {"size": "1 x 1", "top": "1/2", "bottom": "1/2"}}, "both given"),
    ],
)
def test_shapes_that_contradict_themselves(typed, words):
    with pytest.raises(ValidationError, match=words):
        Shape.model_validate(typed)


@pytest.mark.parametrize(
    "typed, words", [({"made with": "shaped punch"}, "not described"), ({"made with": "square punch", "depth": "1/4"}, "leave depth out")]
)
def test_notches_that_contradict_themselves(typed, words):
    with pytest.raises(ValidationError, match=words):
        Notch.model_validate(typed)


def test_a_notched_piece_keeps_its_corners_but_may_have_a_window():
    with pytest.raises(ValidationError, match="both a notch and a shaped edge"):
        piece("3", "2", notch=Notch(), shape=Shape(rounded=inches("1/4")))
    framed = piece("6", "2", notch=Notch(), shape=Shape(window=Window(size=Size(Length(1), Length(1)))))
    assert list(misshapes(framed)) == [] and len(outline_of(framed).openings) == 1
    tight = piece("6", "2", notch=Notch(), shape=Shape(window=Window(size=Size(inches("9/2"), Length(1)))))
    assert [m.path for m in misshapes(tight)] == [("shape", "window")]


# --- notches in words ---------------------------------------------------------------------------

BANNER = {"shaped punch": {"width": "1-1/2", "depth": "1/2", "trim": "1/8"}}


def test_each_way_is_explained_with_its_own_length():
    strip = piece("3", "3/4", notch=Notch.model_validate({"keeps": "bottoms", "square punch": "1/2", **BANNER}))
    scissors, square, shaped = ways(strip)
    assert [w.tool for w in (scissors, square, shaped)] == ["scissors", "square punch", "shaped punch"]
    assert way_steps(scissors) == (
        "Cut the strip 3 × ¾ in.",
        "At each end, make a pencil dot in the middle of the strip, ⅜ in from both long edges and ⅜ in from the end.",
        "Snip from each corner to the dot, and no further.",
        "The finished strip is 3 in from tip to tip; the notch is ⅜ in deep, and 2¼ in stay clear between the notches.",
    )
    # A square of ½ in notches strips up to 0.707 in.
    assert "The square named in this kit is too small for a strip ¾ in tall: use one of 9⁄16 in or larger, or scissors." in way_steps(
        square
    )
    # Half as wide as the punch takes: its V is half as deep, ¼ in, and the other ¼ in is trimmed as well as the ⅛ in.
    assert (shaped.depth, shaped.trim) == (inches("1/4"), inches("3/8"))
    assert shaped.finished.width == inches("11/4") and shaped.cut.width == inches("7/2") and shaped.clear == inches("9/4")
    assert way_steps(shaped)[0] == "Cut the strip 3½ × ¾ in."
    assert way_steps(shaped)[1] == "These lengths are for a shaped punch 1½ in wide, ½ in deep, ⅛ in trim."
    assert "It takes ⅜ in off each end beyond the tips; the strip was cut longer for that." in way_steps(shaped)
    assert (
        notch_differences(ways(strip))
        == "with a shaped punch (1½ in wide, ½ in deep, ⅛ in trim), the strip is 2¾ in from tip to tip and it is cut 3½ in long."
    )


def test_a_square_of_unknown_size_is_told_the_least():
    way = next(w for w in ways(piece("80", "20", notch=Notch(ends="left")), "mm") if w.tool == "square punch")
    assert way.big_enough is None
    assert any("or larger takes this strip" in line for line in way_steps(way))


def test_only_a_trimming_punch_makes_the_strip_to_cut_longer():
    assert cut_size(piece("3", "3/4")) == cut_size(piece("3", "3/4", notch=Notch())) == Size(Length(3), inches("3/4"))
    trimmed = piece("3/4", "3", notch=Notch.model_validate({"made with": "shaped punch", **BANNER}))
    assert cut_size(trimmed) == Size(inches("3/4"), inches("15/4"))


def test_no_notch_no_ways():
    assert ways(piece("3", "1")) == ()


@pytest.mark.parametrize(
    "more, words",
    [
        ({}, ""),
        ({"notch": Notch()}, "V notch in both ends"),
        ({"notch": Notch(ends="left")}, "V notch in the left end"),
        ({"shape": SHAPES["rounded"]}, "rounded corners"),
        ({"shape": SHAPES["one round corner"]}, "rounded bottom left corner"),
        ({"shape": SHAPES["snipped"]}, "snipped top left and bottom right corners"),
        ({"shape": SHAPES["arch"]}, "arch at the left"),
        ({"shape": SHAPES["frame"]}, "frame"),
        ({"shape": SHAPES["tag with a window"]}, "tag with its hole at the top, window"),
    ],
)
def test_shapes_in_words(more, words):
    assert shape_words(piece("3", "2", **more)) == words


def test_what_stays_clear_of_an_edge_and_a_hole():
    tag = outline_of(piece("3", "2", shape=SHAPES["tag"]))
    assert stays_clear(tag, Rect(inches("1/4"), inches("1/2"), Length(2), Length(1)))
    assert not stays_clear(tag, Rect(inches("1/4"), inches("1/2"), inches("9/4"), Length(1)))  # meets the hole
    assert not stays_clear(tag, Rect(inches("5/2"), inches("1/8"), inches("1/4"), inches("1/8")))  # on a snipped corner
    arch = outline_of(piece("3", "2", shape=SHAPES["arch"]))
    assert stays_clear(arch, Rect(inches("1/2"), inches("1/2"), Length(2), Length(1)))
    assert not stays_clear(arch, Rect(inches("1/8"), inches("1/2"), Length(2), Length(1)))


def test_a_window_that_meets_a_tags_hole_is_told():
    """A hole ¼ in across, its middle ½ in from the top: a window that begins at ½ in meets it, one at ¾ in does not."""
    for top, told in (("1/2", [("shape", "window")]), ("3/4", [])):
        tag = {"tag": {"snip": "1/2", "hole": "1/4"}, "window": {"size": "1 x 1/2", "top": top}}
        assert [m.path for m in misshapes(piece("2", "3", shape=Shape.model_validate(tag)))] == told


# --- round shapes -------------------------------------------------------------------------------


def test_a_circle_is_a_word_and_as_wide_as_it_is_high():
    circle = Piece.model_validate({"size": "2 x 2", "paper": "p", "shape": "circle"})
    assert circle.shape == Shape(circle=True) and shape_words(circle) == "circle"
    # The same as all corners rounded by half, wherever its edge begins; π r².
    rounded = outline_of(piece("2", "2", shape=Shape(rounded=Length(1))))
    assert outline_of(circle).covers(rounded)
    assert outline_of(circle).area == rounded.area == Area(Fraction(0), Fraction(1))
    uneven = piece("2", "3", shape=Shape(circle=True))
    assert [m.code for m in misshapes(uneven)] == ["shapes.no-circle"]
    assert outline_of(uneven).area == Area(Fraction(6))


@given(st.fractions(Fraction(1, 4), 9, max_denominator=16), st.fractions(Fraction(1, 4), 9, max_denominator=16))
@tried(25, deadline=None)
def test_an_oval_has_the_area_of_its_half_axes(width, height):
    # The area of an ellipse is π a b (any handbook of geometry; from memory).
    oval = outline_of(Piece(size=Size(Length(width), Length(height)), paper="p", shape=Shape(oval=True)))
    assert oval.area == Area(Fraction(0), width / 2 * height / 2)
    assert oval.bounds == Rect.of(Size(Length(width), Length(height)))
    polygon = Polygon([(float(x.inches), float(y.inches)) for x, y in oval.rounded_off(64)[0]])
    assert polygon.is_valid and abs(polygon.area - float(oval.area)) < 0.001 * float(oval.area)
    assert oval.turned(Length(height)).bounds.size == Size(Length(height), Length(width))


def test_what_is_printed_on_an_oval_stays_clear_of_its_edge():
    shape = outline_of(piece("4", "2", shape=Shape(oval=True)))
    middle = Rect(inches("1"), inches("3/4"), inches("2"), inches("1/2"))
    assert stays_clear(shape, middle)
    # Its corners lie beyond the edge, though within the rectangle around it.
    assert not stays_clear(shape, Rect(inches("1/4"), inches("1/4"), inches("7/2"), inches("3/2")))
