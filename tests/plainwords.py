"""Whether a sentence reads as a person would write it: number and noun agree, no word twice, no nought of anything, `an 8`."""

from __future__ import annotations

import re

NOUNS = {
    "card": "cards",
    "sheet": "sheets",
    "piece": "pieces",
    "base": "bases",
    "cut": "cuts",
    "measure": "measures",
    "stroke": "strokes",
    "leftover": "leftovers",
    "arrangement": "arrangements",
    "envelope": "envelopes",
    "column": "columns",
    "strip": "strips",
    "look": "looks",
    "half": "halves",
    "part": "parts",
    "mat": "mats",
    "kit": "kits",
    "way": "ways",
    "file": "files",
    "difference": "differences",
    "set": "sets",
    "error": "errors",
    "place": "places",
    "layer": "layers",
}
_MANY, _ONE = "|".join(NOUNS.values()), "|".join(set(NOUNS) - {"cut", "half"})
_COUNT = r"(?<![\d½¼¾⅛⅜⅝⅞.,–⁄×] )(?<![\w½¼¾⅛⅜⅝⅞.,–⁄])"
FAULTS = {
    "one of several": re.compile(rf"{_COUNT}(?:1|[Oo]ne) (?:{_MANY})\b"),
    "several of one": re.compile(
        rf"{_COUNT}(?:[2-9]|[1-9]\d+|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve) (?:{_ONE})\b(?! of (?:a|one))"
    ),
    "nought": re.compile(rf"{_COUNT}(?:0|zero) (?:in|mm|{_MANY}|{_ONE})\b"),
    "article": re.compile(r"\b[Aa] (?:8(?!\w)|8\d?[½¼¾⅛⅜⅝⅞ ]|11[½¼¾⅛⅜⅝⅞ ]|18[½¼¾⅛⅜⅝⅞ ]|⅛|A4|ISO)|\b[Aa]n (?:[1-79](?!\w)|[½¼¾]|US\b)"),
    "twice": re.compile(r"\b(?!that\b)([A-Za-z]{2,}) \1\b(?!-)"),
    "marks": re.compile(r" [,.;:](?!\d)|[,;:]{2}|[,;:]\.|(?<!\.)\.\.(?!\.)|  |\(\)|“”|\[\[|\]\]"),
    "code": re.compile(r"\bNone\b|Fraction\(|\bnan\b|<[a-z]+ object"),
    "dangling": re.compile(r"(?:\band|\bor|\bof|,)\s*\.?$"),
}


def faults(text: str) -> list[str]:
    """What reads wrong in a sentence or a line."""
    return [f"{what}: “{match[0]}” in “{text}”" for what, pattern in FAULTS.items() for match in [pattern.search(text)] if match]
