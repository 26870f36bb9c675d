"""Other cards of a kit's very pieces as a proposal, with the kit's own papers and cuts behind it: what `same` found, to be written as a kit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import Any

from kitwright.card.notches import cut_size
from kitwright.cutting.tree import Leaf, Node, leaves
from kitwright.proposing.families.family import LABELS
from kitwright.proposing.records import Kind, Measured, Proposal, SheetCut, Side
from kitwright.proposing.same import Again, SamePieces
from kitwright.proposing.wish import Stock, Wish
from kitwright.proposing.written import MATS, SECOND_MATS
from kitwright.units import SIXTEENTH, ZERO, Length
from kitwright.work.traits import leading_plans


def as_proposed(same: SamePieces, number: int) -> tuple[Wish, Proposal]:
    """One of the cards that the pieces make, and the question that it would answer.

    Args:
        same: what the pieces make.
        number: which of it, from 1.
    """
    found = same.found[number - 1]
    sides, kinds = _sides(same, found)
    cuts = tuple(_cuts(same, _names(same, _designs(found)), kinds))
    used = sum(
        (kind.size.area * n for kind in kinds for n in [sum(side.each.get(kind.label, 0) * side.cards for side in sides)]), Fraction(0)
    )
    stocks = _stocks(same, cuts)
    sheets = sum((stock.sheet.size.area * stock.sheets for stock in stocks), Fraction(0))
    measured = Measured((sheets - used) / sheets, sheets - used, ZERO, *_at_the_desk(same), alike=False)
    cards = sum(side.cards for side in sides)
    return _wish(same, sides, stocks, len(kinds)), Proposal(number, sides, kinds, cuts, cards, measured)


def whose(same: SamePieces, number: int) -> dict[str, str]:
    """By the label that a piece has on one of the cards, its label in the kit: the first, where several are of one size."""
    return {label: same.whose[together][0] for together, label in _names(same, _designs(same.found[number - 1])).items()}


def _wish(same: SamePieces, sides: Sequence[Side], stocks: tuple[Stock, ...], kinds: int) -> Wish:
    unit = same.worked.kit.spec.unit
    return Wish(
        unit,
        Length(SIXTEENTH) if unit == "in" else Length.mm(1),
        stocks,
        sum(side.cards for side in sides),
        tuple(dict.fromkeys(side.card for side in sides)),
        tuple(dict.fromkeys(side.border for side in sides)),
        tuple(dict.fromkeys(side.gap for side in sides)),
        designs=2 if len(sides) == 2 else 1,
        kinds=kinds,
        band=min((side.band.height for side in sides if side.band), default=None),
        hold=same.worked.kit.club.trimmer.least_hold,
    )


# --- fronts and their pieces --------------------------------------------------------------------------


def _sides(same: SamePieces, found: Again) -> tuple[tuple[Side, ...], tuple[Kind, ...]]:
    """One design, or two; and its pieces by the kit's own labels, where no mat is called so."""
    sides = _designs(found)
    names, kinds = _names(same, sides), []
    for together, label in names.items():
        piece = same.worked.kit.spec.pieces[same.whose[together][0]]
        cut, made = cut_size(piece, same.worked.kit.spec.unit), piece.made_with
        each = sum(side.each.get(together, 0) for side in sides)
        kinds.append(Kind(label, same.sizes[together], cut, each, tool=made.tool if made else None))
    return tuple(_called(side, names) for side in sides), tuple(kinds)


def _designs(found: Again) -> list[Side]:
    return [replace(one.side, cards=one.cards) for one in (found, found.beside) if one]


def _names(same: SamePieces, sides: Sequence[Side]) -> dict[str, str]:
    """Of labels that are one together, the label that they have on the cards: the first, where no mat is called so."""
    on = {spot.label for side in sides for spot in side.spots}
    given = {together: labels[0] for together, labels in same.whose.items() if together in on}
    free = (label for label in LABELS if label not in given.values())
    return {together: next(free) if label in (MATS, SECOND_MATS) else label for together, label in given.items()}


def _called(side: Side, names: Mapping[str, str]) -> Side:
    def entry(said: Any) -> Any:
        if isinstance(said, Mapping):
            return {key: names[value] if key == "piece" else entry(value) for key, value in said.items()}
        return [entry(one) for one in said] if isinstance(said, list) else said

    return replace(side, spots=tuple(replace(spot, label=names[spot.label]) for spot in side.spots), front=entry(side.front))


# --- sheets -------------------------------------------------------------------------------------------


def _cuts(same: SamePieces, names: Mapping[str, str], kinds: Sequence[Kind]) -> list[SheetCut]:
    """The kit's own cuts; what lies on none of the cards is a leftover."""
    called = {kind.label: kind for kind in kinds}
    named = {label: called[now] for together, now in names.items() for label in same.whose[together]}
    trees = [(plan.paper, ceil(run.sheets), _kept(run.layout.tree, named)) for plan in leading_plans(same.worked) for run in plan.runs]
    return [SheetCut(((paper, sheets),), tree) for paper, sheets, tree in trees if any(leaf.label for leaf in leaves(tree))]


def _kept(node: Node, named: Mapping[str, Kind]) -> Node:
    if isinstance(node, Leaf):
        kind, size = named.get(node.label or ""), node.rect.size
        # Of two labels of one size, one may be stamped out of a blank and the other cut: what is cut otherwise stays over.
        if kind is None or node.diagonal or size not in (kind.cut, kind.cut.turned):
            return Leaf(node.rect)
        return Leaf(node.rect, kind.label, size != kind.cut)
    parts = tuple(_kept(part, named) for part in node.parts)
    return replace(node, parts=parts) if any(leaf.label for part in parts for leaf in leaves(part)) else Leaf(node.rect)


def _stocks(same: SamePieces, cuts: Sequence[SheetCut]) -> tuple[Stock, ...]:
    """The papers of the kit that its pieces come from."""
    found = []
    for plan in leading_plans(same.worked):
        sheets = sum(n for cut in cuts for key, n in cut.stocks if key == plan.paper)
        paper = same.worked.kit.papers[plan.paper]
        if sheets:
            # A scan lies in the other kit's folder.
            face = paper.front.as_scanned(None)
            found.append(Stock(plan.paper, paper.name, paper.size, sheets, bool(plan.demand.lies), face))
    return tuple(found)


def _at_the_desk(same: SamePieces) -> tuple[int, int]:
    """Marks of the ruler and strokes, as the kit has them."""
    layouts = [(run.layout, run.sheets) for plan in leading_plans(same.worked) for run in plan.runs]
    return len({mark for layout, _ in layouts for mark in layout.measures}), sum(
        layout.strokes * ceil(sheets) for layout, sheets in layouts
    )
