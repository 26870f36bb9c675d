"""Shapes and notches against shapely, which builds each of them another way, and against the geometry of the tools.

Sources: plane geometry; the uses of the tools are common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import hypot, pi, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.card.notches import cut_size, least_square, square_takes, ways
from kitwright.card.outlines import Outline, lies_inside, share_area, stretch_within, within
from kitwright.card.shapes import misshapes, outline_of
from kitwright.geometry import other_diagonal
from kitwright.kit.model import Notch, Parallelogram, Piece, Scalloped, Shape, ShapedPunch, Tag, Trapezoid, Window
from kitwright.units import HALF_MM, MM, SIXTEENTH, Length, Size
from shapely import LineString, Point, Polygon, affinity, box, unary_union

FINE = 48
sixteenths = st.integers(1, 160).map(lambda n: Length(Fraction(n, 16)))
sides = st.integers(8, 160).map(lambda n: Length(Fraction(n, 16)))
sizes = st.builds(Size, sides, sides)
openings = st.builds(Size, *[st.integers(1, 48).map(lambda n: Length(Fraction(n, 16)))] * 2)
ENDS = ("top", "right", "bottom", "left")


def piece(size: Size, **more) -> Piece:
    return Piece(size=size, paper="p", **more)


def drawn(outline: Outline, steps: int = FINE) -> Polygon:
    edge, *openings = ([(float(x.inches), float(y.inches)) for x, y in ring] for ring in outline.rounded_off(steps))
    return Polygon(edge, openings)


def floats(size: Size) -> tuple[float, float]:
    return float(size.width.inches), float(size.height.inches)


def corner_squares(w: float, h: float, r: float) -> dict[str, tuple[Polygon, tuple[float, float]]]:
    """At each corner a square of side r, and the inner corner of it."""
    return {
        "top left": (box(0, 0, r, r), (r, r)),
        "top right": (box(w - r, 0, w, r), (w - r, r)),
        "bottom right": (box(w - r, h - r, w, h), (w - r, h - r)),
        "bottom left": (box(0, h - r, r, h), (r, h - r)),
    }


def same(ours: Polygon, theirs: Polygon, tolerance: float = 1e-3) -> bool:
    """Whether they cover the same, but for a thousandth that chords and arcs differ by."""
    return ours.is_valid and ours.symmetric_difference(theirs).area < tolerance * theirs.area


corner_sets = st.lists(st.sampled_from(["top left", "top right", "bottom right", "bottom left"]), unique=True).map(tuple)


@given(sizes, st.integers(1, 8), corner_sets)
def test_rounded_corners(size, eighths, corners):
    radius = min(size.width, size.height) * Fraction(eighths, 16)
    part = piece(size, shape=Shape(rounded=radius, corners=corners))
    assume(not list(misshapes(part)))
    (w, h), r, theirs = floats(size), float(radius.inches), box(0, 0, *floats(size))
    chosen = corners or ("top left", "top right", "bottom right", "bottom left")
    for name in chosen:
        square, centre = corner_squares(w, h, r)[name]
        theirs = theirs.difference(square.difference(Point(centre).buffer(r, quad_segs=FINE)))
    ours = outline_of(part)
    assert same(drawn(ours), theirs)
    assert float(ours.area) == pytest.approx(w * h - len(chosen) * (1 - pi / 4) * r * r)
    assert ours.area.of_pi == len(chosen) * radius.inches**2 / 4


@given(sizes, st.integers(1, 8), corner_sets)
def test_snipped_corners(size, eighths, corners):
    snip = min(size.width, size.height) * Fraction(eighths, 16)
    part = piece(size, shape=Shape(snipped=snip, corners=corners))
    assume(not list(misshapes(part)))
    (w, h), s, theirs = floats(size), float(snip.inches), box(0, 0, *floats(size))
    for name in corners or ("top left", "top right", "bottom right", "bottom left"):
        square, inner = corner_squares(w, h, s)[name]
        far = [p for p in square.exterior.coords if p != inner]
        theirs = theirs.difference(Polygon(far).convex_hull)
    ours = outline_of(part)
    assert same(drawn(ours), theirs, 1e-9) and ours.area.of_pi == 0
    assert ours.area.plain == size.area - (len(corners) or 4) * snip.inches**2 / 2


@given(sizes, st.sampled_from(ENDS))
def test_an_arch_is_a_half_circle_on_a_rectangle(size, end):
    part = piece(size, shape=Shape(arch=end))
    assume(not list(misshapes(part)))
    w, h = floats(size)
    r = (w if end in ("top", "bottom") else h) / 2
    rest, centre = {
        "top": (box(0, r, w, h), (r, r)),
        "bottom": (box(0, 0, w, h - r), (r, h - r)),
        "left": (box(r, 0, w, h), (r, r)),
        "right": (box(0, 0, w - r, h), (w - r, r)),
    }[end]
    ours = outline_of(part)
    assert same(drawn(ours), rest.union(Point(centre).buffer(r, quad_segs=FINE)).intersection(box(0, 0, w, h)))
    assert float(ours.area) == pytest.approx(w * h - (2 - pi / 2) * r * r)


@given(sizes, st.sampled_from(ENDS), sixteenths, sixteenths, st.none() | sixteenths)
def test_a_tag_has_two_snips_and_a_hole_clear_of_its_edge(size, end, snip, hole, inset):
    part = piece(size, shape=Shape(tag=Tag(end=end, snip=snip, hole=hole, inset=inset)))
    w, h = floats(size if end in ("top", "bottom") else size.turned)
    s, r, d = float(snip.inches), float(hole.inches) / 2, float((inset or snip).inches)
    # Built with its end at the top, then turned as the spec says.
    body = Polygon([(s, 0), (w - s, 0), (w, s), (w, h), (0, h), (0, s)])
    possible = 2 * s <= w and s <= h
    room = Point(w / 2, d).distance(body.exterior) if possible and body.contains(Point(w / 2, d)) else 0
    assume(abs(room - r) > 1e-9)
    assert (not list(misshapes(part))) == (possible and room > r)
    if possible and room > r:
        theirs = body.difference(Point(w / 2, d).buffer(r, quad_segs=FINE))
        quarter = {"top": 0, "right": 1, "bottom": 2, "left": 3}[end]
        theirs = affinity.rotate(theirs, 90 * quarter, origin=(0, 0))
        left, top, *_ = theirs.bounds
        ours = outline_of(part)
        assert same(drawn(ours), affinity.translate(theirs, -left, -top))
        assert ours.area.of_pi == -((hole.inches / 2) ** 2) and ours.area.plain == size.area - snip.inches**2


diagonals = st.sampled_from(["falling", "rising"])


@given(sizes, diagonals, st.booleans())
def test_a_diagonal_halves_a_rectangle_into_two_alike_by_half_a_turn(size, way, turned):
    """Euclid, Elements I.34: opposite sides and angles are equal, and the diagonal halves it. Its length is by I.47, that of Pythagoras."""
    ours, (w, h) = outline_of(piece(size, shape=Shape(triangle=way))), floats(size)
    whole = box(0, 0, w, h)
    if turned:
        ours, (w, h), way = ours.turned(size.height), (h, w), other_diagonal(way)
        whole = box(0, 0, w, h)
    half, other = drawn(ours), affinity.rotate(drawn(ours), 180, origin=whole.centroid)
    assert ours.area.plain * 2 == size.area and ours.area.of_pi == 0
    assert half.union(other).equals_exact(whole, 1e-9) or same(half.union(other).buffer(1e-9), whole, 1e-6)
    assert half.intersection(other).area < 1e-9
    blade = half.intersection(other)
    assert blade.length == pytest.approx(hypot(w, h), abs=1e-6)
    corners = ((0, 0), (w, h)) if way == "falling" else ((0, h), (w, 0))
    assert all(blade.distance(Point(corner)) < 1e-9 for corner in corners)


@given(sizes, st.sampled_from(ENDS), sixteenths)
def test_a_trapezoid_is_its_rectangle_less_two_triangles(size, end, by):
    part = piece(size, shape=Shape(trapezoid=Trapezoid(end=end, by=by)))
    w, h = floats(size if end in ("top", "bottom") else size.turned)
    b = float(by.inches)
    assert (not list(misshapes(part))) == (2 * b <= w)
    if 2 * b <= w:
        theirs = box(0, 0, w, h).difference(Polygon([(0, 0), (b, 0), (0, h)])).difference(Polygon([(w, 0), (w - b, 0), (w, h)]))
        theirs = affinity.rotate(theirs, 90 * ENDS.index(end), origin=(0, 0))
        left, top, *_ = theirs.bounds
        ours = outline_of(part)
        assert same(drawn(ours), affinity.translate(theirs, -left, -top), 1e-9)
        across = size.width if end in ("top", "bottom") else size.height
        assert ours.area.plain == size.area - by.inches * size.area / across.inches


@given(sizes, st.sampled_from(["right", "left", "up", "down"]), sixteenths)
def test_a_parallelogram_is_a_rectangle_pushed_over(size, lean, by):
    part = piece(size, shape=Shape(parallelogram=Parallelogram(lean=lean, by=by)))
    (w, h), b = floats(size), float(by.inches)
    sound = b < (w if lean in ("right", "left") else h)
    assert (not list(misshapes(part))) == sound
    if sound:
        # A shear moves every point by its height over the ground; areas stay.
        if lean in ("right", "left"):
            theirs = affinity.affine_transform(box(0, 0, w - b, h), [1, -b / h, 0, 1, b, 0])
            theirs = theirs if lean == "right" else affinity.scale(theirs, -1, 1, origin=(w / 2, 0))
        else:
            theirs = affinity.affine_transform(box(0, 0, w, h - b), [1, 0, -b / w, 1, 0, b])
            theirs = theirs if lean == "up" else affinity.scale(theirs, 1, -1, origin=(0, h / 2))
        assert same(drawn(outline_of(part)), theirs, 1e-9)


@given(st.integers(1, 7), st.integers(1, 7), st.integers(1, 24), st.lists(st.sampled_from(ENDS), unique=True).map(tuple), st.integers(0, 1))
def test_scallops_are_half_circles_that_come_out_even(across, down, n, edge, more):
    width = Length(Fraction(n, 16))
    sides = edge or ENDS
    ends, tops = (Fraction(sum(side in sides for side in pair), 2) for pair in (("left", "right"), ("top", "bottom")))
    size = Size(width * (across + ends) + Length(Fraction(more, 97)), width * (down + tops))
    assume(min(size.width, size.height) >= Length(Fraction(1, 32)))
    part = piece(size, shape=Shape(scalloped=Scalloped(edge=edge, width=width)))
    wrong = list(misshapes(part))
    assert bool(wrong) == bool(more and {"top", "bottom"} & set(sides))
    if more:
        # The nearest width that is offered comes out even itself.
        for one in wrong:
            nearest = one.values["nearest"]
            assert nearest is None or not list(misshapes(piece(size, shape=Shape(scalloped=Scalloped(edge=edge, width=nearest)))))
        return
    (w, h), r = floats(size), float(width.inches) / 2
    left, right, top, bottom = (r if side in sides else 0 for side in ("left", "right", "top", "bottom"))
    theirs = box(left, top, w - right, h - bottom)
    for i in range(across):
        x = left + r + 2 * r * i
        theirs = unary_union(
            [theirs, *(Point(x, y).buffer(r, quad_segs=FINE) for y, s in ((top, "top"), (h - bottom, "bottom")) if s in sides)]
        )
    for i in range(down):
        y = top + r + 2 * r * i
        theirs = unary_union(
            [theirs, *(Point(x, y).buffer(r, quad_segs=FINE) for x, s in ((left, "left"), (w - right, "right")) if s in sides)]
        )
    ours = outline_of(part)
    # Where two rows meet at a corner, or face one another across a piece lower than they are, half circles reach over what they stand on.
    assert same(drawn(ours), theirs, 2e-3)
    rows = sum(across if side in ("top", "bottom") else down for side in sides)
    assert ours.area.of_pi == rows * (width.inches / 2) ** 2 / 2
    assert ours.bounds.size == size


points = st.tuples(st.integers(-2, 66), st.integers(-2, 66)).map(lambda p: (Length(Fraction(p[0], 32)), Length(Fraction(p[1], 32))))
SHAPES = (
    Shape(scalloped=Scalloped(width=Length(Fraction(1, 2)), edge=("top", "bottom"))),
    Shape(scalloped=Scalloped(width=Length(Fraction(2, 3)))),
    Shape(oval=True),
    Shape(triangle="rising"),
    Shape(arch="left"),
)


@given(st.sampled_from(SHAPES), points)
def test_a_point_lies_inside_or_not(shape, point):
    contour = outline_of(piece(Size(Length(2), Length(2)), shape=shape)).edge
    theirs, at = drawn(Outline(contour), 32), Point(*(float(v.inches) for v in point))
    assume(theirs.exterior.distance(at) > 1e-3)
    assert lies_inside(contour, point) == theirs.contains(at)


def test_a_point_on_the_edge_is_not_inside():
    for shape in SHAPES:
        contour = outline_of(piece(Size(Length(2), Length(2)), shape=shape)).edge
        assert not any(lies_inside(contour, point) for edge in contour for point in edge.points(4))


rings = st.one_of(
    st.tuples(sizes, diagonals).map(lambda of: outline_of(piece(of[0], shape=Shape(triangle=of[1])))),
    st.tuples(sizes, st.sampled_from(ENDS), st.integers(1, 8)).map(
        lambda of: outline_of(
            piece(of[0], shape=Shape(trapezoid=Trapezoid(end=of[1], by=min(of[0].width, of[0].height) * Fraction(of[2], 16))))
        )
    ),
)
shifts = st.integers(-96, 96).map(lambda n: Length(Fraction(n, 16)))


@given(rings, rings, shifts, shifts, st.booleans())
def test_two_slanted_pieces_lie_over_each_other_where_shapely_says_so(one, other, dx, dy, head_down):
    other = (other.head_down() if head_down else other).moved(dx, dy)
    (ring,), (others,) = one.rounded_off(), other.rounded_off()
    a, b = drawn(one), drawn(other)
    assert share_area(ring, others) == share_area(others, ring) == (a.intersection(b).area > 1e-9)
    for start, end in pairwise((*others, others[0])):
        line = LineString([tuple(float(v.inches) for v in at) for at in (start, end)])
        inside = line.intersection(a)
        along = line.intersection(a.exterior)
        length = inside.length if along.length < 1e-9 else 0
        found = stretch_within(start, end, ring)
        drawn_line = LineString([tuple(float(v.inches) for v in at) for at in found]) if found else None
        assert (drawn_line.length if drawn_line else 0) == pytest.approx(length, abs=1e-6)
    for at in others:
        assert within(ring, at) == (a.distance(Point(*(float(v.inches) for v in at))) < 1e-9)


edges = st.one_of(
    st.none(),
    st.tuples(st.just("rounded"), sixteenths),
    st.tuples(st.just("snipped"), sixteenths),
    st.tuples(st.just("arch"), st.sampled_from(ENDS)),
    st.tuples(st.just("triangle"), diagonals),
    st.tuples(st.just("scalloped"), st.builds(Scalloped, width=sixteenths, edge=st.sampled_from(ENDS).map(lambda end: (end,)))),
)


@given(sizes, edges, openings, st.none() | sixteenths, st.none() | sixteenths)
def test_a_window_is_refused_where_it_breaks_the_edge_and_only_there(size, edge, opening, left, top):
    shape = dict([edge]) if edge else {}
    assume(not list(misshapes(piece(size, shape=Shape(**shape)))) if shape else True)
    part = piece(size, shape=Shape(**shape, window=Window(size=opening, left=left, top=top)))
    w, h = floats(size)
    ow, oh = floats(opening)
    x = float(left.inches) if left else (w - ow) / 2
    y = float(top.inches) if top else (h - oh) / 2
    hole = box(x, y, x + ow, y + oh)
    body = drawn(outline_of(piece(size, shape=Shape(**shape)))) if shape else box(0, 0, w, h)
    assume(abs(hole.exterior.distance(body.exterior)) > 1e-3 or hole.exterior.distance(body.exterior) == 0)
    sound = not list(misshapes(part))
    assert sound == (body.contains_properly(hole) and hole.distance(body.exterior) > 0)
    if sound:
        assert same(drawn(outline_of(part)), body.difference(hole))


@given(sizes, sixteenths, st.none() | sixteenths)
def test_a_frame(size, border, rounded):
    part = piece(size, shape=Shape(window=Window(border=border, rounded=rounded)))
    w, h = floats(size)
    b, r = float(border.inches), float(rounded.inches) if rounded else 0
    possible = 2 * b < min(w, h) and 2 * r <= min(w, h) - 2 * b
    assert possible == (not list(misshapes(part)))
    if possible:
        ours = outline_of(part)
        assert float(ours.area) == pytest.approx(w * h - (w - 2 * b) * (h - 2 * b) + (4 - pi) * r * r)
        assert drawn(ours).is_valid and len(drawn(ours).interiors) == 1


# --- notches -----------------------------------------------------------------------------------

strips = st.builds(
    Size, st.integers(64, 160).map(lambda n: Length(Fraction(n, 16))), st.integers(4, 32).map(lambda n: Length(Fraction(n, 16)))
)


def finished_polygon(strip: Size, depth: float, ends: str) -> Polygon:
    w, h = floats(strip)
    corners = [(0, 0), (w, 0)] + ([(w - depth, h / 2)] if ends in ("both", "right") else []) + [(w, h), (0, h)]
    return Polygon(corners + ([(depth, h / 2)] if ends in ("both", "left") else []))


@given(strips, sixteenths)
def test_the_corner_of_a_square_makes_a_right_angle_half_as_deep_as_the_strip_is_tall(strip, side):
    """The square is laid on the strip as a hand holds the punch, corner on the middle; what it takes is the notch if it is big enough."""
    w, h = floats(strip)
    s = float(side.inches)
    part = piece(strip, notch=Notch(ends="right", **{"made with": "square punch", "square punch": side}))
    way = ways(part)[0]
    assert way.tool == "square punch" and way.own and way.depth == strip.height / 2 and way.trim.inches == 0
    assert way.cut == way.finished == strip
    square = affinity.rotate(box(0, 0, s, s), 45, origin=(0, 0))  # its lowest corner at the origin
    square = affinity.translate(affinity.rotate(square, -90, origin=(0, 0)), w - h / 2, h / 2)
    left = box(0, 0, w, h).difference(square)
    takes = same(left if left.geom_type == "Polygon" else left.convex_hull, finished_polygon(strip, h / 2, "right"), 1e-9)
    assert way.big_enough == takes == (h <= s * sqrt(2) + 1e-12)
    # Tip to tip it stays as long; the room between tip and bottom is lost to the sentiment.
    assert left.bounds[2] == pytest.approx(w) and way.clear == strip.width - strip.height / 2


@given(st.integers(1, 400).map(lambda n: Length(Fraction(n, 16))), st.sampled_from(["in", "mm"]))
def test_the_smallest_square_is_on_the_ruler_and_none_smaller_will_do(height, unit):
    step = Length(SIXTEENTH if unit == "in" else HALF_MM)
    least = least_square(height, unit)
    assert (least / step).denominator == 1
    assert square_takes(least, height) and not square_takes(least - step, height)


def test_a_square_of_one_inch_takes_a_strip_up_to_root_two_inches():
    assert square_takes(Length(1), Length(Fraction(14142, 10000))) and not square_takes(Length(1), Length(Fraction(14143, 10000)))
    # Exact where a float would be at a loss: 7 × √2 lies between 9.899494936 and …937.
    assert square_takes(Length(7), Length(Fraction(9899494936, 10**9))) and not square_takes(Length(7), Length(Fraction(9899494937, 10**9)))


@given(strips, sixteenths, sixteenths, st.integers(0, 16), st.sampled_from(["left", "right", "both"]), st.sampled_from(["tips", "bottoms"]))
def test_a_shaped_punch_trims_the_end_and_the_strip_is_cut_longer_for_it(strip, width, depth, trim, ends, keeps):
    punch = ShapedPunch(width=width, depth=depth, trim=Length(Fraction(trim, 16)))
    part = piece(strip, notch=Notch(ends=ends, keeps=keeps, **{"made with": "shaped punch", "shaped punch": punch}))
    way = ways(part)[0]
    assert way.big_enough == (strip.height <= width)
    if not way.big_enough:
        assert any(m.path == ("notch", "made with") for m in misshapes(part))
        return
    assert way.finished == strip and way.cut == cut_size(part)
    (long, h), reach = floats(way.cut), float(punch.width.inches) / 2
    t, d = float(punch.trim.inches), float(punch.depth.inches)

    def blade(end: float, inward: int) -> Polygon:
        """What the punch takes: everything beyond its V."""
        tip, bottom = end + inward * t, end + inward * (t + d)
        return Polygon(
            [
                (bottom, h / 2),
                (tip, h / 2 - reach),
                (end - inward * 50, h / 2 - reach),
                (end - inward * 50, h / 2 + reach),
                (tip, h / 2 + reach),
            ]
        )

    left = box(0, 0, long, h)
    if ends in ("right", "both"):
        left = left.difference(blade(long, -1))
    if ends in ("left", "both"):
        left = left.difference(blade(0, 1))
    assume(float(way.clear.inches) > 1e-6)
    left = affinity.translate(left, -left.bounds[0], 0)
    assert same(left, finished_polygon(strip, float(way.depth.inches), ends), 1e-9)
    assert same(drawn(outline_of(part)), left, 1e-9)


@given(
    strips,
    st.sampled_from(["scissors", "square punch", "shaped punch"]),
    st.sampled_from(["tips", "bottoms"]),
    st.sampled_from(["left", "right", "both"]),
    st.integers(0, 8),
)
def test_what_is_kept_is_the_same_with_every_tool(strip, made_with, keeps, ends, trim):
    punch = ShapedPunch(width=Length(2), depth=Length(Fraction(3, 4)), trim=Length(Fraction(trim, 16)))
    found = ways(piece(strip, notch=Notch(ends=ends, keeps=keeps, **{"made with": made_with, "shaped punch": punch})))
    assert [way.own for way in found] == [True, False, False] and {w.tool for w in found} == {"scissors", "square punch", "shaped punch"}
    assert len({way.finished if keeps == "tips" else way.clear for way in found}) == 1
    assert found[0].finished == strip
    n = 2 if ends == "both" else 1
    for way in found:
        assert way.clear == way.finished.width - way.depth * n
        assert way.cut.width == way.finished.width + way.trim * n and way.cut.height == strip.height


@given(sizes, st.sampled_from(ENDS))
def test_the_polygon_for_the_pens_tends_to_the_exact_area(size, end):
    part = piece(size, shape=Shape(arch=end))
    assume(not list(misshapes(part)))
    ours = outline_of(part)
    r = float(min(size.width, size.height).inches) * 25.4
    coarse, fine = (drawn(ours, n).area / float(MM) ** 2 for n in (32, 128))
    exact = float(ours.area) * 25.4**2
    assert coarse < fine < exact + 1e-6
    # A chord polygon falls short by a share that shrinks with the square of its steps.
    assert exact - fine < 2e-5 * 4 * r * r
