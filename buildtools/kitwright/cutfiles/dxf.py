"""A cut file as DXF in millimetres, through ezdxf.

Every contour is one closed polyline whose arcs are true arcs (bulges), or an ellipse; a piece's contours
and folds are a group named by its label, all of a paper's a group such as `paper-meadow`. Release
2000 of the format, which nearly everything reads. DXF counts y upward.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from math import sqrt

import ezdxf
from ezdxf import units
from ezdxf.entities import DXFEntity
from ezdxf.layouts import Modelspace

from kitwright.card.outlines import Contour
from kitwright.cutfiles.parts import EDGES, FOLDS, Drawing
from kitwright.units import Length

_COLOURS = {EDGES: 7, FOLDS: 5}
"""Colour numbers of the format: black (or white on a dark screen), and blue."""
_QUARTER = sqrt(2) - 1
"""The bulge of a quarter circle: the tangent of a quarter of its angle."""


def drawn(drawing: Drawing) -> bytes:
    """The file's bytes, the same for the same drawing."""
    with _timeless():
        document = ezdxf.new("R2000", units=units.MM)
        _draw(document, drawing)
        stream = io.StringIO(newline="")
        document.write(stream)
    return document.encode(stream.getvalue())


@contextmanager
def _timeless() -> Iterator[None]:
    """Without the times of making and writing that the library would put in."""
    options = ezdxf.options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _draw(document: ezdxf.document.Drawing, drawing: Drawing) -> None:
    document.header["$LIMMAX"] = (_mm(drawing.size.width), _mm(drawing.size.height))
    for layer, colour in _COLOURS.items():
        document.layers.add(layer, color=colour)
    space, top = document.modelspace(), drawing.size.height
    for paper, parts in drawing.papers:
        whole: list[DXFEntity] = []
        for part in parts:
            found: list[DXFEntity] = [_contour(space, contour, top) for contour in part.outline.contours]
            found += [
                space.add_line((_mm(a[0]), _mm(top - a[1])), (_mm(b[0]), _mm(top - b[1])), dxfattribs={"layer": FOLDS})
                for crease in part.folds
                for a, b in drawing.strokes(crease)
            ]
            document.groups.new(part.name, description=f"{part.name}, {paper}").extend(found)
            whole += found
        document.groups.new(f"paper-{paper}", description=drawing.title[:200]).extend(whole)


def _contour(space: Modelspace, contour: Contour, top: Length) -> DXFEntity:
    """A closed polyline; an oval, whose arcs no polyline has, is one ellipse."""
    first, layer = contour[0], {"layer": EDGES}
    if first.centre is None or first.round:
        return space.add_lwpolyline(_vertices(contour, top), format="xyb", close=True, dxfattribs=layer)
    (x, y), (across, down) = first.centre, first.radii
    major = (_mm(across), 0.0) if across >= down else (0.0, _mm(down))
    return space.add_ellipse((_mm(x), _mm(top - y)), major, min(across, down) / max(across, down), dxfattribs=layer)


def _vertices(contour: Contour, top: Length) -> list[tuple[float, float, float]]:
    # With y upward, what runs clockwise as seen has a bulge below zero.
    return [(_mm(e.start[0]), _mm(top - e.start[1]), 0.0 if e.centre is None else -_QUARTER if e.clockwise else _QUARTER) for e in contour]


def _mm(length: Length) -> float:
    return float(length.millimetres)
