"""The PDF pen: a scene, or a line of text, on a reportlab canvas.

reportlab's own shaping cannot ask a font for its fraction figures; they are reached by
private code points, and marked with ActualText so that `3 15/16` is what a reader copies,
searches and hears.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

from fontTools import ttLib
from reportlab import rl_config
from reportlab.lib.colors import Color
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont, TTFontFace
from reportlab.pdfgen.canvas import Canvas

from kitwright.drawing import fonts, styles
from kitwright.drawing.fonts import Font
from kitwright.drawing.palette import Ink, rgb
from kitwright.drawing.scene import Clip, Contour, Item, Number, Point, Scene, SceneShape, Stamps
from kitwright.drawing.styles import Level
from kitwright.schemes import HOUSE, Palette

# Streams as bytes, not spelled out in letters that mail programs of long ago could carry: a fifth less.
rl_config.useA85 = 0


def register(font: Font) -> str:
    """Make a face known to reportlab; returns the name to use with it."""
    if font.name not in pdfmetrics.getRegisteredFontNames():
        data = fonts.pen_file(font)
        known = TTFont(font.name, io.BytesIO(data))
        known.face = _Lean(io.BytesIO(data))
        pdfmetrics.registerFont(known)
    return font.name


class _Lean(TTFontFace):
    """A face that is embedded without its hints, which only coarse screens use and which weigh as much as its outlines."""

    def __init__(self, *given, **named) -> None:
        super().__init__(*given, **named)
        # Printables of one kit in its levels of ink say the same; each set of letters is cut out of the face once.
        self._cut_out = lru_cache(maxsize=32)(self._lean_subset)

    def makeSubset(self, subset):
        return self._cut_out(tuple(subset))

    def _lean_subset(self, subset: tuple[int, ...]) -> bytes:
        with ttLib.TTFont(io.BytesIO(super().makeSubset(subset)), recalcTimestamp=False) as face:
            for tag in ("cvt ", "fpgm", "prep"):
                if tag in face:
                    del face[tag]
            for name in face.getGlyphOrder():
                face["glyf"][name].removeHinting()
            out = io.BytesIO()
            face.save(out, reorderTables=False)
        return out.getvalue()


def pdf(scene: Scene, level: Level = "full", palette: Palette = HOUSE) -> bytes:
    """A scene as a PDF of one page of its own size."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(float(scene.width), float(scene.height)), invariant=1, initialFontName=register(Font()))  # type: ignore[arg-type]  # its stub takes a face's name for a number
    paint(canvas, palette)
    draw_scene(canvas, scene, 0, 0, level)
    canvas.save()
    return out.getvalue()


def draw_scene(canvas: Canvas, scene: Scene, x: Number, y: Number, level: Level = "full", scale: Number = 1, ground: bool = True) -> None:
    """Draw a scene with its lower left corner at (x, y), in points.

    Args:
        scale: 1 keeps the scene's stated scale true; text shrinks with anything less.
        ground: whether to lay the picture's paper tint under it.
    """
    canvas.saveState()
    canvas.translate(float(x), float(y))
    canvas.scale(float(scale), float(scale))
    pen = _PdfPen(canvas, float(scene.height), level)
    if ground and level != "outline":
        canvas.setFillColor(colour(canvas, Ink("paper")))
        canvas.rect(0, 0, float(scene.width), float(scene.height), stroke=0, fill=1)
    for item in scene.shapes:
        pen.item(item)
    for text in scene.texts:
        draw_text(
            canvas, text.x, scene.height - text.y, text.text, text.font, text.size, text.anchor, styles.text(text.role, level), text.upward
        )
    canvas.restoreState()


_PLAIN, _INK = Font(), Ink("ink")


def draw_text(
    canvas: Canvas,
    x: Number | float,
    y: Number | float,
    text: str,
    font: Font = _PLAIN,
    size: Number | float = 10,
    anchor: str = "start",
    ink: Ink = _INK,
    upward: bool = False,
) -> None:
    """One line of text with its baseline at (x, y), fractions set as fractions.

    Its width is `fonts.width(text, size, font)`, exactly.
    """
    name = register(font)
    start = {"start": Fraction(0), "middle": Fraction(1, 2), "end": Fraction(1)}[anchor] * fonts.width(text, 1, font) * size
    line = canvas.beginText()
    line.setFont(name, float(size))
    line.setFillColor(colour(canvas, ink))
    if upward:
        line.setTextTransform(0, 1, -1, 0, float(x), float(y - start))
    else:
        line.setTextOrigin(float(x - start), float(y))
    for run in fonts.runs(text):
        if run.fraction:
            # reportlab has no marked-content calls; `_code` is where its own operators go.
            code: list[str] = line._code  # type: ignore[attr-defined]  # private, so its types leave it out
            spoken = run.text.replace("\u2044", "/").encode("utf-16-be").hex().upper()
            code.append(f"/Span <</ActualText <FEFF{spoken}>>> BDC")
            line.textOut(fonts.glyph_text(run.text))
            code.append("EMC")
        else:
            line.textOut(run.text)
    canvas.drawText(line)


_PALETTE = "kitwright_palette"


def paint(canvas: Canvas, palette: Palette) -> None:
    """Have whatever is drawn on a canvas from now on drawn in these colours; in ours until then."""
    setattr(canvas, _PALETTE, palette)


def colour(canvas: Canvas, ink: Ink) -> Color:
    """A colour as reportlab takes it, from the palette of the canvas."""
    red, green, blue = rgb(ink, getattr(canvas, _PALETTE, HOUSE))
    return Color(red / 255, green / 255, blue / 255)


class _PdfPen:
    """Draws shapes on a canvas whose y runs up."""

    def __init__(self, canvas: Canvas, height: float, level: Level) -> None:
        self.canvas, self.height, self.level = canvas, height, level

    def item(self, item: Item) -> None:
        if isinstance(item, Clip):
            if self.level == "outline":
                self.shape(SceneShape((item.outline,), None, "paper"))
            else:
                self.clip(item)
        elif isinstance(item, Stamps):
            self.stamps(item)
        else:
            self.shape(item)

    def clip(self, clip: Clip) -> None:
        self.canvas.saveState()
        self.canvas.clipPath(self.path([clip.outline], True), stroke=0, fill=0)
        for item in clip.items:
            self.item(item)
        self.canvas.restoreState()

    def stamps(self, stamps: Stamps) -> None:
        """The motif is stored in the file once and set down again and again: a page of blossoms stays small."""
        ink = styles.fill(stamps.fill, self.level)
        if ink is None:
            return
        self.canvas.setFillColor(colour(self.canvas, ink))
        name = self.form(stamps.motif)
        for dx, dy in stamps.at:
            x, y = self.place((dx, dy))
            self.canvas.saveState()
            self.canvas.translate(x, y)
            self.canvas.doForm(name)
            self.canvas.restoreState()

    def form(self, motif: tuple[Contour, ...]) -> str:
        """The name of a motif's form; it is painted in the colour that is set when it is used."""
        name = "motif-" + hashlib.sha256(repr(motif).encode()).hexdigest()[:16]
        if not self.canvas.hasForm(name):
            xs = [float(x) for contour in motif for x, _ in contour]
            ys = [float(-y) for contour in motif for _, y in contour]
            around = _PdfPen(self.canvas, 0, self.level)
            self.canvas.beginForm(name, min(xs), min(ys), max(xs), max(ys))  # type: ignore[arg-type]  # it takes floats too
            self.canvas.drawPath(around.path(motif, True), stroke=0, fill=1)
            self.canvas.endForm()
        return name

    def shape(self, shape: SceneShape) -> None:
        path = self.path(shape.contours, shape.closed)
        self.canvas.saveState()
        ink = None
        if shape.fill == styles.SHADOW:
            if self.level != "outline":
                ink = styles.SHADOW_INK
        elif shape.fill:
            ink = styles.fill(shape.fill, self.level)
        if ink:
            self.canvas.setFillColor(colour(self.canvas, ink))
        if ink is styles.SHADOW_INK:
            self.canvas.setFillAlpha(float(styles.SHADOW_ALPHA))
        if shape.stroke:
            line = styles.line(shape.stroke)
            self.canvas.setStrokeColor(colour(self.canvas, Ink(line.colour)))
            self.canvas.setLineWidth(float(line.width))
            self.canvas.setDash([float(d) for d in line.dash])
        if ink or shape.stroke:
            self.canvas.drawPath(path, stroke=int(bool(shape.stroke)), fill=int(bool(ink)))
        self.canvas.restoreState()

    def path(self, contours: Iterable[Contour], closed: bool):
        path = self.canvas.beginPath()
        for contour in contours:
            path.moveTo(*self.place(contour[0]))
            for corner in contour[1:]:
                path.lineTo(*self.place(corner))
            if closed:
                path.close()
        return path

    def place(self, point: Point) -> tuple[float, float]:
        """To the hundredth of a point: finer than any printer, and a third of the bytes."""
        return round(float(point[0]), 2), round(self.height - float(point[1]), 2)
