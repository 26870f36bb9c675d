"""Lengths and sizes that can't be read."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import shortened
from kitwright.units import LONGEST

_EXAMPLES = "write it like 3-1/4, 3 1/4, 3¼, 3.25, 82 mm or 8.2 cm"


def _shown(text: str) -> str:
    return shortened(text, 40)


def long_text(text: str) -> Said:
    return f"“{_shown(text)}” is far too long to be a length", _EXAMPLES


def below_zero(text: str) -> Said:
    return f"“{_shown(text)}” is below zero", f"a length is above zero; {_EXAMPLES}"


def unreadable(text: str) -> Said:
    return f"“{_shown(text)}” is not a length", _EXAMPLES


def comma(text: str) -> Said:
    return f"“{_shown(text)}” has a comma", f"write a point: {_shown(text.strip().replace(',', '.'))}"


def unknown_unit(unit: str, text: str) -> Said:
    return f"“{unit}” in “{_shown(text)}” is not a unit known here", "use in, mm or cm"


def too_fine(text: str) -> Said:
    return f"“{_shown(text)}” is finer than any ruler", _EXAMPLES


def zero(text: str) -> Said:
    return f"“{_shown(text)}” is zero", "a length here is above zero"


def too_long(text: str) -> Said:
    return f"“{_shown(text)}” is longer than any sheet of paper", f"the longest length accepted is {LONGEST} in"


def divided_by_zero(text: str) -> Said:
    return f"“{_shown(text)}” divides by zero", _EXAMPLES


def fraction_of_one_or_more(text: str) -> Said:
    return f"“{_shown(text)}” has a fraction of one or more after a whole number", "write for example 3-1/4 or 13/4"


def no_size(text: str) -> Said:
    return f"“{shortened(text, 60)}” is not a size", "write width x height, for example 8-1/2 x 5-1/2 or 105 x 148 mm"
