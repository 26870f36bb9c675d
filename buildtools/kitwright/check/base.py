"""The card base: typed as the flat piece that is cut, the right way round, of paper that stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from kitwright.card.base import doubled, other_way, parted
from kitwright.card.enclosed import clearance
from kitwright.card.layout import base_of, faces_of, position
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.kit import Kit
from kitwright.units import ZERO, Length, Size
from kitwright.work.worked import Worked

LEAST_WEIGHT = 170
"""Grams per square metre below which a folded card hardly stands; 65 lb cover, 176 g/m², still does."""
LEAST_THICK = Length(Fraction(8, 1000))
"""The same by a calliper, where no weight is given."""
LOOSE = Length(Fraction(3, 2))
"""More room than this, and the envelope is another card's."""


def find(worked: Worked) -> Iterator[Finding]:
    """A base that was typed otherwise than meant, or cut from paper too thin for one."""
    yield from _typed(worked)
    yield from _thin(worked)


# --- the size and the fold ----------------------------------------------------------------------


def _typed(worked: Worked) -> Iterator[Finding]:
    kit, base, unit = worked.kit, worked.base, worked.kit.spec.unit
    if not base.halves or _holds(kit):
        return
    cut, fold = base.cut, base.fold
    turned = other_way(fold)
    tries: tuple[tuple[Size, str, str], ...] = (
        (doubled(cut, fold), fold, "folded"),
        (cut, turned, "other-fold"),
        (cut.turned, fold, "turned"),
        (doubled(cut, turned), turned, "folded"),
        (cut.turned, turned, "turned-other-fold"),
    )
    for size, way, slip in tries:
        changed = _changed(kit, size, way)
        # Laid out anew only where the envelope, or the lowest layer, would have it so.
        if _opens(changed) and _snug(changed) and _holds(changed):
            yield Finding(
                "error",
                kit.place("card", "base", "size") if size != cut else kit.place("card", "fold"),
                "base.typed-otherwise",
                slip=slip,
                front=base.front if _opens(kit) else None,
                size=size if size != cut else None,
                fold=way if way != fold else None,
                unscored=kit.spec.card.score is not None and changed.spec.card.score is None,
                finished=base_of(changed).finished,
                unit=unit,
            )
            return


def _changed(kit: Kit, size: Size, fold: str) -> Kit:
    card = kit.spec.card
    score = card.score if card.score is not None and card.score * 2 == parted(size, fold) else None
    new = card.model_copy(update={"base": card.base.model_copy(update={"size": size}), "fold": fold, "score": score})
    return replace(kit, spec=kit.spec.model_copy(update={"card": new}))


def _opens(kit: Kit) -> bool:
    front = base_of(kit).front
    return min(front.width, front.height) > ZERO


def _holds(kit: Kit) -> bool:
    """Whether a base holds everything that lies on it."""
    if not _opens(kit):
        return False
    card, face = kit.spec.card, faces_of(kit)[0]
    front = Rect.of(base_of(kit).front)
    for i, (below, layer) in enumerate(zip(face.layers, face.layers[1:])):
        if not below.rect.contains(layer.rect) and not {"larger", "overhang"} & set(card.layers[i].meant):
            return False
    if card.inside and not {"larger", "overhang"} & set(card.inside.meant):
        if not front.contains(position(kit.spec.pieces[card.inside.piece].size, card.inside, front)):
            return False
    if not card.layers and (any(not face.field.contains(p.rect) for p in face.pieces) or not all(line.holds for line in face.sums)):
        return False
    return True


def _snug(kit: Kit) -> bool:
    """Whether a card goes into its envelope without rattling; without an envelope, whether its lowest layer nearly covers it."""
    finished, card = base_of(kit).finished, kit.spec.card
    if card.envelope:
        room = clearance(finished, card.envelope.size)
        return min(room.width, room.height) > ZERO and max(room.width, room.height) <= LOOSE
    if card.layers:
        size = kit.spec.pieces[card.layers[0].piece].size
        return max(finished.width - size.width, finished.height - size.height) <= LOOSE
    return True


# --- its paper ------------------------------------------------------------------------------------


def _thin(worked: Worked) -> Iterator[Finding]:
    kit = worked.kit
    base, paper = kit.spec.card.base, kit.papers[kit.spec.card.base.paper]
    if "thin" in base.meant:
        return
    place = kit.place("card", "base", "paper")
    if not paper.material.folds:
        yield Finding("warning", place, "base.breaks", paper=paper.name, kind=paper.kind)
    elif paper.weight is not None:
        if paper.weight.grammage < LEAST_WEIGHT:
            yield Finding("warning", place, "base.thin", paper=paper.name, weight=paper.weight)
    elif paper.thickness is not None and paper.thickness < LEAST_THICK:
        yield Finding("warning", place, "base.thin", paper=paper.name, weight=None)
    elif not paper.material.stands:
        yield Finding("warning", place, "base.patterned", paper=paper.name, kind=paper.kind)
