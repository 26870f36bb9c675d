"""Text for pages that are Markdown outside and HTML inside.

One way of escaping is safe in both: HTML's own characters and those that mean something
in Markdown become entities, which neither of the two reads any further.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from markdown.extensions.toc import slugify, unique
from markupsafe import Markup

from kitwright.kit.markup import mapped, parts_of
from kitwright.telling.words import curly
from kitwright.units import other_unit

FRACTION = re.compile(r"[0-9]+\u2044[0-9]+")
_NUMBER = r"≈?(?:\d+(?:\.\d+)?(?:[½¼¾⅛⅜⅝⅞]| \d+\u2044\d+)?|[½¼¾⅛⅜⅝⅞]|\d+\u2044\d+)"
MEASURE = re.compile(rf"(?<![\d.,#&\u2044])(?:{_NUMBER} × )?{_NUMBER} (?:in|mm|cm|ft|m)(?![\w-])")
PLACES = frozenset("need pieces cut build more what-you-need the-sketch the-pieces cutting-guides step-by-step take-care notes".split())
"""Ids that every kit's page has of its own: a heading of her notes that is called so gets a number."""
_ENTITIES = str.maketrans({c: f"&#{ord(c)};" for c in "\"'\\`*_{}[]#|~^"} | {"&": "&amp;", "<": "&lt;", ">": "&gt;"})


def plain(text: object) -> Markup:
    """Any text as page text, nothing in it read as markup; for attributes too."""
    return Markup(" ".join(str(text).split()).translate(_ENTITIES))


def shown(text: object) -> Markup:
    """The same for reading: apostrophes curled; measures wrapped, so that no line breaks in them, and fractions such as 15⁄16, so that the style sheet sets them as such."""
    if isinstance(text, Markup):
        return text
    return fractions(MEASURE.sub(lambda m: f'<span class="kw-size">{m[0]}</span>', plain(curly(str(text)))))


def fractions(text: str) -> Markup:
    """Wrap the fractions of a text that is markup already."""
    return Markup(FRACTION.sub(lambda m: f'<span class="kw-frac">{m[0]}</span>', text))


@dataclass(frozen=True)
class NotesView:
    """An author's notes as part of a page."""

    text: Markup
    """HTML that is safe; headings begin at the fourth level, below that of the notes, each with an id that is the page's only one."""
    links: tuple[str, ...]
    """Every address that they lead to, as typed."""


_PARAGRAPH = re.compile(r"(<p>.*?</p>)", re.DOTALL)


def in_both(own: str, other: str, unit: str) -> Markup:
    """HTML that is told in both units: each paragraph that differs stands there in either, and the page shows the one that the reader wants.

    Args:
        own: in the kit's own unit, safe.
        other: the same in the other.
        unit: the kit's own.
    """
    if own == other:
        return Markup(own)
    pairs = list(zip(_PARAGRAPH.split(own), _PARAGRAPH.split(other)))
    parted = own.count("<p>") == other.count("<p>") and all(a == b for a, b in pairs[::2])
    if not parted:
        return _two(own, other, unit)
    return Markup("").join(Markup(a) if a == b else _two(a, b, unit) for a, b in pairs)


def _two(own: str, other: str, unit: str) -> Markup:
    second = f'<div data-kw="{other_unit(unit)}" data-search-exclude>{other}</div>'
    return Markup(f'<div class="kw-two kw-two--whole kw-two--block"><div data-kw="{unit}">{own}</div> {second}</div>')


def notes_view(notes: str, other: str = "", unit: str = "in") -> NotesView:
    """An author's notes as part of a page; nothing of them is read as Markdown, or as HTML, a second time.

    Args:
        notes: as they were typed, citations filled in.
        other: the same told in the other unit; empty where that is not wanted.
        unit: the kit's own.

    Raises:
        UserError: they are nested too deeply.
    """
    parts, links = parts_of(notes.strip("\n"))
    others = parts_of(other.strip("\n"))[0] if other else parts
    used = set(PLACES)
    top = min((part.level for part in parts if part.level), default=0)
    blocks = []
    for part, beside in zip(parts, others, strict=True):
        if part.level:
            level, place = min(part.level - top + 4, 6), unique(slugify(part.text, "-"), used)
            blocks.append(f'<h{level} id="{plain(place)}">{fractions(plain(part.text))}</h{level}>')
        else:
            prose = in_both(mapped(part.text, fractions), mapped(beside.text, fractions), unit)
            blocks.append(f'<div class="kw-prose">\n{prose}\n</div>')
    return NotesView(Markup("\n\n".join(blocks)), links)
