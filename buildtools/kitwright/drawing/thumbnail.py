"""A small picture of the card on a coloured ground, for lists."""

from __future__ import annotations

from kitwright.card.face import Face
from kitwright.drawing.front import Looks
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene
from kitwright.drawing.sketch import picture
from kitwright.exact import Exact
from kitwright.telling.drawn import front_alt


def thumbnail(
    faces: tuple[Face, ...] | list[Face], looks: Looks, *, unit: str = "in", width: Number = 320, ground: str = "linen", name: str = ""
) -> Scene:
    """One or two looks of the card, side by side, on a canvas of 4 to 3.

    Args:
        faces: the looks of the batch; the first two are shown when both fit well.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`, for the alt text.
        width: of the picture, points.
        ground: a paper colour; it is laid on at half strength.
        name: what to call it.
    """
    width, draft = Exact(width), Draft()
    high = width * 3 / 4
    draft.box(Box(Exact(0), Exact(0), width, high), None, Ink(ground, Exact(2, 5)))
    card = faces[0].size
    shown = list(faces[:2]) if len(faces) > 1 and card.height > card.width else [faces[0]]
    margin, gap = width / 12, width / 20
    count = len(shown)
    scale = min(
        (width - 2 * margin - gap * (count - 1)) / (count * card.width.inches * 72), (high - 2 * margin) / (card.height.inches * 72)
    )
    card_wide, card_high = card.width.inches * 72 * scale, card.height.inches * 72 * scale
    left = (width - count * card_wide - gap * (count - 1)) / 2
    for i, face in enumerate(shown):
        picture(draft, face, looks, Frame(left + i * (card_wide + gap), (high - card_high) / 2, scale))
    return draft.scene(width, high, name or "The card", front_alt(faces[0], unit))
