"""The PNG pen: shapes drawn large and averaged down, text set by FreeType at final size."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from math import hypot

import numpy as np
from PIL import Image, ImageChops, ImageDraw, ImageFont

from kitwright.colours import RGB
from kitwright.drawing import fonts, photo, styles
from kitwright.drawing.fonts import Font
from kitwright.drawing.palette import Ink, rgb
from kitwright.drawing.scene import Box, Clip, Contour, Item, Marks, PhotoShape, Places, Scene, SceneShape, Stamps, Text
from kitwright.drawing.styles import Level
from kitwright.exact import Exact
from kitwright.schemes import HOUSE, Palette

SCREEN = Fraction(4, 3)
"""Pixels per point at ordinary screen size (96 to the inch)."""
_OVER = 2
# Shapes are drawn this many times larger, then averaged: smooth edges without transparency.
_SAMPLED = 4
_PRESSED = 7
# Of 9: the last two steps make a picture a twelfth smaller and take five times as long.
_QUALITY, _LIGHT = 88, 76


def png(
    scene: Scene, pixels_per_point: Fraction = 2 * SCREEN, level: Level = "full", colours: int = 128, palette: Palette = HOUSE
) -> bytes:
    """The scene as PNG bytes; by default at twice screen size.

    `colours` is the size of the picture's colour table; it keeps the file small.
    """
    out = io.BytesIO()
    dots = round(float(pixels_per_point * 72))
    with_table(image(scene, pixels_per_point, level, palette), colours).save(out, "PNG", compress_level=_PRESSED, dpi=(dots, dots))
    return out.getvalue()


def jpeg(scene: Scene, pixels_per_point: Fraction = 2 * SCREEN, palette: Palette = HOUSE, light: bool = False) -> bytes:
    """The scene as JPEG bytes: for pictures of scans, which have no even areas; `light` to carry, or as fine as can be seen."""
    out, dots = io.BytesIO(), round(float(pixels_per_point * 72))
    image(scene, pixels_per_point, palette=palette).save(
        out, "JPEG", quality=_LIGHT if light else _QUALITY, subsampling=2 if light else 0, optimize=True, dpi=(dots, dots)
    )
    return out.getvalue()


def see_through(scene: Scene, pixels_per_point: Fraction = 2 * SCREEN, palette: Palette = HOUSE) -> bytes:
    """The scene as PNG bytes on nothing: what it does not cover is transparent, shadows are half.

    Drawn on black and on white, what lets the ground through differs by just as much as it does.
    """
    black, white = (
        np.asarray(image(scene, pixels_per_point, palette=palette, ground=ground), dtype=np.int32)
        for ground in ((0, 0, 0), (255, 255, 255))
    )
    cover = 255 - (white - black).max(axis=2).clip(0, 255)
    # What shows on black is the colour as far as it covers.
    colour = np.where(cover[:, :, None] > 0, (black * 255 + cover[:, :, None] // 2) // np.maximum(cover, 1)[:, :, None], 0).clip(0, 255)
    out, dots = io.BytesIO(), round(float(pixels_per_point * 72))
    Image.fromarray(np.dstack([colour, cover]).astype(np.uint8), "RGBA").save(out, "PNG", compress_level=_PRESSED, dpi=(dots, dots))
    return out.getvalue()


def with_table(picture: Image.Image, colours: int) -> Image.Image:
    """The picture with a table of so many colours.

    A sample tells which: to choose from all pixels takes five times as long. Pixels then find theirs in coarse steps,
    so each colour is set at last to the mean of what it stands for: even areas keep theirs.
    """
    few = picture.resize((-(-picture.width // _SAMPLED), -(-picture.height // _SAMPLED)), Image.Resampling.NEAREST)
    table = few.quantize(colours, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    found = picture.quantize(palette=table, dither=Image.Dither.NONE)
    used = np.asarray(few.quantize(palette=table, dither=Image.Dither.NONE)).ravel()
    pixels = np.asarray(few).reshape(-1, 3)
    times = np.bincount(used, minlength=colours)
    sums = np.stack([np.bincount(used, pixels[:, channel], colours) for channel in range(3)], axis=1)
    known = np.zeros((colours, 3))
    chosen = np.array(table.getpalette()).reshape(-1, 3)[:colours]
    known[: len(chosen)] = chosen
    means = np.where(times[:, None] > 0, sums / np.maximum(times, 1)[:, None], known)
    found.putpalette(np.rint(means).astype(np.uint8).tobytes())
    return found


def image(
    scene: Scene, pixels_per_point: Fraction = 2 * SCREEN, level: Level = "full", palette: Palette = HOUSE, ground: RGB | None = None
) -> Image.Image:
    """The scene as a Pillow picture; on the picture's own paper where no ground is given."""
    size = tuple(-int(-(edge * pixels_per_point) // 1) for edge in (scene.width, scene.height))
    large = Image.new("RGB", (size[0] * _OVER, size[1] * _OVER), ground or rgb(styles.ground(level), palette))
    pen = _PngPen(large, float(pixels_per_point) * _OVER, level, palette)
    under: list[SceneShape] = []
    for item in scene.shapes:
        if isinstance(item, SceneShape) and item.fill == styles.SHADOW:
            under.append(item)
        else:
            pen.shadows(under, item)
            pen.item(item)
            under = []
    picture = large.reduce(_OVER)
    for text in scene.texts:
        _text(picture, text, float(pixels_per_point), level, palette)
    return picture


class _PngPen:
    """Draws shapes on a picture, `per_point` pixels to the point."""

    def __init__(self, picture: Image.Image, per_point: float, level: Level, palette: Palette, origin=(0, 0)) -> None:
        self.picture, self.per_point, self.level, self.palette, self.origin = picture, per_point, level, palette, origin
        self.draw = ImageDraw.Draw(picture)

    def colour(self, ink: Ink | str) -> RGB:
        return rgb(ink, self.palette)

    def item(self, item: Item) -> None:
        if isinstance(item, Text):
            _text(self.picture, item, self.per_point, self.level, self.palette)
        elif isinstance(item, Clip):
            if self.level == "outline":
                self.shape(SceneShape((item.outline,), None, "paper"))
            else:
                self.clip(item)
        elif isinstance(item, Stamps):
            self.stamps(item)
        elif isinstance(item, Marks):
            self.marks(item)
        elif isinstance(item, PhotoShape):
            self.photo(item)
        else:
            self.shape(item)

    def clip(self, clip: Clip) -> None:
        """Draw the inside on a picture of its own and lay it in through the outline."""
        if len(clip.items) == 1 and isinstance(clip.items[0], SceneShape) and clip.items[0].contours == (clip.outline,):
            self.shape(clip.items[0])  # of one colour
            return
        outline = self.pixels(clip.outline)
        left, top, right, bottom = self.around(outline)
        if left >= right or top >= bottom:
            return
        mask = Image.new("L", (right - left, bottom - top), 0)
        _fill(ImageDraw.Draw(mask), [(x - left, y - top) for x, y in outline], 255)
        if whole := _upright(clip.outline):
            # All of a rectangle is inside: it is laid in as it is, which takes a fifth of the time.
            part = mask.getbbox() or (0, 0, 0, 0)
            left, top, right, bottom = left + part[0], top + part[1], left + part[2], top + part[3]
        inside = self.picture.crop((left, top, right, bottom))
        pen = _PngPen(inside, self.per_point, self.level, self.palette, (self.origin[0] + left, self.origin[1] + top))
        for item in clip.items:
            pen.item(item)
        self.picture.paste(inside, (left, top), None if whole else mask)

    def stamps(self, stamps: Stamps) -> None:
        colour = self.colour(styles.fill(stamps.fill, self.level) or stamps.fill)
        motif = [[(float(x) * self.per_point, float(y) * self.per_point) for x, y in c] for c in stamps.motif]
        for dx, dy in self.pixels(stamps.at):
            for contour in motif:
                _fill(self.draw, [(x + dx, y + dy) for x, y in contour], colour)

    def marks(self, marks: Marks) -> None:
        colour = self.colour(styles.fill(marks.fill, self.level) or marks.fill)
        for outline in marks.outlines:
            _fill(self.draw, self.pixels(outline), colour)

    def photo(self, item: PhotoShape) -> None:
        if self.level != "full":
            self.shape(item.plain)
            return
        per_point = Fraction(self.per_point)
        of, (left, top) = photo.window(item.box, per_point), self.origin
        of = max(of[0], left), max(of[1], top), min(of[2], left + self.picture.width), min(of[3], top + self.picture.height)
        if of[0] < of[2] and of[1] < of[3]:
            cover = Image.new("L", (of[2] - of[0], of[3] - of[1]), round(255 * item.opacity))
            self.picture.paste(photo.pixels(item, of, per_point, self.colour("paper")), (of[0] - left, of[1] - top), cover)

    def shape(self, shape: SceneShape) -> None:
        contours = [self.pixels(c) for c in shape.contours]
        if shape.fill and (ink := styles.fill(shape.fill, self.level)):
            for contour in contours:
                if ink.opacity < 1:
                    self.sheer(contour, ink)
                else:
                    _fill(self.draw, contour, self.colour(ink))
        if shape.stroke:
            line = styles.line(shape.stroke)
            width = max(1, round(float(line.width) * self.per_point))
            dash = [float(d) * self.per_point for d in line.dash]
            for contour in contours:
                path = [*contour, contour[0]] if shape.closed else contour
                for part in _dashes(path, dash) if dash else [path]:
                    self.draw.line(part, fill=self.colour(line.colour), width=width, joint="curve")
                if shape.closed and not dash:
                    # Pillow joins inner corners only; close the first one as well.
                    self.draw.line([path[-2], path[0], path[1]], fill=self.colour(line.colour), width=width, joint="curve")

    def sheer(self, contour: list[tuple[float, float]], ink: Ink) -> None:
        """Fill a polygon so that what lies below still shows."""
        left, top, right, bottom = box = self.around(contour)
        if left < right and top < bottom:
            mask = Image.new("L", (right - left, bottom - top), 0)
            _fill(ImageDraw.Draw(mask), [(x - left, y - top) for x, y in contour], round(255 * ink.opacity))
            self.picture.paste(self.colour(ink), box, mask)

    def shadows(self, shadows: list[SceneShape], on: Item) -> None:
        """Draw what is shaded, as far as it shows beside the paper that lies on it.

        They are laid on all at once, by how many of them cover each pixel.
        """
        contours = [self.pixels(contour) for shadow in shadows for contour in shadow.contours]
        if not contours or self.level == "outline":
            return
        cover = self.pixels(on.outline) if isinstance(on, Clip) and _upright(on.outline) else None
        shade = _shade_of_rectangles if all(_upright(contour) for contour in contours) else _shade_of_polygons
        for box in _beside(self.around([point for contour in contours for point in contour]), cover):
            self.picture.paste(self.colour(styles.SHADOW_INK), box, shade(contours, box))

    def around(self, points: list[tuple[float, float]]) -> tuple[int, int, int, int]:
        """The box of pixels of the picture that holds these points; it may be empty."""
        xs, ys = zip(*points)
        right, bottom = min(self.picture.width, int(max(xs)) + 1), min(self.picture.height, int(max(ys)) + 1)
        return max(0, int(min(xs))), max(0, int(min(ys))), right, bottom

    def pixels(self, contour: Contour | Places) -> list[tuple[float, float]]:
        each, (left, top) = self.per_point, self.origin
        return [(float(x) * each - left, float(y) * each - top) for x, y in contour]


def _fill(draw: ImageDraw.ImageDraw, contour: list[tuple[float, float]], colour: RGB | int) -> None:
    """Fill a polygon; an upright rectangle to the nearest pixel, since Pillow draws both edges of whatever it fills."""
    if not _upright(contour):
        draw.polygon(contour, fill=colour)
        return
    left, top, right, bottom = _to_pixels(contour)
    if left < right and top < bottom:
        draw.rectangle((left, top, right - 1, bottom - 1), fill=colour)


def _to_pixels(rectangle: list[tuple[float, float]]) -> tuple[int, int, int, int]:
    """The pixels of an upright rectangle: left, top, and the first ones to the right and below that are not its own."""
    (ax, ay), _, (bx, by), _ = rectangle
    return round(min(ax, bx)), round(min(ay, by)), round(max(ax, bx)), round(max(ay, by))


_SHADES = np.rint(255 * (1 - (1 - float(styles.SHADOW_ALPHA)) ** np.arange(256))).astype(np.uint8)
"""How much of what lies there is covered by so many shadows."""


def _shade_of_rectangles(rectangles: list[list[tuple[float, float]]], box: tuple[int, int, int, int]) -> Image.Image:
    """How dark a box of pixels is under the shadows of upright rectangles."""
    edges = np.array([_to_pixels(each) for each in rectangles])
    across, down = np.arange(box[0], box[2]), np.arange(box[1], box[3])
    columns = ((edges[:, :1] <= across) & (across < edges[:, 2:3])).astype(np.uint8)
    rows = ((edges[:, 1:2] <= down) & (down < edges[:, 3:])).astype(np.uint8)
    return Image.fromarray(_SHADES[rows.T @ columns])


def _shade_of_polygons(contours: list[list[tuple[float, float]]], box: tuple[int, int, int, int]) -> Image.Image:
    """The same of any polygons."""
    size = box[2] - box[0], box[3] - box[1]
    many = Image.new("L", size, 0)
    for contour in contours:
        mask = Image.new("L", size, 0)
        ImageDraw.Draw(mask).polygon([(x - box[0], y - box[1]) for x, y in contour], fill=1)
        many = ImageChops.add_modulo(many, mask)
    return many.point(_SHADES.tolist())


def _upright(outline: Sequence[tuple[Fraction | float, Fraction | float]]) -> bool:
    """Whether it is an upright rectangle."""
    if len(outline) != 4:
        return False
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = outline
    return (ax == dx and bx == cx and ay == by and cy == dy) or (ax == bx and cx == dx and by == cy and ay == dy)


def _beside(box: tuple[int, int, int, int], cover: list[tuple[float, float]] | None) -> list[tuple[int, int, int, int]]:
    """The parts of a box of pixels that a cover leaves open."""
    if box[0] >= box[2] or box[1] >= box[3]:
        return []
    if cover is None:
        return [box]
    left, top, right, bottom = box
    hidden = _to_pixels(cover)
    inner = max(left, hidden[0]), max(top, hidden[1]), min(right, hidden[2]), min(bottom, hidden[3])
    if inner[0] >= inner[2] or inner[1] >= inner[3]:
        return [box]
    parts = [
        (left, top, right, inner[1]),
        (left, inner[1], inner[0], inner[3]),
        (inner[2], inner[1], right, inner[3]),
        (left, inner[3], right, bottom),
    ]
    return [part for part in parts if part[0] < part[2] and part[1] < part[3]]


def _dashes(path: list[tuple[float, float]], pattern: list[float]) -> list[list[tuple[float, float]]]:
    """The strokes of a dashed line along a path."""
    found: list[list[tuple[float, float]]] = []
    index, left, drawing = 0, pattern[0], True
    stroke = [path[0]]
    for (ax, ay), (bx, by) in zip(path, path[1:]):
        length, gone = hypot(bx - ax, by - ay), 0.0
        while length - gone > left:
            gone += left
            at = (ax + (bx - ax) * gone / length, ay + (by - ay) * gone / length)
            if drawing:
                found.append([*stroke, at])
            index, drawing = (index + 1) % len(pattern), not drawing
            left, stroke = pattern[index], [at]
        left -= length - gone
        stroke = [*stroke, (bx, by)]
    if drawing and len(stroke) > 1:
        found.append(stroke)
    return found


@lru_cache
def _face(font: Font, pixels: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(io.BytesIO(fonts.pen_file(font)), pixels, layout_engine=ImageFont.Layout.BASIC)


def _text(picture: Image.Image, text: Text, per_point: float, level: Level, palette: Palette) -> None:
    """Set a text glyph by glyph at its exact advances, so that all pens agree on its width."""
    face = _face(text.font, float(text.size) * per_point)
    colour = rgb(styles.text(text.role, level), palette)
    x, y = float(text.x) * per_point, float(text.y) * per_point
    start = float({"start": Fraction(0), "middle": text.width / 2, "end": text.width}[text.anchor]) * per_point
    if text.carry:
        _carried(picture, text, per_point, colour)
        return
    if not text.upward:
        _glyphs(ImageDraw.Draw(picture), text, x - start, y, face, colour, per_point)
        return
    box: Box = text.box.grown(text.size / 2)
    long, high = int(float(box.height) * per_point) + 2, int(float(box.width) * per_point) + 2
    mask = Image.new("L", (long, high), 0)
    margin = round(float(text.size) / 2 * per_point)
    base = round(float(text.size * (1 + Fraction(1, 2))) * per_point)
    _glyphs(ImageDraw.Draw(mask), text, margin, base, face, 255, per_point)
    mask = mask.transpose(Image.Transpose.ROTATE_90)
    left, top = round(x) - base, round(y + start) - (long - margin)
    picture.paste(Image.new("RGB", mask.size, colour), (left, top), mask)


def _carried(picture: Image.Image, text: Text, per_point: float, colour: RGB) -> None:
    """Set a text that is turned or leans: upright and larger on a mask, which is then laid in as it is carried."""
    assert text.carry
    fine = per_point * _OVER
    plain = replace(text, x=Exact(0), y=Exact(0), carry=None)
    box = plain.box.grown(text.size / 4)
    mask = Image.new("L", (int(float(box.width) * fine) + 2, int(float(box.height) * fine) + 2), 0)
    start = -float(plain.box.left) * fine
    # Where the anchor lies on the mask; letters begin before it by as much as the text does.
    across, down = -float(box.left) * fine, -float(box.top) * fine
    _glyphs(ImageDraw.Draw(mask), text, across - start, down, _face(text.font, float(text.size) * fine), 255, fine)
    around = text.box.grown(text.size / 2)
    left, top = (int(float(edge) * per_point // 1) for edge in (around.left, around.top))
    wide, high = (int(float(edge) * per_point) + 2 for edge in (around.width, around.height))
    a, b, c, d = map(float, text.carry)
    over = a * d - b * c
    back = (d / over * _OVER, -c / over * _OVER, -b / over * _OVER, a / over * _OVER)
    x, y = left - float(text.x) * per_point, top - float(text.y) * per_point
    laid = mask.transform(
        (wide, high),
        Image.Transform.AFFINE,
        (back[0], back[1], back[0] * x + back[1] * y + across, back[2], back[3], back[2] * x + back[3] * y + down),
        Image.Resampling.BILINEAR,
    )
    picture.paste(Image.new("RGB", laid.size, colour), (left, top), laid)


def _glyphs(draw: ImageDraw.ImageDraw, text: Text, x: float, y: float, face, colour, per_point: float) -> None:
    for glyph in fonts.glyph_text(text.text):
        draw.text((x, y), glyph, fill=colour, font=face, anchor="ls")
        x += float(fonts.glyph_width(glyph, text.size, text.font)) * per_point
