"""How many pieces a card takes where nobody typed it: counted on the fronts, of every design and of the whole kit."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from kitwright.card.face import Face
from kitwright.kit.kit import Kit
from kitwright.kit.model import Piece
from kitwright.kit.model.pieces import ONLY
from kitwright.work.worked import lying_on


def counted(kit: Kit, faces: tuple[tuple[Face, ...], ...]) -> Kit:
    """The kit with the pieces on each card filled in where they are counted; itself where each is typed.

    A kit of several designs is counted throughout: in one of its designs are then the pieces that lie on
    its cards, as many as lie there; in the whole the mean of all cards, so that other batches are in proportion.

    Args:
        kit: as it was read.
        faces: of each of its designs, in their order.
    """
    throughout = bool(kit.leading)
    if not throughout and not any(piece.papers for piece in kit.spec.pieces.values()):
        return kit
    lying = [lying_on(design, those) for design, those in zip(kit.designs, faces)]
    whole = _filled(kit, sum(lying, Counter()), throughout)
    if kit.design:
        return whole
    whole = replace(whole, typed=kit.typed or kit.spec)
    if kit.spec.designs:
        vars(whole)["views"] = tuple(_filled(design, counts, throughout) for design, counts in zip(kit.designs, lying))
    return whole


def nowhere(kit: Kit, faces: tuple[tuple[Face, ...], ...]) -> list[str]:
    """Labels of counted pieces that lie on no card of any design."""
    there = {label for design, those in zip(kit.designs, faces) for label, _ in lying_on(design, those)}
    counts = [label for label, piece in kit.spec.pieces.items() if kit.spec.designs or piece.papers]
    return [label for label in counts if label not in there]


def _filled(kit: Kit, lying: Counter[tuple[str, str]], throughout: bool) -> Kit:
    """With what lies on its cards counted; what does not lie on those of one design is none of its pieces."""
    there = {label for label, _ in lying}
    pieces = {
        label: _with(piece, {paper: Fraction(n, kit.spec.cards) for (of, paper), n in lying.items() if of == label})
        if throughout or piece.papers
        else piece
        for label, piece in kit.spec.pieces.items()
        if label in there or not kit.design
    }
    return replace(kit, spec=kit.spec.model_copy(update={"pieces": pieces}))


def _with(piece: Piece, each: dict[str, Fraction]) -> Piece:
    """A piece with so many on each card; from papers that it does not come in nothing is counted."""
    if piece.paper:
        return piece.model_copy(update={"per_card": {ONLY: each.get(piece.paper, Fraction(0))}})
    papers = piece.papers or tuple(piece.per_card)
    here = {paper: each[paper] for paper in papers if paper in each}
    return piece.model_copy(update={"per_card": here or dict.fromkeys(papers, Fraction(0))})
