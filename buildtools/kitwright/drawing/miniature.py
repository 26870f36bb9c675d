"""A sheet and what is cut from it, small and without figures: to be known again beside its name."""

from __future__ import annotations

from kitwright.cutting.tree import Node, cuts, leaves, slants
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import Draft, Frame, Number, Scene
from kitwright.exact import Exact

EDGE = Exact(2)
"""Clear margin around it, points."""
TINT = Exact(1, 2)
"""How strongly the paper's own colour shows under the strokes."""


def miniature(node: Node, look: DrawnLook | None, *, width: Number, height: Number, name: str, alt: str) -> Scene:
    """The sheet with its strokes: pieces in the colour of the paper, leftovers bare.

    Args:
        node: the cut tree of the sheet.
        look: how the paper is drawn, if it has a look; of a pattern the ground alone is shown.
        width, height: of the picture, points; the sheet is drawn as large as fits.
        name: what to call it.
        alt: what it shows, in words.
    """
    wide, high = Exact(width), Exact(height)
    sheet = node.rect
    scale = min((wide - 2 * EDGE) / (sheet.width.inches * 72), (high - 2 * EDGE) / (sheet.height.inches * 72)).limit_denominator(1000)
    left, top = ((room - edge.inches * 72 * scale) / 2 for room, edge in ((wide, sheet.width), (high, sheet.height)))
    draft, frame = Draft(), Frame(left, top, scale)
    ground = look.inks[0].weaker(TINT) if look else Ink("white")
    draft.box(frame.box(sheet), None, "white")
    for leaf in leaves(node):
        if leaf.label is not None:
            draft.box(frame.box(leaf.rect), None, ground)
    strokes = [*(cut.line for cut in cuts(node)), *(slant.line for slant in slants(node))]
    draft.lines("cut", [(frame.point(*start), frame.point(*end)) for start, end in strokes])
    draft.box(frame.box(sheet), "sheet")
    return draft.scene(wide, high, name, alt)
