"""The page on which a reader types the code of her printable and learns whether it is current."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from kitwright.archive.gather import Archive
from kitwright.kit.kit import Kit, PastKit
from kitwright.release import codes
from kitwright.release.lookup import Answer, table
from kitwright.telling.lookup import ToldCopy, do, says, table_json


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
class CopyView:
    """What the page says."""

    kits: tuple[tuple[Kit | PastKit, tuple[CodeRow, ...]], ...]
    """Kits that have codes, newest first; their revisions newest first, then previews."""
    data: Markup
    """The table for the script."""
    example: str
    alphabet: str


def copy_view(archive: Archive) -> CopyView | None:
    """The page's words; None where there is no code to ask for."""
    answers = table(archive.kits, archive.club, archive.at, team=archive.audience == "team" or archive.as_of is None)
    if not answers:
        return None
    rows: dict[str, list[CodeRow]] = {}
    for plain, answer in answers.items():
        rows.setdefault(answer.kit, []).append(CodeRow(codes.shown(plain), answer, says(answer), do(answer)))
    for told in rows.values():
        told.sort(key=lambda r: (r.answer.kind == "preview", -(r.answer.revision or 0), r.code))
    return CopyView(
        tuple((kit, tuple(rows[kit.id])) for kit in reversed(archive.sources) if kit.id in rows),
        in_script(table_json(answers)),
        codes.EXAMPLE,
        " ".join(codes.ALPHABET),
    )


def in_script(json: str) -> Markup:
    """JSON that may stand in a page's script block: nothing in it ends the block or opens a tag."""
    for sign in "<>&":
        json = json.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(json)
