"""The batch on a cutting mat: every piece once, none over another, all on paper and inside the rim."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.card.outlines import plain
from kitwright.card.shapes import outline_of
from kitwright.cutfiles.mats import GAP, MATS, RIM, Mat, mat_named
from kitwright.cutfiles.nest import nest
from kitwright.cutfiles.parts import Part
from kitwright.cutting.plan import Demand
from kitwright.errors import UserError
from kitwright.geometry import Rect
from kitwright.kit.model import Piece, Shape
from kitwright.units import ZERO, Length, Size, parse_size
from shapely import Polygon

eighths = st.integers(6, 48).map(lambda n: Length(Fraction(n, 8)))
pieces = st.dictionaries(
    st.sampled_from("ABC"),
    st.tuples(st.builds(Size, eighths, eighths), st.integers(1, 5), st.sampled_from([None, False, True])),
    min_size=1,
)
SHEETS = [parse_size(s) for s in ("6 x 6", "12 x 12", "8-1/2 x 11", "210 x 297 mm", "15 x 9")]


def demanded(said, sheet: Size) -> Demand:
    sizes = {label: size for label, (size, _, _) in said.items()}
    return Demand(
        "meadow",
        sheet,
        {label: n for label, (_, n, _) in said.items()},
        sizes,
        {label: lies for label, (_, _, lies) in said.items() if lies is not None},
    )


def parts_of(demand: Demand) -> dict[str, Part]:
    # The fold runs down the piece's own left edge, so that a turn shows.
    return {label: Part(label, plain(size), (((ZERO, ZERO), (ZERO, size.height)),)) for label, size in demand.sizes.items()}


@given(
    pieces,
    st.sampled_from(SHEETS),
    st.sampled_from([*MATS, Mat("9 × 7 in", parse_size("9 x 7"))]),
    st.sampled_from([None, ZERO, Length(Fraction(1, 8))]),
)
def test_the_batch_comes_out_apart_and_inside_the_rim(said, sheet, mat, gap):
    demand = demanded(said, sheet)
    found = nest(demand, parts_of(demand), dict(demand.sizes), mat, gap=gap)
    made = Counter()
    inside = Rect.of(mat.size).inset(RIM)
    for setting in found.settings:
        assert setting.sheets >= 1
        counts = Counter(part.name.rpartition("-")[0] for part in setting.parts)
        assert dict(setting.counts) == counts and len({p.name for p in setting.parts}) == len(setting.parts)
        made.update({label: n * setting.sheets for label, n in counts.items()})
        boxes = [part.outline.bounds for part in setting.parts]
        assert all(inside.contains(b) for b in boxes)
        for a, b in combinations(boxes, 2):
            apart = max(b.x - a.right, a.x - b.right, b.y - a.bottom, a.y - b.bottom)
            assert apart >= found.gap
        # All on one sheet of the paper.
        right, bottom = max(b.right for b in boxes), max(b.bottom for b in boxes)
        paper = found.sheet.turned if found.turned else found.sheet
        assert right - min(b.x for b in boxes) <= paper.width and bottom - min(b.y for b in boxes) <= paper.height
        assert found.sheet.fits(sheet) and paper.fits(mat.size)
    for label, (_size, n, _) in said.items():
        assert made[label] == (0 if label in found.left_out else n)
    assert found.gap == gap if gap is not None else found.gap in (GAP, ZERO)


@given(pieces, st.sampled_from(SHEETS), st.sampled_from(MATS))
@example({"A": (parse_size("3 x 2"), 1, None), "C": (parse_size("1-7/8 x 1-7/8"), 4, True)}, SHEETS[0], MATS[0])
@example({"C": (parse_size("3 x 3"), 4, True)}, SHEETS[0], MATS[0])
def test_a_one_way_paper_is_never_turned_on_its_sheet(said, sheet, mat):
    demand = demanded(said, sheet)
    found = nest(demand, parts_of(demand), dict(demand.sizes), mat)
    for setting in found.settings:
        for part in setting.parts:
            label = part.name[0]
            if label in demand.lies:
                (x1, y1), (x2, y2) = part.folds[0]
                quarters = int(demand.lies[label]) + int(found.turned)
                # The piece's left edge, from its top down: down, then to the left, then up.
                way = [(0, 1), (-1, 0), (0, -1)][quarters]
                length = demand.sizes[label].height
                assert (x2 - x1, y2 - y1) == (length * way[0], length * way[1])


@given(
    st.builds(Size, eighths, eighths),
    st.integers(1, 9),
    st.sampled_from(["falling", "rising"]),
    st.sampled_from([None, False, True]),
    st.sampled_from(SHEETS),
    st.sampled_from([ZERO, Length(Fraction(1, 8))]),
)
def test_two_triangles_lie_in_one_rectangle_with_the_gap_between_them(size, n, way, lies, sheet, gap):
    """Shapely measures how far apart they are."""
    shape = outline_of(Piece(size=size, paper="p", shape=Shape(triangle=way)))
    demand = Demand("meadow", sheet, {"T": n}, {"T": size}, {} if lies is None else {"T": lies}, halves={"T": way})
    found = nest(demand, {"T": Part("T", shape)}, {"T": size}, MATS[0], gap=gap)
    inside, made = Rect.of(found.mat.size).inset(RIM), 0
    for setting in found.settings:
        made += setting.sheets * len(setting.parts)
        assert all(inside.contains(part.outline.bounds) for part in setting.parts)
        drawn = [Polygon([(float(x.inches), float(y.inches)) for x, y in part.outline.rounded_off()[0]]) for part in setting.parts]
        for a, b in combinations(drawn, 2):
            assert a.distance(b) >= float(gap.inches) - 1e-9 and a.intersection(b).area < 1e-9
    assert made == (0 if found.left_out else n)
    if not gap and not found.left_out and n > 1 and lies is None:
        # Two from each rectangle.
        whole = nest(replace(demand, needs={"T": -(-n // 2)}, halves={}), {"T": Part("T", plain(size))}, {"T": size}, MATS[0], gap=gap)
        assert found.sheets == whole.sheets


def test_a_gap_where_it_costs_no_sheet():
    letter = parse_size("8-1/2 x 11")
    halves = demanded({"A": (parse_size("8-1/2 x 5-1/2"), 4, None)}, letter)
    found = nest(halves, parts_of(halves), dict(halves.sizes), MATS[0])
    assert found.sheets == 2 and found.gap == ZERO  # two half sheets touch
    small = demanded({"A": (parse_size("4 x 5-1/4"), 8, None)}, letter)
    found = nest(small, parts_of(small), dict(small.sizes), MATS[0])
    assert found.sheets == 2 and found.gap == GAP  # four a sheet either way
    asked = nest(halves, parts_of(halves), dict(halves.sizes), MATS[0], gap=GAP)
    assert asked.sheets == 4 and asked.gap == GAP


def test_paper_and_mat():
    tall = demanded({"A": (parse_size("5 x 14"), 2, None)}, parse_size("12 x 24"))
    found = nest(tall, parts_of(tall), dict(tall.sizes), mat_named("12 x 24"))
    assert not found.cut_down and found.over == (True, True) and found.sheets == 1
    down = nest(tall, parts_of(tall), dict(tall.sizes), mat_named("12 x 16"))
    assert down.cut_down and down.sheet == parse_size("12 x 16")
    none = nest(tall, parts_of(tall), dict(tall.sizes), MATS[0])
    assert none.left_out == ("A",) and none.settings == ()
    wide = demanded({"A": (parse_size("14 x 5"), 2, False)}, parse_size("16 x 12"))
    turned = nest(wide, parts_of(wide), dict(wide.sizes), mat_named("12 x 24"))
    assert turned.turned and not turned.cut_down and turned.left_out == ()


@pytest.mark.parametrize(
    "typed, name, key",
    [("12x12", "12 × 12 in", "12x12in"), ("A4", "A4", "a4"), ("30 x 60 cm", None, None), ("11-1/2 x 12", "11½ × 12 in", "11-1-2x12in")],
)
def test_mats_by_measure_and_name(typed, name, key):
    mat = mat_named(typed)
    if name:
        assert (mat.name, mat.key) == (name, key)
    assert all(c.isalnum() or c in ".-" for c in mat.key)
    with pytest.raises(UserError):
        mat_named("a big one")
