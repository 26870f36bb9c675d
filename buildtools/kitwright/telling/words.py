"""Numbers and counts in plain words."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from fractions import Fraction

from kitwright.labels import is_base
from kitwright.papers import NamedSize
from kitwright.units import Size, figure, fraction_text, size_text

MONTHS = "January February March April May June July August September October November December".split()
_SMALL = "no one two three four five six seven eight nine ten eleven twelve".split()


def number(n: int, one: str, many: str) -> str:
    """A count with the word that agrees: `1 card`, `9 cards`."""
    return f"{n} {one if n == 1 else many}"


def spelled(n: int) -> str:
    """Small numbers as words: `nine`; larger ones as figures."""
    return _SMALL[n] if 0 <= n < len(_SMALL) else str(n)


def sheets_text(sheets: Fraction) -> str:
    """`1 sheet`, `2½ sheets`, `half a sheet`."""
    if sheets == Fraction(1, 2):
        return "half a sheet"
    return f"{fraction_text(sheets)} {'sheet' if sheets == 1 else 'sheets'}"


def sheet_text(sheet: NamedSize, unit: str) -> str:
    """A sheet by its name, or by its measure."""
    return sheet.name or size_text(sheet.size, unit)


def typed_size(size: Size, unit: str) -> str:
    """A size as it is typed in a kit: `8 1/2 x 5 1/2 in`."""
    return f"{figure(size.width, unit, plain=True)} x {figure(size.height, unit, plain=True)} {unit}"


def listed(words: Sequence[str], last: str = "and") -> str:
    """`A`, `A and B`, `A, B and C`."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}" if words else ""


def label_text(label: str, n: int) -> str:
    """A label as it is counted: a bare letter stays, a word takes its plural."""
    return f"{label}s" if n > 1 and (label.islower() or is_base(label)) else label


def megabytes(size: int) -> str:
    """Bytes as `40 MB`, rounded up."""
    return f"{-(-size // 1_000_000)} MB"


def shortened(text: str, most: int) -> str:
    """A text as an error shows it: no more than so many characters."""
    return text if len(text) <= most else f"{text[: most - 3]}…"


def led(text: str) -> str:
    """A text that leads a line or a sentence: with a capital. A label is one already."""
    return text[:1].upper() + text[1:]


_VOWEL = re.compile(
    r"(?:8|11(?!\d)|18(?!\d)|11,?\d{3}(?!\d)|18,?\d{3}(?!\d)|⅛|[AEFHILMNORSX](?![a-z])|(?!US\b|[Uu]ni|[Uu]se|[Oo]ne\b|[Ee]u)[AEIOUaeiou])"
)
"""What is spoken with a vowel first: `8½`, `11`, `⅛`, `A4`, `envelope`."""


def article(text: str, a: str = "a") -> str:
    """The article that a text takes: `a 6 × 6 in card`, `an 8 × 8 in card`; with a capital where `a` has one."""
    return f"{a}n" if _VOWEL.match(text.lstrip("“‘")) else a


def span_text(first: int, last: int) -> str:
    """Numbers from first to last: `2–4`, or `2`."""
    return str(first) if first == last else f"{first}–{last}"


def runs(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """Numbers that follow one another, from the first to the last of each run."""
    found: list[tuple[int, int]] = []
    for n in numbers:
        if found and n == found[-1][1] + 1:
            found[-1] = found[-1][0], n
        else:
            found.append((n, n))
    return found


def month_text(date: dt.date) -> str:
    """`March 2027`, whatever the computer's language."""
    return f"{MONTHS[date.month - 1]} {date.year}"


def date_text(date: dt.date) -> str:
    """A date that reads the same everywhere: `6 March 2027`."""
    return f"{date.day} {month_text(date)}"


_APOSTROPHE = re.compile(r"(?<=[^\W\d_])'(?=[^\W\d_])")


def curly(text: str) -> str:
    """An author's apostrophes inside words as print has them: `kit's` → `kit’s`. Feet and inches stay."""
    return _APOSTROPHE.sub("’", text)
