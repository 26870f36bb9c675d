"""What was typed and says nothing: a list with nothing in it, and words without a letter or a figure."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.yamltext import Document, Path_
from kitwright.work.worked import Worked

_SIGNS = {"text", "currency"}
"""Where a sign may be all: a card may say no more than &, and money is often told by a sign."""
_NOBODY = {"to"}
"""Where nothing in it says something: who consents to nothing says so."""
_BARE = re.compile(r"(?:#{1,6}|[-*+]|\d{1,3}[.)])\s*")
"""A line of the notes that begins something and ends at once."""
_FENCE = re.compile(r"\s*(?:```|~~~)")


def find(worked: Worked) -> Iterator[Finding]:
    """Empty lists and empty words of a kit's file, then of its notes."""
    kit = worked.kit
    yield from typed_in(kit.document)
    yield from _notes(kit.notes, kit.notes_file)


def typed_in(document: Document) -> Iterator[Finding]:
    """The same in any file that is typed as lines of names and values."""
    for path, value in _entries(document.data, ()):
        names = [step for step in path if isinstance(step, str)]
        key, place = (names or [""])[-1], document.place(path)
        if not isinstance(value, str):
            if key not in _NOBODY:
                yield Finding("warning", place, "unsaid.nothing-in-it", key=key)
        elif not says(value) and key not in _SIGNS:
            yield Finding("warning", place, "unsaid.no-word", key=key, text=value)


def _entries(value: Any, path: Path_) -> Iterator[tuple[Path_, Any]]:
    """Every single value of a file, and every list or mapping that holds none, by its path."""
    if isinstance(value, (dict, list)) and value:
        for step, below in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _entries(below, (*path, step))
    elif value is not None and path:
        yield path, value


def says(text: str) -> bool:
    """Whether words have a letter, a figure or a picture in them."""
    # Pictures are words to whoever types them, as in the name of a club.
    return any(unicodedata.category(sign)[0] in "LNS" for sign in text)


def _notes(text: str, file: Path) -> Iterator[Finding]:
    """Notes of signs alone, and headings and entries of lists with nothing behind their sign."""
    if text.strip() and not says(text):
        yield Finding("warning", Place(file, 1), "unsaid.no-word", key="notes", text=text.strip())
        return
    code, before = False, ""
    for number, line in enumerate(text.split("\n"), 1):
        code ^= bool(_FENCE.match(line))
        # Below words a row of dashes makes a heading of them.
        if not code and _BARE.fullmatch(line) and (line.startswith("#") or not before.strip() or _BARE.match(before)):
            yield Finding("warning", Place(file, number), "unsaid.nothing-after", sign=line.strip())
        before = line
