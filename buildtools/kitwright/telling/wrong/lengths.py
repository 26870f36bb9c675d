"""Lengths and sizes that can't be read."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import shortened
from kitwright.units import LONGEST, Length, length_text

_LIKE = {"in": "3-1/4, 3 1/4, 3¼, 3.25, 82 mm or 8.2 cm", "mm": "82, 82.5, 8.2 cm or 3-1/4 in", "cm": "8.2, 82 mm or 3-1/4 in"}
_SIZES = {"in": "8-1/2 x 5-1/2 or 105 x 148 mm", "mm": "105 x 148 or 8-1/2 x 5-1/2 in", "cm": "10.5 x 14.8 or 8-1/2 x 5-1/2 in"}
"""By what a bare number means."""


def _like(unit: str) -> str:
    return f"write it like {_LIKE[unit]}"


def _shown(text: str) -> str:
    return shortened(text, 40)


def long_text(text: str, unit: str) -> Said:
    return f"“{_shown(text)}” is far too long to be a length", _like(unit)


def below_zero(text: str, unit: str) -> Said:
    return f"“{_shown(text)}” is below zero", f"a length is above zero; {_like(unit)}"


def unreadable(text: str, unit: str) -> Said:
    return f"“{_shown(text)}” is not a length", _like(unit)


def comma(text: str) -> Said:
    return f"“{_shown(text)}” has a comma", f"write a point: {_shown(text.strip().replace(',', '.'))}"


def unknown_unit(said: str, text: str) -> Said:
    return f"“{said}” in “{_shown(text)}” is not a unit known here", "use in, mm or cm"


def too_fine(text: str, unit: str) -> Said:
    return f"“{_shown(text)}” is finer than any ruler", _like(unit)


def zero(text: str) -> Said:
    return f"“{_shown(text)}” is zero", "a length here is above zero"


def too_long(text: str, unit: str) -> Said:
    return (
        f"“{_shown(text)}” is longer than any sheet of paper",
        f"the longest length accepted is {length_text(Length(LONGEST), 'in' if unit == 'in' else 'mm')}",
    )


def divided_by_zero(text: str, unit: str) -> Said:
    return f"“{_shown(text)}” divides by zero", _like(unit)


def fraction_of_one_or_more(text: str) -> Said:
    return f"“{_shown(text)}” has a fraction of one or more after a whole number", "write for example 3-1/4 or 13/4"


def no_size(text: str, unit: str) -> Said:
    return f"“{shortened(text, 60)}” is not a size", f"write width x height, for example {_SIZES[unit]}"
