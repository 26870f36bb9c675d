"""A small drawing in SVG from a folder that may come from a stranger, read down to its outlines.

Only outlines and their plain colours are read; nothing else of the file goes on, since whatever
is shown is written anew from them (`written`). What they can't say (words, gradients, pictures,
rules of style, what is see-through) is refused by its name rather than shown otherwise.

Outlines: SVG 1.1, chapters 7 to 11. Entities and whatever else a document type could bring are
refused before they are read (XML 1.0, 4.2).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal
from xml.parsers import expat

from kitwright.colours import RGB, hex_text
from kitwright.kit.picture import NoPicture

LARGEST = 300_000
"""Bytes of a drawing's file."""
MOST_ELEMENTS, MOST_POINTS, DEEPEST = 2_000, 20_000, 60
"""Elements and points of one drawing, and how deep it may be nested: far more than a mark needs."""
EDGE = 480
"""Its longer edge once it is read, in units of its own."""
LONGEST_SIDE = 8
"""How many times as long as high it may be, or the other way round."""

Point = tuple[float, float]
Step = tuple[Literal["M", "L", "C", "Z"], tuple[Point, ...]]
"""To a point, along a line, along a curve with its two handles, or back to the beginning."""


@dataclass(frozen=True)
class Outline:
    """One shape."""

    steps: tuple[Step, ...]
    fill: RGB | None
    even_odd: bool
    """Whether what is enclosed twice is empty."""
    stroke: RGB | None
    width: float
    cap: Literal["butt", "round", "square"]
    join: Literal["miter", "round", "bevel"]


@dataclass(frozen=True)
class Vector:
    """A drawing; its corner lies at 0, 0, and x runs right, y down."""

    width: float
    height: float
    outlines: tuple[Outline, ...]
    """Lowest first."""


def vector(data: bytes) -> Vector:
    """The outlines of an SVG file.

    Raises:
        NoPicture: it is none, or holds more than outlines in plain colours.
    """
    if len(data) > LARGEST:
        raise NoPicture("pictures.too-large", most=LARGEST)
    reader = _Reader()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = _doctype
    parser.EntityDeclHandler = lambda *_: _refuse("pictures.not-taken-over", what="entity")
    parser.StartElementHandler, parser.EndElementHandler = reader.start, reader.end
    try:
        parser.Parse(data, True)
    except expat.ExpatError:
        raise NoPicture() from None
    return reader.done()


def written(drawing: Vector) -> str:
    """A drawing as an SVG document, nothing in it but its outlines."""
    shapes = "".join(_written(each) for each in drawing.outlines)
    size = f"{_n(drawing.width)} {_n(drawing.height)}"
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}">{shapes}</svg>\n'


def _written(one: Outline) -> str:
    path = "".join(letter + " ".join(f"{_n(x)} {_n(y)}" for x, y in points) for letter, points in one.steps)
    look = [f'fill="{hex_text(one.fill)}"' if one.fill else 'fill="none"']
    if one.fill and one.even_odd:
        look.append('fill-rule="evenodd"')
    if one.stroke:
        look.append(f'stroke="{hex_text(one.stroke)}" stroke-width="{_n(one.width)}"')
        look += [f'stroke-linecap="{one.cap}"'] * (one.cap != "butt") + [f'stroke-linejoin="{one.join}"'] * (one.join != "miter")
    return f'<path d="{path}" {" ".join(look)}/>'


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _refuse(code: str = "pictures.unreadable", **values: Any) -> None:
    raise NoPicture(code, **values)


def _doctype(_name: str, _system: str | None, _public: str | None, inside: bool) -> None:
    if inside:
        _refuse("pictures.not-taken-over", what="DOCTYPE")


# --- elements -----------------------------------------------------------------------------------------

SVG = "http://www.w3.org/2000/svg"
_SHAPES = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
_SILENT = {"title", "desc", "metadata", "defs"}
_LOOK = {
    "fill": "#000000",
    "stroke": "none",
    "stroke-width": "1",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "fill-rule": "nonzero",
    "fill-opacity": "1",
    "stroke-opacity": "1",
    "stroke-dasharray": "none",
    "visibility": "visible",
}
"""What is inherited from the element around, and what it is at first."""
_ALONE = {"display": "inline", "opacity": "1", "clip-path": "none", "mask": "none", "filter": "none"}
"""What is not."""
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,2})?"


@dataclass(frozen=True)
class _Around:
    """What holds inside an element."""

    turn: Any
    look: Mapping[str, str]
    hidden: bool
    """Whether nothing in it is shown, so that nothing of it is read."""


class _Reader:
    """Hears a document's elements and keeps their outlines."""

    def __init__(self) -> None:
        self.stack: list[_Around] = []
        self.outlines: list[Outline] = []
        self.size: tuple[float, float] | None = None
        self.elements = self.points = 0

    def start(self, name: str, attributes: dict[str, str]) -> None:
        self.elements += 1
        if self.elements > MOST_ELEMENTS or len(self.stack) >= DEEPEST:
            _refuse("pictures.too-intricate")
        space, _, tag = name.rpartition(" ")
        if not self.stack:
            self.stack.append(self.top(space, tag, attributes))
            return
        around = self.stack[-1]
        if around.hidden or space != SVG or tag in _SILENT:
            if space == SVG and tag == "style":
                _refuse("pictures.not-taken-over", what="style")
            # What a drawing program notes for itself; a style sheet alone would change what is shown.
            self.stack.append(_Around(around.turn, around.look, hidden=True))
            return
        if tag != "g" and tag not in _SHAPES:
            _refuse("pictures.not-taken-over", what=tag)
        inside = self.inside(around, attributes)
        self.stack.append(inside)
        if tag in _SHAPES and not inside.hidden:
            self.draw(_path_of(tag, attributes), inside)

    def end(self, _name: str) -> None:
        self.stack.pop()

    def top(self, space: str, tag: str, attributes: dict[str, str]) -> _Around:
        from fontTools.misc.transform import Transform

        if (space, tag) != (SVG, "svg"):
            _refuse()
        box = [float(n) for n in re.findall(_NUMBER, attributes.get("viewBox", ""))]
        if len(box) != 4:
            box = [0, 0, _length(attributes.get("width", "")), _length(attributes.get("height", ""))]
        left, upper, width, height = box
        if not (0 < width < 1e6 and 0 < height < 1e6) or abs(left) > 1e6 or abs(upper) > 1e6:
            _refuse()
        if max(width, height) > LONGEST_SIDE * min(width, height):
            _refuse("pictures.too-long", most=LONGEST_SIDE)
        scale = EDGE / max(width, height)
        self.size = width * scale, height * scale
        plain = _Around(Transform(), _LOOK, hidden=False)
        return self.inside(plain, attributes, Transform(scale, 0, 0, scale, -left * scale, -upper * scale))

    def inside(self, around: _Around, attributes: dict[str, str], turn: Any = None) -> _Around:
        said = {key: value.strip() for key, value in attributes.items() if key in _LOOK or key in _ALONE}
        for part in attributes.get("style", "").split(";"):
            key, _, value = part.partition(":")
            if key.strip() in _LOOK or key.strip() in _ALONE:
                said[key.strip()] = value.strip()
        said = {key: value for key, value in said.items() if value != "inherit"}
        look = {**around.look, **{key: value for key, value in said.items() if key in _LOOK}}
        hidden = said.get("display") == "none"
        if not hidden:
            for key in ("clip-path", "mask", "filter"):
                if said.get(key, "none") != "none":
                    _refuse("pictures.not-taken-over", what=key)
            if _share(said.get("opacity", "1")) != 1:
                _refuse("pictures.see-through")
        return _Around(around.turn.transform(turn or _transform(attributes.get("transform", ""))), look, hidden)

    def draw(self, path: str, around: _Around) -> None:
        look = around.look
        if look["visibility"] != "visible":
            return
        fill, stroke = (_colour(look[key], look[f"{key}-opacity"]) for key in ("fill", "stroke"))
        if stroke and look["stroke-dasharray"] != "none":
            _refuse("pictures.not-taken-over", what="stroke-dasharray")
        xx, xy, yx, yy, *_ = around.turn
        width = _length(look["stroke-width"]) * abs(xx * yy - xy * yx) ** 0.5
        steps = _steps(path, around.turn)
        self.points += sum(len(points) for _, points in steps)
        if self.points > MOST_POINTS:
            _refuse("pictures.too-intricate")
        if not steps or not (fill or stroke and width > 0):
            return
        self.outlines.append(
            Outline(
                steps=steps,
                fill=fill,
                even_odd=look["fill-rule"] == "evenodd",
                stroke=stroke if width > 0 else None,
                width=width,
                cap=_one_of(look["stroke-linecap"], ("butt", "round", "square")),
                join=_one_of(look["stroke-linejoin"], ("miter", "round", "bevel")),
            )
        )

    def done(self) -> Vector:
        if self.size is None or not self.outlines:
            raise NoPicture("pictures.empty")
        return Vector(*self.size, tuple(self.outlines))


# --- attributes ---------------------------------------------------------------------------------------


def _one_of(text: str, choices: Iterable[Any]) -> Any:
    first, *others = choices
    return text if text in others else first


def _length(text: str) -> float:
    """A number of user units; other units than px are refused."""
    match = re.fullmatch(rf"\s*({_NUMBER})(px|pt|mm|cm|in)?\s*", text)
    if not match:
        raise NoPicture()
    # CSS 2.1, 4.3.2: an inch is 96 px.
    return float(match[1]) * {"pt": 96 / 72, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96}.get(match[2] or "", 1)


def _share(text: str) -> float:
    match = re.fullmatch(rf"({_NUMBER})(%?)", text)
    if not match:
        raise NoPicture()
    return min(float(match[1]) / (100 if match[2] else 1), 1)


def _colour(text: str, opacity: str) -> RGB | None:
    """A plain colour; None for none."""
    from PIL import ImageColor

    share = _share(opacity)
    if text in ("none", "transparent") or share == 0:
        return None
    if share != 1:
        _refuse("pictures.see-through")
    if text.startswith("url("):
        _refuse("pictures.not-taken-over", what="gradient")
    try:
        found = ImageColor.getrgb(text)
    except ValueError:
        raise NoPicture("pictures.not-taken-over", what=text[:20]) from None
    if len(found) == 4 and found[3] != 255:
        _refuse("pictures.see-through")
    red, green, blue = found[:3]
    return red, green, blue


_TURNS: dict[str, tuple[int, ...]] = {"matrix": (6,), "translate": (1, 2), "scale": (1, 2), "rotate": (1, 3), "skewX": (1,), "skewY": (1,)}


def _transform(text: str) -> Any:
    """The matrix of an element's own transform (SVG 1.1, 7.6)."""
    from math import radians

    from fontTools.misc.transform import Transform

    found, rest = Transform(), text.strip()
    while rest:
        match = re.match(r"(\w+)\s*\(([^()]*)\)[\s,]*", rest)
        numbers = [float(n) for n in re.findall(_NUMBER, match[2])] if match else []
        if not match or match[1] not in _TURNS or len(numbers) not in _TURNS[match[1]] or any(abs(n) > 1e6 for n in numbers):
            raise NoPicture()
        rest = rest[match.end() :]
        match match[1], numbers:
            case "matrix", _:
                found = found.transform(numbers)
            case "translate", [x, *y]:
                found = found.translate(x, y[0] if y else 0)
            case "scale", [x, *y]:
                found = found.scale(x, y[0] if y else x)
            case "rotate", [angle, *about]:
                left, upper = about or (0, 0)
                found = found.translate(left, upper).rotate(radians(angle)).translate(-left, -upper)
            case "skewX", [angle]:
                found = found.skew(radians(angle), 0)
            case "skewY", [angle]:
                found = found.skew(0, radians(angle))
    return found


def _path_of(tag: str, attributes: Mapping[str, str]) -> str:
    """An element's outline in the language of paths."""

    def number(key: str, default: str = "0") -> float:
        return _length(attributes.get(key, default))

    if tag == "path":
        return attributes.get("d", "")
    if tag in ("polyline", "polygon"):
        numbers = re.findall(_NUMBER, attributes.get("points", ""))
        if len(numbers) < 4 or len(numbers) % 2:
            return ""
        return "M" + " ".join(numbers[:2]) + "L" + " ".join(numbers[2:]) + ("Z" if tag == "polygon" else "")
    if tag == "line":
        return f"M{number('x1')} {number('y1')}L{number('x2')} {number('y2')}"
    if tag == "rect":
        x, y, width, height = (number(key) for key in ("x", "y", "width", "height"))
        if width <= 0 or height <= 0:
            return ""
        across = number("rx", attributes.get("ry", "0")) if attributes.get("rx", "auto") != "auto" or "ry" in attributes else 0
        along = number("ry", attributes.get("rx", "0")) if attributes.get("ry", "auto") != "auto" or "rx" in attributes else 0
        rx, ry = min(across, width / 2), min(along, height / 2)
        if rx <= 0 or ry <= 0:
            return f"M{x} {y}H{x + width}V{y + height}H{x}Z"
        right, low, bend = x + width, y + height, f"A{rx} {ry} 0 0 1 "
        corners = [(right, y + ry), (right - rx, low), (x, low - ry), (x + rx, y)]
        edges = [f"H{right - rx}", f"V{low - ry}", f"H{x + rx}", f"V{y + ry}"]
        return f"M{x + rx} {y}" + "".join(f"{edge}{bend}{a} {b}" for edge, (a, b) in zip(edges, corners)) + "Z"
    rx, ry = (number("r"), number("r")) if tag == "circle" else (number("rx"), number("ry"))
    x, y = number("cx"), number("cy")
    if rx <= 0 or ry <= 0:
        return ""
    return f"M{x - rx} {y}A{rx} {ry} 0 0 1 {x + rx} {y}A{rx} {ry} 0 0 1 {x - rx} {y}Z"


def _steps(path: str, turn: Any) -> tuple[Step, ...]:
    """A path's steps, arcs and the rest turned into lines and curves, where they come to lie."""
    from fontTools.pens.recordingPen import RecordingPen
    from fontTools.pens.transformPen import TransformPen
    from fontTools.svgLib.path import parse_path

    if len(path) > LARGEST:
        _refuse("pictures.too-intricate")
    pen = RecordingPen()
    try:
        parse_path(path, TransformPen(pen, turn))
    except Exception:
        # The parser meets odd text with errors of many kinds; all of them mean one thing here.
        raise NoPicture() from None
    found: list[Step] = []
    here: Point = (0, 0)
    for name, points in pen.value:
        match name:
            case "moveTo":
                found.append(("M", points))
            case "lineTo":
                found.append(("L", points))
            case "curveTo":
                found.append(("C", points))
            case "qCurveTo":
                found.append(("C", _raised(here, *points)))
            case "closePath":
                found.append(("Z", ()))
        here = points[-1] if points else here
    if any(not abs(n) < 1e7 for _, points in found for point in points for n in point):
        raise NoPicture()
    return tuple(found)


def _raised(start: Point, handle: Point, end: Point) -> tuple[Point, Point, Point]:
    """A quadratic curve as a cubic one."""

    def between(one: Point) -> Point:
        return one[0] + (handle[0] - one[0]) * 2 / 3, one[1] + (handle[1] - one[1]) * 2 / 3

    return between(start), between(end), end
