"""Proposals made by hand, for those who draw and tell them: no search behind them, sums and cuts all the same."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from kitwright.card import pointed
from kitwright.cutting import tree
from kitwright.cutting.tree import Leaf, Split
from kitwright.geometry import Rect
from kitwright.kit.model.papers import PaperFace
from kitwright.papers import NamedSize, envelope_named, sheet_named
from kitwright.proposing.records import Answer, Counted, Kind, Measured, Proposal, Scope, SheetCut, Side, Spot, Twin
from kitwright.proposing.wish import CardWish, Stock, Wish
from kitwright.units import ZERO, Length, Size, parse_length, parse_size, total


def length(text: str, unit: str = "in") -> Length:
    return parse_length(text, unit)


def size(text: str, unit: str = "in") -> Size:
    return parse_size(text, unit)


def square(side: str, unit: str = "in") -> NamedSize:
    return NamedSize(f"{side} × {side}", size(f"{side} x {side}", unit), "")


A2 = CardWish(size("4-1/4 x 5-1/2"), "side", envelope_named("US A2 envelope"), length("1/8"), sheet_named("Letter"))
MEADOW = Stock("meadow", "Meadow", square("6"), 1, face=PaperFace(look="stripes", colours=("sky", "white")))
PLAIN = Stock("paper-2", "6 × 6", square("6"), 1)
WISH = Wish("in", length("1/8"), (MEADOW, PLAIN), 4, (A2,), (length("1/8"),), (length("1/8"),))


def columns(sheet: Size, *found: tuple[str, Length, list[tuple[str, Length]]]) -> tree.Node:
    """A sheet cut into columns, each of so many alike pieces: (label, width, heights by label); what is left over ends each, and the sheet."""
    parts, x = [], ZERO
    for _, wide, pieces in found:
        leaves, y = [], ZERO
        for label, high in pieces:
            leaves.append(Leaf(Rect(x, y, wide, high), label))
            y += high
        if y < sheet.height:
            leaves.append(Leaf(Rect(x, y, wide, sheet.height - y)))
        parts.append(Split(Rect(x, ZERO, wide, sheet.height), "y", tuple(leaves), "top") if len(leaves) > 1 else leaves[0])
        x += wide
    if x < sheet.width:
        parts.append(Leaf(Rect(x, ZERO, sheet.width - x, sheet.height)))
    return Split(Rect.of(sheet), "x", tuple(parts), "left")


def strips(
    number: int = 1, card: CardWish = A2, heights: tuple[str, ...] = ("1", "1", "3/4"), cards: int = 4, sheets=("meadow", "paper-2")
) -> Proposal:
    """Rows across the card under one another, a band under them, and sheets cut into columns of them."""
    gap, border = length("1/8"), length("1/8")
    off = border + (card.mat or ZERO)
    wide = card.closed.width - off * 2
    labels = {text: "ABC"[i] for i, text in enumerate(dict.fromkeys(heights))}
    spots, y = [], off
    for lot, text in enumerate(heights):
        spots.append(Spot(labels[text], Rect(off, y, wide, length(text)), lot=lot))
        y += length(text) + gap
    band = Rect(off, y, wide, card.closed.height - off - y)
    kinds = tuple(Kind(labels[text], (s := Size(wide, length(text))), s, heights.count(text)) for text in labels)
    sheet = size("6 x 6")
    column = [(labels[text], length(text)) for text in heights]
    cut = columns(sheet, ("", wide, column * 2))
    side = Side("rows", card, border, gap, tuple(spots), {}, band, cards)
    taken = total(high for _, high in column * 2) * wide.inches
    left = sheet.area - taken.inches
    measured = Measured(left / sheet.area, left * len(sheets), length("1/8"), 3, 12, True)
    return Proposal(number, (side,), kinds, (SheetCut(tuple((key, 1) for key in sheets), cut),), cards, measured)


def bunting(number: int = 2) -> Proposal:
    """Triangles on their points in a row, from squares halved, over a panel."""
    legs = size("1 x 1")
    room = pointed.size(legs, "falling", "down")
    off = length("1/4")
    spots = [Spot("B", Rect(off + room.width * i, off, room.width, room.height), point="down", lot=i) for i in range(2)]
    panel = Rect(off, off + room.height + length("1/8"), length("3-3/4"), length("2"))
    kinds = (Kind("A", panel.size, panel.size, 1), Kind("B", legs, legs, 2, halved="falling"))
    sheet = size("6 x 6")
    squares = Rect(length("3-3/4"), ZERO, length("1"), sheet.height)
    halved = [Leaf(Rect(squares.x, length("1") * i, length("1"), length("1")), "B", diagonal="falling") for i in range(3)]
    rest = Leaf(Rect(squares.x, length("3"), length("1"), length("3")))
    first = Split(
        Rect(ZERO, ZERO, length("3-3/4"), sheet.height),
        "y",
        tuple(Leaf(Rect(ZERO, length("2") * i, length("3-3/4"), length("2")), "A") for i in range(3)),
        "top",
    )
    cut = Split(
        Rect.of(sheet),
        "x",
        (first, Split(squares, "y", (*halved, rest), "top"), Leaf(Rect(length("4-3/4"), ZERO, length("1-1/4"), sheet.height))),
        "left",
    )
    side = Side("bunting", A2, length("1/8"), length("1/8"), (*spots, Spot("A", panel)), {}, None, 4)
    left = tree.leftovers(cut)
    area = sum((rect.area for rect in left), Fraction(0))
    return Proposal(
        number,
        (side,),
        kinds,
        (SheetCut((("meadow", 1), ("paper-2", 1)), cut),),
        4,
        Measured(area / sheet.area, area * 2, ZERO, 4, 14, True),
    )


def answer(*proposals: Proposal, wish: Wish = WISH) -> Answer:
    """An answer of these."""
    scopes = tuple(Scope(side.family, side.card, side.border, side.gap, 120, True) for one in proposals[:1] for side in one.sides)
    return Answer(wish, proposals, scopes, Counted(400, 120, 120, 60, len(proposals), 5000))


def a_few() -> Answer:
    """One of strips with a twin, one of triangles, and one of two designs."""
    first = strips()
    first = replace(first, twins=(Twin((("A", size("3-3/4 x 1-1/8")),), first.measured),))
    two = strips(3, heights=("1", "1", "3/4"))
    other = replace(
        two.sides[0], spots=tuple(replace(s, rect=s.rect.moved(ZERO, length("1-7/8"))) for s in two.sides[0].spots), band=None, cards=2
    )
    both = replace(two, sides=(replace(two.sides[0], cards=2), other))
    return answer(first, bunting(), both)
