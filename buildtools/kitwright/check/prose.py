"""The notes and whatever else may cite: every citation ends, names something, and reads right where it stands."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.markup import left_out
from kitwright.kit.read import Kit
from kitwright.work.cite import CITATION, OPEN, UNENDED, filled, notes_place, prose, told
from kitwright.work.worked import Worked

CODE = re.compile(r"(`+)[^`].*?\1", re.DOTALL)


def _line_ends(match: re.Match) -> str:
    return "\n" * match[0].count("\n")


def find(worked: Worked) -> Iterator[Finding]:
    """Citations that name nothing or never end, and any that doubles a word."""
    kit = worked.kit
    yield from filled(worked)[1]
    try:
        yield from _doubled(worked, kit.notes, notes_place(kit))
    except UserError as error:
        yield from (Finding("error", one.place, one.problem, one.remedy) for one in error.each)
    for path, text in prose(kit.typed or kit.spec):
        try:
            yield from _doubled(worked, text, lambda _, path=path: kit.place(*path))
        except UserError:
            continue
    # Lines are kept, and citations that end taken out; code in backticks may show brackets of its own.
    rest = CODE.sub(_line_ends, CITATION.sub(_line_ends, worked.kit.notes))
    for number, line in enumerate(rest.split("\n"), 1):
        if OPEN in line:
            yield Finding("warning", Place(worked.kit.notes_file, number), UNENDED, "end it with  ]]")
    yield from _left_out(kit)


def _left_out(kit: Kit) -> Iterator[Finding]:
    """HTML in the notes that no page may hold."""
    if not kit.notes:
        return
    try:
        gone = left_out(kit.notes)
    except UserError as error:
        yield Finding("error", Place(kit.notes_file), error.problem, error.remedy)
        return
    lines = kit.notes.casefold().split("\n")
    for one in gone:
        word = one.split(" on <")[0].rstrip(">")
        signs = ("](http", "](//", "<img") if one == "<img>" else (word,)
        yield Finding(
            "warning",
            Place(kit.notes_file, next((n for n, line in enumerate(lines, 1) if any(sign in line for sign in signs)), 1)),
            "a picture from another site can't be shown, and is left out"
            if one == "<img>"
            else f"{one} can't stand on a page, and is left out",
            "put the picture into photos/ and name it from there"
            if one == "<img>"
            else "say it in words, with the plain signs of Markdown",
        )


_LAST, _NEXT = re.compile(r"[^\W\d_]{3,}$"), re.compile(r"(?!\s*\n\s*\n)\s+([^\W\d_]+)")
_COUNTED = ("cards", "sheets", "pieces", "bases")


def _doubled(worked: Worked, text: str, place: Callable[[int], Place]) -> Iterator[Finding]:
    """A citation whose last word stands once more after it, or a bare 1 before several."""
    parts = list(told(worked, text, place))
    for match, (_, said), (after, _) in zip(CITATION.finditer(text), parts, parts[1:]):
        last, follows = _LAST.search(said), _NEXT.match(after)
        if not follows:
            continue
        at, word = place(text[: match.start()].count("\n") + 1), follows[1]
        if last and last[0].casefold() == word.casefold():
            yield Finding(
                "warning",
                at,
                f"this reads “{said} {word}”",
                "take the second word out, or cite the bare number, such as [[count of cards]]",
            )
        elif said == "1" and word.casefold() in _COUNTED:
            yield Finding(
                "warning",
                at,
                f"this reads “{said} {word}”",
                "cite the phrase, such as [[cards]] or [[pieces of A]]; it takes the singular by itself",
            )
