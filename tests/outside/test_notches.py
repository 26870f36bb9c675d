"""A reader's own punch, against its geometry: what a V of given width and depth takes from a strip pushed in as far as it goes.

Source: plane geometry (similar triangles). Which measures punches have is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.notches import USUAL, readers, ways
from kitwright.kit.model import Notch, Piece, ShapedPunch
from kitwright.telling.notches import own_tool, punch_rule, punch_text, short_rule
from kitwright.telling.shapes import shaped_with
from kitwright.units import Length, Size, length_text
from shapely import Polygon, box

eighths = st.integers(1, 24).map(lambda n: Length(Fraction(n, 8)))
punches = st.builds(ShapedPunch, width=eighths, depth=eighths, trim=st.integers(0, 4).map(lambda n: Length(Fraction(n, 8))))
strips = st.tuples(st.integers(96, 160), st.integers(4, 40)).map(lambda wh: Size(Length(Fraction(wh[0], 8)), Length(Fraction(wh[1], 16))))


def strip(size: Size, **notch) -> Piece:
    return Piece(size=size, paper="p", notch=Notch.model_validate(notch))


def punched(cut: Length, height: Length, punch: ShapedPunch, ends: int) -> tuple[Fraction, Fraction]:
    """Tip to tip, and between the bottoms, of a strip after the punch: what its die leaves of the paper, vertex by vertex.

    The die is a V with its point inward, its mouth as wide as the punch takes; it takes all that lies outside it. Pushed
    in as far as it goes, the mouth lies `trim` inside the end.
    """
    length, h, w = (float(x.inches) for x in (cut, height, punch.width))
    d, t = float(punch.depth.inches), float(punch.trim.inches)
    left = box(0, 0, length, h)
    dies = [
        Polygon([(-1, h / 2 - w), (t, h / 2 - w), (t, h / 2 - w / 2), (t + d, h / 2), (t, h / 2 + w / 2), (t, h / 2 + w), (-1, h / 2 + w)])
    ]
    if ends == 2:
        dies.append(Polygon([(length - x, y) for x, y in dies[0].exterior.coords]))
    for die in dies:
        left = left.difference(die)
    xs = [x for x, _ in left.exterior.coords]
    tips = max(xs) - min(xs)
    middle = left.intersection(box(-1, h / 2 - 1e-9, length + 1, h / 2 + 1e-9)).bounds
    return tips, middle[2] - middle[0]


@given(
    strips,
    punches,
    st.sampled_from(["tips", "bottoms"]),
    st.sampled_from(["both", "left"]),
    st.sampled_from(["scissors", "square punch", "shaped punch"]),
)
def test_every_row_keeps_the_length_that_the_kit_keeps(size, punch, keeps, ends, tool):
    """Cut as long as the row says and put through the die, the strip keeps its tips, or what lies between its bottoms."""
    piece = strip(size, ends=ends, keeps=keeps, **{"made with": tool, "shaped punch": punch})
    n = 2 if ends == "both" else 1
    own, found = ways(piece)[0], readers(piece)
    assert punch_rule(piece) and len({row.punch for row in found}) == len(found)
    if size.height <= punch.width:
        assert found[0].punch == punch
    for row in found:
        tips, bottoms = punched(row.cut.width, size.height, row.punch, n)
        kept = (tips, size.width) if keeps == "tips" else (bottoms, own.clear)
        assert kept[0] == pytest.approx(float(kept[1].inches), abs=1e-6)
        assert bottoms == pytest.approx(float(row.clear.inches), abs=1e-6)
        # The rule as it is told, computed from it.
        p, longer = row.punch, row.cut.width
        share = 1 - size.height / p.width
        assert longer == (size.width + (p.trim + p.depth * share) * n if keeps == "tips" else own.clear + (p.depth + p.trim) * n)
        assert row.own == (tool == "shaped punch" and p == punch)


@given(strips, punches)
def test_the_rule_names_what_it_starts_from(size, punch):
    for keeps, ends, start in (("tips", "both", size.width), ("bottoms", "right", None)):
        piece = strip(size, ends=ends, keeps=keeps)
        start = start or ways(piece)[0].clear
        rule = punch_rule(piece)
        assert f"Cut the strip {length_text(start)} long" in rule and f"{length_text(size.height)} or wider" in rule
        assert ("at each end" in rule) == (ends == "both") and ("÷ width" in rule) == (keeps == "tips")
        assert (
            short_rule("S", piece).startswith(f"S {length_text(start)}, plus ")
            and short_rule("S", piece).partition(", plus ")[2].partition(" at ")[0] in rule
        )


def test_rows_for_a_strip_recomputed_by_hand():
    """3 × ¾ in, both ends, tips kept. A punch 1½ wide, ½ deep, ⅛ trim cuts ¼ deep there, and takes ⅛ + ¼ off each end: 3¾."""
    rows = {punch_text(row): row for row in readers(strip(Size(Length(3), Length(Fraction(3, 4)))))}
    assert {text: row.cut.width.inches for text, row in rows.items()} == {
        "1 in wide, ½ in deep, no trim": 3 + 2 * Fraction(1, 8),
        "1 in wide, ½ in deep, ⅛ in trim": 3 + 2 * Fraction(1, 4),
        "1½ in wide, ½ in deep, ⅛ in trim": 3 + 2 * Fraction(3, 8),
        "1½ in wide, ¾ in deep, no trim": 3 + 2 * Fraction(3, 8),
    }


@pytest.mark.parametrize("unit, height", [("in", Fraction(1, 2)), ("in", 2), ("in", 3), ("mm", Fraction(1, 2)), ("mm", 2)])
def test_every_row_takes_the_strip_and_is_round_in_its_unit(unit, height):
    found = readers(strip(Size(Length(8), Length(Fraction(height)))), unit)
    assert found and all(row.punch.width >= Length(Fraction(height)) for row in found)
    assert not any("≈" in punch_text(row, unit) for row in found)


def test_a_strip_too_tall_for_common_punches_has_the_rule_alone():
    found = readers(strip(Size(Length(9), Length(4))))
    assert found == () and "4 in or wider" in punch_rule(strip(Size(Length(9), Length(4))))
    assert max(p.width.inches for p in USUAL["in"]) < 4


def test_no_notch_no_rule():
    assert readers(Piece(size=Size(Length(3), Length(1)), paper="p")) == ()


@pytest.mark.parametrize(
    "notch, said",
    [
        ({}, ""),
        ({"made with": "square punch"}, "square punch of 11⁄16 in or larger"),
        ({"made with": "square punch", "square punch": "1"}, "1 in square punch"),
        ({"made with": "square punch", "square punch": "11/16"}, "11⁄16 in square punch"),
        (
            {"made with": "shaped punch", "shaped punch": {"width": "1-1/2", "depth": "1/2", "trim": "1/8"}},
            "shaped punch 1½ in wide, ½ in deep, ⅛ in trim",
        ),
        (
            {"made with": "shaped punch", "shaped punch": {"width": "1", "depth": "1/2", "trim": "0"}},
            "shaped punch 1 in wide, ½ in deep, no trim",
        ),
        ({"shaped punch": {"width": "1", "depth": "1/2", "trim": "0"}}, ""),
    ],
)
def test_the_authors_own_tool_with_its_measures(notch, said):
    """A strip 15/16 in tall: half of that times √2 is 0.663 in, so a square of 11/16 in takes it."""
    piece = strip(Size(Length(3), Length(Fraction(15, 16))), **notch)
    assert own_tool(piece) == said
    assert shaped_with(piece) == f"V notch in both ends{f' ({said})' if said else ''}"
