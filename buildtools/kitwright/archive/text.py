"""Text for pages that are Markdown outside and HTML inside.

One way of escaping is safe in both: HTML's own characters and those that mean something
in Markdown become entities, which neither of the two reads any further.
"""

from __future__ import annotations

import re

from markupsafe import Markup

from kitwright.words import curly

FRACTION = re.compile(r"[0-9]+\u2044[0-9]+")
_NUMBER = r"≈?(?:\d+(?:\.\d+)?(?:[½¼¾⅛⅜⅝⅞]| \d+\u2044\d+)?|[½¼¾⅛⅜⅝⅞]|\d+\u2044\d+)"
MEASURE = re.compile(rf"(?<![\d.,#&\u2044])(?:{_NUMBER} × )?{_NUMBER} (?:in|mm|cm|ft|m)(?![\w-])")
FENCE = re.compile(r"\s{0,3}(```+|~~~+)")
HEADING = re.compile(r"^(\s{0,3}#{1,5})(?=\s)")
_ENTITIES = {c: f"&#{ord(c)};" for c in "\"'\\`*_{}[]#|~^"} | {"&": "&amp;", "<": "&lt;", ">": "&gt;"}


def plain(text: object) -> Markup:
    """Any text as page text, nothing in it read as markup; for attributes too."""
    return Markup("".join(_ENTITIES.get(c, c) for c in " ".join(str(text).split())))


def shown(text: object) -> Markup:
    """The same for reading: apostrophes curled; measures wrapped, so that no line breaks in them, and fractions such as 15⁄16, so that the style sheet sets them as such."""
    if isinstance(text, Markup):
        return text
    return fractions(MEASURE.sub(lambda m: f'<span class="kw-size">{m[0]}</span>', plain(curly(str(text)))))


def fractions(text: str) -> Markup:
    """Wrap the fractions of a text that is markup already."""
    return Markup(FRACTION.sub(lambda m: f'<span class="kw-frac">{m[0]}</span>', text))


def slug(text: str) -> str:
    """A text as the name of a place on a page: `free band` → `free-band`."""
    return re.sub(r"[^\w]+", "-", text.casefold()).strip("-") or "x"


def notes_markdown(notes: str) -> Markup:
    """An author's notes as part of a page: her headings one level down, fractions wrapped."""
    lines, fence = [], ""
    for line in notes.strip().split("\n"):
        mark = FENCE.match(line)
        if mark and (not fence or mark[1].startswith(fence)):
            fence = "" if fence else mark[1]
        elif not fence:
            line = fractions(HEADING.sub(r"\1#", line))
        lines.append(line)
    return Markup("\n".join(lines))
