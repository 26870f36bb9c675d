"""What the code page knows: code → which kit and revision, whether it is current, what to do.

The public table holds nothing of a kit before its reveal, not even a scrambled code: a code
that is sound but unknown is told as such by the page. The team's table holds those too.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any, Literal

from kitwright.kit.model import Club
from kitwright.kit.read import Kit
from kitwright.release import codes
from kitwright.release.calendar import aware, due, zone
from kitwright.release.diff import differences, worst
from kitwright.release.errata import renewed
from kitwright.release.record import Revision, released
from kitwright.release.revisions import frozen
from kitwright.release.state import preview_code
from kitwright.telling.words import date_text
from kitwright.work.worked import work


@dataclass(frozen=True)
class Answer:
    """What a code stands for."""

    kit: str
    title: str
    kind: Literal["revision", "preview"]
    """`preview`: a printable made before the release."""
    revision: int | None
    """Its revision; for a preview the one that it became, None when it became none."""
    current: bool
    """Whether its sizes and cuts are those of the newest revision."""
    says: str
    """What it is, in a sentence."""
    do: str
    """What to do, in a sentence or two."""
    see: str = ""
    """Where that is told at length, from the top of the site."""


def table(kits: Iterable[Kit], club: Club, as_of: dt.datetime, *, team: bool = False) -> dict[str, Answer]:
    """Every code that may be answered at an instant, without its dash.

    Args:
        kits: the kits of the archive.
        club: who publishes.
        as_of: the instant.
        team: whether this is for the team's own site, which knows upcoming kits.
    """
    found: dict[str, Answer] = {}
    for kit in kits:
        public, revisions = due(kit, club, as_of), released(kit)
        if public or team:
            past = [r for r in revisions if r.at <= aware(as_of)]
            # A kit that is public though it was never released has its preview's code.
            if past or team or not revisions:
                for code, answer in (*_previews(kit, past, public), *_revisions(kit, club, past)):
                    found[code.replace("-", "")] = answer
    return dict(sorted(found.items()))


def _revisions(kit: Kit, club: Club, past: list[Revision]):
    if not past:
        return
    title, newest = frozen(kit, past[-1]).spec.title, past[-1]
    for revision in past:
        released_on = date_text(revision.at.astimezone(zone(club.time_zone)).date())
        says = f"{title}, revision {revision.number}, released {released_on}."
        if revision is newest:
            yield (
                revision.code,
                Answer(
                    kit.id, title, "revision", revision.number, True, f"{says} It is the newest.", "Cut along: nothing need be changed."
                ),
            )
        else:
            yield (
                revision.code,
                Answer(
                    kit.id,
                    title,
                    "revision",
                    revision.number,
                    False,
                    f"{says} Revision {newest.number} replaces it.",
                    to_do(kit, revision, newest),
                    errata_place(newest),
                ),
            )


def errata_place(revision: Revision) -> str:
    """Where the page of errata tells what a revision mends."""
    return f"errata.html#{revision.kit}-r{revision.number}"


def to_do(kit: Kit, old: Revision, newest: Revision) -> str:
    """What a reader of an older revision does: the gravest of the differences to the newest, and where to read them.

    What was changed in between and changed back does not concern her.
    """
    before, after = work(frozen(kit, old)), work(frozen(kit, newest))
    # What her copy says otherwise than it is worked out now, where the newest has it right.
    right = [d for d in renewed(before, old) if d not in renewed(after, newest)]
    grade = worst([*differences(before, after), *right])
    return {
        "cosmetic": "Your copy is fine to cut from; only words have changed since.",
        "write in": "Write the changes on your copy by hand: the page of corrections lists them. The pieces keep their sizes.",
        "recut": "Stop before you cut: the page of corrections says which pieces are cut otherwise now, and what to do with those that you have.",
    }[grade]


def _previews(kit: Kit, past: list[Revision], public: bool):
    """Codes of printables made before the release: of this very state, and those that testers noted."""
    newest = past[-1] if past else None
    title = frozen(kit, newest).spec.title if newest else kit.spec.title
    if newest is None:
        says, do = (
            ("It was not released yet, so it may still change.", "Cut along, and look here again before you cut a large batch.")
            if public
            else ("It is not public yet.", "Cut and try it, and tell what you find. Please show it to nobody before the reveal.")
        )
        yield (
            preview_code(work(kit)),
            Answer(kit.id, title, "preview", None, True, f"{title}, a preview of the kit as it is now. {says}", do),
        )
    known = {test.code.upper() for test in kit.spec.tested}
    became = {preview_code(work(frozen(kit, r))): r for r in past}
    for code in sorted(known):
        plain = code.replace("-", "").replace(" ", "")
        if codes.is_sound(plain) and codes.shown(plain) not in became and (newest or codes.shown(plain) != preview_code(work(kit))):
            yield (
                codes.shown(plain),
                Answer(
                    kit.id,
                    title,
                    "preview",
                    None,
                    False,
                    f"{title}, a preview from while the kit was being tested. It is out of date.",
                    "Print the newest one." if newest else "Print a new preview.",
                ),
            )
    for code, revision in became.items():
        same = revision is newest
        yield (
            code,
            Answer(
                kit.id,
                title,
                "preview",
                revision.number,
                same,
                f"{title}, a preview of what became revision {revision.number}.",
                "It is the same as the newest, only headed PREVIEW." if same else to_do(kit, revision, newest),
                "" if same else errata_place(newest),
            ),
        )


def table_json(answers: dict[str, Answer]) -> str:
    """The table for the code page, with all that its script needs to tell a slip; the same text every time."""
    data: dict[str, Any] = {
        "alphabet": codes.ALPHABET,
        "root": codes.ROOT,
        "length": codes.DATA + 1,
        "group": codes.GROUP,
        "unknown": "This code is sound, but it names nothing that is public. If your pages say PREVIEW, ask whoever gave them to you.",
        "codes": {code: asdict(answer) for code, answer in answers.items()},
    }
    return json.dumps(data, ensure_ascii=False, sort_keys=True, indent=1) + "\n"
