"""The layouts that are shown: unlike one another, and none that hands would not make."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from kitwright.cutting.solver.work import Work
from kitwright.proposing.search import Proposing, propose
from kitwright.proposing.spread import ALIKE, FULL, NARROW, OF_A_FAMILY, SHOWN, Spread
from kitwright.proposing.twins import merged
from kitwright.proposing.wish import Wish
from kitwright.units import Length
from wishing import stock, wish

SMALL = wish(stock(2, "6 x 6"), card="4-1/4 x 5-1/2", cards=6)


@pytest.fixture(scope="module")
def asked() -> Proposing:
    asked = Proposing(SMALL, Work(4_000_000), None, None)
    asked.run()
    return asked


def test_a_dozen_of_many_sorts_none_of_them_often_and_no_two_alike(asked):
    found = [cluster[0] for cluster in merged(asked.desk, asked.pool.sources, asked.graded())]
    spread = Spread(asked.desk, asked.pool.sources, found)
    chosen = spread.chosen()
    sorts = Counter(found[i].of.families for i in chosen)
    assert len(chosen) == SHOWN and len(sorts) >= 6 and max(sorts.values()) <= OF_A_FAMILY
    for i in chosen:
        near = spread.apart(i)
        assert near[i] == 0 and near.max() < FULL
        assert all(near[j] > ALIKE for j in chosen if j != i and found[j].of.families == found[i].of.families)


def test_a_square_card_turned_by_a_quarter_is_no_other_card():
    """Rows of a square card are its columns, where paper has no up."""
    asked = wish(stock(1, "8 x 8"), card="4 x 4", cards=4, step="1/4", waste=Fraction(2, 5), families=("rows", "columns"))
    assert not _turned(asked)
    assert _turned(replace(asked, stocks=(replace(asked.stocks[0], one_way=True),)))


def _turned(asked: Wish) -> list[list[tuple[Length, Length]]]:
    """Layouts of an answer that are there turned, too; by their pieces."""
    shown = propose(asked, Work(300_000)).proposals
    pieces = [sorted((spot.rect.width, spot.rect.height) for spot in one.sides[0].spots) for one in shown]
    return [some for some in pieces if sorted((high, wide) for wide, high in some) in pieces]


def test_what_is_hard_to_make_is_shown_only_where_it_is_like_nothing_else(asked):
    """Common practice, no source: strips narrower than ⅝ in, more than four stops of the ruler, more than nine pieces a card."""
    shown = asked.answer().proposals
    hard = [
        one
        for one in shown
        if one.measured.measures > 4
        or sum(kind.each for kind in one.kinds) > 9
        or any(min(kind.size.width, kind.size.height) < NARROW["in"] for kind in one.kinds)
    ]
    assert len(hard) <= 2
