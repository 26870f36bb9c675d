"""Decoration: on something large enough for it, and not under what stands on foam."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.card.face import Placed, Spot
from kitwright.card.layout import target_rect
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.names import BASE
from kitwright.units import length_text, size_text
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """Decoration that what carries it does not hold."""
    face = worked.face
    for i, (said, spot) in enumerate(zip(worked.kit.spec.decorations, face.spots)):
        on = target_rect(said.on, face.field, face.layers, face.pieces + face.over, face.bands)
        name = f"the {said.on}" if said.on in ("front", "band", BASE) else said.on
        if not {"larger", "overhang"} & set(said.meant):
            yield from _carried(worked, ("decorations", i), spot, on, name)
        if "overhang" not in said.meant:
            yield from _under(worked, ("decorations", i), spot, _above(worked, said.on), name)


def _carried(worked: Worked, path: tuple, spot: Spot, on: Rect, name: str) -> Iterator[Finding]:
    kit, unit, r = worked.kit, worked.kit.spec.unit, spot.rect
    if not r.size.fits(on.size):
        yield Finding(
            "warning",
            kit.place(*path),
            f"{spot.name}, {size_text(r.size, unit)}, is larger than {name}, {size_text(on.size, unit)}, which carries it",
            "make it smaller or lay it on something larger, or say  meant: larger",
        )
        return
    past = {"left": on.x - r.x, "right": r.right - on.right, "top": on.y - r.y, "bottom": r.bottom - on.bottom}
    side, by = max(past.items(), key=lambda p: p[1])
    # Past the card itself: told as an error with the front.
    if not on.contains(r) and Rect.of(worked.face.size).contains(r):
        yield Finding(
            "warning",
            kit.place(*path),
            f"{spot.name} reaches {length_text(by, unit)} past the {side} edge of {name}, which carries it",
            "move it in, or say  meant: overhang",
        )


def _above(worked: Worked, on: str) -> list[Placed]:
    """What lies above the place that carries a decoration, and stands on foam."""
    face = worked.face
    if on in ("front", "band"):
        later: tuple[Placed, ...] = face.pieces + face.over
    else:
        at = max((i for i, placed in enumerate(face.stack) if placed.label == on), default=len(face.stack))
        later = face.stack[at + 1 :]
    return [placed for placed in later if placed.raised]


def _under(worked: Worked, path: tuple, spot: Spot, above: list[Placed], name: str) -> Iterator[Finding]:
    for placed in above:
        if placed.rect.overlaps(spot.rect):
            whole = placed.rect.contains(spot.rect)
            yield Finding(
                "warning",
                worked.kit.place(*path),
                f"{spot.name} lies on {name}, {'' if whole else 'half '}under {placed.label}, which stands on foam",
                f"say  on: {placed.label}, or move it aside" if whole else "move one of the two aside, or say  meant: overhang",
            )
