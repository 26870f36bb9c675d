"""What stops a build: something published that was touched, or a kit that differs from its last revision."""

from __future__ import annotations

from kitwright.check import errors
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.read import shown
from kitwright.release import whole
from kitwright.release.ledger import RECORD
from kitwright.release.record import Revision, released
from kitwright.release.revisions import frozen, other_numbers
from kitwright.release.state import changed_keys, club_state, own_state, release_code
from kitwright.release.whole import FACTS
from kitwright.telling.words import listed
from kitwright.work.worked import Worked
from kitwright.work.working import work

KEYS: dict[str, tuple[str, ...]] = {"cut_files": ("cut files",)}


def guard(kit: Kit) -> Finding | None:
    """What stops a build: something published that was touched, or a kit that differs from its last revision.

    None where all is well, or the kit was never released.
    """
    told = errors(whole.of_kit(kit.folder.parent, kit.id))
    if told:
        return told[0]
    revisions = released(kit)
    if not revisions:
        return None
    last, now = revisions[-1], work(kit)
    if now.troubles and errors(list(now.troubles)):
        return errors(list(now.troubles))[0]
    published = [work(frozen(kit, revision)) for revision in revisions]
    changed = changed_keys(own_state(published[-1]), own_state(now))
    if changed:
        named = kit.place(*KEYS.get(changed[0], (changed[0].replace("_", " "),))) if changed[0] != "notes" else Place(kit.notes_file)
        return Finding(
            "error",
            named,
            f"{kit.id} differs from revision {last.number}, which readers may have printed: {listed([c.replace('_', ' ') for c in changed])}",
            f"undo the change, or publish it with  kitwright erratum {kit.id}",
        )
    for revision, was in zip(revisions, published):
        if not says_its_code(revision, was):
            return Finding("error", Place(shown(revision.folder / RECORD)), OTHER_CODE.format(revision.number, kit.id), whole.PUT_BACK)
    other = other_numbers(last, published[-1])
    if other:
        return Finding(
            "error",
            Place(shown(last.folder / FACTS)),
            f"this kitwright works out other numbers for revision {last.number} of {kit.id} than were published: {listed(other)}",
            f"use kitwright {last.record.kitwright}, or publish the new ones with  kitwright erratum {kit.id}",
        )
    return None


OTHER_CODE = "this record says another code than revision {} of {} was published with"


def says_its_code(revision: Revision, worked: Worked) -> bool:
    """Whether a revision's code is that of what it froze; of words taken out since then nobody can say."""
    return revision.record.reworded or revision.code == release_code(worked, revision.number)


def club_drift(kit: Kit) -> Finding | None:
    """A hint where the club's own facts have changed since the last revision; it keeps the old ones."""
    revisions = released(kit)
    if not revisions or errors(whole.of_kit(kit.folder.parent, kit.id)):
        # The guard speaks of what was touched.
        return None
    was, now = club_state(work(frozen(kit, revisions[-1]))), club_state(work(kit))
    changed = changed_keys(was, now)
    return (
        Finding(
            "hint",
            kit.club.place(changed[0]),
            f"the club's {listed(changed)} changed since revision {revisions[-1].number} of {kit.id}, which keeps the old ones",
            "nothing need be done; they take hold with the kit's next revision",
        )
        if changed
        else None
    )
