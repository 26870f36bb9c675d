"""The club's name at the head of a page, with its logo before it."""

from __future__ import annotations

import io

from PIL import Image
from reportlab.lib.colors import Color
from reportlab.lib.utils import ImageReader

from kitwright.colours import RGB, parts
from kitwright.drawing.styles import Level
from kitwright.kit.logo import Logo
from kitwright.kit.vector import Outline
from kitwright.printable.blocks import Prose
from kitwright.printable.job import Job
from kitwright.printable.tags import TaggedCanvas
from kitwright.printable.typeset import KICKER

HIGH, WIDEST, BESIDE = 20, 90, 8
"""How high the logo is drawn and how wide at most, and clear space to the name; points."""
RAISED = 1.5
"""Over the middle of the name: there is more room above than below, where the title stands; points."""
GROUND = 2
"""Margin of the ground that a pale logo gets, points."""
_CAPS, _JOINS = {"butt": 0, "round": 1, "square": 2}, {"miter": 0, "round": 1, "bevel": 2}


class Named(Prose):
    """A line that begins with the club's name; its logo stands before it and hangs a little over and under the line."""

    def __init__(self, job: Job, text: str) -> None:
        super().__init__(text, KICKER)
        self.job, self.mark = job, job.worked.kit.club.mark
        self.scale = min(HIGH / self.mark.height, WIDEST / self.mark.width) if self.mark else 0
        self.indent = self.mark.width * self.scale + BESIDE if self.mark else 0

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        super().wrap(room - self.indent, height)
        return room, self.height

    def draw(self) -> None:
        with self.canv.element(self.role, text=self.plain):
            self.lines_on(self.canv, self.indent, self.height)
        if self.mark:
            # The middle of the name's capitals.
            middle = self.height - self.style.rise + self.style.size * 0.33
            draw_logo(self.canv, self.mark, 0, middle + RAISED - self.mark.height * self.scale / 2, self.scale, self.job)


def draw_logo(canvas: TaggedCanvas, mark: Logo, x: float, y: float, scale: float, job: Job) -> None:
    """Draw a logo with its lower left corner here; no part of the text, which says the club's name anyway."""
    dark = job.worked.kit.club.palette.light["ink"]
    with canvas.artifact():
        canvas.saveState()
        canvas.translate(x, y)
        if mark.vanishes_on((255, 255, 255)):
            canvas.setFillColor(_paint(parts(dark), job.level))
            wide, high = mark.width * scale + 2 * GROUND, mark.height * scale + 2 * GROUND
            canvas.roundRect(-GROUND, -GROUND, wide, high, GROUND, stroke=0, fill=1)
        if mark.drawing:
            # Points of a page run up, those of a drawing down.
            canvas.translate(0, mark.height * scale)
            canvas.scale(scale, -scale)
            for outline in mark.drawing.outlines:
                _outline(canvas, outline, job.level)
        else:
            canvas.drawImage(_pixels(mark, job.level), 0, 0, mark.width * scale, mark.height * scale, mask="auto")
        canvas.restoreState()


def _outline(canvas: TaggedCanvas, one: Outline, level: Level) -> None:
    path = canvas.beginPath()
    for letter, points in one.steps:
        flat = [round(n, 2) for point in points for n in point]
        match letter:
            case "M":
                path.moveTo(*flat)
            case "L":
                path.lineTo(*flat)
            case "C":
                path.curveTo(*flat)
            case "Z":
                path.close()
    if one.fill:
        canvas.setFillColor(_paint(one.fill, level))
    if one.stroke:
        canvas.setStrokeColor(_paint(one.stroke, level))
        canvas.setLineWidth(round(one.width, 2))
        canvas.setLineCap(_CAPS[one.cap])
        canvas.setLineJoin(_JOINS[one.join])
    canvas.drawPath(path, stroke=int(bool(one.stroke)), fill=int(bool(one.fill)), fillMode=0 if one.even_odd else 1)


def _paint(colour: RGB, level: Level) -> Color:
    """A colour of the logo; its grey where a page is printed in black alone."""
    red, green, blue = Image.new("RGB", (1, 1), colour).convert("L").convert("RGB").tobytes() if level == "outline" else colour
    return Color(red / 255, green / 255, blue / 255)


def _pixels(mark: Logo, level: Level) -> ImageReader:
    with Image.open(io.BytesIO(mark.data), formats=("PNG",)) as opened:
        whole = opened.convert("RGBA")
    if level == "outline":
        whole = Image.merge("LA", (whole.convert("L"), whole.getchannel("A"))).convert("RGBA")
    return ImageReader(whole)
