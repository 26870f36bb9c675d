"""In which order to set pieces down, and what to measure at each.

From the edges inward: what lies above (or left of) the free band is set from the top (or
left) edge on, what lies below it from the opposite edge, so that small errors gather in
the band, where nobody sees them. Without a band they gather in the middle.
"""

from __future__ import annotations

from typing import Literal

from kitwright.card.face import Face, FieldEdge, Inward, Placed, Setting
from kitwright.geometry import Rect
from kitwright.units import Length


def settings(face: Face) -> tuple[Setting, ...]:
    """The placing order of a front."""
    near: list[Placed] = []
    far: list[Placed] = []
    # A band between columns fills more of the front's height than of its width.
    sideways = bool(face.bands) and all(b.height / face.field.height >= b.width / face.field.width for b in face.bands)
    for placed in face.pieces:
        (far if _beyond(placed.rect, face, sideways) else near).append(placed)
    near.sort(key=lambda p: _from(p.rect, sideways))
    far.sort(key=lambda p: _from(p.rect, sideways, far=True))
    found: list[Setting] = []
    start: Inward = "left" if sideways else "top"
    end: Inward = "right" if sideways else "bottom"
    for group, inward in ((near, start), (far, end)):
        for placed in group:
            done = [s.placed for s in found]
            found.append(_setting(placed, done, face, inward))
    for placed in face.over:
        # Film goes behind its frame, and what lies in a pocket is pushed in: neither is set down by measure.
        if placed.hold is None or not (placed.hold.into or placed.hold.behind):
            found.append(_setting(placed, [], face, "over"))
    return tuple(found)


def _beyond(rect: Rect, face: Face, sideways: bool) -> bool:
    """Whether a piece lies on the far side of the last free band, or nearer to the far edge."""
    if face.bands:
        band = face.bands[-1]
        return rect.x >= band.right if sideways else rect.y >= band.bottom
    return face.field.bottom - rect.bottom < rect.y - face.field.y


def _from(rect: Rect, sideways: bool, far: bool = False) -> tuple[Length, Length]:
    """Distance from the edge that a piece is reached from, then along it."""
    if sideways:
        return (-rect.right if far else rect.x), rect.y
    return (-rect.bottom if far else rect.y), rect.x


def _setting(placed: Placed, done: list[Placed], face: Face, inward: Inward) -> Setting:
    below = face.field
    ground = _ground(face)
    r = placed.rect
    if inward == "over":
        # Laid on top: measured from the layer's own edges.
        return Setting(
            placed=placed,
            against=FieldEdge("top", ground),
            distance=r.y - below.y,
            beside=FieldEdge("left", ground),
            aside=r.x - below.x,
            inward="over",
        )
    up: Literal["top", "bottom"] = "bottom" if inward == "bottom" else "top"
    side: Literal["left", "right"] = "right" if inward == "right" else "left"
    against: Placed | FieldEdge
    beside: Placed | FieldEdge
    against, distance = FieldEdge(up, ground), (below.bottom - r.bottom if up == "bottom" else r.y - below.y)
    beside, aside = FieldEdge(side, ground), (below.right - r.right if side == "right" else r.x - below.x)
    for other in done:
        o = other.rect
        if o.x < r.right and r.x < o.right:
            apart = o.y - r.bottom if up == "bottom" else r.y - o.bottom
            if not apart.inches < 0 and apart < distance:
                against, distance = other, apart
        if o.y < r.bottom and r.y < o.bottom:
            apart = o.x - r.right if side == "right" else r.x - o.right
            if not apart.inches < 0 and apart < aside:
                beside, aside = other, apart
    return Setting(placed=placed, against=against, distance=distance, beside=beside, aside=aside, inward=inward)


def _ground(face: Face) -> str:
    """The label of the layer that the pieces lie on; the name of a face that is not the one that leads, where that is the base."""
    ground = next(p for p in reversed(face.layers) if p.rect == face.field)
    return face.on if face.on and ground.layer == "base" else ground.label
