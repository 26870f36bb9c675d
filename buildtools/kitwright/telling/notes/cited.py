"""What a citation says where it stands in somebody's prose."""

from __future__ import annotations

import re
from fractions import Fraction

from kitwright.telling.words import article, led, listed, number, sheets_text

_LEADS = re.compile(
    r"(?:^|\n\s*\n|\n *(?:[-*+]|\d+[.)])(?= )|\n *#+(?= )|(?<!\be\.g)(?<!\bi\.e)(?<!\bapprox)(?<!\bca)[.!?…][”’\"')*_]*(?=\s))[^\w,;:.–—(]*$"
)
"""What stands before a word that leads a sentence."""
_ARTICLE = re.compile(r"(?<![\w-])([Aa])n?(\s+)$")


def cards(n: int) -> str:
    return number(n, "card", "cards")


def pieces(n: int) -> str:
    return number(n, "piece", "pieces")


def bases(n: int) -> str:
    return number(n, "base", "bases")


def sheets(sheets: Fraction) -> str:
    return sheets_text(sheets)


def places(places: tuple[str, ...]) -> str:
    return listed(places)


def phrase(said: str, after: str) -> str:
    """A phrase in words, with a capital where it leads a sentence."""
    return led(said) if _LEADS.search(after) else said


def before(text: str, said: str) -> str:
    """What stands before a citation, its article made to agree: `an 8 × 8 in card`."""
    return _ARTICLE.sub(lambda m: article(said, m[1]) + m[2], text)
