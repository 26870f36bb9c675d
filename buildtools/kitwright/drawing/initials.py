"""A plain mark for a club that has none: its initial letters on its accent."""

from __future__ import annotations

import io
import re
from functools import lru_cache

from fontTools.misc.transform import Transform
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.schemes import Palette

SIDE, LETTERS, TALLEST = 48, 30, 22
"""The mark's edge, and how wide and how high its letters may be; units of its own."""
SMALL_WORDS = {"a", "an", "and", "at", "by", "for", "in", "of", "on", "the", "to"}
_FACE = Font("serif", "semibold")


def initials(name: str) -> str:
    """One or two letters for a name: of its first two words that weigh; as far as our type has them."""
    words = re.findall(r"[^\W_]+", name)
    weighing = [word for word in words if word.casefold() not in SMALL_WORDS] or words
    letters = [word[0].upper()[0] for word in weighing]
    return "".join([letter for letter in letters if not fonts.missing(letter, _FACE)][:2])


@lru_cache(maxsize=16)
def initials_svg(name: str, palette: Palette) -> str:
    """The mark as an SVG document: letters as outlines, since a tab's corner loads no type. Without letters it is a card with a strip."""
    ground, ink = palette.light["accent"], palette.light["on-accent"]
    path = _letters(initials(name)) or "M14 9H34V39H14ZM14 25V31H34V25Z"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIDE} {SIDE}">'
        f'<rect width="{SIDE}" height="{SIDE}" rx="5" fill="{ground}"/><path fill="{ink}" d="{path}"/></svg>\n'
    )


def _letters(text: str) -> str:
    if not text:
        return ""
    face = TTFont(io.BytesIO(fonts.pen_file(_FACE)), lazy=True)
    glyphs, names, widths = face.getGlyphSet(), face.getBestCmap(), face["hmtx"].metrics
    bounds = BoundsPen(glyphs)
    x, at = 0, []
    for letter in text:
        glyph = names[ord(letter)]
        at.append((glyph, x))
        glyphs[glyph].draw(TransformPen(bounds, Transform().translate(x, 0)))
        x += widths[glyph][0]
    if bounds.bounds is None:
        return ""
    left, low, right, high = bounds.bounds
    scale = min(LETTERS / (right - left), TALLEST / (high - low))
    middle = Transform(scale, 0, 0, -scale, SIDE / 2 - scale * (left + right) / 2, SIDE / 2 + scale * (low + high) / 2)
    pen = SVGPathPen(glyphs, ntos=lambda value: f"{value:.2f}".rstrip("0").rstrip("."))
    for glyph, x in at:
        glyphs[glyph].draw(TransformPen(pen, middle.translate(x, 0)))
    return pen.getCommands()
