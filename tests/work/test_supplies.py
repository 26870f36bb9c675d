"""The shopping list: sums by hand, rules as they are said, prices as they are given."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.face import Placed
from kitwright.errors import UserError
from kitwright.geometry import Rect
from kitwright.telling.line import Line
from kitwright.telling.supplies import cost_lines, money, run_text, supply_lines
from kitwright.units import MM, Length, Size, parse_size
from kitwright.work.batches import batches
from kitwright.work.supplies import _saves, adhesive_for, foam_for, supplies
from making import BATCH, CLUB, changed, make_worked

PRICES = """\
prices:
  currency: $
  patterned: 1.20
  cardstock: 0.30
  papers: {white: 0.50}
  envelope: 0.15
  adhesive: 5 for 10 m
  foam: 3 for 4 x 6
"""


def told(worked, found):
    return {line.title: line.whole for line in supply_lines(worked, found)}


@pytest.fixture(scope="module")
def batch(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("plain"), BATCH)


def test_the_list_of_the_batch_by_hand(batch):
    found = supplies(batch)
    # Worked by hand: nine strips and eighteen from one sheet; four mats and two bases to a Letter sheet.
    assert {s.paper: s.sheets for s in found.sheets} == {"river": 1, "cream": Fraction(5, 2), "white": Fraction(9, 2)}
    assert found.envelopes == 9 and found.foam == 0
    # Mats all round, strips (all under 1½ in) along their middle: 9 × (2 × 9¼ + 3 × 3¾) in.
    assert found.adhesive == Length(9 * (2 * Fraction(37, 4) + 3 * Fraction(15, 4)))
    assert told(batch, found)["Adhesive"].startswith("23 ft (7 m): ")  # 267¾ in = 22.3 ft = 6.8 m
    assert found.total is None and cost_lines(batch, found) == ()


def test_foam_by_its_rule(tmp_path):
    raised = make_worked(tmp_path, changed(BATCH, ("    - M\n  envelope", "    - {piece: M, raised: yes}\n  envelope")))
    found = supplies(raised)
    # Two strips ¼ in wide along the long edges of nine mats 5¼ in tall; their adhesive falls away.
    assert found.foam == 9 * 2 * Fraction(21, 4) / 4
    assert found.adhesive == supplies(make_worked(tmp_path / "flat", BATCH)).adhesive - Length(9 * 2 * Fraction(37, 4))


def test_costs_by_hand(tmp_path):
    worked = make_worked(tmp_path, BATCH, club=CLUB + PRICES)
    found = supplies(worked)
    adhesive = Fraction(1071, 4) * 5 / (10_000 * MM)
    expected = Fraction(12, 10) + Fraction(5, 2) * Fraction(3, 10) + Fraction(9, 2) / 2 + 9 * Fraction(15, 100) + adhesive
    assert found.total == expected and found.a_card == expected / 9 and found.unpriced == ()
    assert cost_lines(worked, found)[0] == Line("batch", "Cost of the batch", money(expected, "$"))


def test_what_has_no_price_is_named(tmp_path):
    worked = make_worked(tmp_path, BATCH, club=CLUB + "prices: {currency: EUR, cardstock: 0.30}\n")
    found = supplies(worked)
    assert {line.about: line.text for line in cost_lines(worked, found)}["not counted"] == "River, adhesive and envelopes"
    assert found.costs == {"paper cream": Fraction(3, 4), "paper white": Fraction(27, 20)}


@pytest.mark.parametrize("price", ["  adhesive: 5\n", "  adhesive: 5 for 3 x 4\n", "  foam: 3 for 6 in\n", "  envelope: cheap\n"])
def test_a_price_that_says_too_little_is_refused(tmp_path, price):
    with pytest.raises(UserError) as caught:
        make_worked(tmp_path, BATCH, club=CLUB + "prices:\n  currency: $\n" + price)
    assert caught.value.place.line == len((CLUB + "prices:\n  currency: $\n" + price).splitlines())


@given(st.integers(1, 60))
def test_any_batch_takes_what_the_table_of_batches_says(batch, cards):
    found = supplies(batch, cards)
    assert {s.paper: s.sheets for s in found.sheets} == batches(batch, cards)[-1][1]
    assert found.adhesive * 9 == supplies(batch).adhesive * cards


def test_no_batch_of_nothing(batch):
    with pytest.raises(ValueError, match="a batch has a card at least"):
        supplies(batch, 0)


def test_leftovers_are_told_against_the_next_batch(batch):
    # Three leftovers of 3¾ × 3 in: each holds two strips of 1¼ in, or three of ⅞ in; ¾ in is too narrow for any.
    found = supplies(batch)
    assert found.sheets[0].saves == {"A": 6, "B": 9}
    assert (
        told(batch, found)["Leftovers"]
        == "Keep them for your next batch: what is left of River makes 6 of the next 9 A or 9 of the next 18 B"
    )
    assert found.sheets[0].leftover == Size(Length(Fraction(15, 4)), Length(Fraction(3)))


@pytest.mark.parametrize(
    ("cards", "sheets", "a", "b"),
    [(3, Fraction(1, 2), 6, 9), (9, 1, 6, 9), (12, Fraction(3, 2), 6, 9), (18, 2, 12, 18), (21, Fraction(5, 2), 12, 18), (27, 3, 18, 27)],
)
def test_every_whole_sheet_has_its_leftovers(batch, cards, sheets, a, b):
    # A sheet leaves three of 3¾ × 3 in: six A or nine B, as often as there are whole sheets; a sheet that is only begun counts once when it is alone.
    found = supplies(batch, cards).sheets[0]
    assert (found.sheets, found.saves) == (sheets, {"A": a, "B": b})


@given(st.integers(1, 400), st.integers(1, 400))
def test_adhesive_never_less_than_the_longer_side(width, height):
    size = Size(Length(Fraction(width, 16)), Length(Fraction(height, 16)))
    assert adhesive_for(size) in (max(size.width, size.height), (size.width + size.height) * 2)
    assert adhesive_for(size) == adhesive_for(size.turned)


def test_lengths_are_rounded_up():
    assert run_text(Length(Fraction(1)), "in") == "1 ft (0.5 m)"
    assert run_text(Length.mm(1001), "mm") == "1.5 m (4 ft)"


def test_money_reads_as_it_is_written():
    assert money(Fraction(421, 100), "$") == "$4.21" and money(Fraction(4), "EUR") == "4.00 EUR"


# --- at the very edge of a rule -----------------------------------------------------------------------


def test_a_raised_piece_just_five_eighths_high_takes_two_strips():
    """The rule says one where it is under ⅝ in."""

    def raised(height: str):
        return Placed("S", "white", "front", Rect.of(parse_size(f"3 x {height}")), raised=True)

    assert foam_for(raised("5/8")) == 3 * Fraction(1, 4) * 2 and foam_for(raised("9/16")) == 3 * Fraction(1, 4)


def test_a_leftover_gives_pieces_only_the_way_they_may_lie(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    plan = worked.plan("river")
    rest = Counter({parse_size("1-1/4 x 3-3/4"): 2})
    for lies, n in ((None, 2), (True, 2), (False, None)):
        demand = replace(plan.demand, lies={} if lies is None else {"A": lies, "B": lies})
        assert _saves(worked, replace(plan, demand=demand), rest).get("A") == n


def test_the_leftovers_of_every_sheet_count(tmp_path):
    """Two sheets and a half, three leftovers of 3¾ × 10¾ on each whole one: eight A of 1¼ come out of each; of the half nothing is promised."""
    text = (
        BATCH[: BATCH.index("guides:\n")]
        + "guides:\n  - papers: river\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n          - 1 strip of 1-1/4 off the top: A\n"
    )
    text = changed(
        text,
        ("  B:\n    size: 3-3/4 x 7/8\n    for: low strip\n    paper: river\n    per card: 2\n", ""),
        ("    - A\n    - B\n    - band\n    - B\n", "    - A\n    - band\n"),
    )
    (river,) = [each for each in supplies(make_worked(tmp_path, text)).sheets if each.paper == "river"]
    assert river.sheets == Fraction(5, 2) and river.saves == {"A": 2 * 3 * 8}
