"""A finished card drawn small, its patches of paper kept once for the whole file."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from itertools import groupby

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName

from kitwright.card.face import Face
from kitwright.drawing.guide import EDGE
from kitwright.drawing.pdf import draw_scene, shares
from kitwright.drawing.scene import Clip
from kitwright.drawing.sketch import card_sketch
from kitwright.printable.blocks import Block
from kitwright.printable.job import Job
from kitwright.printable.tags import FRACTION_BAR
from kitwright.printable.typeset import SANS, Style

CAPTION = Style(SANS, 8, 9.6, "soft")
HIGHEST = 200
"""How high a card may be drawn, points."""


class SmallCard(Block):
    """A card whose patches of paper are drawn once for the whole file.

    Cards of one size lie alike, so that the same paper in the same place is the same
    patch; as a form of its own (ISO 32000-1, 8.10) it stands in the file once.

    Args:
        job: the printable.
        face: the card.
        name: what to call it.
        wide: how wide the card may be drawn, points.
    """

    def __init__(self, job: Job, face: Face, name: str, wide: float) -> None:
        super().__init__(after=5)
        self.job, self.face, self.name = job, face, name
        shape = face.size.height.inches / face.size.width.inches
        self.wide = min(int(wide), int(HIGHEST / shape))
        self.height = self.high = int(self.wide * shape)

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        return room, self.height

    def draw(self) -> None:
        # The clear margin of a plain picture hangs outside, as with every picture here.
        once = shares(self.canv)
        self.scene = self.job.once(
            ("small", self.job.worked.kit.design, self.name, self.wide, once),
            lambda: card_sketch(
                self.face,
                self.job.looks,
                unit=self.job.unit,
                width=self.wide + 2 * EDGE,
                height=self.high + 2 * EDGE,
                plain=True,
                name=self.name,
                flat=once,
            ),
        )
        left, bottom = self.canv.absolutePosition(0, 0)
        box = PDFArray([round(v, 2) for v in (left, bottom, left + float(self.scene.width - 2 * EDGE), bottom + self.height)])
        with self.canv.element("Figure", self.scene.alt.replace(FRACTION_BAR, "/"), PDFDictionary({"O": PDFName("Layout"), "BBox": box})):
            self._shapes()
            draw_scene(self.canv, replace(self.scene, shapes=()), -EDGE, -EDGE, self.job.level, ground=False)

    def _shapes(self) -> None:
        canvas, patches = self.canv, iter(self.face.stack)
        if shares(canvas):
            # The patterns are forms already.
            draw_scene(canvas, replace(self.scene, texts=()), -EDGE, -EDGE, self.job.level, ground=False)
            return
        for patch, items in groupby(self.scene.shapes, key=lambda item: isinstance(item, Clip)):
            for part in [(item,) for item in items] if patch else [tuple(items)]:
                piece = replace(self.scene, shapes=part, texts=())
                if not patch:
                    draw_scene(canvas, piece, -EDGE, -EDGE, self.job.level, ground=False)
                    continue
                # One patch for each thing of paper, lowest first.
                placed = next(patches)
                key = (self.face.size, self.wide, placed.rect, placed.outline, placed.paper, placed.face, placed.turned)
                name = f"patch{hashlib.sha256(repr(key).encode()).hexdigest()[:16]}"
                if not canvas.hasForm(name):
                    canvas.beginForm(name, -float(EDGE), -float(EDGE), float(self.scene.width), float(self.scene.height))  # type: ignore[arg-type]  # it takes floats too
                    draw_scene(canvas, piece, -EDGE, -EDGE, self.job.level, ground=False)
                    canvas.endForm()
                canvas.doForm(name)
