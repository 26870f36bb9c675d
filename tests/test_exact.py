"""Exact numbers say and are worth what the standard library's fractions do, whatever they meet."""

from __future__ import annotations

import copy
import operator
import pickle
from fractions import Fraction
from itertools import product
from sys import hash_info

import pytest
from kitwright import cache
from kitwright.exact import Exact, lowest
from kitwright.units import Length

SAMPLE = [Fraction(n, d) for n, d in product((-355, -6, -1, 0, 1, 4, 25, 10**20 + 39), (1, 2, 6, 16, 100, 127 * 5, 10**18 + 9))]
OTHERS = [*SAMPLE[::3], 0, 1, -7, 12, True, 0.25, -1.5, float("inf"), 1 + 2j]
SUMS = [operator.add, operator.sub, operator.mul, operator.truediv]
REST = [operator.floordiv, operator.mod, operator.eq, operator.ne, operator.lt, operator.le, operator.gt, operator.ge]


def outcome(sum_, a, b):
    try:
        return sum_(a, b)
    except (ZeroDivisionError, TypeError) as error:
        return type(error)


def test_every_sum_and_comparison_comes_out_as_with_fractions():
    for a in SAMPLE:
        quick = Exact(a)
        assert quick == a and a == quick and isinstance(quick, Fraction)
        for b, sum_ in product(OTHERS, [*SUMS, *REST]):
            for one, two, mine in ((a, b, (quick, b)), (b, a, (b, quick))):
                wanted, found = outcome(sum_, one, two), outcome(sum_, *mine)
                assert repr(found) == repr(wanted), (sum_, one, two)
                if sum_ in SUMS and isinstance(wanted, Fraction) and b is not True:
                    assert type(found) is Exact, "what is reckoned with one is one"
        assert (-quick, +quick, abs(quick), float(quick), bool(quick), int(quick), round(quick, 2)) == (
            *(-a, +a, abs(a), float(a), bool(a), int(a), round(a, 2)),
        )


@pytest.mark.parametrize("two", SAMPLE[::9])
def test_two_of_them(two):
    for one, sum_ in product(SAMPLE, [*SUMS, *REST]):
        assert outcome(sum_, Exact(one), Exact(two)) == outcome(sum_, one, two)


def test_they_are_written_kept_and_looked_up_as_fractions():
    odd = Fraction(3, hash_info.modulus)
    for value in [*SAMPLE, odd]:
        quick = Exact(value)
        assert (str(quick), repr(quick), hash(quick)) == (str(value), repr(value), hash(value))
        assert cache.digest(quick) == cache.digest(value)
        for again in (copy.copy(quick), copy.deepcopy(quick), pickle.loads(pickle.dumps(quick))):
            assert type(again) is Exact and again == value
    assert {Exact(1, 2): "half"}[Fraction(1, 2)] == "half" and lowest(3, 1) in {3}


def test_lengths_reckon_with_them():
    length = Length(Fraction(13, 4)) + Length(2)
    assert type(length.inches) is Exact and type(length.inches * 72 * Fraction(1, 3)) is Exact
