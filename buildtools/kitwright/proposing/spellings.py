"""Numbers, measures and lists as people type them, put into the forms that are read everywhere.

Nothing is guessed: what could be two things stays as it was typed, and is refused where it is read.
"""

from __future__ import annotations

import re
from fractions import Fraction

NUMBERS = {name: number for number, name in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), 1)} | {
    "a": 1,
    "an": 1,
    "a single": 1,
    "a pair": 2,
    "a dozen": 12,
    "dozen": 12,
    "fifteen": 15,
    "twenty": 20,
}
"""Words for whole numbers."""
_LONGEST_FIRST = "|".join(sorted(NUMBERS, key=len, reverse=True))
WHOLE = rf"(?:\d{{1,6}}|(?:{_LONGEST_FIRST})(?=\s))"
"""A whole number in figures or words."""
NONE = ("none", "no", "nothing", "zero")
_UNIT = r"(?:\s*(?:inches|inch|in|mm|cm|[\"″”])\.?)?"
_COMMAS = re.compile(rf"\s*(\d+(?:,\d+)?){_UNIT}\s*x\s*(\d+(?:,\d+)?){_UNIT}\s*", re.IGNORECASE)
_SQUARE = re.compile(r"(?P<side>.*?[\d½¼¾⅛⅜⅝⅞⅓⅔\"″”.]|.*?(?:in|inch|inches|mm|cm))[\s-]+squared?", re.IGNORECASE)
_CROSS = re.compile(r"(?<=[\d½¼¾⅛⅜⅝⅞⅓⅔\"″”mnhMNH.])\s*(?:\*|×|✕|✖|⨯|\bby\b|(?<=\d)by(?=\s*\d))\s*(?=[\d½¼¾⅛⅜⅝⅞⅓⅔.])")


def whole(text: str) -> int | None:
    """A whole number in figures or words; None for anything else."""
    plain = " ".join(text.casefold().split())
    return int(plain) if re.fullmatch(r"\d{1,6}", plain) else NUMBERS.get(plain)


def counted(text: str, *things: str) -> str:
    """A number of things as figures alone: `8 cards`, `eight`, `a dozen cards` …; any other text as it was."""
    found = re.fullmatch(rf"\s*(.*?)(?:\s+(?:{'|'.join(things)}))?\s*", text, re.IGNORECASE)
    number = whole(found[1]) if found else None
    return text if number is None else str(number)


def measure(text: str) -> str:
    """Two sides in the form that is read: decimal commas, `by`, `*`, `8 inch square`, `8-inch`, `8x8s`; any other text as it was.

    A comma is a decimal one where both sides can be numbers with one, and nothing else stands there.
    """
    plain = re.sub(r"(?<=\d)-(?=(?:inch|inches|in|mm|cm)\b)", " ", " ".join(text.split()), flags=re.IGNORECASE)
    plain = re.sub(r"(?<=x)(\s*\d+)s$", r"\1", plain, flags=re.IGNORECASE)
    if square := _SQUARE.fullmatch(plain):
        return f"{square['side']} x {square['side']}"
    plain = _CROSS.sub(lambda found: found[0] if found[0].strip() == "×" else " x ", plain)
    return plain.replace(",", ".") if _COMMAS.fullmatch(plain.replace("×", "x").replace("X", "x")) else plain


def length(text: str) -> str:
    """One length, of which a comma can only be a decimal one."""
    plain = re.sub(r"(?<=\d)-(?=(?:inch|inches|in|mm|cm)\b)", " ", text.strip(), flags=re.IGNORECASE)
    if plain.casefold() in NONE:
        return "0"
    return plain.replace(",", ".") if re.fullmatch(r"\d*,\d+\s*[A-Za-z\"″”]*", plain) else plain


_PARTS = re.compile(r"\s*[,;]\s*|\s+(?:and|or)\s+|\s*&\s*", re.IGNORECASE)


def several(text: str) -> list[str]:
    """Values on one line, with commas or `and` between them."""
    return _PARTS.split(text.strip())


def two_ways(text: str) -> tuple[str, str] | None:
    """What stands before and after the comma of a text that is two whole numbers, or one with a decimal comma: `3,5`."""
    found = re.fullmatch(rf"\s*(\d+),(\d+{_UNIT})\s*", text, re.IGNORECASE)
    return (found[1], found[2]) if found else None


def part(text: str) -> Fraction | None:
    """A share: `10%`, `10`, `10 percent`, `12,5 %`, `1/10`; None for anything else, and for 0.1, which could be two."""
    plain = re.sub(r"\s*(?:per\s?cent|percent|pct)\s*$", "%", text.strip(), flags=re.IGNORECASE)
    if plain.casefold().rstrip("%") in (*NONE, ""):
        return Fraction(0) if plain.strip("%") else None
    if found := re.fullmatch(r"(\d{1,3})\s*/\s*([1-9]\d{0,2})", plain):
        return Fraction(int(found[1]), int(found[2]))
    found = re.fullmatch(r"(\d{1,3}(?:[.,]\d{1,3})?)\s*(%?)", plain)
    if not found or not found[2] and re.search("[.,]", found[1]):
        return None
    return Fraction(found[1].replace(",", ".")) / 100
