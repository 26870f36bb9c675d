"""Sheets of paper as people type them: how many, of which, one-way or not, under what name.

`2 of A4`, `2xA4`, `two sheets of A4 paper`, `8x8 x3`, `A4, one way`, `2 of 8x8 and 1 of 6x6`: every way in which
a text can be taken apart is tried, and it is read where all of them that can be say the same. `3 x 8 x 8` may be three
of 8 × 8 or eight of 3 × 8, and `3 8x8` one of 38 × 8: such a text is refused, with each as it is read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.errors import UserError
from kitwright.proposing.spellings import WHOLE, measure, whole
from kitwright.units import HALF_MM, SIXTEENTH, Length, Size

MOST_SHEETS = 60
"""Patterned sheets together. A layout repeats sheet after sheet, so a stack is no larger question than a few of it."""
LEAST_SHEET = Length(Fraction(2))
"""The shorter side of the smallest sheet that pieces are looked for in; a smaller one was typed in the other unit."""
_MARKS = Length(SIXTEENTH), Length(HALF_MM)
LONGEST = 200
"""Signs of one text."""
MOST_JOINED = 24
"""Commas and the like in it."""

Known = Callable[[str], Size | UserError | None]
"""The size of a sheet by name, by measure, or of a paper of the club; None where it is none, and what is wrong with one that is meant
but can't be had."""

Meant = tuple[tuple[int, str], ...]
"""How many of which sheets, as they are told."""


@dataclass(frozen=True, slots=True)
class SheetsOf:
    """Sheets of one paper, as typed."""

    sheets: int
    sheet: str
    """A name, a measure, or a paper of the club."""
    one_way: bool = False
    name: str = ""
    """What it is called; empty where that was not typed."""


_DIRECTED = r"[\s,;:(]*\b(?:(?:one|1)[\s-]?way|(?<!non-)(?<!non\s)directional)\b"
_WAY = re.compile(rf"{_DIRECTED}[\s,;:)]*", re.IGNORECASE)
_WAY_ALONE = re.compile(rf"{_DIRECTED}[\s,;:)]*?[,;]", re.IGNORECASE)
_NAMED = re.compile(r"(?P<what>\S.*?)\s+as\s+(?P<name>\S.*)", re.IGNORECASE)
_SHEETS = r"(?:sheets?|pages?|pieces?|pcs?\.?)"
_BEFORE = re.compile(
    rf"(?P<number>{WHOLE})(?P<gap>\s*)(?:(?P<cross>[x×*])(?P<after>\s*))?(?P<word>(?:{_SHEETS}\b\s*)?(?:of\b\s*)?)(?P<sheet>\S.*)",
    re.IGNORECASE,
)
_AFTER = re.compile(
    rf"(?P<sheet>\S.*?)(?:(?P<gap>[\s,]*)(?P<cross>[x×*])(?P<after>\s*)(?P<one>\d{{1,6}})|[\s,]*\(\s*[x×]?\s*(?P<two>\d{{1,6}})(?:\s*{_SHEETS})?\s*\)"
    rf"|[\s,:]+(?P<three>{WHOLE})\s*{_SHEETS})",
    re.IGNORECASE,
)
_PART = re.compile(
    r"(?:(?P<whole>\d{1,4})\s*(?:[\s-]\s*)?)?(?:half|½|1/2|[.,]5)\s+(?:an?\s+)?(?:sheets?\s+)?(?:of\s+)?(?P<sheet>\S.*)", re.IGNORECASE
)
_PLAINLY = re.compile(rf"(?:(?P<number>{WHOLE})\s+(?:{_SHEETS}\s+)?of\s+)?(?P<sheet>\S.*)", re.IGNORECASE)
_JOINED = re.compile(r"\s*[,;+&]\s*|\s+and\s+|\s*\n\s*", re.IGNORECASE)
_QUOTES = "\"'“”„‘’«»"
_OF = re.compile(r"\b(?:of|sheets?)\b", re.IGNORECASE)
_AROUND = re.compile(r"^(?:an?\s+|of\s+|paper\s+)|[\s-]+(?:papers?|sheets?|pages?|sized?)$", re.IGNORECASE)


def sheets_typed(text: str, known: Known, unit: str) -> tuple[SheetsOf, ...]:
    """What sheets a text says, in its order.

    Args:
        text: as typed.
        known: which sheets there are.
        unit: what examples are told in.

    Raises:
        UserError: it says none, or may say several things.
    """
    plain = " ".join(text.split())
    if len(plain) > 2 and plain[0] in _QUOTES and plain[-1] in _QUOTES:
        plain = plain[1:-1].strip()
    if not plain or len(plain) > LONGEST:
        raise UserError("proposing.no-sheets-of", text=text, meant=None, unit=unit)
    whole_ways = _joined(plain, known)
    if len(whole_ways) == 1:
        if not all(one.sheets for one in whole_ways[0]):
            raise UserError("proposing.no-sheet", text=text)
        return whole_ways[0]
    if whole_ways:
        raise UserError("proposing.sheets-two-ways", text=text, ways=tuple(map(_said, whole_ways)), unit=unit)
    for each in _JOINED.split(plain):
        if not _readings(each, known):
            return (_refused(each if re.search(r"[^\W\d_]", each) else plain, known, unit),)
    return (_refused(plain, known, unit),)


def _said(sheets: tuple[SheetsOf, ...]) -> Meant:
    return tuple((one.sheets, one.sheet) for one in sheets)


def _joined(text: str, known: Known) -> list[tuple[SheetsOf, ...]]:
    """All ways to take a text apart into papers, of those the ones with most papers: a comma in a name is rarer than one between two."""
    breaks = list(_JOINED.finditer(text))
    if len(breaks) > MOST_JOINED:
        return []
    starts, ends = [0, *(found.end() for found in breaks)], [*(found.start() for found in breaks), len(text)]
    # From each start on, the ways to read the rest.
    ways: dict[int, list[tuple[SheetsOf, ...]]] = {len(starts): [()]}
    for first in reversed(range(len(starts))):
        found = [
            (one, *rest)
            for last in range(first, len(starts))
            if ways[last + 1]
            # What follows a comma and stands before another belongs to what came before.
            if not (first and _WAY_ALONE.match(text[starts[first] :]))
            for one in _readings(text[starts[first] : ends[last]], known)
            for rest in ways[last + 1]
        ]
        most = max(map(len, found), default=0)
        ways[first] = list(dict.fromkeys(one for one in found if len(one) == most))[:4]
    return ways[0]


def _readings(text: str, known: Known) -> list[SheetsOf]:
    """The ways to read a text as sheets of one paper; where some can't be had at all, the others alone."""
    # A paper of the club may have such words in its name.
    found = list(_of_one(text, known))
    if not found:
        bare, one_way = _WAY.sub(" ", text).strip(), bool(_WAY.search(text))
        named = _NAMED.fullmatch(bare)
        for what, name in ((bare, ""), *([(named["what"], named["name"])] if named else [])):
            found += [replace(one, one_way=one_way, name=name) for one in _of_one(what, known)]
    sound = [one for one in found if _can_be(one, known)] or found
    # The same sheets under two spellings are the same.
    return list({(one.sheets, known(one.sheet), one.one_way, one.name): one for one in reversed(sound)}.values())[::-1]


def _can_be(one: SheetsOf, known: Known) -> bool:
    size = known(one.sheet)
    return 0 < one.sheets <= MOST_SHEETS and (not isinstance(size, Size) or _large_enough(size))


def _large_enough(size: Size) -> bool:
    return min(size.width, size.height) >= LEAST_SHEET


def _on_a_ruler(size: Size | UserError | None) -> bool:
    """Whether there can be such a sheet, of sides that a ruler has: one of 12.12 × 12 was not meant by `12 12x12`."""
    return (
        isinstance(size, Size)
        and _large_enough(size)
        and all(any((side / mark).denominator == 1 for mark in _MARKS) for side in (size.width, size.height))
    )


def _of_one(text: str, known: Known) -> Iterator[SheetsOf]:
    """A text without way and name: a number and a sheet, in either order, or a sheet alone."""
    alone = _sheet(text, known)
    if alone:
        yield SheetsOf(1, alone)
    if (found := _BEFORE.fullmatch(text)) and (sheet := _sheet(found["sheet"], known)):
        number = whole(found["number"]) or 0
        if found["cross"] or found["word"] or found["gap"] and not found["sheet"][0].isdigit():
            if not found["cross"] or found["word"] or _looser(found, found["sheet"]):
                yield SheetsOf(number, sheet)
        elif found["gap"] and not alone:
            yield SheetsOf(number, sheet)
            # A space that slipped in, or stands for a point.
            for glued in (f"{found['number']}{found['sheet']}", f"{found['number']}.{found['sheet']}"):
                if (other := _sheet(glued, known)) and _on_a_ruler(known(other)):
                    yield SheetsOf(1, other)
    if (found := _AFTER.fullmatch(text)) and (sheet := _sheet(found["sheet"], known)):
        if not found["cross"] or _looser(found, found["sheet"]):
            yield SheetsOf(whole(found["one"] or found["two"] or found["three"]) or 0, sheet)


def _looser(found: re.Match[str], sheet: str) -> bool:
    """Whether a cross between number and sheet may be one: not where it stands closer than the one within the sheet's measure."""
    inner = re.search(r"(?<=[\d\"″”mn½¼¾⅛⅜⅝⅞])(\s*)[x×*](\s*)(?=[\d½¼¾⅛⅜⅝⅞.])", sheet, re.IGNORECASE)
    if not inner:
        return True
    between, within = bool(found["gap"] + found["after"]), bool(inner[1] + inner[2])
    return between or not within


def _sheet(text: str, known: Known) -> str | None:
    """A sheet in the form that is read; None where none is meant by it."""
    plain = text.strip(" :").rstrip(".")
    while plain:
        if known(plain):
            return plain
        if known(said := measure(plain)):
            return said
        bare = _AROUND.sub("", plain)
        if bare == plain:
            return None
        plain = bare
    return None


# --- what can't be read ---------------------------------------------------------------------------


def _refused(text: str, known: Known, unit: str) -> SheetsOf:
    """A text that says no sheet: if all but the sheet is plain, it goes on as a name that nobody knows; else it is refused.

    Raises:
        UserError: with what it may have meant.
    """
    bare = _WAY.sub(" ", text).strip()
    if (part := _PART.fullmatch(bare)) and (sheet := _sheet(part["sheet"], known)) and isinstance(size := known(sheet), Size):
        raise UserError("proposing.part-of-a-sheet", text=text, sheets=int(part["whole"] or 0), sheet=sheet, half=_half(size), unit=unit)
    plainly = _PLAINLY.fullmatch(bare)
    meant = _meant(bare, known)
    if plainly and not meant and re.match(r"[^\W\d_]", plainly["sheet"]) and not _OF.search(plainly["sheet"]):
        named = _NAMED.fullmatch(plainly["sheet"])
        number = whole(plainly["number"]) if plainly["number"] else 1
        return SheetsOf(number or 0, named["what"] if named else plainly["sheet"], bool(_WAY.search(text)), named["name"] if named else "")
    raise UserError("proposing.no-sheets-of", text=text, meant=meant, unit=unit)


def _half(size: Size) -> Size:
    """Half a sheet, cut across its longer side."""
    return Size(size.width, size.height / 2) if size.height >= size.width else Size(size.width / 2, size.height)


def _meant(text: str, known: Known) -> Meant | None:
    """The longest run of words that is a sheet, with the whole number or the other sheet beside it."""
    if known(square := f"{text} x {text}"):
        return ((1, square),)
    words = list(re.finditer(r"[^\W\d_][\w'’-]*|[\d.,/½¼¾⅛⅜⅝⅞⅓⅔]+|\S", text))[:30]
    for long in range(len(words), 0, -1):
        for first in range(len(words) - long + 1):
            start, end = words[first].start(), words[first + long - 1].end()
            if sheet := _sheet(text[start:end], known):
                beside = f"{text[:start]} {text[end:]}".strip()
                if other := _sheet(beside, known):
                    return (1, sheet), (1, other)
                number = re.search(r"(?<![\w./,])\d{1,2}(?![\w./,])", beside)
                if not number and re.search(r"\d", beside):
                    return None
                return ((max(int(number[0]), 1) if number else 1, sheet),)
    return None
