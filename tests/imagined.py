"""Proposals made up at random for those who write them down: any layout of a family, its pieces cut by the planner from sheets of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand
from kitwright.cutting.tree import Leaf, Node, Split, holds
from kitwright.errors import UserError
from kitwright.geometry import HALVES, Rect
from kitwright.papers import NamedSize, sheet_named
from kitwright.proposing.families.family import Batch, Family, Field, field_of, kinds
from kitwright.proposing.records import Kind, Measured, Proposal, SheetCut, Side
from kitwright.proposing.wish import CardWish, FoldName, Stock, Unit, Wish
from kitwright.units import ZERO, Length, Size, parse_length, parse_size

CARDS: dict[Unit, list[str]] = {"in": ["4-1/4 x 5-1/2", "5 x 4", "5 x 7", "5-1/4 x 5-1/4"], "mm": ["105 x 148", "135 x 135", "148 x 105"]}
"""Cards of which each fold's base comes out of Letter, 12 × 12 or A4."""
NOTHING = Measured(Fraction(0), Fraction(0), ZERO, 1, 1, True)
"""What a layout that nobody judges is judged by."""


def wish_of(
    unit: Unit,
    fold: FoldName,
    card: str,
    *,
    edge: str = "",
    gap: str = "",
    mat: bool = True,
    band: bool = False,
    papers: int = 1,
    one_way: bool = False,
    sheet: str = "30.5 x 30.5 cm",
    sheets: int = 1,
    step: Length | None = None,
    cardstock: str = "",
    **more,
) -> Wish:
    """A question with one card; of several papers the first is the one with an up."""
    border = parse_length(edge or {"in": "1/8", "mm": "3"}[unit], unit)
    between = parse_length(gap, unit) if gap else border
    stocks = tuple(Stock(f"paper-{i}", f"Paper {i}", sheet_named(sheet, unit), sheets, one_way and i == 1) for i in range(1, papers + 1))
    stock = cardstock or {"in": "12 x 12", "mm": "A4"}[unit]
    one = CardWish(parse_size(card, unit), fold, None, border if mat else None, sheet_named(stock, unit))
    free = parse_length({"in": "1", "mm": "25"}[unit], unit) if band else None
    mark = step or (Length(Fraction(1, 8)) if unit == "in" else Length.mm(1))
    return Wish(unit, mark, stocks, None, (one,), (border,), (between,), band=free, **more)


def any_layout(random: Random, family: Family, field: Field) -> tuple[Side, tuple[Kind, ...]] | None:
    """One of a family's, each shape as likely as another; None where it has none."""
    batches: list[Batch] = list(family.batches(field))
    if not batches:
        return None
    batch = random.choice(batches)
    i = random.randrange(len(batch))
    return family.side(field, batch, i), kinds(field, batch, i)


def stacked(found: Sequence[Kind]) -> Node:
    """One card's pieces in one pile of strips, on a sheet that is just as large: for those who ask nothing of the cuts."""
    cells = [kind for kind in found for _ in range(-(-kind.each // HALVES) if kind.halved else kind.each)]
    wide, parts, y = max(kind.size.width for kind in cells) + Length(1), [], ZERO
    for kind in cells:
        size = kind.size
        piece = Leaf(Rect(ZERO, y, size.width, size.height), kind.label, False, kind.halved)
        rest = Leaf(Rect(size.width, y, wide - size.width, size.height))
        parts.append(Split(Rect(ZERO, y, wide, size.height), "x", (piece, rest)))
        y += size.height
    return Split(Rect(ZERO, ZERO, wide, y + Length(1)), "y", (*parts, Leaf(Rect(ZERO, y, wide, Length(1)))), "top")


def uncut(wish: Wish, side: Side, found: Sequence[Kind]) -> tuple[Wish, Proposal]:
    """A single card, from one sheet of no size that is sold."""
    tree = stacked(found)
    stock = replace(wish.stocks[0], sheet=NamedSize("", tree.rect.size, "measured"), sheets=1)
    cut = SheetCut(((stock.key, 1),), tree)
    return replace(wish, stocks=(stock,)), Proposal(1, (replace(side, cards=1),), tuple(found), (cut,), 1, NOTHING)


def planned(wish: Wish, side: Side, found: Sequence[Kind], each: int, least: Length) -> Proposal | None:
    """So many cards from every paper, cut as the planner has it; None where a sheet is too small, too tight or too narrow to hold."""
    cuts: list[SheetCut] = []
    one_way = any(stock.one_way for stock in wish.stocks)
    for stock in wish.stocks:
        needs, sizes = {kind.label: kind.each * each for kind in found}, {kind.label: kind.size for kind in found}
        lies = dict.fromkeys(needs, False) if one_way else {}
        halves = {kind.label: kind.halved for kind in found if kind.halved}
        try:
            plan = plan_paper(Demand(stock.key, stock.sheet.size, needs, sizes, lies, None, halves), stock.name)
        except UserError:
            return None
        if any(run.layout.tight or not holds(run.layout.tree, least) for run in plan.runs):
            return None
        cuts += [SheetCut(((stock.key, -int(-run.sheets // 1)),), run.layout.tree) for run in plan.runs]
    cards = each * len(wish.stocks)
    return Proposal(1, (replace(side, cards=cards),), tuple(found), tuple(cuts), cards, NOTHING)


def both(one: Proposal, other: Proposal) -> Proposal:
    """Two proposals as two designs of one, each from its own sheets: the labels of the second are numbered."""
    names = {kind.label: f"{kind.label}2" for kind in other.kinds}

    def renamed(node: Node) -> Node:
        if isinstance(node, Leaf):
            return replace(node, label=names.get(node.label or "", node.label))
        return replace(node, parts=tuple(map(renamed, node.parts)))

    def entry(said):
        if isinstance(said, list):
            return [entry(one) for one in said]
        return said | {"piece": names[said["piece"]]} if isinstance(said, dict) and "piece" in said else said

    (side,) = other.sides
    front = {key: entry(value) for key, value in side.front.items()}
    side = replace(side, spots=tuple(replace(spot, label=names[spot.label]) for spot in side.spots), front=front)
    kinds = (*one.kinds, *(replace(kind, label=names[kind.label]) for kind in other.kinds))
    cuts = (*one.cuts, *(SheetCut(cut.stocks, renamed(cut.tree)) for cut in other.cuts))
    return Proposal(1, (*one.sides, side), kinds, cuts, one.cards + other.cards, NOTHING)


def fields(wish: Wish) -> Field:
    """The field of a question's only card."""
    return field_of(wish, wish.cards_of[0], wish.borders[0], wish.gaps[0])


def closed(wish: Wish) -> Size:
    return wish.cards_of[0].closed
