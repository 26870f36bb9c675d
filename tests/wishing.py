"""Questions to the proposer, written in a line; and everything that holds of an answer, looked at anew."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from kitwright.cutting import tree
from kitwright.papers import NamedSize, sheet_named
from kitwright.proposing.records import Answer, Proposal
from kitwright.proposing.wish import CardWish, FoldName, Stock, Unit, Wish
from kitwright.units import Length, parse_length, parse_size


def stock(sheets: int, size: str, key: str = "meadow", unit: Unit = "in", one_way: bool = False) -> Stock:
    return Stock(key, key.title(), NamedSize("", parse_size(size, unit), "measured"), sheets, one_way)


def wish(*stocks: Stock, card: str, cards: int | None, unit: Unit = "in", mat: str = "", fold: FoldName = "side", **more) -> Wish:
    """A question; `step`, `border`, `gap`, `band` and `slack` as they are typed, everything else as in a `Wish`."""
    usual = {"step": "1/8", "border": "1/8", "gap": "1/8"} if unit == "in" else {"step": "1", "border": "3", "gap": "3"}

    def length(name: str) -> Length | None:
        text = more.pop(name, usual.get(name))
        return None if text is None else parse_length(text, unit, allow_zero=True)

    step, border, gap, band, slack = map(length, ("step", "border", "gap", "band", "slack"))
    front = CardWish(parse_size(card, unit), fold, None, parse_length(mat, unit) if mat else None, sheet_named("Letter"))
    assert step and border is not None and gap is not None, "a measure is missing"
    return Wish(unit, step, stocks, cards, (front,), (border,), (gap,), band=band, slack=slack, **more)


FEW = ("rows", "rows beside a panel", "framed panel", "band across")
WORKED = wish(stock(1, "12 x 12"), card="4-1/4 x 5-1/2", cards=9, mat="1/8", band="1-5/8", kinds=2, waste=Fraction(3, 10), families=FEW)
"""The question that the worked batch of `making.BATCH` answers: a 12 × 12, nine cards, a mat of 4 × 5¼."""


def look_over(answer: Answer) -> None:
    """Everything that has to hold of what is proposed, from its records alone."""
    numbers = [proposal.number for proposal in answer.proposals]
    assert numbers == list(range(1, len(numbers) + 1))
    for proposal in answer.proposals:
        look_at(answer.wish, proposal)


def look_at(asked: Wish, proposal: Proposal) -> None:
    area = sum(stock.sheet.size.area * stock.sheets for stock in asked.stocks)
    stocks = {stock.key: stock for stock in asked.stocks}
    wanted = {kind.label: kind.cut for kind in proposal.kinds}
    halved = {kind.label: kind.halved for kind in proposal.kinds if kind.halved}
    made: Counter[str] = Counter()
    sheets: Counter[str] = Counter()
    used, strokes = Fraction(0), 0
    for cut in proposal.cuts:
        for key, n in cut.stocks:
            fixed = frozenset(wanted) if stocks[key].one_way else frozenset()
            assert tree.faults(cut.tree, stocks[key].sheet.size, wanted, fixed, halved) == []
            made.update({label: n * pieces for label, pieces in tree.yields(cut.tree).items()})
            sheets[key] += n
            used += n * sum(leaf.rect.area for leaf in tree.pieces(cut.tree))
            strokes += n * (len(tree.cuts(cut.tree)) + len(tree.slants(cut.tree)))
        slack = tree.slack(cut.tree)
        assert min(slack.width, slack.height) >= proposal.measured.slack
    assert all(n <= stocks[key].sheets for key, n in sheets.items())
    needed: Counter[str] = Counter()
    for side in proposal.sides:
        needed.update({label: n * side.cards for label, n in side.each.items()})
    # A triangle may be left over of the last rectangle of each sheet; everything else comes out to the piece.
    assert set(made) == set(needed)
    assert all(0 <= made[label] - n <= (sum(sheets.values()) if label in halved else 0) for label, n in needed.items())
    measured = proposal.measured
    assert (measured.left, measured.waste) == (area - used, (area - used) / area)
    assert measured.waste <= asked.waste
    assert measured.measures == len({cut.measure for each in proposal.cuts for cut in tree.cuts(each.tree)})
    assert measured.strokes == strokes
    assert sum(side.cards for side in proposal.sides) == proposal.cards
    assert asked.cards is None or proposal.cards == asked.cards // asked.designs * asked.designs
    assert not asked.made or any(kind.tool for kind in proposal.kinds)
    sizes = {kind.label: kind.size for kind in proposal.kinds}
    for side in proposal.sides:
        lots = {spot.lot for spot in side.spots}
        assert lots == set(range(len(lots)))
        assert asked.sharing != "whole" or len(lots) == 1
        assert asked.sharing != "share" or len(lots) > 1
        for spot in side.spots:
            if spot.point is None:
                assert spot.rect.size == (sizes[spot.label].turned if spot.turned else sizes[spot.label])
