"""Decoration: on something large enough for it, and not under what stands on foam."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.card.enclosed import furthest
from kitwright.card.face import Placed, Spot
from kitwright.card.layout import target_rect
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """Decoration that what carries it does not hold."""
    face = worked.face
    for i, (said, spot) in enumerate(zip(worked.kit.spec.decorations, face.spots)):
        on = target_rect(said.on, face.field, face.layers, face.pieces + face.over, face.bands)
        if not {"larger", "overhang"} & set(said.meant):
            yield from _carried(worked, i, spot, on, said.on)
        if "overhang" not in said.meant:
            yield from _under(worked, i, spot, said.on)


def _carried(worked: Worked, i: int, spot: Spot, carrier: Rect, on: str) -> Iterator[Finding]:
    place, unit, r = worked.kit.place("decorations", i), worked.kit.spec.unit, spot.rect
    if not r.size.fits(carrier.size):
        yield Finding("warning", place, "decoration.too-large", name=spot.name, size=r.size, on=on, room=carrier.size, unit=unit)
        return
    # Past the card itself: told as an error with the front.
    if not carrier.contains(r) and Rect.of(worked.face.size).contains(r):
        side, by = furthest(carrier, r)
        yield Finding("warning", place, "decoration.past-the-edge", name=spot.name, by=by, side=side, on=on, unit=unit)


def _above(worked: Worked, on: str) -> list[Placed]:
    """What lies above the place that carries a decoration, and stands on foam."""
    face = worked.face
    if on in ("front", "band"):
        later: tuple[Placed, ...] = face.pieces + face.over
    else:
        at = max((i for i, placed in enumerate(face.stack) if placed.label == on), default=len(face.stack))
        later = face.stack[at + 1 :]
    return [placed for placed in later if placed.raised]


def _under(worked: Worked, i: int, spot: Spot, on: str) -> Iterator[Finding]:
    for placed in _above(worked, on):
        if placed.covers_some(spot.rect):
            whole, place = placed.rect.contains(spot.rect), worked.kit.place("decorations", i)
            yield Finding("warning", place, "decoration.under-foam", name=spot.name, on=on, label=placed.label, whole=whole)
