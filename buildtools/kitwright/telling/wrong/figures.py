"""Figures typed in prose that the kit contradicts.

`shown` is what is typed; `cite` says whether the text may cite what would stay right.
"""

from __future__ import annotations

from fractions import Fraction

from kitwright.check.figures import What
from kitwright.errors import Said
from kitwright.labels import BASE
from kitwright.telling.words import listed, number, sheets_text
from kitwright.units import Length, Size, length_text, size_text


def cards(shown: str, cards: int, cite: bool, unit: str) -> Said:
    have = number(cards, "card", "cards")
    return (
        f"“{shown}” is said here, but the kit makes {have}",
        _cited(f"say {have}", cite, "[[cards]], or [[count of cards]] for the number alone"),
    )


def sheets(shown: str, have: tuple[tuple[Fraction, str], ...], paper: str, cite: bool, unit: str) -> Said:
    """`have`: the sheets of each paper, by its name; `paper`: the key of one of them."""
    return (
        f"“{shown}” is said here, but the kit takes {listed([f'{sheets_text(n)} of {name}' for n, name in have])}",
        _cited("say the right number", cite, f"[[sheets of {paper}]]"),
    )


def pieces(shown: str, have: tuple[tuple[int, str], ...], paper: str, cite: bool, unit: str) -> Said:
    """`have`: the pieces of each label that may be meant; `paper`: the key of one that the first is cut from."""
    label = have[0][1]
    return (
        f"“{shown}” is said here, but neither card nor sheet nor batch has that many: the batch takes {listed([f'{n} {of}' for n, of in have])}",
        _cited("say the right number", cite, f"[[count of {label}]], or [[{label} per sheet of {paper}]]"),
    )


def size(shown: str, what: What, size: Size, cite: bool, unit: str) -> Said:
    kind, of = what
    return (
        f"“{shown}” is said here, but {_named(what)} is {size_text(size, unit)}",
        _cited(f"say {size_text(size, unit)}", cite, f"[[{kind} of {of}]]" if of else f"[[{kind}]]"),
    )


def side(shown: str, what: What, size: Size, upright: bool, cite: bool, unit: str) -> Said:
    of = what[1]
    return (
        f"“{shown}” is said here, but {_named(what)} is {size_text(size, unit)}",
        # Of the finished card and the envelope only the whole size can be cited.
        _cited("say the right length", cite and of not in (None, "card"), f"[[{'height' if upright else 'width'} of {of}]]"),
    )


def length(shown: str, what: str, right: tuple[Length, ...], cite: bool, unit: str) -> Said:
    return (
        f"“{shown}” is said here of the {what}, but it is {listed([length_text(one, unit) for one in right[:2]], 'or')}",
        _cited(f"say {length_text(right[0], unit)}", cite, f"[[{what}]]"),
    )


def _cited(remedy: str, cite: bool, citation: str) -> str:
    return f"{remedy}, and cite it: {citation}" if cite else remedy


def _named(what: What) -> str:
    kind, of = what
    if kind == "size" and of:
        return {"card": "the finished card", BASE: "the base"}.get(of, of)
    return f"the sheet of {of}" if of else f"the {kind}"
