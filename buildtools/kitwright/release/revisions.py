"""Published means frozen: a revision read back and worked out.

What its folder holds stands in `record.py`, how it gets there in `publish.py`, what guards it
in `guard.py` and `whole.py`.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from typing import Any, cast

from kitwright.errors import Place, UserError
from kitwright.files import held
from kitwright.kit.kit import Kit
from kitwright.kit.model import LIVING
from kitwright.kit.read import read_club, read_kit, shown
from kitwright.printable import EDITIONS, printable_pdf
from kitwright.release import atomic, whole
from kitwright.release.calendar import aware
from kitwright.release.ledger import resealed
from kitwright.release.numbers import numbers_text
from kitwright.release.record import Revision, published_numbers, record_text, released, revision_at
from kitwright.release.stamp import Stamp
from kitwright.release.whole import FACTS
from kitwright.telling.words import listed
from kitwright.work.worked import Worked
from kitwright.work.working import work

LIVING_CLUB = ("team", "prices")
"""What of the club is taken as it is now: people, and what things cost, which no printable tells."""


def frozen(kit: Kit, revision: Revision) -> Kit:
    """The kit as that revision froze it, with the people and whatever else may change as they are now.

    Working and printing it gives what was published.

    It is read once for a kit, and so worked out once: whoever asks again has the same answer.

    Raises:
        UserError: a frozen file is not as it was written.
    """
    kept = vars(kit).setdefault(_FROZEN, {})
    if revision.code not in kept:
        kept[revision.code] = _frozen(kit, revision)
    return cast(Kit, kept[revision.code])


_FROZEN = "_frozen"
"""Where a kit keeps its revisions as they were read."""


def _frozen(kit: Kit, revision: Revision) -> Kit:
    touched = whole.touched(revision.folder, revision.kit, revision.record.frozen)
    if touched:
        # Nothing may be compared with, printed from, or told of what is no longer what was published.
        raise UserError(touched[1], whole.PUT_BACK, Place(shown(touched[0])))
    read = read_kit(revision.folder / kit.id, read_club(revision.folder, frozen=True))
    living = {name: getattr(kit.spec, name) for name in LIVING}
    club = read.club.model_copy(update={name: getattr(kit.club, name) for name in LIVING_CLUB})
    return Kit(kit.id, kit.folder, read.spec.model_copy(update=living), read.papers, club, read.document, read.notes)


def as_published(kit: Kit, revision: Revision) -> Worked:
    """A revision worked out: what was published, with the people and whatever else may change as they are now.

    Raises:
        UserError: a frozen file is not as it was written.
    """
    return work(frozen(kit, revision))


def current(kit: Kit, as_of: dt.datetime) -> Kit | None:
    """The kit as its newest revision at an instant has it; None before its release.

    The public site shows this and never the files that are being worked on.
    """
    revision = revision_at(kit, as_of)
    return frozen(kit, revision) if revision else None


def printables(worked: Worked, stamp: Stamp | None) -> dict[str, bytes]:
    """Every printable that is published, by file name."""
    return {f"{worked.kit.id}-{edition}.pdf": printable_pdf(worked, edition, stamp=stamp) for edition in EDITIONS}


def reprint(kit: Kit, revision: Revision) -> dict[str, bytes]:
    """The printables of a revision, drawn again: the same bytes as were published."""
    read = frozen(kit, revision)
    return printables(work(read), revision.stamp(read.club.time_zone))


def printables_at(kit: Kit, as_of: dt.datetime) -> dict[str, bytes]:
    """Every printable that can be had at an instant, by its path beside the kit's page.

    The plain name gives the newest; each revision, the newest too, also has an address of
    its own that never changes, such as `r1/2027-03-river-stones-a4.pdf`.
    """
    found: dict[str, bytes] = {}
    for revision in (r for r in released(kit) if r.at <= aware(as_of)):
        drawn = reprint(kit, revision)
        found |= drawn | {f"r{revision.number}/{name}": data for name, data in drawn.items()}
    return found


def other_numbers(revision: Revision, worked: Worked) -> list[str]:
    """Published numbers that this kitwright works out otherwise, by their keys; what it works out besides them is no difference.

    Args:
        revision: as it was published.
        worked: the kit as that revision froze it.

    Raises:
        UserError: the published numbers can't be read.
    """
    was = published_numbers(revision)
    now = json.loads(numbers_text(worked))
    return [key for key in was if key not in now or not _holds(was[key], now[key])]


def _holds(was: Any, now: Any) -> bool:
    """Whether all that was published is there, and the same; later keys may stand beside it."""
    if isinstance(was, dict) and isinstance(now, dict):
        return all(key in now and _holds(value, now[key]) for key, value in was.items())
    if isinstance(was, list) and isinstance(now, list):
        return len(was) == len(now) and all(map(_holds, was, now))
    return type(was) is type(now) and was == now


def misprinted(kit: Kit, revision: Revision) -> list[str]:
    """Printables that this kitwright draws otherwise than they were published, by file name.

    The numbers on them are guarded by `guard`; this is about the drawing alone.
    """
    drawn = reprint(kit, revision)
    return [name for name, checksum in revision.record.printables.items() if name not in drawn or sha256(drawn[name]) != checksum]


def redraw(kit: Kit) -> list[Revision]:
    """Note anew how the printables of every revision are drawn, after kitwright itself was renewed.

    Raises:
        UserError: the kit has no revision, or its numbers are not those published.
    """
    revisions = released(kit)
    if not revisions:
        raise UserError(f"{kit.id} was never released", f"release it with  kitwright release {kit.id}", Place(kit.document.file))
    kits = kit.folder.parent
    with held(kits):
        whole.stop_unless_untouched(kits, kit.id)
        bodies = {
            (kit.id, revision.number): body for revision in revisions if (body := _drawn_anew(kit, revision, revision is revisions[-1]))
        }
        atomic.change(kits, resealed(kits, bodies))
    return [revision for revision in revisions if (kit.id, revision.number) in bodies]


def _drawn_anew(kit: Kit, revision: Revision, newest: bool) -> str | None:
    """A record with the checksums of its printables as they are drawn now; None where they are drawn as it says.

    Numbers that an older revision had wrong were corrected by the erratum after it.
    """
    worked = work(frozen(kit, revision))
    other = other_numbers(revision, worked) if newest else []
    if other:
        raise UserError(
            f"this kitwright works out other numbers for revision {revision.number} than were published: {listed(other)}",
            f"use kitwright {revision.record.kitwright} for it",
            Place(shown(revision.folder / FACTS)),
        )
    drawn = {n: sha256(d) for n, d in printables(worked, revision.stamp(worked.kit.club.time_zone)).items()}
    return record_text(revision.record.model_copy(update={"printables": drawn})) if drawn != revision.record.printables else None


def sha256(data: bytes) -> str:
    """A checksum of bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()
