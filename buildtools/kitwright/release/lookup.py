"""What the code page knows: code → which kit and revision, whether it is current, what the newest says otherwise.

The public table holds nothing of a kit before its reveal, not even a scrambled code: a code
that is sound but unknown is told as such by the page. The team's table holds those too.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.release import codes
from kitwright.release.calendar import aware, due
from kitwright.release.history import Copies, History
from kitwright.release.ledger import Ledger, TakenBack, read_ledger
from kitwright.release.record import released
from kitwright.release.revisions import day_of
from kitwright.release.state import preview_code
from kitwright.work.working import work

Became = Literal["revision", "upcoming", "unreleased", "revised", "outdated", "taken back"]
"""A revision; a preview of a kit that is not public, or public and not released; of what became a revision; of what became none; a revision that was taken back before anybody could have it."""


@dataclass(frozen=True)
class Answer:
    """What a code stands for."""

    kit: str
    title: str
    became: Became
    revision: int | None
    """Its revision; for a preview the one that it became, None when it became none; of what was taken back the number that it had."""
    current: bool
    """Whether it says what the newest revision says."""
    released: dt.date | None = None
    """The day of that revision, in the club's own time."""
    newest: int | None = None
    """The newest revision; None before there is one."""
    group: Copies | None = None
    """Against the newest, for a copy of an older revision."""
    mended: int | None = None
    """The newest correction since that revision; None where there was none, as where a code alone leads elsewhere now."""

    @property
    def kind(self) -> Literal["revision", "preview"]:
        """`preview`: a printable made before the release, or released and never public."""
        return "revision" if self.became == "revision" else "preview"

    @property
    def see(self) -> str:
        """Where what is wrong is told at length, from the top of the site; empty where nothing is."""
        return f"errata.html#{self.kit}-r{self.mended}" if self.group and self.mended else ""


def table(kits: Iterable[Kit], club: Club, as_of: dt.datetime, *, team: bool = False) -> dict[str, Answer]:
    """Every code that may be answered at an instant, without its dash.

    Args:
        kits: the kits of the archive.
        club: who publishes.
        as_of: the instant.
        team: whether this is for the team's own site, which knows upcoming kits.
    """
    found: dict[str, Answer] = {}
    ledger: Ledger | None = None
    for kit in kits:
        if ledger is None:
            ledger = read_ledger(kit.folder.parent)
        public, revisions = due(kit, club, as_of), released(kit)
        if public or team:
            past = [r for r in revisions if r.at <= aware(as_of)]
            # A kit that is public though it was never released has its preview's code.
            if past or team or not revisions:
                history = History(kit, past)
                back = ledger.taken_back(kit.id) if ledger else []
                # A code that a tester noted may be that of a revision that was taken back, which says more; and
                # the same state released again has the same code: what stands counts.
                for code, answer in (*_previews(history, public), *_taken_back(history, back), *_revisions(history)):
                    found[code.replace("-", "")] = answer
    return dict(sorted(found.items()))


def _revisions(history: History) -> Iterator[tuple[str, Answer]]:
    for revision in history.revisions:
        yield revision.code, _answer(history, "revision", revision.number, day_of(history.kit, revision))


def _taken_back(history: History, back: Iterable[TakenBack]) -> Iterator[tuple[str, Answer]]:
    """Codes of copies that were handed out to be tested, and whose revision nobody else could have had."""
    kit, newest = history.kit, history.newest or None
    title = history.copy(newest).worked.kit.spec.title if newest else kit.spec.title
    for line in back:
        yield line.code, Answer(kit.id, title, "taken back", line.revision, False, newest=newest)


def _answer(history: History, became: Became, number: int, day: dt.date | None = None) -> Answer:
    newest, current = history.newest, number == history.newest
    title = history.copy(newest).worked.kit.spec.title
    mended = max((r.number for r in history.revisions[number:] if r.record.erratum), default=None)
    return Answer(history.kit.id, title, became, number, current, day, newest, None if current else history.groups[number - 1], mended)


def _previews(history: History, public: bool) -> Iterator[tuple[str, Answer]]:
    """Codes of printables made before the release: of this very state, and those that testers noted."""
    kit, newest = history.kit, history.newest or None
    title = history.copy(newest).worked.kit.spec.title if newest else kit.spec.title
    now = "" if newest else preview_code(work(kit))
    if not newest:
        yield now, Answer(kit.id, title, "unreleased" if public else "upcoming", None, True)
    became = {preview_code(history.copy(n).worked): n for n in range(1, history.newest + 1)}
    for code in sorted({test.code.upper() for test in kit.spec.tested}):
        plain = code.replace("-", "").replace(" ", "")
        if codes.is_sound(plain) and codes.shown(plain) not in {*became, now}:
            yield codes.shown(plain), Answer(kit.id, title, "outdated", None, False, newest=newest)
    for code, number in became.items():
        yield code, _answer(history, "revised", number)
