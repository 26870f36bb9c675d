"""Published means kept: a revision read back, with what was worked out for it and the files that readers could download.

What its folder holds stands in `record.py`, how it gets there in `publish.py`, what guards it
in `guard.py` and `whole.py`. A record of format 1 kept neither results nor files: what it
froze is worked out and drawn again.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from dataclasses import replace
from typing import cast

from kitwright.errors import Place, UserError
from kitwright.kit.clock import zone
from kitwright.kit.folder import read_own
from kitwright.kit.kit import Kit
from kitwright.kit.model import LIVING, KitSpec
from kitwright.kit.read import read_club, read_kit, shown
from kitwright.release import whole
from kitwright.release.kept import Unread, read_results, worked_again
from kitwright.release.packed import Unpackable, unpacked
from kitwright.release.record import Revision, released, revision_at
from kitwright.release.state import words_of
from kitwright.release.whole import FILES, LARGEST, LARGEST_FILES, RESULTS
from kitwright.work.worked import Worked
from kitwright.work.working import WORKED, work

LIVING_CLUB = ("team", "prices")
"""What of the club is taken as it is now, beside how it looks: people, and what things cost, which no printable tells."""


def frozen(kit: Kit, revision: Revision) -> Kit:
    """The kit as that revision froze it, with the people and whatever else may change as they are now.

    It is read once for a kit, and so worked out once: whoever asks again has the same answer.

    Raises:
        UserError: a frozen file is not as it was written.
    """
    kept = vars(kit).setdefault(_FROZEN, {})
    key = revision.folder, revision.code
    if key not in kept:
        kept[key] = _frozen(kit, revision)
    return cast(Kit, kept[key])


_FROZEN = "_frozen"
"""Where a kit keeps its revisions as they were read."""


def _frozen(kit: Kit, revision: Revision) -> Kit:
    touched = whole.touched(revision.folder, revision.kit, revision.record.frozen)
    if touched:
        # Nothing may be compared with, copied from, or told of what is no longer what was published.
        raise touched.raised()
    read = read_kit(revision.folder / kit.id, read_club(revision.folder, frozen=True))
    if not isinstance(read, Kit):
        raise UserError("releases.no-kit", place=Place(read.document.file), kit=kit.id, revision=revision.number)
    living: dict[str, object] = {name: getattr(kit.spec, name) for name in LIVING}
    club = read.club.model_copy(update={name: getattr(kit.club, name) for name in LIVING_CLUB}).dressed(kit.club.colours, kit.club.mark)
    papers = {key: paper.as_scanned(kit.papers.get(key)) for key, paper in read.papers.items()}
    living["papers"] = {key: papers[key] for key in read.spec.papers}
    return Kit(kit.id, kit.folder, read.spec.model_copy(update=living), papers, club, read.document, read.notes)


def as_published(kit: Kit, revision: Revision) -> Worked:
    """A revision worked out: what was published, with the people and whatever else may change as they are now.

    Nothing is planned or laid out where its results were kept.

    Raises:
        UserError: a frozen file is not as it was written.
    """
    read = frozen(kit, revision)
    return _with_results(read, revision) if revision.keeps else work(read)


def as_it_stands(kit: Kit) -> Worked:
    """A kit as its files are now, worked out; from what its last revision kept where they say the same.

    Raises:
        UserError: a front that can't be laid out at all, or a frozen file that is not as it was written.
    """
    last = (released(kit) or (None,))[-1]
    return _with_results(kit, last) if last and last.keeps and _says_the_same(kit, frozen(kit, last)) else work(kit)


def as_it_would_be(kit: Kit) -> Worked:
    """A kit as its files are now, worked out for its next revision.

    Where it asks the same of every sheet as its last revision did, it is cut as that was: a
    mended word brings no other cuts, though a later kitwright may plan otherwise.

    Raises:
        UserError: a front that can't be laid out at all, or a frozen file that is not as it was written.
    """
    now, last = work(kit), (released(kit) or (None,))[-1]
    was = as_published(kit, last) if last and last.keeps else now
    same = (
        [plan.demand for plan in now.plans] == [plan.demand for plan in was.plans]
        and now.kit.spec.guides == was.kit.spec.guides
        and all(now.kit.papers[plan.paper] == was.kit.papers[plan.paper] for plan in was.plans)
    )
    return replace(now, plans=was.plans, layouts=was.layouts) if same and was.plans != now.plans else now


def _says_the_same(kit: Kit, was: Kit) -> bool:
    names = [name for name in KitSpec.model_fields if name not in LIVING]
    return (
        all(getattr(kit.spec, name) == getattr(was.spec, name) for name in names)
        and all(kit.papers.get(key) == paper for key, paper in was.papers.items())
        and words_of(kit.notes) == words_of(was.notes)
    )


def _with_results(kit: Kit, revision: Revision) -> Worked:
    """A kit with the results that a revision kept, which stand from then on for what is worked out of it."""
    if WORKED in vars(kit):
        return work(kit)
    file = revision.folder / RESULTS
    try:
        return worked_again(kit, read_results(read_own(file, LARGEST).decode("utf-8")))
    except (Unread, UnicodeDecodeError):
        raise UserError("releases.unread-results", place=Place(shown(file)), kit=kit.id, revision=revision.number) from None


def day_of(kit: Kit, revision: Revision) -> dt.date:
    """The day of a revision as it is told for ever: by the clocks that the club went by when it was released.

    Raises:
        UserError: a frozen file is not as it was written.
    """
    return revision.at.astimezone(zone(frozen(kit, revision).club.time_zone)).date()


def files_of(revision: Revision) -> dict[str, bytes]:
    """The very files that readers could download of a revision, by name; for the public and for members.

    Raises:
        UserError: they are not as they were written.
    """
    file = revision.folder / FILES
    try:
        files = unpacked(read_own(file, LARGEST_FILES))
    except Unpackable:
        files = {}
    except (OSError, OverflowError):
        raise UserError("releases.touched", place=Place(shown(file)), kit=revision.kit, revision=revision.number) from None
    if {name: sha256(data) for name, data in files.items()} != revision.record.files:
        raise UserError("releases.other-files", place=Place(shown(file)), kit=revision.kit, revision=revision.number)
    return files


def current(kit: Kit, as_of: dt.datetime) -> Worked | None:
    """The kit as its newest revision at an instant has it; None before its release.

    The public site shows this and never the files that are being worked on.
    """
    revision = revision_at(kit, as_of)
    return as_published(kit, revision) if revision else None


def sha256(data: bytes) -> str:
    """A checksum of bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()
