"""A cut file as SVG 1.1: true size in millimetres, one path for each piece, real arcs.

Standard: W3C Recommendation Scalable Vector Graphics (SVG) 1.1 (Second Edition), 2011.
Layers and papers are plain groups with an `id`; nothing of any one program's own is used.
"""

from __future__ import annotations

from functools import partial
from xml.etree import ElementTree as ET

from kitwright.card.outlines import Contour, Point
from kitwright.cutfiles.parts import EDGES, FOLDS, Drawing, Part
from kitwright.units import Length, rounded

COLOURS = {EDGES: "#000000", FOLDS: "#0000ff"}
HAIRLINE = "0.1"
"""Millimetres; cutters follow the middle of a line, whatever its width."""
DECIMALS = 6


def drawn(drawing: Drawing) -> bytes:
    """The file's bytes, the same for the same drawing."""
    width, height = number(drawing.size.width), number(drawing.size.height)
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "version": "1.1",
            "width": f"{width}mm",
            "height": f"{height}mm",
            "viewBox": f"0 0 {width} {height}",
        },
    )
    ET.SubElement(root, "title").text = drawing.title
    ET.SubElement(root, "desc").text = drawing.description
    for layer, paths in ((EDGES, _edges), (FOLDS, partial(_folds, drawing))):
        papers = [(paper, [path for part in parts for path in paths(part)]) for paper, parts in drawing.papers]
        if not any(found for _, found in papers):
            continue
        group = ET.SubElement(root, "g", {"id": layer, "fill": "none", "stroke": COLOURS[layer], "stroke-width": HAIRLINE})
        for paper, found in papers:
            inner = ET.SubElement(group, "g", {"id": f"{layer}-{paper}"})
            for name, data in found:
                ET.SubElement(inner, "path", {"id": name, "d": data})
    ET.indent(root, " ")
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode").encode() + b"\n"


def _edges(part: Part) -> list[tuple[str, str]]:
    return [(part.name, " ".join(contour_data(contour) for contour in part.outline.contours))]


def _folds(drawing: Drawing, part: Part) -> list[tuple[str, str]]:
    return [
        (f"{part.name}-fold{f'-{i}' if i else ''}", " ".join(f"M {_point(a)} L {_point(b)}" for a, b in drawing.strokes(crease)))
        for i, crease in enumerate(part.folds)
    ]


def contour_data(contour: Contour) -> str:
    """A closed contour as path data."""
    words = [f"M {_point(contour[0].start)}"]
    for i, edge in enumerate(contour):
        if edge.centre is not None:
            across, down = map(number, edge.radii)
            words.append(f"A {across} {down} 0 0 {int(edge.clockwise)} {_point(edge.end)}")
        elif i < len(contour) - 1:
            words.append(f"L {_point(edge.end)}")
    return " ".join([*words, "Z"])


def _point(point: Point) -> str:
    return f"{number(point[0])},{number(point[1])}"


def number(length: Length) -> str:
    """Millimetres as a decimal number, to a millionth, without a float on the way."""
    value = int(rounded(length.millimetres * 10**DECIMALS))
    whole, part = divmod(abs(value), 10**DECIMALS)
    text = f"{whole}.{part:0{DECIMALS}d}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 else text
