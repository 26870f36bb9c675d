"""Decoration: on something large enough for it, and not under what stands on foam."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.card.enclosed import furthest
from kitwright.card.face import Face, Placed, Spot
from kitwright.card.layout import standing_on
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.model import Decoration
from kitwright.kit.names import Path
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """Decoration that what carries it does not hold."""
    for face in worked.face.every:
        for said, spot, path in placed_decorations(worked, face):
            place = worked.kit.place(*path)
            if not {"larger", "overhang"} & set(said.meant):
                yield from _carried(worked, place, face, spot, said.on)
            if "overhang" not in said.meant:
                yield from _under(place, face, spot, said.on)


def placed_decorations(worked: Worked, face: Face) -> Iterator[tuple[Decoration, Spot, Path]]:
    """Each decoration of a face as the spec says it, where it lies, and the path of its entry."""
    for i, spot in enumerate(face.spots):
        # A revision of before there were other faces kept no paths: there they stand in the order of the spec.
        path = spot.said or ("decorations", i)
        yield worked.kit.spec.decorations[int(path[-1])], spot, path


def _carried(worked: Worked, place: Place, face: Face, spot: Spot, on: str) -> Iterator[Finding]:
    unit, r, carrier = worked.kit.spec.unit, spot.rect, standing_on(on, face, worked.base)
    if not r.size.fits(carrier.size):
        yield Finding("warning", place, "decoration.too-large", name=spot.name, size=r.size, on=on, room=carrier.size, unit=unit)
        return
    # Past the card itself: told as an error with the front.
    if not carrier.contains(r) and Rect.of(face.size).contains(r):
        side, by = furthest(carrier, r)
        yield Finding("warning", place, "decoration.past-the-edge", name=spot.name, by=by, side=side, on=on, unit=unit)


def _above(face: Face, on: str) -> list[Placed]:
    """What lies above the place that carries a decoration, and stands on foam."""
    if on in ("front", "band"):
        later: tuple[Placed, ...] = face.pieces + face.over
    else:
        at = max((i for i, placed in enumerate(face.stack) if placed.label == on), default=len(face.stack))
        later = face.stack[at + 1 :]
    return [placed for placed in later if placed.raised]


def _under(place: Place, face: Face, spot: Spot, on: str) -> Iterator[Finding]:
    for placed in _above(face, on):
        if placed.covers_some(spot.rect):
            whole = placed.rect.contains(spot.rect)
            yield Finding("warning", place, "decoration.under-foam", name=spot.name, on=on, label=placed.label, whole=whole)
