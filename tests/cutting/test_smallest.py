"""Pieces so small that a sheet would give more of them than anybody can count."""

from fractions import Fraction

import pytest
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand
from kitwright.errors import UserError
from kitwright.units import parse_size


def demand(piece: str, sheet: str) -> Demand:
    return Demand("river", parse_size(sheet), {"A": 6}, {"A": parse_size(piece)}, {})


def test_what_no_planner_could_end_is_refused_at_once():
    with pytest.raises(UserError, match="so small that more than 200000 lie on one sheet") as caught:
        plan_paper(demand("1/32 x 1/32", "60 x 60"), "River")
    assert caught.value.remedy


def test_what_hands_can_cut_is_planned():
    assert plan_paper(demand("1/4 x 1/4", "12 x 12"), "River").sheets == Fraction(1, 2)
