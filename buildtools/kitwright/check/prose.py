"""The notes and whatever else may cite: every citation ends, names something, and reads right where it stands."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from kitwright.check.typed import singular
from kitwright.errors import Place, UserError
from kitwright.findings import Finding, errors_in
from kitwright.kit.kit import Kit
from kitwright.kit.markup import left_out
from kitwright.work.cite import CITATION, OPEN, filled, notes_place, prose, said_of, text_place, told
from kitwright.work.worked import Worked

CODE = re.compile(r"(`+)[^`].*?\1", re.DOTALL)

WORDLESS = re.compile(r"!\[\s*\]\(<?([^)\s>]+)")
"""A picture of the notes, in whose square brackets nothing stands."""


def _line_ends(match: re.Match) -> str:
    return "\n" * match[0].count("\n")


def find(worked: Worked) -> Iterator[Finding]:
    """Citations that name nothing or never end, and any that doubles a word."""
    kit = worked.kit
    yield from filled(worked)[1]
    try:
        yield from _doubled(worked, kit.notes, notes_place(kit))
    except UserError as error:
        yield from errors_in(error)
    for path, text in prose(kit.typed or kit.spec):
        try:
            yield from _doubled(said_of(worked, path), text, text_place(kit, path))
        except UserError:
            continue
    # Lines are kept, and citations that end taken out; code in backticks may show brackets of its own.
    rest = CODE.sub(_line_ends, CITATION.sub(_line_ends, worked.kit.notes))
    for number, line in enumerate(rest.split("\n"), 1):
        if OPEN in line:
            yield Finding("warning", Place(worked.kit.notes_file, number), "cite.unended")
        for picture in WORDLESS.finditer(line):
            yield Finding("warning", Place(worked.kit.notes_file, number), "pieces.photo-without-text", file=picture[1], notes=True)
    yield from _left_out(kit)


def _left_out(kit: Kit) -> Iterator[Finding]:
    """HTML in the notes that no page may hold."""
    if not kit.notes:
        return
    try:
        gone = left_out(kit.notes)
    except UserError as error:
        yield from errors_in(error, Place(kit.notes_file))
        return
    lines = kit.notes.casefold().split("\n")
    for tag, name in gone:
        picture = tag == "img" and name is None
        signs = ("](http", "](//", "<img") if picture else (name or f"<{tag}",)
        place = Place(kit.notes_file, next((n for n, line in enumerate(lines, 1) if any(sign in line for sign in signs)), 1))
        if picture:
            yield Finding("warning", place, "prose.foreign-picture")
        else:
            yield Finding("warning", place, "prose.left-out", tag=tag, attribute=name)


_LAST, _NEXT = re.compile(r"[^\W\d_]{3,}$"), re.compile(r"(?!\s*\n\s*\n)\s+([^\W\d_]+)")
_COUNTED = {"cards": ("card",), "sheets": ("sheet",), "pieces": ("piece", "base")}
"""What a citation that begins with this word counts, and names after the number."""
_SEVERAL = ("cards", "sheets", "pieces", "bases")


def _doubled(worked: Worked, text: str, place: Callable[[int], Place]) -> Iterator[Finding]:
    """A citation that ends in the word that stands once more after it, or a bare 1 before several."""
    parts = list(told(worked, text, place))
    for match, (_, said), (after, _) in zip(CITATION.finditer(text), parts, parts[1:]):
        follows = _NEXT.match(after)
        if not follows:
            continue
        at, word = place(text[: match.start()].count("\n") + 1), follows[1]
        if counted := _COUNTED.get(match[1].split()[0]):
            doubled = singular(word) in counted
        else:
            # A title, the name of a paper, of a sheet or an envelope: as its author, or the trade, has it.
            last = _LAST.search(said)
            doubled = last is not None and last[0].casefold() == word.casefold()
        if doubled:
            yield Finding("warning", at, "cite.doubles-a-word", said=said, word=word)
        elif said == "1" and word.casefold() in _SEVERAL:
            yield Finding("warning", at, "cite.one-of-several", word=word)
