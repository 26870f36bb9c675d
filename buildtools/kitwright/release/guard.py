"""What stops a build: something published that was touched, or a kit that differs from its last revision."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.read import shown
from kitwright.release import whole
from kitwright.release.ledger import RECORD
from kitwright.release.record import Revision, released
from kitwright.release.revisions import as_it_stands, as_published, frozen
from kitwright.release.state import changed_keys, club_state, own_state, release_code
from kitwright.release.takeback import public_from
from kitwright.work.worked import Worked
from kitwright.work.working import work

KEYS: dict[str, tuple[str, ...]] = {"cut_files": ("cut files",)}


def guard(kit: Kit) -> Finding | None:
    """What stops a build: something published that was touched, or a kit that differs from its last revision.

    None where all is well, or the kit was never released.
    """
    told = _errors(whole.of_kit(kit.folder.parent, kit.id))
    if told:
        return told[0]
    revisions = released(kit)
    if not revisions:
        return None
    last, now = revisions[-1], as_it_stands(kit)
    if _errors(now.troubles):
        return _errors(now.troubles)[0]
    published = [as_published(kit, revision) for revision in revisions]
    changed = changed_keys(own_state(published[-1]), own_state(now))
    if changed and last.keeps:
        # A later kitwright may read the same cuts otherwise, which is no change of the kit.
        changed = changed_keys(own_state(work(frozen(kit, last))), own_state(now))
    if changed:
        named = kit.place(*KEYS.get(changed[0], (changed[0].replace("_", " "),))) if changed[0] != "notes" else Place(kit.notes_file)
        keys = tuple(key.replace("_", " ") for key in changed)
        unread = public_from(kit, revisions[0]) > dt.datetime.now(dt.UTC)
        return Finding("error", named, "releases.kit-differs", kit=kit.id, revision=last.number, keys=keys, unread=unread)
    for revision, was in zip(revisions, published):
        if not says_its_code(revision, was):
            place = Place(shown(revision.folder / RECORD))
            return Finding("error", place, "releases.other-code", kit=kit.id, revision=revision.number)
    return None


def _errors(found: list[Finding] | tuple[Finding, ...]) -> list[Finding]:
    return [finding for finding in found if finding.level == "error"]


def says_its_code(revision: Revision, worked: Worked) -> bool:
    """Whether a revision's code is that of what it froze; of words taken out since then nobody can say."""
    return revision.record.reworded or revision.code == release_code(worked, revision.number)


def club_drift(kit: Kit) -> Finding | None:
    """A hint where the club's own facts have changed since the last revision; it keeps the old ones."""
    revisions = released(kit)
    if not revisions or _errors(whole.of_kit(kit.folder.parent, kit.id)):
        # The guard speaks of what was touched.
        return None
    last = revisions[-1]
    changed = changed_keys(club_state(as_published(kit, last)), club_state(as_it_stands(kit)))
    if not changed:
        return None
    return Finding("hint", kit.club.place(changed[0]), "releases.club-changed", kit=kit.id, revision=last.number, facts=tuple(changed))
