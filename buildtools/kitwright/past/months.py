"""Dates in names of files: in digits, in words of several languages, by folder; how sure each is, and what is left of the name.

The words are Unicode's own (CLDR, by way of Babel). Dates in digits: ISO 8601 first, then what
is common practice, with no source. Where day and month could be either, the club's region says
which is meant, and the guess is told as unsure.
"""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

Sure = Literal["sure", "likely", "unsure"]
"""Said outright; put together from two places, or by one reading of several that are less common; could as well be otherwise."""

FIRST_YEAR = 1980
"""Older printables than that are no files."""
_LANGUAGES = ("en", "de", "de_AT", "fr", "es", "pt", "it", "nl", "da", "sv", "nb", "fi")
_SHORT = ("en", "de", "de_AT", "fr", "es", "nl", "da", "sv", "nb")
"""Languages whose short names are taken; those of others are words of English, such as “set” and “out”."""
_NO_MONTHS = {"ago"}
_LETTERS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "ø": "oe", "æ": "ae", "å": "aa", "ł": "l", "đ": "d", "œ": "oe"})


@dataclass(frozen=True)
class Dated:
    """A month that a text names, and where in the text."""

    year: int | None
    """None where only the month is named."""
    month: int | None
    """None where only the year is named."""
    day: int | None
    sure: Sure
    start: int
    end: int
    other: int | None = None
    """The month that it may be as well, of the same year."""


def spelled_plainly(text: str) -> str:
    """Letters of a to z alone, as one types them where the others are not at hand: `Frühling` → `Fruehling`."""
    text = unicodedata.normalize("NFC", text)
    text = "".join(c.translate(_LETTERS) if c.islower() else c.lower().translate(_LETTERS).capitalize() if c.isalpha() else c for c in text)
    return "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))


@cache
def months() -> Mapping[str, int]:
    """Names of months, casefolded, with their accents, without, and as they are typed without."""
    from babel.dates import get_month_names

    found: dict[str, set[int]] = {"mrz": {3}}
    for language in _LANGUAGES:
        for context in ("format", "stand-alone"):
            for width in ("wide", "abbreviated") if language in _SHORT else ("wide",):
                for number, name in get_month_names(width, context=context, locale=language).items():
                    name = name.rstrip(".").casefold()
                    bare = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
                    for spelt in (name, bare, spelled_plainly(name)):
                        found.setdefault(spelt, set()).add(number)
    return {name: min(numbers) for name, numbers in found.items() if len(numbers) == 1 and name.isalpha() and name not in _NO_MONTHS}


# --- in one name ------------------------------------------------------------------------------------

_YEAR = r"(?P<year>(?:19|20)\d\d)"
_MONTH = r"(?P<month>0?[1-9]|1[0-2])"
_DAY = r"(?P<day>0?[1-9]|[12]\d|3[01])"
_ALONE, _ENDS = r"(?<!\d)(?<!\d[.,])", r"(?!\d)"
_DIGITS: tuple[tuple[re.Pattern[str], Sure], ...] = (
    (re.compile(rf"{_ALONE}{_YEAR}(?P<s>[-_./ ]){_MONTH}(?P=s){_DAY}{_ENDS}"), "sure"),
    (re.compile(rf"{_ALONE}{_YEAR}(?P<month>0[1-9]|1[0-2])(?P<day>0[1-9]|[12]\d|3[01]){_ENDS}"), "sure"),
    (re.compile(rf"{_ALONE}{_YEAR}[-_./ ]?(?P<month>0[1-9]|1[0-2]){_ENDS}"), "sure"),
    (re.compile(rf"{_ALONE}{_YEAR}[-_./](?P<month>[1-9]){_ENDS}"), "sure"),
)
_TURNED = re.compile(rf"{_ALONE}(?P<one>\d{{1,2}})(?P<s>[-_./ ])(?P<two>\d{{1,2}})(?P=s)(?P<year>(?:19|20)\d\d|\d\d){_ENDS}")
_MONTH_YEAR = re.compile(rf"{_ALONE}{_MONTH}[-_./ ]{_YEAR}{_ENDS}")
_JOINED = re.compile(rf"{_ALONE}(?P<month>0[1-9]|1[0-2]){_YEAR}{_ENDS}")
_YEAR_ALONE = re.compile(rf"{_ALONE}{_YEAR}{_ENDS}(?![-_. ]?(?:x|×|in\b|mm\b|cm\b))", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+")
_BEFORE_WORD = re.compile(r"(?<!\d)(?P<day>0?[1-9]|[12]\d|3[01])(?:st|nd|rd|th)?(?:\.| of)?[-_./ ]{0,2}$", re.IGNORECASE)
_YEAR_BEFORE = re.compile(r"(?<!\d)(?P<year>(?:19|20)\d\d)[-_.,/ ]{0,3}$")
_AFTER_WORD = re.compile(
    r"\.?(?: (?:de|del|of) |[-_,/ ]{0,2})(?:(?P<day>0?[1-9]|[12]\d|3[01])(?:st|nd|rd|th|\.)?[-_,/ ]{1,3})?(?P<year>(?:19|20)\d\d|['’]\d\d)(?!\d)",
    re.IGNORECASE,
)


def dated(text: str, region: Literal["us", "metric"]) -> Dated | None:
    """The month that a name names, in digits or in words: the surest that is there; None where it names none.

    Args:
        text: a name of a file or folder, without its ending, in NFC.
        region: which of day and month comes first where both could be.
    """
    for pattern, sure in _DIGITS:
        for match in pattern.finditer(text):
            said = match.groupdict()
            found = _dated(int(said["year"]), int(said["month"]), int(said.get("day") or 0) or None, sure, match.span())
            if found:
                return found
    if found := next(_in_words(text), None):
        return found
    if found := next(_turned(text, region), None):
        return found
    for pattern in (_MONTH_YEAR, _JOINED):
        for match in pattern.finditer(text):
            found = _dated(int(match["year"]), int(match["month"]), None, "sure" if pattern is _MONTH_YEAR else "likely", match.span())
            if found:
                return found
    return None


def year_in(text: str) -> Dated | None:
    """The one year that a name names; None where it names none, or several."""
    found = {match["year"]: match for match in _YEAR_ALONE.finditer(text) if int(match["year"]) >= FIRST_YEAR}
    if len(found) != 1:
        return None
    (match,) = found.values()
    return Dated(int(match["year"]), None, None, "sure", *match.span())


def dated_in(text: str, year: int) -> Dated | None:
    """A month in a name that gives a year by two digits, which a folder gives in full: `oct18 houses`, `18-10 houses`, `10-18 houses`."""
    short = f"{year % 100:02}"
    for word in _WORD.finditer(text):
        month = months().get(word[0].casefold())
        if month and (after := re.compile(rf"[-_. ]?{short}(?![\d])").match(text, word.end())):
            return Dated(year, month, None, "likely", word.start(), after.end())
    for pattern in (rf"{short}[-_.](?P<month>0[1-9]|1[0-2])", rf"(?P<month>0[1-9]|1[0-2])[-_.]{short}"):
        if len(found := list(re.finditer(rf"(?<![\d.,-]){pattern}(?![\d-])", text))) == 1:
            return Dated(year, int(found[0]["month"]), None, "likely", *found[0].span())
    return None


def month_in(text: str) -> Dated | None:
    """The month that a folder is named by: a name of a month and little more, or its number: `07`, `7 July`, `Juli`."""
    words = [match for match in _WORD.finditer(text) if match[0].casefold() in months()]
    if len(words) == 1 and not [w for w in _WORD.findall(text) if w.casefold() not in months()]:
        return Dated(None, months()[words[0][0].casefold()], None, "sure", *words[0].span())
    number = re.fullmatch(r"\s*(0?[1-9]|1[0-2])\s*", text)
    return Dated(None, int(number[1]), None, "sure", *number.span(1)) if number else None


def _dated(year: int, month: int, day: int | None, sure: Sure, span: tuple[int, int], other: int | None = None) -> Dated | None:
    if year < FIRST_YEAR:
        return None
    try:
        dt.date(year, month, day or 1)
    except ValueError:
        return None
    return Dated(year, month, day, sure, *span, other)


def _in_words(text: str) -> Iterator[Dated]:
    for word in _WORD.finditer(text):
        month = months().get(word[0].casefold())
        if month is None:
            continue
        start, end = word.span()
        if after := _AFTER_WORD.match(text, end):
            day, year, end = after["day"], after["year"], after.end()
            if day is None and (before := _BEFORE_WORD.search(text, 0, start)):
                day, start = before["day"], before.start()
        elif before := _YEAR_BEFORE.search(text, 0, start):
            day, year, start = None, before["year"], before.start()
            if later := re.compile(r"[-_. ]{1,2}(?P<day>0?[1-9]|[12]\d|3[01])(?!\d)").match(text, end):
                day, end = later["day"], later.end()
        else:
            continue
        found = _dated(_whole(year), month, int(day) if day else None, "sure", (start, end))
        if found:
            yield found


def _turned(text: str, region: Literal["us", "metric"]) -> Iterator[Dated]:
    """Day, month and year in digits, the year last."""
    for match in _TURNED.finditer(text):
        one, two, year = int(match["one"]), int(match["two"]), _whole(match["year"])
        short: Sure = "likely" if len(match["year"]) == 2 else "sure"
        if one > 12 or two > 12 or one == two:
            day, month = (two, one) if two > 12 else (one, two)
            found = _dated(year, month, day, short, match.span())
        else:
            month, day = (one, two) if region == "us" else (two, one)
            found = _dated(year, month, day, "unsure", match.span(), other=day)
        if found:
            yield found


def _whole(year: str) -> int:
    """`2019`, `'19` and `19` as a year."""
    short = year.lstrip("'’")
    return int(short) if len(short) == 4 else int(short) + (2000 if int(short) < 70 else 1900)
