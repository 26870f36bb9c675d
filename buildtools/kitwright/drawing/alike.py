"""Cards in a row: each on a canvas of its own, all canvases and scales the same."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.face import Face
from kitwright.drawing.front import Looks
from kitwright.drawing.scene import Draft, Frame, Number, Scene
from kitwright.drawing.sketch import picture
from kitwright.exact import Exact

MARGIN = Exact(1, 16)
"""Clear all round the largest card, as a share of the width."""
HIGHEST = Exact(7, 4)
"""A canvas is at most this many times as high as it is wide."""


@dataclass(frozen=True, slots=True)
class Canvas:
    """A canvas that holds any card of a group at one scale."""

    width: Fraction
    """Points."""
    height: Fraction
    scale: Fraction
    """Points drawn to a point of the card."""


def canvas_for(faces: Iterable[Face], width: Number) -> Canvas:
    """The canvas of this width, in points, for all these cards.

    Raises:
        ValueError: there are no cards.
    """
    sizes = [face.size for face in faces]
    wide, high = (max(edges).inches * 72 for edges in ([s.width for s in sizes], [s.height for s in sizes]))
    width, margin = Exact(width), Exact(width) * MARGIN
    scale = min((width - 2 * margin) / wide, (width * HIGHEST - 2 * margin) / high)
    return Canvas(width, high * scale + 2 * margin, scale)


def on_canvas(face: Face, looks: Looks, canvas: Canvas, name: str, alt: str) -> Scene:
    """A card in the middle of its canvas, as it looks when made.

    Args:
        face: the card.
        looks: how each paper is drawn, by (paper, face).
        canvas: one that holds it.
        name: what to call it.
        alt: what it shows, in words.
    """
    draft = Draft()
    wide, high = (edge.inches * 72 * canvas.scale for edge in (face.size.width, face.size.height))
    picture(draft, face, looks, Frame((canvas.width - wide) / 2, (canvas.height - high) / 2, canvas.scale))
    return draft.scene(canvas.width, canvas.height, name, alt, canvas.scale)
