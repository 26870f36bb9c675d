"""Exact numbers that are quick to reckon with.

A standard `Fraction` asks at every step what kind of number it was given, which takes three
times as long as the sum itself. An `Exact` is a `Fraction` in all it says and is worth, and
reckons with fractions and integers at once; with anything else it does what a `Fraction` does.
What is reckoned with one is one again, so lengths (`units.Length`) and all that is drawn of
them reckon so without a word.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import gcd
from sys import hash_info
from typing import Any

_blank: Any = object.__new__
# Loosely typed inside: what goes in and comes out is a `Fraction` to whoever reckons with it.


class Exact(Fraction):
    """A fraction in lowest terms."""

    __slots__ = ()

    _numerator: int
    _denominator: int
    numerator: Any = Fraction._numerator  # type: ignore[attr-defined]  # the slots themselves: read without a call
    denominator: Any = Fraction._denominator  # type: ignore[attr-defined]  # a slot that the types leave out

    def __new__(cls, numerator=0, denominator=None):
        """As a fraction is made; of one that there is already, that one."""
        kind = type(numerator)
        if denominator is None:
            if kind is Exact:
                return numerator
            if kind is int or kind is Fraction:
                return lowest(numerator.numerator, numerator.denominator)
        elif kind is int and type(denominator) is int and denominator > 0:
            common = gcd(numerator, denominator)
            return lowest(numerator // common, denominator // common)
        return super().__new__(cls, numerator, denominator)

    def __add__(a, b):
        kind = type(b)
        if kind is int:
            return lowest(a._numerator + b * a._denominator, a._denominator)
        if kind is Exact or kind is Fraction:
            return _sum(a._numerator, a._denominator, b._numerator, b._denominator)
        return Fraction.__add__(a, b)

    def __radd__(b, a):
        kind = type(a)
        if kind is int:
            return lowest(b._numerator + a * b._denominator, b._denominator)
        return _sum(a._numerator, a._denominator, b._numerator, b._denominator) if kind is Fraction else Fraction.__radd__(b, a)

    def __sub__(a, b):
        kind = type(b)
        if kind is int:
            return lowest(a._numerator - b * a._denominator, a._denominator)
        if kind is Exact or kind is Fraction:
            return _sum(a._numerator, a._denominator, -b._numerator, b._denominator)
        return Fraction.__sub__(a, b)

    def __rsub__(b, a):
        kind = type(a)
        if kind is int:
            return lowest(a * b._denominator - b._numerator, b._denominator)
        return _sum(a._numerator, a._denominator, -b._numerator, b._denominator) if kind is Fraction else Fraction.__rsub__(b, a)

    def __mul__(a, b):
        kind = type(b)
        if kind is int:
            return _product(a._numerator, a._denominator, b, 1)
        if kind is Exact or kind is Fraction:
            return _product(a._numerator, a._denominator, b._numerator, b._denominator)
        return Fraction.__mul__(a, b)

    def __rmul__(b, a):
        kind = type(a)
        if kind is int:
            return _product(b._numerator, b._denominator, a, 1)
        return _product(a._numerator, a._denominator, b._numerator, b._denominator) if kind is Fraction else Fraction.__rmul__(b, a)

    def __truediv__(a, b):
        kind = type(b)
        if kind is int and b:
            return _product(a._numerator, a._denominator, 1, b) if b > 0 else _product(a._numerator, a._denominator, -1, -b)
        if (kind is Exact or kind is Fraction) and b._numerator:
            return _over(a._numerator, a._denominator, b._numerator, b._denominator)
        return Fraction.__truediv__(a, b)

    def __rtruediv__(b, a):
        kind = type(a)
        if kind is int and b._numerator:
            return _over(a, 1, b._numerator, b._denominator)
        if kind is Fraction and b._numerator:
            return _over(a._numerator, a._denominator, b._numerator, b._denominator)
        return Fraction.__rtruediv__(b, a)

    def __neg__(a):
        return lowest(-a._numerator, a._denominator)

    def __pos__(a):
        return a

    def __abs__(a):
        return a if a._numerator >= 0 else lowest(-a._numerator, a._denominator)

    # Over cross; the terms are lowest, so equals have equal ones.

    def __eq__(a, b):
        kind = type(b)
        if kind is Exact or kind is Fraction:
            return a._numerator == b._numerator and a._denominator == b._denominator
        return Fraction.__eq__(a, b)

    def __lt__(a, b):
        kind = type(b)
        if kind is int:
            return a._numerator < b * a._denominator
        if kind is Exact or kind is Fraction:
            return a._numerator * b._denominator < b._numerator * a._denominator
        return Fraction.__lt__(a, b)

    def __gt__(a, b):
        kind = type(b)
        if kind is int:
            return a._numerator > b * a._denominator
        if kind is Exact or kind is Fraction:
            return a._numerator * b._denominator > b._numerator * a._denominator
        return Fraction.__gt__(a, b)

    def __le__(a, b):
        kind = type(b)
        if kind is int:
            return a._numerator <= b * a._denominator
        if kind is Exact or kind is Fraction:
            return a._numerator * b._denominator <= b._numerator * a._denominator
        return Fraction.__le__(a, b)

    def __ge__(a, b):
        kind = type(b)
        if kind is int:
            return a._numerator >= b * a._denominator
        if kind is Exact or kind is Fraction:
            return a._numerator * b._denominator >= b._numerator * a._denominator
        return Fraction.__ge__(a, b)

    def __hash__(a) -> int:  # type: ignore[override]  # in the abstract classes of numbers none is said to be
        """That of any equal number (Python's reference: built-in types, hashing of numeric types)."""
        if a._denominator == 1:
            return hash(a._numerator)
        inverse = _inverse(a._denominator)
        found = hash(hash(abs(a._numerator)) * inverse) if inverse else hash_info.inf
        found = found if a._numerator >= 0 else -found
        return -2 if found == -1 else found

    def __bool__(a) -> bool:
        return a._numerator != 0

    def __float__(a) -> float:
        return a._numerator / a._denominator

    def __repr__(a) -> str:
        # As a fraction: names in PDFs are made of it, and nobody need know the difference.
        return f"Fraction({a._numerator}, {a._denominator})"

    def __copy__(a):
        return a

    def __deepcopy__(a, memo):
        return a

    def __reduce__(a):
        return lowest, (a._numerator, a._denominator)


def lowest(numerator: int, denominator: int) -> Exact:
    """The number with these terms, which have nothing in common; the lower one is above zero."""
    made = _blank(Exact)
    made._numerator, made._denominator = numerator, denominator
    return made


# Knuth, The Art of Computer Programming 2, 4.5.1, as the standard library does it.


def _sum(na: int, da: int, nb: int, db: int) -> Exact:
    made = _blank(Exact)
    if da == db:
        if da == 1:
            made._numerator, made._denominator = na + nb, 1
            return made
        whole = na + nb
        common = gcd(whole, da)
        made._numerator, made._denominator = whole // common, da // common
        return made
    shared = gcd(da, db)
    if shared == 1:
        made._numerator, made._denominator = na * db + da * nb, da * db
        return made
    rest = da // shared
    whole = na * (db // shared) + nb * rest
    common = gcd(whole, shared)
    made._numerator, made._denominator = whole // common, rest * (db // common)
    return made


def _product(na: int, da: int, nb: int, db: int) -> Exact:
    made = _blank(Exact)
    if db != 1:
        shared = gcd(na, db)
        if shared != 1:
            na //= shared
            db //= shared
    if da != 1:
        shared = gcd(nb, da)
        if shared != 1:
            nb //= shared
            da //= shared
    made._numerator, made._denominator = na * nb, da * db
    return made


def _over(na: int, da: int, nb: int, db: int) -> Exact:
    return _product(na, da, db, nb) if nb > 0 else _product(na, da, -db, -nb)


@lru_cache(maxsize=4096)
def _inverse(denominator: int) -> int:
    """What a denominator is turned over in the arithmetic of hashes; 0 where it can't be."""
    return pow(denominator, -1, hash_info.modulus) if denominator % hash_info.modulus else 0
