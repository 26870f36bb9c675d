"""SVG and DXF opened by independent readers, compared with the spec: outlines, layers, true size, area to 0.01 mm²."""

from __future__ import annotations

import io
import re
from xml.etree import ElementTree as ET

import ezdxf
import pytest
from cutfiles.readers import SVG, read_dxf, read_svg, svg_size
from kitwright.card.shapes import misshapes, outline_of
from kitwright.cutfiles.dxf import drawn as dxf_bytes
from kitwright.cutfiles.parts import Drawing, Part
from kitwright.cutfiles.svg import drawn as svg_bytes
from kitwright.cutfiles.svg import number
from kitwright.kit.model import Notch, Parallelogram, Piece, Scalloped, Shape, Tag, Trapezoid, Window
from kitwright.units import ZERO, Length, Size
from shapely import Point, Polygon, affinity, box
from shapely.ops import unary_union


def mm(value) -> Length:
    return Length.mm(value)


def disc(x, y, r):
    return Point(x, y).buffer(r, quad_segs=400)


SIZE = Size(mm(80), mm(50))
WHOLE = box(0, 0, 80, 50)
CASES = {
    "rectangle": ({}, WHOLE, 4000),
    "notches": ({"notch": Notch()}, Polygon([(0, 0), (80, 0), (55, 25), (80, 50), (0, 50), (25, 25)]), 4000 - 2 * 625),
    "rounded": (
        {"shape": Shape(rounded=mm(10))},
        unary_union([box(10, 0, 70, 50), box(0, 10, 80, 40), *[disc(x, y, 10) for x in (10, 70) for y in (10, 40)]]),
        4000 - (4 - 3.141592653589793) * 100,
    ),
    "snipped": (
        {"shape": Shape(snipped=mm(20), corners=("top left",))},
        Polygon([(20, 0), (80, 0), (80, 50), (0, 50), (0, 20)]),
        4000 - 200,
    ),
    "arch": ({"shape": Shape(arch="right")}, unary_union([box(0, 0, 55, 50), disc(55, 25, 25)]), 55 * 50 + 3.141592653589793 * 625 / 2),
    "tag": (
        {"shape": Shape(tag=Tag(end="left", snip=mm(10), hole=mm(6), inset=mm(12)))},
        Polygon([(10, 0), (80, 0), (80, 50), (10, 50), (0, 40), (0, 10)]).difference(disc(12, 25, 3)),
        4000 - 100 - 3.141592653589793 * 9,
    ),
    "oval": ({"shape": Shape(oval=True)}, affinity.scale(disc(40, 25, 1), 40, 25), 3.141592653589793 * 40 * 25),
    "triangle": ({"shape": Shape(triangle="falling")}, Polygon([(0, 0), (80, 50), (0, 50)]), 2000),
    "trapezoid": ({"shape": Shape(trapezoid=Trapezoid(end="left", by=mm(10)))}, Polygon([(0, 10), (80, 0), (80, 50), (0, 40)]), 3200),
    "parallelogram": (
        {"shape": Shape(parallelogram=Parallelogram(lean="left", by=mm(20)))},
        Polygon([(0, 0), (60, 0), (80, 50), (20, 50)]),
        3000,
    ),
    "scalloped": (
        {"shape": Shape(scalloped=Scalloped(edge=("top", "bottom"), width=mm(10)))},
        unary_union([box(0, 5, 80, 45), *(disc(5 + 10 * i, y, 5) for i in range(8) for y in (5, 45))]),
        80 * 40 + 8 * 3.141592653589793 * 25,
    ),
    "frame": ({"shape": Shape(window=Window(border=mm(8)))}, WHOLE.difference(box(8, 8, 72, 42)), 4000 - 64 * 34),
    "round window": (
        {"shape": Shape(window=Window(size=Size(mm(30), mm(30)), rounded=mm(15), right=mm(5)))},
        WHOLE.difference(disc(60, 25, 15)),
        4000 - 3.141592653589793 * 225,
    ),
}


@pytest.fixture(params=CASES, ids=list(CASES))
def case(request):
    said, shape, area = CASES[request.param]
    piece = Piece(size=SIZE, paper="p", **said)
    assert not list(misshapes(piece))
    return Part("A", outline_of(piece), (((mm(40), ZERO), (mm(40), mm(50))),)), shape, area


def drawing(*parts: Part, size: Size = SIZE) -> Drawing:
    return Drawing("A piece", "For a test & more", size, (("meadow", parts),))


def test_the_readers_see_the_piece_of_the_spec(case):
    part, shape, area = case
    read = read_svg(svg_bytes(drawing(part)))
    assert [(r.name, r.layer, r.paper) for r in read] == [("A", "edges", "meadow"), ("A-fold", "folds", "meadow")]
    assert read[0].shape.area == pytest.approx(area, abs=0.01)
    assert read[0].shape.symmetric_difference(shape).area < 0.05
    assert list(read[1].shape.coords) == [(40, 0), (40, 50)]
    entities = read_dxf(dxf_bytes(drawing(part)), 50)
    edges = [g for layer, g in entities if layer == "edges"]
    assert [layer for layer, _ in entities] == ["edges"] * len(edges) + ["folds"]
    solid = edges[0].difference(unary_union(edges[1:]))
    assert {g.geom_type for g in edges} == {"Polygon"} and solid.area == pytest.approx(area, abs=0.01)
    assert solid.symmetric_difference(shape).area < 0.05
    assert list(entities[-1][1].coords) == [(40, 0), (40, 50)]
    # What the spec says exactly is within the same hundredth.
    assert float(part.outline.area) * 25.4**2 == pytest.approx(area, abs=1e-6)


def test_a_piece_laid_turned_and_moved(case):
    part, shape, _ = case
    laid = part.laid("A-2", mm(7), mm(11), mm(50))
    turned = affinity.translate(affinity.rotate(shape, 90, origin=(0, 0)), 57, 11)
    canvas = drawing(laid, size=Size(mm(100), mm(120)))
    read = read_svg(svg_bytes(canvas))
    assert read[0].name == "A-2" and read[0].shape.symmetric_difference(turned).area < 0.05
    edges = [g for layer, g in read_dxf(dxf_bytes(canvas), 120) if layer == "edges"]
    assert edges[0].difference(unary_union(edges[1:])).symmetric_difference(turned).area < 0.05
    assert list(read[1].shape.coords) == [(57, 51), (7, 51)]


def test_true_size():
    data = svg_bytes(drawing(Part("A", outline_of(Piece(size=SIZE, paper="p")))))
    assert svg_size(data) == pytest.approx((80, 50), abs=1e-4)
    root = ET.fromstring(data)
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("80mm", "50mm", "0 0 80 50")
    document = ezdxf.read(io.StringIO(dxf_bytes(drawing(Part("A", outline_of(Piece(size=SIZE, paper="p"))))).decode()))
    assert document.header["$INSUNITS"] == 4  # millimetres, in the format's table of units
    assert document.header["$MEASUREMENT"] == 1


SVG_11 = {
    "svg": {"version", "width", "height", "viewBox"},
    "g": {"id", "fill", "stroke", "stroke-width"},
    "path": {"id", "d"},
    "title": set(),
    "desc": set(),
}
"""Elements and attributes as SVG 1.1 (Second Edition) has them; nothing else is written."""


def test_nothing_but_standard_svg(case):
    data = svg_bytes(drawing(case[0]))
    names = set()
    for element in ET.fromstring(data).iter():
        assert element.tag.startswith(SVG) and set(element.attrib) <= SVG_11[element.tag.removeprefix(SVG)]
        if (name := element.get("id")) is not None:
            # An XML name, and only once: SVG 1.1, 5.10.1.
            assert re.fullmatch(r"[A-Za-z_][\w.-]*", name) and name not in names
            names.add(name)
        if data_ := element.get("d"):
            assert re.fullmatch(r"[MLAZ0-9., -]+", data_)
    assert b"xmlns:" not in data and data.count(b"xmlns=") == 1


def test_arcs_stay_arcs():
    part = Part("A", outline_of(Piece(size=SIZE, paper="p", shape=Shape(arch="right"))))
    assert svg_bytes(drawing(part)).count(b"A 25 25 0 0 1") == 2
    polyline = next(iter(ezdxf.read(io.StringIO(dxf_bytes(drawing(part)).decode())).modelspace()))
    # A quarter circle's bulge is the tangent of 22.5°, below zero as it runs clockwise with y upward.
    assert sorted({round(p[-1], 12) for p in polyline.get_points()}) == [-0.414213562373, 0]


def test_the_library_finds_no_fault_and_groups_go_by_name(case):
    part = case[0]
    document = ezdxf.read(io.StringIO(dxf_bytes(drawing(part, part.laid("B-1", ZERO, ZERO, None))).decode()))
    assert document.audit().errors == []
    groups = dict(document.groups)
    n = len(part.outline.contours) + 1
    assert {name: len(group) for name, group in groups.items()} == {"A": n, "B-1": n, "paper-meadow": 2 * n}
    assert {"edges", "folds"} <= {layer.dxf.name for layer in document.layers}


def test_same_bytes(case):
    one = drawing(case[0])
    assert svg_bytes(one) == svg_bytes(one) and dxf_bytes(one) == dxf_bytes(one)
    assert b"2000-01-01" in dxf_bytes(one) and not ezdxf.options.write_fixed_meta_data_for_testing


@pytest.mark.parametrize(
    "length, text",
    [
        (Length.mm(0), "0"),
        (Length(1), "25.4"),
        (Length(1) / 16, "1.5875"),
        (Length.mm(1) / 3, "0.333333"),
        (-Length(1) / 3, "-8.466667"),
        (Length.mm(1) / 10**7, "0"),
    ],
)
def test_numbers_are_rounded_to_a_millionth(length, text):
    assert number(length) == text
