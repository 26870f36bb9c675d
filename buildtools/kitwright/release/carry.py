"""Carry revisions over that were published before results and files were kept with them: records of format 1.

What they froze is worked out and drawn once more, and what is drawn is held against the
checksums in the record; then results and files are put beside what was frozen, and the record
becomes one of today's. Code, instant and number stay, every byte that was frozen too; the
seals and the ledger follow. All of it happens in one change, or none of it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kitwright.errors import Place, UserError
from kitwright.files import held, trouble, workshop
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.read import kit_folders, read_club, read_kit, shown
from kitwright.release import atomic, whole
from kitwright.release.guard import says_its_code
from kitwright.release.kept import results_text
from kitwright.release.ledger import FORMAT, RECORD, resealed
from kitwright.release.numbers import numbers_text
from kitwright.release.publish import Draw, filled, own_version
from kitwright.release.record import Record, Revision, published_numbers, record_text, released
from kitwright.release.revisions import as_published
from kitwright.release.whole import FACTS, RESULTS
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Carried:
    """A revision that was carried over."""

    kit: str
    revision: int
    files: int
    """How many files are kept of it."""


def carry_over(kits: Path, draw: Draw, only: str | None = None, *, as_drawn: bool = False) -> tuple[list[Carried], list[Finding]]:
    """Make every record of an older format one of today's.

    Args:
        kits: the folder of kits.
        draw: draws what readers can download.
        only: the one kit that is meant; None for all.
        as_drawn: whether a printable that does not come out as it was published is kept as it is
            drawn now, with a note of what it was; otherwise nothing is carried over.

    Returns:
        What was carried over, and warnings: of published numbers that this kitwright works out
        otherwise, which stay as they were, and of printables that are not what they were.

    Raises:
        UserError: something was touched, or a printable does not come out as it was published; nothing was changed.
    """
    with held(kits):
        atomic.finish(kits)
        older = [
            (kit, revision)
            for folder in kit_folders(kits)
            if only in (None, folder.name) and whole.revision_folders(folder)
            for kit in [_read(kits, folder)]
            for revision in released(kit)
            if not revision.keeps
        ]
        done, warnings = [], []
        written: dict[Path, bytes] = {}
        bodies: dict[tuple[str, int], str] = {}
        for kit, revision in older:
            record, kept, told = _carried(kit, revision, draw, as_drawn)
            bodies[kit.id, revision.number] = record_text(record)
            written |= {revision.folder / name: data for name, data in kept.items() if name not in revision.record.frozen}
            done.append(Carried(kit.id, revision.number, len(record.files)))
            warnings += told
        if done:
            atomic.change(kits, written | resealed(kits, bodies))
    return done, warnings


def _read(kits: Path, folder: Path) -> Kit:
    whole.stop_unless_untouched(kits, folder.name)
    # What is carried was published before a club could have colours of its own.
    kit = read_kit(folder, read_club(kits).undressed)
    if not isinstance(kit, Kit):
        raise UserError("releases.past-kit", place=Place(kit.document.file), kit=kit.id)
    return kit


def _carried(kit: Kit, old: Revision, draw: Draw, as_drawn: bool) -> tuple[Record, dict[str, bytes], list[Finding]]:
    """The record anew, all that is kept, and what to warn of."""
    place = Place(shown(old.folder / RECORD))
    worked = as_published(kit, old)
    if not says_its_code(old, worked):
        raise UserError("releases.other-code", place=place, kit=kit.id, revision=old.number)
    texts = {name: (old.folder / name).read_bytes() for name in old.record.frozen} | {RESULTS: results_text(worked).encode()}
    blank = old.record.model_copy(update={"format": FORMAT, "carried": own_version(), "printables": {}, "before": "", "digest": ""})
    try:
        with workshop(kit.folder) as aside:
            record, kept = filled(kit, Revision(kit.id, aside / old.folder.name, blank, old.at), texts, draw)
    except OSError as error:
        raise trouble(error, "disk.carried", kit.folder) from None
    lost = {name: was for name, was in old.record.printables.items() if record.files.get(name) != was}
    if lost and not as_drawn:
        raise UserError(
            "releases.drawn-otherwise", place=place, kit=kit.id, revision=old.number, files=tuple(lost), kitwright=old.record.kitwright
        )
    told = [Finding("warning", place, "releases.kept-as-drawn", kit=kit.id, revision=old.number, files=tuple(lost))] if lost else []
    if other := other_numbers(old, worked):
        facts = Place(shown(old.folder / FACTS))
        told.append(Finding("warning", facts, "releases.other-numbers", kit=kit.id, revision=old.number, numbers=tuple(other)))
    return record.model_copy(update={"lost": lost}), kept, told


def other_numbers(revision: Revision, worked: Worked) -> list[str]:
    """Published numbers that this kitwright works out otherwise, by their keys; what it works out besides them is no difference."""
    was, now = published_numbers(revision), json.loads(numbers_text(worked))
    return [key for key in was if key not in now or not _holds(was[key], now[key])]


def _holds(was: Any, now: Any) -> bool:
    """Whether all that was published is there, and the same; later keys may stand beside it."""
    if isinstance(was, dict) and isinstance(now, dict):
        return all(key in now and _holds(value, now[key]) for key, value in was.items())
    if isinstance(was, list) and isinstance(now, list):
        return len(was) == len(now) and all(map(_holds, was, now))
    return type(was) is type(now) and was == now
