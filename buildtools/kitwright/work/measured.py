"""Sizes that follow from others, filled in before anything else is worked out.

A shaker's film is a piece like every other: planned, counted, cut and laid. So it gets a label,
a size and a number here, as a belly band gets its length, and nobody after has to know that
none of it was typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import count

from kitwright.card.enclosed import enclosed_of
from kitwright.card.fixing import shaker_at
from kitwright.card.layout import base_of, faces_of
from kitwright.card.liner import liner_of
from kitwright.geometry import Rect
from kitwright.kit.kit import Kit
from kitwright.kit.model import Laid, Piece
from kitwright.kit.names import Path, laid_items
from kitwright.units import ZERO, Size


def measured(kit: Kit) -> Kit:
    """The kit with every size that follows; itself where none does.

    What was filled in before is worked out anew, so a kit that was changed has what follows from it now.
    """
    typed = {label: piece for label, piece in kit.spec.pieces.items() if label not in kit.films.values()}
    lined = _liners(kit, typed)
    typed |= lined
    films, pieces = _films(kit, typed)
    if films or lined:
        kit = _with(kit, typed | pieces, films)
    if any(piece.band for piece in typed.values()):
        kit = _with(kit, kit.spec.pieces | _bands(kit), films)
    return kit


def as_kept(kit: Kit, sizes: Mapping[str, Size]) -> Kit:
    """A kit as it was published, with the sizes that followed then, whatever would follow now.

    Args:
        kit: as it was typed.
        sizes: of every label, as its revision kept them.
    """
    found = measured(kit)
    if found is kit:
        return kit
    follow = {label for label in found.spec.pieces if label not in kit.spec.pieces or not kit.spec.pieces[label].measured}
    pieces = {
        label: piece.model_copy(update={"size": sizes[label]}) if label in follow and label in sizes else piece
        for label, piece in found.spec.pieces.items()
    }
    return _with(found, pieces, dict(found.films))


def _with(kit: Kit, pieces: dict[str, Piece], films: dict[Path, str]) -> Kit:
    return replace(kit, spec=kit.spec.model_copy(update={"pieces": pieces}), typed=kit.typed or kit.spec, films=films)


# --- belly bands ------------------------------------------------------------------------------------


def _bands(kit: Kit) -> dict[str, Piece]:
    """Every belly band as long as the closed card asks for."""
    bands = [band for design in kit.designs for band in enclosed_of(design, base_of(design), faces_of(design)).bands]
    pieces = {band.label: (kit.spec.pieces[band.label], band.cut) for band in bands}
    return {
        label: piece.model_copy(update={"size": cut, "use": piece.use or "belly band", "per_card": _each(piece)})
        for label, (piece, cut) in pieces.items()
    }


def _each(piece: Piece) -> dict[str, Fraction]:
    """How many bands a card takes: one to a stack, unless said."""
    if piece.band is None or "per_card" in piece.model_fields_set:
        return piece.per_card
    return {paper: Fraction(1, piece.band.stack) for paper in piece.per_card}


# --- liners of envelopes ----------------------------------------------------------------------------


def _liners(kit: Kit, typed: dict[str, Piece]) -> dict[str, Piece]:
    """Each liner in its size."""
    return {
        label: piece.model_copy(update={"size": liner_of(piece.liner, kit.spec.unit).size, "use": piece.use or "envelope liner"})
        for label, piece in typed.items()
        if piece.liner
    }


# --- film of shakers --------------------------------------------------------------------------------


def _films(kit: Kit, typed: dict[str, Piece]) -> tuple[dict[Path, str], dict[str, Piece]]:
    """The label of each shaker's film by where the shaker stands in the file, and the pieces; shakers alike share one."""
    films: dict[Path, str] = {}
    pieces: dict[str, Piece] = {}
    shakers = [(("designs", design.design) if kit.spec.designs else (), *entry) for design in kit.designs for entry in laid_items(design)]
    for of, laid, path in shakers:
        size = _film_size(kit, laid, typed)
        if laid.shaker is None or size is None:
            continue
        label = laid.shaker.label or _label(size, laid.shaker.film, typed, pieces)
        films[(*of, *path)] = label
        before = pieces.get(label)
        many = (before.per_card[laid.shaker.film] if before else Fraction(0)) + 1
        pieces[label] = Piece.model_construct(size=size, use=f"film of {laid.piece}", per_card={laid.shaker.film: many})
    return films, pieces


def _film_size(kit: Kit, laid: Laid, typed: dict[str, Piece]) -> Size | None:
    """None where the frame has no window that film could cover, which the checks tell."""
    piece = typed.get(laid.piece)
    if laid.shaker is None or piece is None:
        return None
    shaker = shaker_at(laid.shaker, piece, Rect.of(piece.size), False, kit.spec.unit)
    if shaker is None or min(shaker.film.width, shaker.film.height) <= ZERO:
        return None
    return shaker.film.size


def _label(size: Size, paper: str, typed: dict[str, Piece], pieces: dict[str, Piece]) -> str:
    """Film, or with a number where that is another."""
    for n in count(1):
        label = "Film" if n == 1 else f"Fi{n}"
        if label not in typed and (label not in pieces or (pieces[label].size == size and paper in pieces[label].per_card)):
            return label
    raise AssertionError("there are always more numbers")
