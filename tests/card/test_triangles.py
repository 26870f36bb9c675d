"""Triangles on the card: set on their point, around one point, side by side in one rectangle.

Shapely turns and overlays them; sources: plane geometry (Euclid, Elements I.34, I.47).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from math import cos, hypot, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card import pointed
from kitwright.card.pinwheel import around
from kitwright.card.post import NOTHING, Range, Stock, thickest
from kitwright.card.shapes import notches_on_card, on_card, outline_of
from kitwright.drawing.front import pattern_up
from kitwright.errors import UserError
from kitwright.geometry import Rect
from kitwright.kit.model import Piece, Shape
from kitwright.telling.steps import steps_of
from kitwright.telling.your_paper import on_other_paper
from kitwright.units import Length, Size, parse_size
from kitwright.work.supplies import adhesive_for, adhesive_of
from making import BATCH, changed, line_of, look_over, make_worked, serious
from shapely import Polygon, affinity, box, union_all

sides = st.integers(4, 96).map(lambda n: Length(Fraction(n, 16)))
sizes = st.builds(Size, sides, sides)
ways = st.sampled_from(["falling", "rising"])
POINTS = ("down", "left", "up", "right")


def triangle(size: Size, way: str = "falling") -> Piece:
    return Piece(size=size, paper="p", shape=Shape(triangle=way))


def drawn(ring) -> Polygon:
    return Polygon([(float(x.inches), float(y.inches)) for x, y in ring])


# --- on its point -------------------------------------------------------------------------------


@given(sizes, ways, st.sampled_from(POINTS))
def test_a_triangle_on_its_point_is_the_same_triangle_turned(size, way, point):
    w, h = float(size.width.inches), float(size.height.inches)
    room = pointed.size(size, way, point)
    (ring,) = pointed.outline(size, way, point).rounded_off()
    ours, flat = drawn(ring), drawn(outline_of(triangle(size, way)).rounded_off()[0])
    # Its long side by I.47, its drop from the area by I.34; taken up by less than a thousandth.
    long, deep = (room.width, room.height) if point in ("down", "up") else (room.height, room.width)
    assert 0 <= float(long.inches) - hypot(w, h) <= 0.001 and 0 <= float(deep.inches) - w * h / hypot(w, h) <= 0.001
    assert ours.bounds == pytest.approx((0, 0, float(room.width.inches), float(room.height.inches)))
    # Turned, and never mirrored: the turn that is told for its pattern brings the flat piece there.
    c, s = map(float, pointed.turn(ring, way))
    assert c * c + s * s == pytest.approx(1)
    there = affinity.affine_transform(flat, [c, -s, s, c, 0, 0])
    there = affinity.translate(there, ours.centroid.x - there.centroid.x, ours.centroid.y - there.centroid.y)
    assert ours.hausdorff_distance(there) < 0.005 * hypot(w, h) + 0.002
    # The right angle is where it points.
    corner = min(zip(ring, (ring[2], *ring[:2]), (*ring[1:], ring[0])), key=lambda at: abs(_dot(*at)))
    middle = (room.width / 2, room.height / 2)
    off = (corner[0][0] - middle[0]).inches, (corner[0][1] - middle[1]).inches
    assert {"down": off[1] > 0, "up": off[1] < 0, "right": off[0] > 0, "left": off[0] < 0}[point] and _dot(*corner) == 0


def _dot(at, one, other) -> Fraction:
    (x, y), (ax, ay), (bx, by) = at, one, other
    return (ax - x).inches * (bx - x).inches + (ay - y).inches * (by - y).inches


def test_three_four_five_is_exact():
    size = parse_size("3 x 4")
    assert pointed.size(size, "falling", "down") == Size(Length(5), Length(Fraction(12, 5)))
    assert pointed.size(size, "rising", "left") == Size(Length(Fraction(12, 5)), Length(5))
    assert pointed.long_side(parse_size("2 x 2")) == Length(Fraction(2829, 1000))


@given(st.sampled_from(POINTS), ways)
def test_the_pattern_turns_with_the_piece(point, way):
    (ring,) = pointed.outline(parse_size("2 x 2"), way, point).rounded_off()
    quarter = POINTS.index(point) * pi / 2 + (-pi / 4 if way == "falling" else pi / 4)
    c, s = map(float, pointed.turn(ring, way))
    assert (c, s) == pytest.approx((cos(quarter), sin(quarter)), abs=0.001)


# --- around one point ---------------------------------------------------------------------------


@given(sides, ways)
def test_a_pinwheel_covers_its_square_and_no_place_twice(side, way):
    piece = triangle(Size(side, side), way)
    home = Rect(Length(1), Length(2), side * 2, side * 2)
    laid = [drawn(on_card(piece, rect, turned, upside_down).rounded_off()[0]) for rect, turned, upside_down in around(home, way)]
    whole = box(*(float(v.inches) for v in (home.x, home.y, home.right, home.bottom)))
    assert len(laid) == 8 and union_all(laid).symmetric_difference(whole).area < 1e-9
    assert all(a.intersection(b).area < 1e-9 for a, b in combinations(laid, 2))
    middle = whole.centroid
    assert all(one.distance(middle) < 1e-9 for one in laid)
    # Clockwise, so that two that take turns never lie beside one of their own.
    for one, other in zip(laid, laid[1:] + laid[:1]):
        assert one.intersection(other).length > 0.9 * float(side.inches)
    # One comes to lie on the next but one by a quarter turn: papers that take turns keep their places.
    for one, other in zip(laid, laid[2:] + laid[:2]):
        assert affinity.rotate(one, 90, origin=middle).symmetric_difference(other).area < 1e-9


SPIN = changed(
    BATCH,
    (
        "  cream:\n    kind",
        "  meadow:\n    kind: patterned\n    name: Meadow\n    size: 8 x 8\n    front: {look: dots, colours: [sage, white]}\n  cream:\n    kind",
    ),
    ("  M:\n", "  T:\n    size: 1 x 1\n    shape: triangle\n    per card: {river: 4, meadow: 4}\n  M:\n"),
    ("    - A\n    - B\n    - band\n    - B\n", "    - pinwheel: [T river, T meadow]\n    - A\n    - B\n    - band\n"),
    ("    per card: 2\n", "    per card: 1\n"),
    ("sentiment:\n", "decorations:\n  - {name: a button, size: 1/4 x 1/4, on: pinwheel}\nsentiment:\n"),
    ("  - papers: river\n", "  - papers: river\n    sheets: 1\n"),
    ("  size: 2-1/2 x 3/4\n", "  size: 2-1/2 x 1/4\n"),
)
SPIN = SPIN.replace("    - pinwheel: [T river, T meadow]\n", "    - {pinwheel: [T river, T meadow], place: left}\n")


def test_a_pinwheel_stands_in_a_row(tmp_path):
    worked = make_worked(tmp_path, SPIN)
    sails = [p for p in worked.face.pieces if p.label == "T"]
    assert [p.paper for p in sails] == ["river", "meadow"] * 4
    assert {p.lies for p in sails} == {(False,), (True,), (False, "upside down"), (True, "upside down")}
    assert not any(one.lies_over(other) for one, other in combinations(sails, 2))
    # The button lies in the middle of it.
    (spot,) = worked.face.spots
    assert spot.rect.centre == (sails[2].rect.x, sails[4].rect.y)
    build = next(step for step in steps_of(worked) if step.stage == "build").lines
    (told,) = [line for line in build if "inwheel" in line]
    assert told.startswith(
        "Pinwheel, eight triangles, T (River) and T (Meadow) in turn: a sharp corner of each meets the others in one point"
    )
    found = look_over(tmp_path / "again", SPIN)
    assert not [f for f in found if f.code.startswith(("front.", "spec.", "names.", "pieces."))], [str(f) for f in found]


@pytest.mark.parametrize(
    "old, new, code",
    [
        ("[T river, T meadow]", "[T river, T meadow, T river]", "spec.pinwheel-uneven"),
        ("[T river, T meadow]", "[]", "spec.pinwheel-uneven"),
        ("[T river, T meadow]", "[T river turned, T meadow]", "spec.pinwheel-of-pieces"),
        ("[T river, T meadow]", "[band, T meadow]", "spec.pinwheel-of-pieces"),
        ("[T river, T meadow]", "[A river, T meadow]", "names.pinwheel-of-others"),
        ("[T river, T meadow]", "[T river, X meadow]", "names.unknown"),
        ("[T river, T meadow]", "[T, T meadow]", "names.which-paper"),
    ],
)
def test_a_pinwheel_that_cant_be_is_one_error_at_its_line(tmp_path, old, new, code):
    text = changed(SPIN, (old, new))
    with pytest.raises(UserError) as refused:
        make_worked(tmp_path, text)
    assert refused.value.code == code and refused.value.place.line == line_of(text, "pinwheel: ")


def test_a_pinwheel_of_oblongs_is_refused(tmp_path):
    with pytest.raises(UserError) as refused:
        make_worked(tmp_path, changed(SPIN, ("size: 1 x 1\n", "size: 1 x 3/4\n")))
    assert refused.value.code == "names.pinwheel-of-others"


# --- one by one ---------------------------------------------------------------------------------


def flags(row: str, **more: str) -> str:
    text = SPIN.replace("    - {pinwheel: [T river, T meadow], place: left}\n", f"    - {row}\n").replace(", on: pinwheel", "")
    for old, new in more.items():
        text = text.replace(old, new)
    return text.replace("{river: 4, meadow: 4}", "{river: 1, meadow: 1}")


def test_bunting_in_words(tmp_path):
    worked = make_worked(tmp_path, flags("[T river point down, T meadow point down]"))
    one, other = (p for p in worked.face.pieces if p.label == "T")
    assert one.point == "down" and one.rect.width == pointed.long_side(parse_size("1 x 1")) and one.rect.height == one.rect.width / 2
    assert one.ring[0][1] == one.ring[1][1] == one.rect.y and not isinstance(pattern_up(one), str)
    # What is over stands at both ends, so the row adds up though no fraction measures it.
    assert one.rect.x - worked.face.field.x == worked.face.field.right - other.rect.right
    assert all(line.holds for line in worked.face.sums)
    assert any(", its point down:" in line for step in steps_of(worked) for line in step.lines)


def test_upside_down_is_half_a_turn(tmp_path):
    worked = make_worked(tmp_path, flags("[T river upside down, T meadow turned upside down]"))
    one, other = (p for p in worked.face.pieces if p.label == "T")
    assert one.ring == outline_of(triangle(parse_size("1 x 1"))).head_down().moved(one.rect.x, one.rect.y).rounded_off()[0]
    assert one.lies == (False, "upside down") and other.lies == (True, "upside down")
    # The other half of a rectangle lies so with its pattern as it was.
    assert pattern_up(one) == "top" and pattern_up(other) == "left"


@pytest.mark.parametrize(
    "row, code",
    [
        ("[T river point, T meadow]", "spec.word-alone"),
        ("[T river upside, T meadow]", "spec.word-alone"),
        ("[T river point sideways, T meadow]", "spec.word-alone"),
        ("[T river turned point down, T meadow]", "spec.point-and-turn"),
        ("[A river point down, T meadow]", "names.point-of-no-triangle"),
    ],
)
def test_a_slip_in_how_it_lies_is_one_error_at_its_line(tmp_path, row, code):
    text = flags(row)
    with pytest.raises(UserError) as refused:
        make_worked(tmp_path, text)
    assert refused.value.code == code and refused.value.place.line == line_of(text, row)


def test_two_triangles_share_a_rectangle_and_no_two_rectangles_do(tmp_path):
    places = "  places:\n    - {piece: T, paper: river, left: 1, top: 1/8}\n    - {piece: T, paper: meadow, left: 1, top: 1/8, upside down: UPSIDE}\ndecorations:\n"
    text = flags("T").replace("    - T\n    - A\n    - B\n    - band\n", "    - A\n    - band\n    - B\n").replace("decorations:\n", places)
    for upside, lies_over in (("yes", False), ("no", True)):
        (tmp_path / upside).mkdir()
        found = [f for f in look_over(tmp_path / upside, text.replace("UPSIDE", upside)) if f.code == "front.overlapping"]
        assert any(f.values["labels"] == ("T", "T") for f in found) == lies_over


def test_halves_of_a_paper_with_an_up(tmp_path):
    """Each rectangle gives one that stands and one that is upside down, whichever way the cards want them."""
    one_way = {"{look: dots, colours: [sage, white]}": "{look: dots, colours: [sage, white], up: top}"}
    for row, count, codes in (
        ("[T meadow, T meadow upside down, T river]", 2, []),
        ("[T meadow, T meadow, T river]", 2, ["front.halves-unlike"]),
        ("[T meadow turned, T river]", 1, ["front.turned-one-way"]),
        ("[T meadow point down, T river]", 1, ["front.turned-one-way"]),
    ):
        text = flags(row, **one_way).replace("meadow: 1}", f"meadow: {count}}}")
        folder = tmp_path / str(len(list(tmp_path.iterdir())))
        folder.mkdir()
        found = [f.code for f in serious(look_over(folder, text)) if f.code in ("front.halves-unlike", "front.turned-one-way")]
        assert found == codes, row


def test_adhesive_runs_along_the_edges_of_a_triangle(tmp_path):
    """Round 2 × 2 × 2√2 in; under 1½ in the short way, one run along the middle."""
    worked = make_worked(tmp_path, flags("[T river, T meadow]").replace("    size: 1 x 1\n", "    size: 2 x 2\n"))
    (sail, _) = (p for p in worked.face.pieces if p.label == "T")
    assert adhesive_of(sail, worked.face.stack) == Length(4) + pointed.long_side(parse_size("2 x 2")) < adhesive_for(sail.rect.size)
    (small, _) = (p for p in make_worked(tmp_path / "small", flags("[T river, T meadow]")).face.pieces if p.label == "T")
    assert adhesive_of(small, worked.face.stack) == Length(1)


@pytest.mark.parametrize(
    "shape, code",
    [
        ("triangel", "spec.unknown-shape"),
        ("trapezoid", "spec.shape-without-measure"),
        ("{triangle: sideways}", "spec.no-choice"),
        ("{triangle: rising, rounded: 1/8}", "spec.two-shapes"),
    ],
)
def test_one_slip_in_a_shape_is_one_error(tmp_path, shape, code):
    """What names the pinwheel, or says which way a piece lies, is no second one."""
    text = changed(
        SPIN, ("shape: triangle", f"shape: {shape}"), ("    - A\n", "    - [T river point down, T meadow upside down]\n    - A\n")
    )
    with pytest.raises(UserError) as refused:
        make_worked(tmp_path, text)
    assert (refused.value.code, refused.value.place.line) == (code, line_of(text, f"shape: {shape}"))


def test_two_triangles_of_one_rectangle_are_one_layer_thick(tmp_path):
    """Beside one another they make no pile."""
    worked = make_worked(tmp_path, SPIN)
    stocks = {key: Stock(NOTHING, Range.exact(Fraction(n))) for key, n in (("white", 8), ("cream", 4), ("river", 2), ("meadow", 1))}
    sails = replace(worked.face, pieces=tuple(p for p in worked.face.pieces if p.label == "T"), over=(), spots=())
    assert thickest(sails, stocks, NOTHING) == Range(thickest(sails, stocks, NOTHING).low, Fraction(8 + 4 + 2))
    # Two that do lie over one another are a pile of two.
    first = sails.pieces[0]
    pile = replace(sails, over=(replace(first, paper="meadow", layer="over"),))
    assert thickest(pile, stocks, NOTHING) == Range.exact(Fraction(8 + 4 + 2 + 1))


def test_a_paper_with_an_up_is_said_to_show_what_lies_turned(tmp_path):
    for name, text, told in (("spin", SPIN, "Not for T"), ("flags", flags("[T river upside down, T meadow]"), "No more sheets")):
        line = next(line for line in on_other_paper(make_worked(tmp_path / name, text)).asked if line.about == "one-way")
        assert line.text.startswith(told)


def test_upside_down_a_notch_lies_at_the_other_end(tmp_path):
    text = (
        flags("[T river, T meadow]")
        .replace("    size: 3-3/4 x 7/8\n", "    size: 3-3/4 x 7/8\n    notch: {ends: left}\n")
        .replace("    - B\n", "    - B upside down\n")
    )
    strip = next(p for p in make_worked(tmp_path, text).face.pieces if p.label == "B")
    piece = make_worked(tmp_path / "again", text).kit.spec.pieces["B"]
    assert list(notches_on_card(piece, strip.turned, strip.upside_down)) == ["right"]
    # Drawn so too: its right end is dented to the middle, its left end straight.
    dents = [x for x, y in strip.outline if y == strip.rect.centre[1]]
    assert dents == [strip.rect.right - strip.rect.height / 2]


@pytest.mark.parametrize("more, code", [("pocket: {open: top}", "names.pocket-upside-down"), ("", None)])
def test_a_pocket_is_not_laid_upside_down(tmp_path, more, code):
    text = flags("[T river, T meadow]").replace("    size: 3-3/4 x 7/8\n", f"    size: 3-3/4 x 7/8\n    {more}\n").replace("    - B\n", "")
    text = text.replace("decorations:\n", "  over:\n    - {piece: B, upside down: yes}\ndecorations:\n")
    if code is None:
        assert make_worked(tmp_path, text).face.over[0].upside_down
        return
    with pytest.raises(UserError) as refused:
        make_worked(tmp_path, text)
    assert (refused.value.code, refused.value.place.line) == (code, line_of(text, "upside down: yes"))
