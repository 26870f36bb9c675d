"""The PDF pen: a scene, or a line of text, on a reportlab canvas.

reportlab's own shaping cannot ask a font for its fraction figures; they are reached by
private code points, and marked with ActualText so that `3 15/16` is what a reader copies,
searches and hears.
"""

from __future__ import annotations

import hashlib
import io
import re
import time
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import TypeVar

from reportlab import rl_config
from reportlab.lib.colors import Color
from reportlab.lib.rl_accel import escapePDF, fp_str
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont, TTFontFace
from reportlab.pdfgen.canvas import Canvas

from kitwright import cache
from kitwright.drawing import fonts, photo, styles
from kitwright.drawing.fonts import Font
from kitwright.drawing.looks import DrawnLook, Patch, TileArea, by_itself
from kitwright.drawing.palette import Ink, rgb
from kitwright.drawing.scene import Carry, Clip, Contour, Item, Marks, Number, PhotoShape, Places, Scene, SceneShape, Stamps, Text
from kitwright.drawing.styles import Level
from kitwright.exact import Exact
from kitwright.schemes import HOUSE, Palette

T = TypeVar("T")

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
        self._cut_out = lru_cache(maxsize=32)(self._kept_subset)

    def makeSubset(self, subset):
        return self._cut_out(tuple(subset))

    def _kept_subset(self, subset: tuple[int, ...]) -> bytes:
        return cache.made("font", cache.digest("in a PDF", self.name.decode("latin-1"), subset), lambda: self._lean_subset(subset))

    def _lean_subset(self, subset: tuple[int, ...]) -> bytes:
        from fontTools import ttLib

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
    lasting(canvas)
    paint(canvas, palette)
    draw_scene(canvas, scene, 0, 0, level)
    canvas.save()
    return out.getvalue()


def lasting(canvas: Canvas) -> None:
    """Let a file's identifier and day depend on what stands in it alone.

    reportlab takes both from `SOURCE_DATE_EPOCH` where there is one, though it was told that nothing may vary; of
    two processes that make files of one build, the one on another machine would have none.
    """
    document, day = canvas._doc, 946_684_800.0  # type: ignore[attr-defined]  # its stub leaves out what is private
    document._timeStamp.t, document._timeStamp.lt = day, time.gmtime(day)
    document._timeStamp.YMDhms = tuple(document._timeStamp.lt)[:6]
    document.signature = hashlib.md5(b"a reportlab document" + ascii(day).encode(), usedforsecurity=False)


def draw_scene(canvas: Canvas, scene: Scene, x: Number, y: Number, level: Level = "full", scale: Number = 1, ground: bool = True) -> None:
    """Draw a scene with its lower left corner at (x, y), in points.

    Args:
        scale: 1 keeps the scene's stated scale true; text shrinks with anything less.
        ground: whether to lay the picture's paper tint under it.
    """
    canvas.saveState()
    canvas.translate(float(x), float(y))
    canvas.scale(float(scale), float(scale))
    pen = _PdfPen(canvas, scene.height, level)
    if ground and level != "outline":
        canvas.setFillColor(colour(canvas, Ink("paper")))
        canvas.rect(0, 0, float(scene.width), float(scene.height), stroke=0, fill=1)
    for item in scene.shapes:
        pen.item(item)
    for text in scene.texts:
        pen.item(text)
    canvas.restoreState()


_PLAIN, _INK = Font(), Ink("ink")
_LEFT = {"middle": Exact(1, 2), "end": Exact(1)}
"""How much of a text lies left of its anchor."""


def draw_text(
    canvas: Canvas,
    x: Number | float,
    y: Number | float,
    text: str,
    font: Font = _PLAIN,
    size: Number | float = 10,
    anchor: str = "start",
    ink: Ink | tuple[Ink, Ink] = _INK,
    upward: bool = False,
    carry: Carry | None = None,
) -> None:
    """One line of text with its baseline at (x, y), fractions set as fractions.

    Its width is `fonts.width(text, size, font)`, exactly.

    Args:
        ink: its colour; a second one is that of the light page where both are drawn at once.
        carry: how its letters are carried about that place, as in a scene.
    """
    start = _LEFT[anchor] * fonts.width(text, 1, font) * size if anchor in _LEFT else 0
    if upward:
        at = f"0 1 -1 0 {_figure(float(x))} {_figure(float(y - start))}"
    elif carry:
        a, b, c, d = map(float, carry)
        # A page's y runs up.
        leans = " ".join(f"{each:.5f}" for each in (a, -b, -c, d))
        at = f"{leans} {_figure(float(x) - a * float(start))} {_figure(float(y) + b * float(start))}"
    else:
        at = f"1 0 0 1 {_figure(float(x - start))} {_figure(float(y))}"
    high = float(size)
    face = pdfmetrics.getFont(register(font))
    set_at, before = f"{_figure(high)} Tf {_figure(high * 1.2)} TL", -1
    code = ["BT 1 0 0 1 0 0 Tm", colours(canvas, ink, "rg"), at, "Tm"]
    for run in fonts.runs(text):
        said = ""
        if run.fraction:
            spoken = run.text.replace("\u2044", "/").encode("utf-16-be").hex().upper()
            code.append(f"/Span <</ActualText <FEFF{spoken}>>> BDC")
            said = "EMC"
        for subset, letters in face.splitString(fonts.glyph_text(run.text) if run.fraction else run.text, canvas._doc):  # type: ignore[attr-defined]  # reportlab's types leave it out
            if subset != before:
                code.append(f"{face.getSubsetInternalName(subset, canvas._doc)} {set_at}")  # type: ignore[attr-defined]  # likewise
                before = subset
            code.append(f"({escapePDF(letters)}) Tj")
        if said:
            code.append(said)
    code.append("ET")
    canvas._code.append(" ".join(code))  # type: ignore[attr-defined]  # likewise


Shared = Mapping[DrawnLook, TileArea]
"""Patterns that are stored in a file once, and what of each is shown anywhere."""
_SHARED = "kitwright_shared"


def share(canvas: Canvas, patterns: Shared) -> None:
    """Have these patterns stored once in the file, and laid from there wherever they are drawn from now on."""
    setattr(canvas, _SHARED, patterns)


def shares(canvas: Canvas) -> bool:
    """Whether patterns are laid so."""
    return bool(getattr(canvas, _SHARED, None))


_PALETTE, _COLOURS = "kitwright_palette", "kitwright_colours"


def paint(canvas: Canvas, palette: Palette) -> None:
    """Have whatever is drawn on a canvas from now on drawn in these colours; in ours until then."""
    setattr(canvas, _PALETTE, palette)
    setattr(canvas, _COLOURS, {})


def colour(canvas: Canvas, ink: Ink) -> Color:
    """A colour as reportlab takes it, from the palette of the canvas."""
    red, green, blue = rgb(ink, getattr(canvas, _PALETTE, HOUSE))
    return Color(red / 255, green / 255, blue / 255)


def colours(canvas: Canvas, ink: Ink | tuple[Ink, Ink], operator: str) -> str:
    """The page code that sets a colour; of two, that of both pages (see `of_level`)."""
    known: dict[object, str] = canvas.__dict__.setdefault(_COLOURS, {})
    code = known.get((ink, operator))
    if code is None:
        if isinstance(ink, Ink):
            code = f"{fp_str(*(part / 255 for part in rgb(ink, getattr(canvas, _PALETTE, HOUSE))))} {operator}"
        else:
            full, light = (colours(canvas, each, operator) for each in ink)
            code = full if full == light else f"\x00{full}\x01{light}\x02"
        known[ink, operator] = code
    return code


_EITHER = re.compile("\x00([^\x01]*)\x01([^\x02]*)\x02")


def of_level(code: str, level: Level) -> str:
    """Page code that was drawn for the full and the light page at once, as one of them has it."""
    return _EITHER.sub(r"\2" if level == "light" else r"\1", code)


@lru_cache(maxsize=1 << 15)
def _figure(value: float) -> str:
    """A figure as it stands in page code; most stand there many times."""
    return fp_str(value)


@lru_cache(maxsize=1 << 15)
def _hundredths(value: float) -> str:
    """A figure with two decimals at most, as it stands in page code: as `fp_str` has it, in a fifth of the time."""
    if abs(value) >= 1e5:
        return fp_str(value)
    figure = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if figure == "-0" else figure[1:] if figure[0] == "0" and len(figure) > 1 else figure


class _PdfPen:
    """Draws shapes on a canvas whose y runs up.

    It writes page code itself (ISO 32000-1, 8.5): reportlab's own calls note at every stroke
    what a document of theirs might need, and take ten times as long.
    """

    def __init__(self, canvas: Canvas, height: Fraction, level: Level) -> None:
        self.canvas, self.foot, self.height, self.level = canvas, height, float(height), level
        self.both = getattr(canvas, "both", False)
        self.code: list[str] = canvas._code  # type: ignore[attr-defined]  # private, so its types leave it out

    def inks(self, of: Callable[[T, Level], Ink], what: T) -> Ink | tuple[Ink, Ink]:
        """The ink of something, or those of the full and the light page where both are drawn at once."""
        return (of(what, "full"), of(what, "light")) if self.both else of(what, self.level)

    def item(self, item: Item) -> None:
        if isinstance(item, Text):
            self.text(item)
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

    def text(self, text: Text) -> None:
        ink, y = self.inks(styles.text, text.role), self.foot - text.y
        draw_text(self.canvas, text.x, y, text.text, text.font, text.size, text.anchor, ink, text.upward, text.carry)

    def clip(self, clip: Clip) -> None:
        shared: Shared = getattr(self.canvas, _SHARED, {})
        if isinstance(clip, Patch) and clip.patterned and (area := shared.get(clip.made_from[0])) and area.holds(clip.area):
            self.shared(clip, area)
            return
        self.code += ("q", f"{self.path([clip.outline], True)} W* n")
        for item in clip.items:
            self.item(item)
        self.code.append("Q")

    def shared(self, patch: Patch, area: TileArea) -> None:
        """A patch of a pattern that is stored once, carried to where it lies, turned and scaled (ISO 32000-1, 8.3.4)."""
        look, tile = patch.made_from[0], patch.tile
        name = "paper-" + hashlib.sha256(repr((look, area)).encode()).hexdigest()[:16]
        if not self.canvas.hasForm(name):
            self.canvas.beginForm(name, area.left, -area.bottom, area.right, -area.top)
            alone = _PdfPen(self.canvas, Exact(0), self.level)
            for item in by_itself(look, area).items:
                alone.item(item)
            self.canvas.endForm()
        unit, (cos, sin), (x, y) = float(tile.unit), map(float, tile.turn), tile.origin
        carried = fp_str(unit * cos, -unit * sin, unit * sin, unit * cos)
        self.code += ("q", f"{self.path([patch.outline], True)} W* n", f"{carried} {self.place((x, y))} cm")
        self.canvas.doForm(name)
        self.code.append("Q")

    def stamps(self, stamps: Stamps) -> None:
        """The motif is stored in the file once and set down again and again: a page of blossoms stays small."""
        ink = self.filled(stamps.fill)
        if ink is None:
            return
        self.code.append(colours(self.canvas, ink, "rg"))
        name = self.form(stamps.motif)
        if not stamps.at:
            return
        self.canvas.doForm(name)
        set_down = self.code.pop()
        for at in stamps.at:
            self.code += ("q", f"1 0 0 1 {self.place(at)} cm", set_down, "Q")

    def marks(self, marks: Marks) -> None:
        self.code.append("q")
        if ink := self.filled(marks.fill):
            self.code += (colours(self.canvas, ink, "rg"), self.path(marks.outlines, True), _PAINT[False, True])
        self.code.append("Q")

    def photo(self, item: PhotoShape) -> None:
        if self.both or self.level != "full":
            self.shape(item.plain)
            return
        data, box = photo.jpeg(item, rgb(Ink("paper"), getattr(self.canvas, _PALETTE, HOUSE)))
        self.canvas.saveState()
        if item.opacity < 1:
            self.canvas.setFillAlpha(float(item.opacity))
        place = float(box.left), round(self.height - float(box.bottom), 2), float(box.width), float(box.height)
        self.canvas.drawImage(ImageReader(io.BytesIO(data)), *place)
        self.canvas.restoreState()

    def form(self, motif: tuple[Contour, ...]) -> str:
        """The name of a motif's form; it is painted in the colour that is set when it is used."""
        name = "motif-" + hashlib.sha256(repr(motif).encode()).hexdigest()[:16]
        if not self.canvas.hasForm(name):
            xs = [float(x) for contour in motif for x, _ in contour]
            ys = [float(-y) for contour in motif for _, y in contour]
            around = _PdfPen(self.canvas, Exact(0), self.level)
            self.canvas.beginForm(name, min(xs), min(ys), max(xs), max(ys))  # type: ignore[arg-type]  # it takes floats too
            self.canvas._code += (around.path(motif, True), "f*")  # type: ignore[attr-defined]  # likewise
            self.canvas.endForm()
        return name

    def filled(self, fill: str | Ink) -> Ink | tuple[Ink, Ink] | None:
        """The ink of a fill, as for `inks`; None where the level leaves it out."""
        full = styles.fill(fill, self.level)
        light = styles.fill(fill, "light") if self.both else None
        return (full, light) if full and light else full

    def shape(self, shape: SceneShape) -> None:
        if shape.fill == styles.SHADOW:
            self.sheer(shape, styles.SHADOW_INK if self.level != "outline" else None, styles.SHADOW_ALPHA)
            return
        ink = self.filled(shape.fill) if shape.fill else None
        if ink and (opacity := (ink[0] if isinstance(ink, tuple) else ink).opacity) < 1:
            self.sheer(shape, ink, opacity)
            return
        self.code.append("q")
        if ink:
            self.code.append(colours(self.canvas, ink, "rg"))
        if shape.stroke:
            self.code += (colours(self.canvas, Ink(styles.line(shape.stroke).colour), "RG"), *_line(shape.stroke))
        if ink or shape.stroke:
            self.code += (self.path(shape.contours, shape.closed), _PAINT[bool(shape.stroke), bool(ink)])
        self.code.append("Q")

    def sheer(self, shape: SceneShape, ink: Ink | tuple[Ink, Ink] | None, opacity: Fraction) -> None:
        """A see-through fill, of which reportlab keeps account."""
        self.canvas.saveState()
        if ink:
            self.code.append(colours(self.canvas, ink, "rg"))
            self.canvas.setFillAlpha(float(opacity))
        if shape.stroke:
            self.code += (colours(self.canvas, Ink(styles.line(shape.stroke).colour), "RG"), *_line(shape.stroke))
        if ink or shape.stroke:
            self.code += (self.path(shape.contours, shape.closed), _PAINT[bool(shape.stroke), bool(ink)])
        self.canvas.restoreState()

    def path(self, contours: Iterable[Contour | Places], closed: bool) -> str:
        found = ["n"]
        for contour in contours:
            found.append(f"{self.place(contour[0])} m")
            found += [f"{self.place(corner)} l" for corner in contour[1:]]
            if closed:
                found.append("h")
        return " ".join(found)

    def place(self, point: tuple[Fraction | float, Fraction | float]) -> str:
        """To the hundredth of a point: finer than any printer, and a third of the bytes."""
        return f"{_hundredths(round(float(point[0]), 2))} {_hundredths(round(self.height - float(point[1]), 2))}"


_PAINT = {(True, True): "B*", (True, False): "S", (False, True): "f*"}
"""Operators that paint a path, by whether it is stroked and filled."""


@lru_cache
def _line(role: str) -> tuple[str, str]:
    """Width and dashes of a line."""
    line = styles.line(role)
    return f"{fp_str(float(line.width))} w", f"[{fp_str([float(d) for d in line.dash])}] 0 d"
