"""Which month an old printable is from and what it is called: guessed from its name, its folders and what the PDF notes.

A guess says what it was made from and how sure it is, so that whoever corrects it knows where
to look. What nothing dates has no month: none is made up.
"""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal
from urllib.parse import unquote

from kitwright.past.months import FIRST_YEAR, Dated, Sure, dated, dated_in, month_in, months, spelled_plainly, year_in

From = Literal["name", "folder", "noted", "pdf", "typed"]
"""The file's name; the name of a folder that it lies in; the title that the PDF notes; the day on which it was made, or for a title what it notes; what was typed."""
LONGEST = 80
"""Characters of a guessed title."""
LONGEST_ID = 60


@dataclass(frozen=True)
class Month:
    """A month, with the day where it is known."""

    year: int
    month: int
    day: int | None
    year_from: From
    month_from: From
    sure: Sure
    other: int | None = None
    """Another month of that year that it may be as well."""

    @property
    def first(self) -> dt.date:
        """Its first day."""
        return dt.date(self.year, self.month, 1)


@dataclass(frozen=True)
class Title:
    """A title, and what it was made from."""

    text: str
    source: From | None
    """None where nothing names it."""
    dropped: tuple[str, ...] = ()
    """What was left out of the name, besides its date: `v2`, `FINAL`."""


# --- the month ----------------------------------------------------------------------------------------


def month_of(
    stem: str, folders: Sequence[str], created: str, region: Literal["us", "metric"], now: dt.date, noted: str = ""
) -> Month | None:
    """The month of an old printable; None where nothing tells it.

    Args:
        stem: the file's name without its ending.
        folders: the names of the folders that it lies in, the nearest first.
        created: when the PDF was made, as it notes that.
        region: which of day and month comes first where both could be.
        now: nothing that comes later is old.
        noted: the title that the PDF notes.
    """
    names: list[tuple[From, str]] = [("name", readable(stem)), *(("folder", readable(folder)) for folder in folders)]
    if dated(readable(noted), region):
        # A year alone there is that of the template as often as not.
        names.append(("noted", readable(noted)))
    said = [(source, name, _not_later(dated(name, region), now)) for source, name in names]
    made = made_on(created, now)
    year = next(((s, f) for s, name, full in said if (f := full or _not_later(year_in(name), now))), None)
    if year is None:
        return Month(made.year, made.month, None, "pdf", "pdf", "unsure") if made else None
    year_from, found = year
    if found.month is not None:
        sure: Sure = found.sure if year_from == "name" or found.sure != "sure" else "likely"
        return Month(found.year or 0, found.month, found.day, year_from, year_from, sure, found.other)
    for source, name, full in said:
        named = full if full and full.year == found.year else dated_in(name, found.year or 0) or month_in(name) or _lone_month(name)
        if named and named.month and (found.year, named.month) <= (now.year, now.month):
            return Month(found.year or 0, named.month, named.day, year_from, source, "likely")
    if made and made.year == found.year:
        return Month(made.year, made.month, None, year_from, "pdf", "unsure")
    return None


def year_of(stem: str, folders: Sequence[str], now: dt.date) -> int | None:
    """The year alone, where the name or a folder tells at least that."""
    return next((f.year for name in (stem, *folders) if (f := _not_later(year_in(readable(name)), now))), None)


def _not_later(found: Dated | None, now: dt.date) -> Dated | None:
    return found if found and (found.year, found.month or 1) <= (now.year, now.month) else None


_WORDS_TOO = {"march", "mars", "august"}
"""Months that are words too where they have no capital."""


def _lone_month(name: str) -> Dated | None:
    """A month that stands in a name without a year: its long name alone, since “may” and “mar” are other words too."""
    found = [m for m in re.finditer(r"[^\W\d_]+", name) if len(m[0]) > 3 and m[0].casefold() in months() and (m[0] not in _WORDS_TOO)]
    return Dated(None, months()[found[0][0].casefold()], None, "likely", *found[0].span()) if len(found) == 1 else None


_NOTED = re.compile(r"(?:D:)?(\d{4})(?:(\d{2})(?:(\d{2}))?)?")
_UNSET = {(1904, 1, 1), (1970, 1, 1), (1980, 1, 1), (2000, 1, 1)}
"""Days on which the clocks of machines begin that nobody has set."""


def made_on(created: str, now: dt.date) -> dt.date | None:
    """The day on which a PDF was made, from a date as ISO 32000-1, 7.9.4, writes it; None where it says none, or no month."""
    match = _NOTED.match(created)
    if not match or not match[2]:
        return None
    try:
        day = dt.date(int(match[1]), int(match[2]), int(match[3] or 1))
    except ValueError:
        return None
    return day if dt.date(FIRST_YEAR, 1, 1) <= day <= now and (day.year, day.month, day.day) not in _UNSET else None


# --- the title ------------------------------------------------------------------------------------------

_COUNTER = r"\(\d{1,3}\)"
_VERSION = r"(?:v|ver|vers|version|rev|draft|entwurf)[. ]?\d+(?:\.\d+)*"
_LAST = re.compile(
    rf"(?:^|[\s,;–-]+|(?=[(\[]))(?:({_COUNTER})|[(\[]?({_VERSION}|final(?:e|ly)?[ ]?\d*|endfassung|fertig|copy(?: \d+)?|kopie(?: \d+)?|copie|copia"
    r"|pdf|print(?:able|out)?|druck(?:version)?|letter|us letter|a4)[)\]]?)$",
    re.IGNORECASE,
)
_FIRST = re.compile(
    r"^(copy of|kopie von|printable|(?:card )?kit(?: of the month)?(?: ?(?:no\.?|nr\.?|#)? ?\d{1,3}(?=\s|$))?)(?:[\s,;:–-]+|$)",
    re.IGNORECASE,
)
_NOTHING = re.compile(
    r"(?:scan(?:ned)?|do[ck]ument|untitled|unbenannt|ohne titel|img|image|dsc[nf]?|file|download|page|unnamed|neu|new|pdfs?"
    r"|scans|misc|various|old|other|stuff|diverse?s?|sonstiges|(?:print(?:able)?|kit|sketch|card|template|layout)s?)?"
    r"[\s\d.,:()–-]*",
    re.IGNORECASE,
)
_PROGRAMS = re.compile(
    r"^(?:microsoft \w+|print|\w+ document) - |\.(?:docx?|odt|pages|indd|ai|pub|pptx?|psd|pdf|cdr|svg|rtf)$", re.IGNORECASE
)
"""What a program puts round the name of the file that it wrote a PDF from."""


def title_of(stem: str, folders: Sequence[str], noted: str, region: Literal["us", "metric"]) -> Title:
    """What an old printable is called.

    Args:
        stem: the file's name without its ending.
        folders: the names of the folders that it lies in, the nearest first.
        noted: the title that the PDF notes.
        region: which of day and month comes first where both could be.
    """
    year = next((f.year for name in (stem, *folders) if (f := year_in(readable(name)))), None)
    named, dropped = _cleared(readable(stem), region, year)
    own = _tidied(_PROGRAMS.sub("", _PROGRAMS.sub("", noted)))
    if named:
        # The PDF may say the same with its capitals and signs.
        return Title(own if _key(own) == _key(named) else named, "name", dropped)
    if own and not _NOTHING.fullmatch(own) and not _key(own) == _key(readable(stem)):
        cleared, _ = _cleared(readable(own), region)
        if cleared:
            return Title(cleared if _key(cleared) != _key(own) else own, "pdf")
    for folder in folders:
        cleared, _ = _cleared(readable(folder), region)
        if cleared and not month_in(readable(folder)):
            return Title(cleared, "folder")
    return Title("", None)


def readable(name: str) -> str:
    """A name with its words apart: `paper%20boats`, `paper_boats`, `PaperBoats`."""
    name = unicodedata.normalize("NFC", unquote(name))
    name = "".join(c if unicodedata.category(c)[0] != "C" else " " for c in name).replace("_", " ").replace("+", " ")
    if not re.search(r"[\s-]", name):
        name = re.sub(r"(?<=[a-zà-ÿ])(?=[A-ZÀ-Þ])", " ", name)
    return " ".join(name.split())


def _cleared(name: str, region: Literal["us", "metric"], year: int | None = None) -> tuple[str, tuple[str, ...]]:
    """A name without its date and what else is no title; and that. The year may be told by a folder."""
    told = False
    if year and not dated(name, region) and (short := dated_in(name, year)):
        told, name = True, f"{name[: short.start]} - {name[short.end :]}"
    while found := dated(name, region) or year_in(name):
        told = told or found.month is not None
        name = f"{name[: found.start]} - {name[found.end :]}"
    if not told and (lone := _lone_month(name)) and not all(map(re.compile(r"\w").search, (name[: lone.start], name[lone.end :]))):
        # A month without its year at either end; between others it is a word of the title.
        name = f"{name[: lone.start]} {name[lone.end :]}"
    dropped: list[str] = []
    name = _trimmed(name)
    while match := _LAST.search(name):
        dropped.insert(0, match[1] or match[2])
        name = _trimmed(name[: match.start()])
    while match := _FIRST.match(name):
        dropped.append(match[1])
        name = _trimmed(name[match.end() :])
    return ("" if _NOTHING.fullmatch(name) else _tidied(name)), tuple(dropped)


def _trimmed(name: str) -> str:
    return " ".join(re.sub(r"(?<!\w)[-–.](?!\w)", " ", re.sub(r"\(\s*\)|\[\s*\]", " ", name)).split()).strip(" -–.,;:")


def _tidied(name: str) -> str:
    """Words with blanks between them, a capital first; capitals throughout become small."""
    words = name.replace("_", " ")
    if " " not in words.strip():
        words = words.replace("-", " ").replace(".", " ")
    words = _trimmed(re.sub(r"(?<=\w)-(?=\w)", " ", words) if words.count("-") > 1 and " " not in words.strip("- ") else words)
    if words.isupper() and len(words) > 4:
        words = words.lower()
    if len(words) > LONGEST:
        words = words[:LONGEST].rsplit(" ", 1)[0].rstrip(" -–.,;:")
    words = re.sub(r"\s+(?=[!?]+$)", "", "".join(c for c in words if c.isprintable()))
    return words[:1].upper() + words[1:] if any(c.isalpha() for c in words) else ""


def _key(text: str) -> str:
    return "".join(re.findall(r"[^\W_]", spelled_plainly(text).casefold()))


# --- the id ---------------------------------------------------------------------------------------------


def id_of(month: Month, title: str, taken: set[str]) -> str:
    """A kit's id that is not taken: year, month, the title in plain letters, a number where another has that.

    Args:
        month: when.
        title: what it is called.
        taken: ids that are taken, casefolded.
    """
    words = "-".join(re.findall(r"[a-z0-9]+", re.sub(r"(?<=\w)['’](?=\w)", "", spelled_plainly(title).lower()))) or "kit"
    start = f"{month.year:04}-{month.month:02}-"
    for number in range(1, 10_000):
        suffix = f"-{number}" if number > 1 else ""
        room = LONGEST_ID - len(start) - len(suffix)
        short = words if len(words) <= room else words[:room].rsplit("-", 1)[0]
        if (found := f"{start}{short.strip('-')}{suffix}") not in taken:
            return found
    raise AssertionError("ten thousand kits of one name")
