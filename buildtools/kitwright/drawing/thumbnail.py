"""A small picture of the finished cards, for lists: the same that `display` shows elsewhere."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.card.face import Face
from kitwright.drawing.display.display import display, fanned_out, in_rows_of
from kitwright.drawing.display.ratios import PIXELS, Ratio
from kitwright.drawing.front import Looks
from kitwright.drawing.scene import Scene
from kitwright.exact import Exact


def thumbnail(faces: Sequence[Face], looks: Sequence[Looks], *, width: int = 320, name: str = "", alt: str = "") -> Scene:
    """Some cards at one scale, side by side or one over the other, on a canvas of 4 to 3.

    Args:
        faces: the cards.
        looks: how each paper is drawn, by (paper, face), card by card.
        width: of the picture, points.
        name, alt: what to call it, and what it shows.
    """
    canvas = Ratio("4x3", int(width * PIXELS), int(width * PIXELS * 3 / 4), *[Exact(1, 20)] * 3)
    ways = [*in_rows_of(faces, looks), *(fanned_out(faces, looks) if len(faces) > 1 else [])]
    scene = display(ways, canvas, name=name or "The card", alt=alt)
    assert scene, "without words everything fits"
    return scene
