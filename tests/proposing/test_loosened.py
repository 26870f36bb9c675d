"""Where nothing is proposed: which wishes are given up, one or several, and that what is told gives a layout indeed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from kitwright.cutting.solver.work import Work
from kitwright.proposing.answered import answered
from kitwright.proposing.loosened import ways_out
from kitwright.proposing.search import propose
from kitwright.proposing.wish import LEFT_OVER
from kitwright.telling import proposals as words
from kitwright.units import parse_length
from wishing import stock, wish

PURSE = 300_000
A2 = "4-1/4 x 5-1/2"

ALONE = {
    "a gap off the ruler": (
        wish(stock(1, "6 x 6"), card="4 x 5", cards=2, step="1/4", border="1/4", gap="1/16", waste=Fraction(1, 2), families=("grid",)),
        "with-gap",
    ),
    "too few cards": (wish(stock(1, "12 x 12"), card=A2, cards=1, step="1/4", border="1/8", gap="1/4", kinds=1), "with-cards"),
    "too much left over": (
        wish(stock(3, "8 x 8"), card=A2, cards=9, step="1/4", border="1/8", gap="1/4", kinds=1, waste=Fraction(1, 100)),
        "with-waste",
    ),
}


@pytest.mark.parametrize("asked, code", ALONE.values(), ids=ALONE)
def test_one_wish_given_up(asked, code):
    assert propose(asked, Work(PURSE)).proposals == ()
    assert f"proposing.{code}" in [note.code for note in ways_out(asked)]


MM = {"unit": "mm", "step": "5"}
TOGETHER = {
    "border and sizes": (
        wish(stock(2, "305 x 305", unit="mm"), card="105 x 148", cards=None, border="4", gap="5", families=("bunting",), kinds=1, **MM),
        ("with-border", "with-kinds"),
    ),
    "sort and cards": (
        wish(stock(3, "150 x 150", unit="mm"), card="135 x 135", cards=1, families=("framed panel",), **MM),
        ("with-family", "with-cards"),
    ),
    "a gate whose doors are half a millimetre off, and cards": (
        wish(stock(1, "150 x 150", unit="mm"), card="105 x 150", cards=1, fold="gate", border="5", gap="0", **MM),
        ("without-a-gate", "with-cards"),
    ),
    "sort, cards and ceiling": (
        wish(stock(3, "8 x 8"), card="3-1/8 x 4-1/8", cards=4, step="1/4", families=("band across",), pieces=(3, 9)),
        ("with-family", "with-cards"),
    ),
}


@pytest.mark.parametrize("asked, codes", TOGETHER.values(), ids=TOGETHER)
def test_several_wishes_given_up_together(asked, codes):
    lead, *told = ways_out(asked)
    assert lead.code == "proposing.together" and lead.values == {"wishes": len(told)}
    assert tuple(note.code.partition(".")[2] for note in told) == codes


def test_two_designs_are_told_even_numbers_of_cards():
    asked = wish(
        stock(1, "6 x 6"), stock(2, "6 x 4"), card="3 x 4", cards=2, designs=2, step="1/2", border="1/4", gap="0", families=("rows",)
    )
    assert all(note.values.get("cards", 0) % 2 == 0 for note in ways_out(asked))


def test_what_is_told_together_gives_a_layout():
    """The border and the number of sizes that are told, asked for."""
    asked, _ = TOGETHER["border and sizes"]
    _, border, kinds = ways_out(asked)
    assert propose(asked, Work(PURSE)).proposals == ()
    loosened = replace(asked, borders=(border.values["border"],), kinds=kinds.values["kinds"])
    assert propose(loosened, Work(PURSE)).proposals


def test_where_much_is_left_over_it_is_told_how_many_cards_the_sheets_give():
    """One card of 3 × 4¼ leaves more than half of a 6 × 6, which gives three."""
    asked = wish(
        stock(1, "6 x 6"), card="3 x 4-1/4", cards=1, step="1/4", border="1/4", gap="1/4", waste=Fraction(4, 5), families=("rows",)
    )
    answer = answered(asked, work=Work(PURSE))
    assert answer.proposals
    (note,) = answer.why
    assert note.code == "proposing.with-cards" and note.values["more"]
    assert propose(replace(asked, cards=note.values["cards"], waste=LEFT_OVER), Work(PURSE)).proposals
    assert words.ways_out(answer) == [f"The sheets give {note.values['cards']}: ask for  --cards {note.values['cards']}"]
    assert words.ways_out(answer, file=True) == [f"The sheets give {note.values['cards']}: say  cards: {note.values['cards']}"]


def test_a_full_sheet_gives_no_more():
    asked = wish(stock(1, "6 x 6"), card=A2, cards=2, mat="1/8", kinds=1, families=("rows",), waste=Fraction(1, 4))
    assert answered(asked, work=Work(PURSE)).why == ()


def test_no_way_out_is_said_as_such():
    """A border that leaves half an inch of the card, where it would have to give way by more than is tried."""
    asked = wish(stock(1, "6 x 6"), card="3 x 3", cards=1, step="1/2", border="1-1/4", gap="0")
    (note,) = ways_out(asked)
    assert note.code == "proposing.no-way-out" and parse_length("1-1/4") == asked.borders[0]
