"""A card whose back reaches past its front: closed, it shows that step, and what lies on it."""

from __future__ import annotations

from dataclasses import replace

from kitwright.card.base import Base
from kitwright.card.face import Face
from kitwright.folding.faces import INSIDE
from kitwright.geometry import Rect
from kitwright.units import ZERO, Size


def with_step(face: Face, base: Base) -> Face:
    """The closed card as it is seen from the front, as one face; the front itself where nothing reaches past it.

    The fold is at the left or at the top of both panels, so that they begin at one corner.

    Args:
        face: the front, of whichever look.
        base: what is folded.
    """
    if len(base.scored.scores) != 1 or base.closed is None:
        return face
    beyond = base.score - (base.scored.length - base.score)
    if beyond <= ZERO or base.scored.panels[0] == base.scored.front:
        return face
    along = base.runs == "down"
    size = Size(face.size.width + beyond, face.size.height) if along else Size(face.size.width, face.size.height + beyond)
    inside = next((side for side in face.sides if side.on == INSIDE), None)
    ground = replace(face.layers[0], rect=Rect(ZERO, ZERO, size.width, size.height))
    under = inside.stack if inside and inside.size == size else (ground,)
    words = (*(inside.sentiments if inside else ()), *face.words)
    spots = (*(inside.spots if inside else ()), *face.spots)
    return replace(face, size=size, layers=(*under, *face.layers), words=words, spots=spots)
