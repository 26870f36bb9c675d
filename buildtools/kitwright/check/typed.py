"""Figures as people type them in prose: numbers in digits or words, counts of something, lengths and sizes. Values only."""

from __future__ import annotations

import re
import sys
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

from kitwright.units import MM, VULGAR, Length, Size
from kitwright.work.cite import CITATION

_UNDER_20 = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
).split()
_TENS = {word: 20 + 10 * i for i, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split())}
_WORDS = (
    {word: i for i, word in enumerate(_UNDER_20, 1)}
    | _TENS
    | {"a single": 1, "half a dozen": 6, "a dozen": 12, "one dozen": 12, "two dozen": 24, "a couple of": 2}
    | {f"{ten}-{one}": value + i for ten, value in _TENS.items() for i, one in enumerate(_UNDER_20[:9], 1)}
)
_GLYPHS = "".join(VULGAR)
_DIGITS = rf"\d+\s?[{_GLYPHS}]|[{_GLYPHS}]|\d+(?:-|\s)\d+[/⁄]\d+|\d+[/⁄]\d+|\d+\.\d+|\d+"
_SPELT = "|".join(sorted(map(re.escape, _WORDS), key=len, reverse=True)).replace(r"\ ", r"\s+")
_NUMBER = re.compile(
    rf"(?<![\w/.,:$€£#×-])(?:(?P<digits>{_DIGITS})(?![\w/]|[.:-]\d)|(?P<half>half\s+a)(?=\s+(?!dozen))|(?P<words>{_SPELT})\b(?P<and>\s+and\s+a\s+half)?)",
    re.IGNORECASE,
)
_UNIT = r"(?:inch(?:es)?|in|mm|cm)\b|[\"″”]"
_SIZE = re.compile(
    rf"(?<![\w/.-])(?P<a>{_DIGITS})\s*-?(?P<one>{_UNIT})?\s*(?:x|×|by)\s*(?P<b>{_DIGITS})(?:\s*-?(?P<two>{_UNIT}))?(?![\w/])", re.IGNORECASE
)
_LENGTH = re.compile(rf"(?<![\w/.×-])(?P<a>{_DIGITS})(?:\s*-?(?P<unit>{_UNIT}))?(?![\w/])", re.IGNORECASE)
_WORD = re.compile(r"[\s,]{0,3}\*{0,2}([^\W\d_][\w’'-]*)")
_SHOWN = re.compile(r"(`+)[^`].*?\1|https?://\S+|\]\([^)\s]*\)", re.DOTALL)
REACH = 300
"""Characters of a clause that are looked at on either side of a figure."""
_EMPHASIS = re.compile(
    r"</?(?:b|i|em|strong|u|mark|small)>|(?<!\w)_{1,3}(?=\w)|(?<=\w)_{1,3}(?!\w)|(?<!\w)\*{1,3}(?=\w)|(?<=[\w.,:;!?])\*{1,3}(?!\w)",
    re.IGNORECASE,
)
GONE = "\x00"
"""Stands where a citation or an address stood: no figure reaches across it."""


def plain(text: str) -> str:
    """Prose without citations, code, addresses and emphasis, every line where it was."""

    def gone(match: re.Match) -> str:
        return GONE + "\n" * match[0].count("\n") + GONE

    return _EMPHASIS.sub("", _SHOWN.sub(gone, CITATION.sub(gone, text)))


@dataclass(frozen=True, slots=True)
class Number:
    """A number where it stands."""

    value: Fraction
    start: int
    end: int


Value = TypeVar("Value", Length, Size)


@dataclass(frozen=True, slots=True)
class Typed(Generic[Value]):
    """A length or a size where it stands, and how finely it was typed."""

    value: Value
    start: int
    end: int
    grain: Length
    """Half of the last place typed: what differs by no more may only have been rounded."""


class Spans:
    """Stretches of a text, in order, that do not overlap."""

    def __init__(self, spans: Iterable[tuple[int, int]]) -> None:
        self.spans = list(spans)

    def __contains__(self, at: int) -> bool:
        i = bisect_right(self.spans, (at, sys.maxsize)) - 1
        return i >= 0 and at < self.spans[i][1]


def value_of(digits: str) -> Fraction:
    """A number typed in digits: `4¼`, `4 1/4`, `4-1/4`, `4.25`."""
    total = Fraction(0)
    for part in re.findall(rf"\d+[/⁄]\d+|\d+\.\d+|\d+|[{_GLYPHS}]", digits):
        if part in VULGAR:
            total += VULGAR[part]
        elif "/" in part or "⁄" in part:
            above, below = re.split("[/⁄]", part)
            total += Fraction(int(above), int(below)) if int(below) else 0
        else:
            total += Fraction(part)
    return total


def numbers(text: str) -> Iterator[Number]:
    """Every number of a text that stands by itself, in digits or words."""
    for match in _NUMBER.finditer(text):
        if match["digits"]:
            value = value_of(match["digits"])
        elif match["half"]:
            value = Fraction(1, 2)
        else:
            value = Fraction(_WORDS[" ".join(match["words"].casefold().split())]) + (Fraction(1, 2) if match["and"] else 0)
        yield Number(value, match.start(), match.end())


def _unit(said: str | None, own: str) -> str:
    said = (said or "").casefold()
    return own if not said else said if said in ("mm", "cm") else "in"


def _length(digits: str, unit: str) -> Length:
    return Length(value_of(digits) * {"in": Fraction(1), "mm": MM, "cm": MM * 10}[unit])


def _grain(digits: str, unit: str) -> Length:
    """Half a sixteenth for inches in whole or fractions; half of the last decimal, or of the unit, for the others."""
    decimals = len(digits.partition(".")[2])
    if unit == "in":
        return Length(Fraction(1, 32) if not decimals else Fraction(1, 2 * 10**decimals))
    return Length(MM * {"mm": 1, "cm": 10}[unit] / (2 * 10**decimals))


def sizes(text: str, own: str) -> Iterator[Typed[Size]]:
    """Every `width × height` of a text; without a unit, in the kit's own."""
    for match in _SIZE.finditer(text):
        unit = _unit(match["two"] or match["one"], own)
        first = _unit(match["one"] or match["two"], own)
        grain = max(_grain(match["a"], first), _grain(match["b"], unit))
        size = Size(_length(match["a"], first), _length(match["b"], unit))
        # Nothing is 0 wide: those are letters of a name.
        if size.width and size.height:
            yield Typed(size, match.start(), match.end(), grain)


def lengths(text: str, own: str) -> Iterator[Typed[Length]]:
    """Every length of a text; without a unit, in the kit's own."""
    within = Spans((m.start(), m.end()) for m in _SIZE.finditer(text))
    for match in _LENGTH.finditer(text):
        if match.start() not in within:
            unit = _unit(match["unit"], own)
            yield Typed(_length(match["a"], unit), match.start(), match.end(), _grain(match["a"], unit))


def words_after(text: str, at: int, most: int, stop: frozenset[str]) -> list[tuple[str, int]]:
    """The words that follow directly, as typed, each with where it ends; up to punctuation, a number, or a word that ends the phrase."""
    found: list[tuple[str, int]] = []
    while len(found) < most and (match := _WORD.match(text, at)) and match[1].casefold() not in stop:
        found.append((match[1], match.end()))
        at = match.end()
    return found


def words_before(text: str, at: int) -> list[str]:
    """The words of the same clause that stand before, the nearest first."""
    clause = re.split(r"[.!?;\x00](?=\s|$)|\n\s*\n|\x00", text[max(at - REACH, 0) : at])[-1]
    return re.findall(r"[^\W\d_][\w’'-]*", clause)[::-1]


def clause_of(text: str, start: int, end: int) -> list[str]:
    """The words of the clause around a figure, small."""
    before = re.split(r"[.!?;](?=\s)|\n\s*\n", text[max(start - REACH, 0) : start])[-1]
    after = re.split(r"[.!?;](?=\s|$)|\n\s*\n", text[end : end + REACH])[0]
    return [word.casefold() for word in re.findall(r"[^\W\d_][\w’'-]*", f"{before} {after}")]


def singular(word: str) -> str:
    """A word as it is when there is one: `strips` → `strip`, `batches` → `batch`."""
    small = word.casefold().removesuffix("’s").removesuffix("'s")
    if small.endswith(("ches", "shes", "xes", "sses")):
        return small[:-2]
    return small[:-1] if small.endswith("s") and not small.endswith("ss") and len(small) > 3 else small
