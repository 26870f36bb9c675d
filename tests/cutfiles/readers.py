"""Cut files read back by readers that know nothing of ours: svgelements, and GDAL through pyogrio."""

from __future__ import annotations

import io
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import pyogrio
import shapely
import svgelements
from shapely import LineString, Polygon

SVG = "{http://www.w3.org/2000/svg}"
CHORDS = 400
"""For each arc: a quarter circle of 100 mm is then off by under 0.01 mm²."""


@dataclass(frozen=True)
class Read:
    """One path of a file."""

    name: str
    layer: str
    paper: str
    shape: Polygon | LineString
    """Millimetres, y down."""


def svg_size(data: bytes) -> tuple[float, float]:
    """Width and height in millimetres, as the reader understands them at 25.4 pixels to the inch."""
    picture = svgelements.SVG.parse(io.BytesIO(data), ppi=25.4)
    return float(picture.width), float(picture.height)


def read_svg(data: bytes) -> list[Read]:
    """Every path, by the group it lies in."""
    found = []
    root = ET.fromstring(data)
    for layer in root.findall(f"{SVG}g"):
        for paper in layer.findall(f"{SVG}g"):
            for path in paper.findall(f"{SVG}path"):
                key = paper.get("id").removeprefix(layer.get("id") + "-")
                found.append(Read(path.get("id"), layer.get("id"), key, _shape(svgelements.Path(path.get("d")))))
    return found


def _shape(path: svgelements.Path) -> Polygon | LineString:
    rings, closed = [], False
    for part in path.as_subpaths():
        points = []
        for segment in part:
            if isinstance(segment, svgelements.Arc):
                points += [segment.point(i / CHORDS) for i in range(1, CHORDS + 1)]
            elif isinstance(segment, (svgelements.Move, svgelements.Line)):
                points.append(segment.end)
            closed = closed or isinstance(segment, svgelements.Close)
        rings.append([(p.x, p.y) for p in points])
    return Polygon(rings[0], rings[1:]) if closed else LineString(rings[0])


def read_dxf(data: bytes, height: float) -> list[tuple[str, shapely.Geometry]]:
    """Every entity in file order: its layer, and its geometry with y turned down again."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "DXF_CLOSED_LINE_AS_POLYGON": "YES"})
    meta, _, shapes, fields = pyogrio.raw.read(data)
    layers = fields[list(meta["fields"]).index("Layer")]
    return [
        (layer, shapely.transform(_filled(shapely.force_2d(shapely.from_wkb(shape))), lambda p: p * (1, -1) + (0, height)))
        for layer, shape in zip(layers, shapes)
    ]


def _filled(shape: shapely.Geometry) -> shapely.Geometry:
    """An ellipse that closes comes as a line; closed polylines come as areas already."""
    return Polygon(shape.coords) if isinstance(shape, LineString) and shape.is_ring else shape
