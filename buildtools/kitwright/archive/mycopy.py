"""The page on which a reader types the code of her printable and learns whether it is current."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.release import codes
from kitwright.release.lookup import Answer, table
from kitwright.telling.lookup import ToldCopy, code_data, codes_json, do, says


@dataclass(frozen=True)
class CodeRow:
    """One code, as the list without script tells it."""

    code: str
    answer: Answer
    says: str
    """What it is."""
    told: ToldCopy
    """What to do, and what the newest says otherwise."""


@dataclass(frozen=True)
class Copied:
    """The codes of one kit."""

    rows: tuple[CodeRow, ...]
    """Its revisions newest first, then previews."""
    data: Mapping[str, Mapping[str, object]]
    """What the script is told of each code."""


def copies_of(kit: Kit, club: Club, as_of: dt.datetime, *, team: bool) -> Copied | None:
    """A kit's codes; None where it has none.

    Args:
        kit: as it is now.
        club: whose.
        as_of: the moment.
        team: whether upcoming kits may be known.
    """
    answers = table([kit], club, as_of, team=team)
    if not answers:
        return None
    rows = [CodeRow(codes.shown(plain), answer, says(answer), do(answer)) for plain, answer in answers.items()]
    rows.sort(key=lambda r: (r.answer.kind == "preview", -(r.answer.revision or 0), r.code))
    return Copied(tuple(rows), {plain: code_data(answer) for plain, answer in answers.items()})


@dataclass(frozen=True)
class CopyView:
    """What the page says."""

    kits: tuple[tuple[Any, tuple[CodeRow, ...]], ...]
    """Kits that have codes, newest first; their revisions newest first, then previews."""
    data: Markup
    """The table for the script."""
    example: str
    alphabet: str


def copy_view(kits: Iterable[tuple[Any, Copied]]) -> CopyView | None:
    """The page's words; None where there is no code to ask for.

    Args:
        kits: each that has codes, with them, newest first.
    """
    there = tuple(kits)
    if not there:
        return None
    data = {code: said for _, copied in reversed(there) for code, said in copied.data.items()}
    return CopyView(
        tuple((kit, copied.rows) for kit, copied in there), in_script(codes_json(data)), codes.EXAMPLE, " ".join(codes.ALPHABET)
    )


def in_script(json: str) -> Markup:
    """JSON that may stand in a page's script block: nothing in it ends the block or opens a tag."""
    for sign in "<>&":
        json = json.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(json)
