"""Take back what no reader could have had yet: revisions of a kit that is not public, and those dated ahead.

The clock decides, by the reveal as it is now and as every revision noted it when it was
released, whichever is earlier: a reveal that is moved afterwards makes nothing unread that
was public. What is taken back leaves its line in the ledger, with its code, for copies that
were handed out to be tested; its files go.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.files import held
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit
from kitwright.kit.read import shown
from kitwright.release import atomic, whole, zonemove
from kitwright.release.calendar import aware, reveal_of
from kitwright.release.ledger import PUBLISHED, LedgerLine, TakenBack, appended, read_ledger
from kitwright.release.record import Revision, released


@dataclass(frozen=True)
class Instead:
    """What is taken back for the revision that replaces it."""

    revisions: tuple[Revision, ...]
    """The newest ones, oldest first."""
    at: dt.datetime
    """When they are taken back."""


NOTHING = Instead((), dt.datetime.min.replace(tzinfo=dt.UTC))
"""A revision that follows all others."""


def public_from(kit: Kit, revision: Revision) -> dt.datetime:
    """From when on readers can have a revision, as far as anything known now says; in UTC."""
    revisions = released(kit)
    if any(r.record.erratum and r.record.erratum.was_public for r in revisions[revision.number :]):
        return revision.at  # it was out before
    noted = [r.reveal for r in revisions[: revision.number] if r.reveal is not None]
    return max(revision.at, min([reveal_of(kit, kit.club), *noted]))


def unread(kit: Kit, now: dt.datetime) -> Instead:
    """The newest revisions of a kit that no reader could have had at an instant; none where even the last was public.

    Raises:
        UserError: something published was touched.
    """
    whole.stop_unless_whole(kit.folder.parent, kit.id)
    zonemove.stop_if_moved(kit.folder.parent, kit.club, now)
    found: list[Revision] = []
    for revision in reversed(released(kit)):
        if public_from(kit, revision) <= aware(now):
            break
        found.append(revision)
    return Instead(tuple(reversed(found)), aware(now))


def take_back(kit: Kit, now: dt.datetime) -> tuple[Revision, ...]:
    """Take back all revisions that no reader could have had at an instant.

    Raises:
        UserError: there is none, or something published was touched.
    """
    kits = kit.folder.parent
    with held(kits):
        back, revisions = unread(kit, now).revisions, released(kit)
        place = Place(kit.document.file)
        if not revisions:
            raise UserError("takeback.never-released", place=place, kit=kit.id)
        if not back:
            at = public_from(kit, revisions[-1]).astimezone(zone(kit.club.time_zone))
            raise UserError("takeback.was-public", place=place, kit=kit.id, revision=revisions[-1].number, at=at)
        atomic.change(kits, appended(kits, lines(kit, back, now)), [r.folder for r in back])
        home = kit.folder / PUBLISHED
        if home.is_dir() and not any(home.iterdir()):
            home.rmdir()
    return back


def lines(kit: Kit, back: Sequence[Revision], now: dt.datetime) -> Iterator[TakenBack]:
    """What the ledger says of revisions that are taken back, newest first.

    Raises:
        UserError: the archive's ledger does not know them.
    """
    ledger = read_ledger(kit.folder.parent)
    known: dict[int, LedgerLine] = {e.revision: e for e in ledger.of(kit.id)} if ledger else {}
    for revision in reversed(back):
        entry = known.get(revision.number)
        if entry is None:
            raise UserError(
                "releases.in-no-line", place=Place(shown(revision.folder)), kit=kit.id, revision=revision.number, ledger="releases.yaml"
            )
        public = public_from(kit, revision)
        yield TakenBack(kit.id, revision.number, _text(now), _text(public), entry.code, entry.record)


def left_over(back: Sequence[Revision], home: Path, kept: Sequence[str]) -> list[Path]:
    """What has to be removed of revisions that another replaces.

    Args:
        back: the revisions that are taken back.
        home: the folder of the one that replaces them, perhaps that of one of them.
        kept: what that one keeps, by name in its folder.
    """
    found = [r.folder for r in back if r.folder != home]
    old = next((r for r in back if r.folder == home), None)
    return found + [home / name for name in (old.record.frozen if old else ()) if name not in kept]


def _text(at: dt.datetime) -> str:
    return aware(at).replace(microsecond=0).isoformat()
