"""The scale bar: 2 inches and 50 millimetres, drawn true, to check a print against a ruler."""

from __future__ import annotations

from kitwright.drawing.palette import Ink
from kitwright.drawing.pdf import colour
from kitwright.printable.tags import TaggedCanvas
from kitwright.printable.typeset import BOLD, NOTE, SANS, broken, draw_line, words
from kitwright.telling.printed import CHECK_PRINT, SCALE_BAR

INCH, MM = 72.0, 72 / 25.4
HEIGHT = 40
"""Room it takes, points."""
LEAST_ROOM = 60
"""For words beside it, points; on a narrower page the bar stands alone."""


def scale_bar(
    canvas: TaggedCanvas, x: float, y: float, width: float, lead: str = "Check your print.", say: str = CHECK_PRINT, ink: str = NOTE.ink
) -> None:
    """Draw the bar with its line at y + 20, and beside it what it is for; in points."""
    line = y + 20
    with canvas.element("Figure", SCALE_BAR):
        canvas.saveState()
        canvas.setStrokeColor(colour(canvas, Ink("ink")))
        canvas.setLineWidth(0.8)
        canvas.setLineCap(0)
        canvas.line(x, line, x + 2 * INCH, line)
        canvas.setLineWidth(0.5)
        for i in range(17):
            canvas.line(x + i * INCH / 8, line, x + i * INCH / 8, line + (9 if i % 8 == 0 else 6 if i % 4 == 0 else 3.5))
        for i in range(51):
            canvas.line(x + i * MM, line, x + i * MM, line - (9 if i % 10 == 0 else 6 if i % 5 == 0 else 3.5))
        canvas.restoreState()
        for i, text in enumerate(("0", "1", "2 in")):
            draw_line(canvas, tuple(words(text, SANS)), x + i * INCH, line + 11.5, 8, "ink", "start" if i == 0 else "middle")
        for i in (0, 10, 20, 30, 40, 50):
            text = f"{i} mm" if i == 50 else f"{i}"
            draw_line(canvas, tuple(words(text, SANS)), x + i * MM, line - 17, 8, "ink", "start" if i == 0 else "middle")
    beside = x + 2 * INCH + 26
    room = width - (beside - x)
    if room < LEAST_ROOM:
        return
    with canvas.element("P"):
        lines = broken(words(lead, BOLD) + words(say, SANS), NOTE.size, min(room, 250))
        top = line + len(lines) * NOTE.leading / 2
        for i, words_ in enumerate(lines):
            draw_line(canvas, words_, beside, top - i * NOTE.leading - NOTE.rise, NOTE.size, ink, goes_on=i < len(lines) - 1)
