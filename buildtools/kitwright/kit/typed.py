"""Moments as they are typed: the forms that are read, and what one in another form may have meant."""

from __future__ import annotations

import datetime as dt
import re

from kitwright.kit.clock import end_of_day

_FORMS = ("%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M", "%Y-%m-%d")
_MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december")
_TIME = r"(?:[\sT,]+(?:at\s+)?(?P<hour>\d{1,2})(?:[:.h](?P<minute>\d{2}))?\s*(?P<half>[ap]\.?m\.?)?(?:\s*(?:h|uhr|o[’']clock))?)?"
_BY_FIGURES = (
    re.compile(rf"(?P<year>\d{{4}})[-./ ]+(?P<month>\d{{1,2}})[-./ ]+(?P<day>\d{{1,2}})\.?{_TIME}", re.I),
    re.compile(rf"(?P<day>\d{{1,2}})[-. ]+(?P<month>\d{{1,2}})[-. ]+(?P<year>\d{{4}}){_TIME}", re.I),
)
_SLASHED = re.compile(rf"(?P<one>\d{{1,2}})/(?P<other>\d{{1,2}})/(?P<year>\d{{4}}){_TIME}", re.I)
"""Day and month, or month and day: only where one of them is no month is it told which."""
_BY_WORDS = (
    re.compile(rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?\s+(?P<name>[a-z]{{3,9}})\.?,?\s+(?P<year>\d{{4}}){_TIME}", re.I),
    re.compile(rf"(?P<name>[a-z]{{3,9}})\.?\s+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?,?\s+(?P<year>\d{{4}}){_TIME}", re.I),
)


def moment_typed(text: str) -> dt.datetime | None:
    """A moment in one of the forms that are read, without a zone; None for any other text.

    Raises:
        OverflowError: there is no day after it.
    """
    text = text.strip()
    try:
        if at := end_of_day(text):
            return at
    except ValueError:
        return None
    for form in _FORMS:
        try:
            return dt.datetime.strptime(text, form)
        except ValueError:
            continue
    return None


def moment_meant(text: str) -> str | None:
    """The same moment in the form that is read, where it can only mean one; else None."""
    said = _figures(text.strip())
    if said is None:
        return None
    try:
        day = dt.date(*said[:3])
    except ValueError:
        return None
    if said[3] is None:
        return f"{day}"
    return f"{day} {said[3]:02}:{said[4]:02}" if said[3] < 24 and said[4] < 60 else None


def no_such_day(text: str) -> tuple[int, int, int] | None:
    """Year, month and day of a date whose month has no such day; None for any other text."""
    said = _figures(text.strip())
    if said is None or not 1 <= said[1] <= 12 or not 28 < said[2] < 32:
        return None
    try:
        dt.date(*said[:3])
    except ValueError:
        return said[:3]
    return None


def _figures(text: str) -> tuple[int, int, int, int | None, int] | None:
    """Year, month, day, hour (None where none is said) and minute."""
    for form in _BY_FIGURES:
        if found := form.fullmatch(text):
            return _said(found, int(found["month"]), int(found["day"]))
    if found := _SLASHED.fullmatch(text):
        one, other = int(found["one"]), int(found["other"])
        if one == other or one <= 12 < other:
            return _said(found, one, other)
        return _said(found, other, one) if other <= 12 < one else None
    for form in _BY_WORDS:
        if found := form.fullmatch(text):
            named = [i for i, name in enumerate(_MONTHS, 1) if name.startswith(found["name"].casefold())]
            return _said(found, named[0], int(found["day"])) if len(named) == 1 else None
    return None


def _said(found: re.Match[str], month: int, day: int) -> tuple[int, int, int, int | None, int]:
    hour = int(found["hour"]) if found["hour"] else None
    if hour is not None and found["half"]:
        hour = hour % 12 + (12 if found["half"].casefold().startswith("p") else 0) if 1 <= hour <= 12 else 99
    return int(found["year"]), month, day, hour, int(found["minute"] or 0)
