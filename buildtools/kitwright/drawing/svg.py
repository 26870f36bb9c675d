"""The SVG pen: plain SVG 1.1 that stands alone, also in an `<img>`."""

from __future__ import annotations

import base64
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from kitwright.colours import hex_text
from kitwright.drawing import fonts, letters, photo, styles
from kitwright.drawing.fonts import FAMILIES, Font
from kitwright.drawing.palette import Ink, rgb
from kitwright.drawing.scene import Clip, Contour, Item, Marks, PhotoShape, Places, Scene, SceneShape, Stamps, Text
from kitwright.drawing.styles import Level
from kitwright.schemes import HOUSE, Palette


def svg(scene: Scene, level: Level = "full", palette: Palette = HOUSE) -> str:
    """The scene as an SVG document; one unit is a point, so it opens at its stated scale."""
    pen = _SvgPen(level, palette)
    body = [pen.item(item) for item in scene.shapes]
    body += [pen.text(text) for text in scene.texts]
    width, height = _n(scene.width), _n(scene.height)
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" '
            f'width="{width}pt" height="{height}pt" viewBox="0 0 {width} {height}" role="img" '
            f'aria-labelledby="title desc">',
            f'<title id="title">{escape(scene.title)}</title>',
            f'<desc id="desc">{escape(scene.alt)}</desc>',
            _style(scene.every_text),
            *filter(None, pen.ids.definitions),
            f'<rect width="{width}" height="{height}" fill="{pen.colour(styles.ground(level))}"/>',
            *filter(None, body),
            "</svg>",
            "",
        ]
    )


APART = 12
"""Points between two pictures on a board."""


def board(pictures: Mapping[str, Scene], palette: Palette = HOUSE, fine: Fraction = photo.FINE) -> str:
    """Several scenes as one SVG document, one below another, so that a page fetches one file for all of them, and letters and motifs once.

    Each is a `view` by its name (SVG 1.1, section 17.3.3): `board.svg#name` shows it alone. The whole has no size, so that a page
    gives each picture the shape that it says itself. Scans on it have `fine` pixels to a point.
    """
    pen, views, body, y = _SvgPen("full", palette, fine), list[str](), list[str](), Fraction(0)
    for name, scene in pictures.items():
        width, height, top = _n(scene.width), _n(scene.height), _n(y)
        views.append(f'<view id="{name}" viewBox="0 {top} {width} {height}"/>')
        inside = [*map(pen.item, scene.shapes), *map(pen.text, scene.texts)]
        ground = f'<rect width="{width}" height="{height}" fill="{pen.colour(styles.ground("full"))}"/>'
        body += [f'<g transform="translate(0 {top})">{ground}', *filter(None, inside), "</g>"]
        y += scene.height + APART
    words = [text for scene in pictures.values() for text in scene.every_text]
    head = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1">'
    start = ['<?xml version="1.0" encoding="UTF-8"?>', head, *views, _style(words)]
    return "\n".join([*start, *filter(None, pen.ids.definitions), *body, "</svg>", ""])


class _Ids:
    """Numbers for what is defined once and used elsewhere."""

    def __init__(self) -> None:
        self.definitions: list[str] = []
        self._known: dict[str, str] = {}

    def define(self, kind: str, text: str) -> str:
        """The id of a definition; `#` in the text stands for it."""
        if text not in self._known:
            self._known[text] = f"{kind}{len(self._known) + 1}"
            self.definitions.append(f"<defs>{text.replace('#', self._known[text], 1)}</defs>")
        return self._known[text]


def _style(texts: Iterable[Text]) -> str:
    """The fonts of these texts, cut down to their characters."""
    used: dict[Font, set[str]] = defaultdict(set)
    for text in texts:
        used[text.font] |= set(text.text)
    rules = ["text{font-kerning:none;font-variant-ligatures:none}", '.f{font-feature-settings:"frac"}']
    for font in sorted(used, key=lambda f: f.name):
        weight, style = font.css
        uri = letters.subset_uri(font, "".join(sorted(used[font])))
        rules.append(
            f'@font-face{{font-family:"{FAMILIES[font.family]}";font-weight:{weight};font-style:{style};src:url("{uri}") format("woff2")}}'
        )
    return f"<style>{''.join(rules)}</style>"


class _SvgPen:
    """Writes shapes and texts at one level of ink, in one club's colours."""

    def __init__(self, level: Level, palette: Palette, fine: Fraction = photo.FINE) -> None:
        self.level, self.palette, self.fine, self.ids = level, palette, fine, _Ids()

    def colour(self, ink: Ink | str) -> str:
        return hex_text(rgb(ink, self.palette))

    def item(self, item: Item) -> str:
        if isinstance(item, Text):
            return self.text(item)
        if isinstance(item, Clip):
            if self.level == "outline":
                return self.shape(SceneShape((item.outline,), None, "paper"))
            outline = self.ids.define("c", f'<clipPath id="#"><path d="{_path([item.outline], True)}"/></clipPath>')
            return f'<g clip-path="url(#{outline})">{"".join(self.item(i) for i in item.items)}</g>'
        if isinstance(item, Stamps):
            return self.stamps(item)
        if isinstance(item, Marks):
            ink = styles.fill(item.fill, self.level) or item.fill
            return f'<path d="{_path(item.outlines, True)}" fill="{self.colour(ink)}"/>'
        if isinstance(item, PhotoShape):
            return self.photo(item)
        return self.shape(item)

    def stamps(self, item: Stamps) -> str:
        """A motif again and again. A small one is a path with all its copies, of which a browser makes one thing; of a large one that would
        be long, so it is defined once, and so is a row of it that recurs."""
        fill = self.colour(styles.fill(item.fill, self.level) or item.fill)
        motif = [[(_hundredths(x), _hundredths(y)) for x, y in contour] for contour in item.motif]
        places = [(_hundredths(x), _hundredths(y)) for x, y in item.at]
        if sum(map(len, motif)) <= FEW:
            return f'<path d="{_copies(motif, places)}" fill="{fill}"/>'
        name = self.ids.define("m", f'<path id="#" d="{_path(item.motif, True)}"/>')
        across: dict[int, list[int]] = defaultdict(list)
        for x, y in places:
            across[y].append(x)
        rows: dict[tuple[int, ...], list[int]] = defaultdict(list)
        for y, xs in across.items():
            rows[tuple(xs)].append(y)
        uses = []
        for row, ys in rows.items():
            if len(row) == 1 or len(ys) == 1:
                uses += [_use(name, x, y) for y in ys for x in row]
            else:
                whole = self.ids.define("r", f'<g id="#">{"".join(_use(name, x, 0) for x in row)}</g>')
                uses += [_use(whole, 0, y) for y in ys]
        return f'<g fill="{fill}">{"".join(uses)}</g>'

    def photo(self, item: PhotoShape) -> str:
        """The scan as a picture within the picture: what is shown by `<img>` may load nothing."""
        if self.level != "full":
            return self.shape(item.plain)
        data, box = photo.jpeg(item, rgb("paper", self.palette), self.fine, photo.ON_SCREENS)
        size = f'width="{_n(box.width)}" height="{_n(box.height)}"'
        uri = f"data:image/jpeg;base64,{base64.b64encode(data).decode()}"
        shown = self.ids.define("p", f'<image id="#" {size} preserveAspectRatio="none" xlink:href="{uri}"/>')
        seen = "" if item.opacity == 1 else f' opacity="{_n(item.opacity)}"'
        return f'<use xlink:href="#{shown}" x="{_n(box.left)}" y="{_n(box.top)}"{seen}/>'

    def shape(self, shape: SceneShape) -> str:
        look = []
        if shape.fill == styles.SHADOW:
            if self.level == "outline":
                return ""
            look.append(f'fill="{self.colour(styles.SHADOW_INK)}" fill-opacity="{float(styles.SHADOW_ALPHA)}"')
        else:
            ink = styles.fill(shape.fill, self.level) if shape.fill else None
            look.append(f'fill="{self.colour(ink)}"' if ink else 'fill="none"')
            if ink and ink.opacity < 1:
                look.append(f'fill-opacity="{_n(ink.opacity)}"')
            if not ink and not shape.stroke:
                return ""
        if shape.stroke:
            line = styles.line(shape.stroke)
            look.append(f'stroke="{self.colour(line.colour)}" stroke-width="{_n(line.width)}"')
            if line.dash:
                look.append(f'stroke-dasharray="{" ".join(_n(d) for d in line.dash)}"')
        told = _path(shape.contours, shape.closed, moved=shape.fill == styles.SHADOW)
        return f'<path d="{told}" {" ".join(look)}/>'

    def text(self, text: Text) -> str:
        weight, style = text.font.css
        look = [
            f'x="{_n(text.x)}" y="{_n(text.y)}"',
            f"font-family={quoteattr(FAMILIES[text.font.family])}",
            f'font-size="{_n(text.size)}"',
            f'fill="{self.colour(styles.text(text.role, self.level))}"',
        ]
        if weight != 400:
            look.append(f'font-weight="{weight}"')
        if style != "normal":
            look.append(f'font-style="{style}"')
        if text.anchor != "start":
            look.append(f'text-anchor="{text.anchor}"')
        if text.upward:
            look.append(f'transform="rotate(-90 {_n(text.x)} {_n(text.y)})"')
        if text.carry:
            a, b, c, d = text.carry
            start = text.x - a * text.x - c * text.y, text.y - b * text.x - d * text.y
            look.append(f'transform="matrix({" ".join(f"{float(each):.5f}" for each in text.carry)} {" ".join(map(_n, start))})"')
        words = "".join(f'<tspan class="f">{run.text}</tspan>' if run.fraction else escape(run.text) for run in fonts.runs(text.text))
        return f"<text {' '.join(look)}>{words}</text>"


FEW = 8
"""Corners of a motif up to which its copies are one path."""
LONG = 8
"""Corners beyond which a contour is rounded as a shape of its own, so that it reads alike wherever it lies: dots that an edge cuts, labels' grounds."""
_Place = tuple[int, int]
"""Across and down, hundredths of a point."""


def _path(contours: Iterable[Contour | Places], closed: bool, moved: bool = False) -> str:
    """Contours, told step by step: what is even, such as marks of a ruler, or as large as what came before packs to next to nothing.

    Steps lead between places that are rounded already, so that what is left over never adds up and edges that meet still do.

    Args:
        contours: at most a few hundredths off.
        closed: whether the last point of each joins the first.
        moved: whether it is the same as others, moved: then it reads alike, however it is rounded.
    """
    told, at = [], None
    for contour in contours:
        points = _rounded([*contour], moved)
        start = "M" + _place(points[0]) if at is None else "m" + _place((points[0][0] - at[0], points[0][1] - at[1]))
        told.append(f"{start}l{_steps(points)}{'Z' if closed else ''}")
        at = points[0] if closed else points[-1]
    return "".join(told)


def _rounded(points: list[tuple[Fraction, Fraction]], moved: bool) -> list[_Place]:
    if not moved and len(points) <= LONG:
        return [(_hundredths(x), _hundredths(y)) for x, y in points]
    across, along = zip(*points)
    return list(zip(_from_the_first(across), _from_the_first(along)))


def _from_the_first(values: Sequence[Any]) -> list[int]:
    """Hundredths, of which all but the first are rounded as they lie from it: of fractions, or of the floats that a pattern's places are."""
    first, start = values[0], _hundredths(values[0])
    if isinstance(first, float):
        return [start + _hundredths(value - first) for value in values]
    # Terms over cross, since no difference need be in its lowest ones: Python divides whole numbers to the nearest float all the same.
    n, d = first.numerator, first.denominator
    return [start + round((value.numerator * d - n * value.denominator) / (value.denominator * d) * 100) for value in values]


def _copies(motif: list[list[_Place]], places: Iterable[_Place]) -> str:
    """A motif wherever it goes, each copy told from the one before: rows are even, so that most read alike and pack to next to nothing."""
    shapes = [(contour[0], f"l{_steps(contour)}z") for contour in motif]
    told, at = [], (0, 0)
    for x, y in places:
        for (left, top), shape in shapes:
            start = x + left, y + top
            told.append(f"m{_place((start[0] - at[0], start[1] - at[1]))}{shape}")
            at = start
    return "".join(told)


def _use(name: str, x: int, y: int) -> str:
    return f'<use xlink:href="#{name}" x="{_of_hundredths(x)}" y="{_of_hundredths(y)}"/>'


def _steps(at: list[_Place]) -> str:
    """From each place to the next. They are rounded already, so that what is left over never adds up."""
    return " ".join([f"{_of_hundredths(x - a)} {_of_hundredths(y - b)}" for (a, b), (x, y) in pairwise(at)])


def _hundredths(value: Fraction | float) -> int:
    return round(float(value) * 100)


def _place(place: _Place) -> str:
    return f"{_of_hundredths(place[0])} {_of_hundredths(place[1])}"


def _n(value: Fraction | float) -> str:
    """A number to the hundredth, without idle zeros."""
    return _to_hundredths(float(value))


# Half of a picture is numbers, and most of them stand in it more than once: in the other unit, on a phone, on the next guide.


@lru_cache(maxsize=1 << 16)
def _to_hundredths(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@lru_cache(maxsize=1 << 14)
def _of_hundredths(hundredths: int) -> str:
    """As many hundredths, as a number."""
    return _to_hundredths(hundredths / 100)
