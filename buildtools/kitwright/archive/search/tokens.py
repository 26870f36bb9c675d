"""A text as tokens: words in their plain form, numbers, and sizes that are one token however they are written.

`theme/assets/sizes.js` reads sizes alike in a reader's browser, `search.js` there the words by the same table
(`kitwright.telling.searching`); `tests/archive/search_vectors.json` holds both sides to it.

A token is a text: `strip` a word, `20` a number, `17/4in` a length, `17/4x11/2in` a size.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from fractions import Fraction

from kitwright.telling.searching import ALIKE, NUMBERS, PARTS, TOGETHER, UNITS
from kitwright.units import VULGAR

_SIGNS = str.maketrans(
    {glyph: f" {value.numerator}/{value.denominator} " for glyph, value in VULGAR.items()}
    | {"⁄": "/", "×": "x", "″": '"', "”": '"', "“": '"', "„": '"', "’": "'", "‘": "'", "–": "-", "—": "-", "−": "-", "‑": "-", "ß": "ss"}
)
# Bounded, since a text may come from a stranger: what has more digits is a word.
_PLAIN = r"(?:[0-9]{1,3}(?:,[0-9]{3}){1,2}(?![0-9])|[0-9]{0,6}[.,][0-9]{1,6}|[0-9]{1,9})"
_NUMBER = rf"(?:(?:[0-9]{{1,6}}(?:\s*[-&]\s*|\s+(?:and\s+)?))?[0-9]{{1,2}}\s*/\s*(?:2|3|4|8|16|32|64)(?![0-9/])|{_PLAIN})"
# "in" is a unit unless it goes on as the word: "2 in the middle", "2-in-1".
_UNIT = r"(?:(?:inches|inch|ins|millimet(?:re|er)s?|centimet(?:re|er)s?|mms?|cms?)(?!\w)|in(?![\w-])(?!\s+(?:the|a|an|one|this|each|all|my|your)\b)|\"|'')"
_TO_UNIT = r"(?:\s*|-)"
_SQUARE = r"(?:\.?(?:\s+|-)(?P<square>squares?|sq)(?!\w))?"
"""`8 inch square`: one edge tells both."""
_TOKEN = re.compile(
    rf"(?P<about>≈\s*)?(?P<first>{_NUMBER})(?:{_TO_UNIT}(?P<unit1>{_UNIT}))?(?:\s*[x*]\s*|\s+by\s+|-by-)(?P<about2>≈\s*)?(?P<second>{_NUMBER})(?:{_TO_UNIT}(?P<unit2>{_UNIT})|(?!\w))"
    rf"|(?P<about3>≈\s*)?(?P<length>{_NUMBER}){_TO_UNIT}(?P<unit>{_UNIT}){_SQUARE}"
    rf"|(?P<number>{_NUMBER})(?!\w)"
    r"|(?P<word>[^\W_]+(?:'[^\W_]+)*)",
    re.IGNORECASE,
)
_COUNTED = re.compile(
    rf"\b(?:(?P<tens>twenty|thirty|forty|fifty)(?:\s+|-))?(?P<count>{'|'.join(NUMBERS)})(?=(?:\s+|-)(?:inch|inches|millimet(?:re|er)s?|centimet(?:re|er)s?|mm|cm)\b)",
    re.IGNORECASE,
)
"""`six inch`, `twenty-four inches`."""
_BY = re.compile(rf"\b(?P<count>{'|'.join(NUMBERS)})(?=\s+by\s+[0-9])", re.IGNORECASE)
"""`six by six inch`, once the second is in figures."""
_WEIGHT = re.compile(r"(?<=[0-9])(?=(?:lbs?|gsm)\b)", re.IGNORECASE | re.ASCII)
"""`80lb`, where nothing stands between."""
_PART = rf"(?P<part>{'|'.join(PARTS)})"
_SAID = re.compile(
    rf"\b(?P<by>by\s+)?(?:(?P<whole>[a-z]{{3,9}}|[0-9]{{1,2}})\s+and\s+)?(?:an?\s+|(?P<top>[a-z]{{3,9}}|[0-9]{{1,2}})(?:\s+|-))?{_PART}s?\b"
    r"(?:(?P<inch>(?:\s+|-)(?:of\s+)?(?:an?\s+)?inch(?:es)?\b)|(?=(?P<on>\s+by\b)|))",
    re.IGNORECASE,
)
"""`half an inch`, `three quarter inches`, `two and a half inches`; `five and a half` where `by` stands beside it."""
_SAID_AFTER = re.compile(rf"\b(?:(?P<whole>[a-z]{{3,9}}|[0-9]{{1,2}}|an?)\s+)?inch(?:es)?\s+and\s+an?\s+{_PART}\b", re.IGNORECASE)
"""`an inch and a half`."""
_THOUSANDS = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+")


def plain(text: str) -> str:
    """A text without accents and with one sign for each thing: `5½″` → `5 1/2 "`."""
    text = _WEIGHT.sub(" ", text).translate(_SIGNS)
    if text.isascii():
        return text
    return "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.category(c).startswith("M"))


def in_figures(text: str) -> str:
    """A text with lengths that stand there in words as figures: `half an inch` → `1/2 inch`, `six inch` → `6 inch`."""
    return _BY.sub(_figures, _COUNTED.sub(_figures, _SAID_AFTER.sub(_after, _SAID.sub(_before, text))))


def _figures(found: re.Match[str]) -> str:
    said = found.groupdict()
    return str((_count(said.get("tens")) or 0) + (_count(said["count"]) or 0))


def _before(found: re.Match[str]) -> str:
    whole, top, below = _count(found["whole"]), _count(found["top"]), PARTS[found["part"].lower()]
    if top is not None and top >= below or not (found["inch"] or (found["by"] or found["on"]) and whole is not None):
        return found[0]
    # A word before it that is no number stays.
    kept = f"{found['whole']} and " if found["whole"] and whole is None else ""
    kept += f"{found['top']} " if found["top"] and top is None else ""
    return f"{found['by'] or ''}{kept}{f'{whole} ' if whole is not None else ''}{top or 1}/{below} inch"


def _after(found: re.Match[str]) -> str:
    word = found["whole"] or "a"
    whole = 1 if word.lower() in ("a", "an") else _count(word)
    return f"{f'{word} ' if whole is None else ''}{whole or 1} 1/{PARTS[found['part'].lower()]} inch"


def _count(word: str | None) -> int | None:
    number = NUMBERS.get((word or "").lower(), word or "")
    return int(number) if number.isdecimal() else None


def value(number: str, unit: str = "") -> Fraction | None:
    """What a number says; None where it is no number but a part of something else, as a date is.

    Args:
        number: as it stands there.
        unit: its unit, if any: nothing here is a thousand inches or centimetres, so a comma in those is that of a decimal.
    """
    whole, slash, below = number.partition("/")
    if not slash:
        if _THOUSANDS.fullmatch(number) and not (unit in ("in", "cm") and number.count(",") == 1):
            return Fraction(number.replace(",", ""))
        return Fraction(number.replace(",", "."))
    parts = [int(n) for n in re.findall(r"\d+", whole)]
    if parts[-1] >= int(below):
        return None
    return (parts[0] if len(parts) == 2 else 0) + Fraction(parts[-1], int(below))


def tokens(text: str, about: bool = False) -> Iterator[str]:
    """The tokens of a text in their order.

    Args:
        text: any text.
        about: whether sizes that are marked as rounded count too.
    """
    for found in _TOKEN.finditer(in_figures(plain(text))):
        word, number, length, first = found["word"], found["number"], found["length"], found["first"]
        if word:
            yield _singular(word.lower())
        elif number:
            said = value(number)
            # A fraction is of an inch, whatever else it may be.
            yield from _apart(number) if said is None else [f"{said}in" if "/" in number else str(said)]
        elif length:
            unit = _unit(found["unit"])
            said = value(length, unit)
            if said is None:
                yield from _apart(length)
            elif about or not found["about3"]:
                yield f"{said}x{said}{unit}" if found["square"] else f"{said}{unit}"
        else:
            unit = _unit(found["unit2"] or found["unit1"])
            sides = value(first, unit), value(found["second"], unit)
            if None in sides:
                yield from _apart(first + " " + found["second"])
            elif about or not (found["about"] or found["about2"]):
                yield f"{sides[0]}x{sides[1]}{unit or ('in' if '/' in first + found['second'] else '')}"


def _unit(typed: str | None) -> str:
    return UNITS.get((typed or "").lower().replace("''", '"'), "")


def _apart(number: str) -> list[str]:
    return [str(int(n)) for n in re.findall(r"\d+", number)]


def _singular(word: str) -> str:
    """A word without its plural s, an apostrophe, or the spelling of a number; `maker's` → `maker`."""
    word = word.removesuffix("'s").replace("'", "")
    if word.isascii() and len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        if word.endswith("ies") and len(word) > 4:
            word = word[:-3] + "y"
        elif word.endswith(("xes", "ches", "shes", "sses", "zes")):
            word = word[:-2]
        else:
            word = word[:-1]
    word = NUMBERS.get(word, word)
    return ALIKE.get(word, word)


def together(said: list[str]) -> list[str]:
    """What of two or three tokens that stand side by side is one word."""
    found = []
    for n in range(len(said) - 1):
        for many in (2, 3):
            one = TOGETHER.get(" ".join(said[n : n + many])) if n + many <= len(said) else None
            if one:
                found.append(one)
    return found


_HUNDREDTHS = {"in": 2540, "cm": 1000, "mm": 100}
"""Of a millimetre, in each unit."""


def hundredths(length: Fraction, unit: str) -> int:
    """A length in hundredths of a millimetre, to the nearest; exactly from the middle up."""
    scaled = length * _HUNDREDTHS[unit]
    return (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)


def size_terms(size: tuple[Fraction, ...], unit: str) -> Iterator[str]:
    """The terms of a length or a size: each edge, and both with the short one first; with a mark for inches or metric.

    They stand in the order of their lengths, so that what is about as long stands together.
    """
    mark = "i" if unit == "in" else "m"
    edges = sorted(f"={hundredths(edge, unit):07d}" for edge in size)
    yield from dict.fromkeys(edge + mark for edge in edges)
    if len(edges) == 2:
        yield f"{edges[0]}x{edges[1][1:]}{mark}"


_SIZE = re.compile(r"(\d+(?:/\d+)?)(?:x(\d+(?:/\d+)?))?(in|mm|cm)?")
WIDEST = 48
"""No card and no sheet is as many inches wide: a bare size beyond is in millimetres."""


def terms(said: list[str], unit: str = "in") -> Iterator[str]:
    """The terms of tokens, to be looked up.

    Args:
        said: the tokens.
        unit: what a size without unit is in.
    """
    for token in said:
        found = _SIZE.fullmatch(token)
        if found and (found[2] or found[3]):
            size = tuple(Fraction(edge) for edge in found.groups()[:2] if edge)
            yield from size_terms(size, found[3] or ("mm" if max(size) > WIDEST else unit))
        else:
            yield token
    yield from together(said)
