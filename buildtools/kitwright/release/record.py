"""What a revision's record says, and the revisions of a kit as they are read back.

A revision is a folder `published/rN` in the kit's own, a small archive in itself:

    release.yaml       when, its code, checksums of all that is kept here, which kitwright made it, its seal
    club.yaml          what the kit takes from the club
    <kit id>/kit.yaml  the spec without what may change later, and without people
    <kit id>/notes.md
    results.json       what was worked out (`kept.py`)
    facts.json         every number that was told, in the plain form of `numbers.py`
    files.tar.xz       the very files that readers could download (`packed.py`)

The form of a record has a number. Records of format 1, which say none, keep neither results
nor files, and of the files the checksums of the printables alone; `carry.py` makes them
records of today's. Those of format 2 don't say when the kit was to be public.
"""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import yaml
from pydantic import Field

from kitwright.errors import Place, UserError
from kitwright.kit.clock import zone
from kitwright.kit.folder import fault_of_name, no_link_out
from kitwright.kit.kit import Kit
from kitwright.kit.model import Spec
from kitwright.kit.read import CLUB_FILE, KIT_FILE, shown
from kitwright.kit.valid import validated
from kitwright.kit.yamltext import read_yaml
from kitwright.release import whole
from kitwright.release.both import Difference
from kitwright.release.calendar import aware
from kitwright.release.ledger import PUBLISHED, RECORD
from kitwright.release.stamp import Stamp
from kitwright.release.whole import FACTS, FILES, RESULTS, revision_folders

FORM = 2
"""The form of what is drawn today: 1 were printables of many pages, 2 is a sheet of paper with both sides and a workbook."""
Same = Literal["readdressed", "redrawn"]
"""Why a revision says what the one before says: its code leads elsewhere, or its files have a new form."""
Plain = str | list[str]
"""A value as plain data: exact numbers as text, lengths in inches; a size, a range or several words as a list."""


class ChangeRecord(Spec):
    """One difference, as it was found when an erratum was published. What is told of it is worked out from both states."""

    path: str = ""
    """What it is about, `pieces.B.size`; empty in the records of before there were paths."""
    grade: str
    was: Plain = ""
    now: Plain = ""
    words: str = ""
    """How it was told; in the records of before there were paths."""


class ErratumRecord(Spec):
    """What a revision mends, as it was found when it was published."""

    grade: str
    """What its changes ask of a reader at most: cosmetic, write in, or recut."""
    affects: dict[int, str] = {}
    """What each revision before asked of its readers: number → grade."""
    since: int = 0
    """The first revision that had the fault; in the records of before `affects`."""
    changes: list[ChangeRecord]
    besides: list[ChangeRecord] = []
    """What changed besides, and follows from the changes."""
    advice: str = ""
    """What to do with pieces already cut, in the author's words."""
    was_public: bool = False
    """Whether the author said that the revision before was out although its kit was not public yet."""


class Record(Spec):
    """What `release.yaml` says."""

    format: int = Field(1, ge=1)
    """The form of this record; 1 where none is said."""
    revision: int = Field(ge=1)
    released: str
    code: str
    tested: bool
    kitwright: str
    """Which kitwright made this revision."""
    carried: str = ""
    """Which kitwright worked out and drew what is kept of it, where that was done later, from a record of format 1."""
    files: dict[str, str] = {}
    """Every file that readers could download, with its checksum."""
    printables: dict[str, str] = {}
    """In records of format 1: the printables alone."""
    lost: dict[str, str] = {}
    """Printables whose very bytes were not to be had when they were carried over, with their checksums; `files` has them as they were drawn then."""
    frozen: dict[str, str]
    """What is kept here, with its checksums."""
    reveal: str = ""
    """From when on the kit was to be public, as it was said at this release; empty in records of before format 3."""
    readdressed: bool = False
    """Whether it says what the revision before says, and its code alone leads elsewhere."""
    redrawn: bool = False
    """Whether it says what the revision before says, and the form of its files alone is new."""
    form: int = Field(1, ge=1)
    """The form of the files (`FORM`); 1 where none is said."""
    erratum: ErratumRecord | None = None
    reworded: bool = False
    """Whether somebody who asked to be forgotten was taken out of the frozen texts: the code is of the words before."""
    before: str = ""
    """The digest of the record of the revision before; empty for the first."""
    digest: str = ""
    """The record's own digest; empty until its archive has a ledger."""


@dataclass(frozen=True)
class Revision:
    """One published state of a kit."""

    kit: str
    """The kit's id."""
    folder: Path
    record: Record
    at: dt.datetime
    """When it was released, in UTC."""

    @property
    def number(self) -> int:
        return self.record.revision

    @property
    def code(self) -> str:
        return self.record.code

    @property
    def reveal(self) -> dt.datetime | None:
        """From when on the kit was to be public, as it was said at this release; None where it was not noted."""
        return aware(dt.datetime.fromisoformat(self.record.reveal)) if self.record.reveal else None

    @property
    def keeps(self) -> bool:
        """Whether results and files are kept here; otherwise they have to be worked out and drawn from what was frozen."""
        return self.record.format > 1

    @property
    def files(self) -> dict[str, str]:
        """The files that readers could download with their checksums, as far as they are noted."""
        return self.record.files or self.record.printables

    def stamp(self, time_zone: str, corrects: tuple[Difference, ...] = ()) -> Stamp:
        """What its printable carries; the date is the club's own.

        Args:
            time_zone: the club's.
            corrects: what it mends (`history.corrected`).
        """
        return Stamp(self.number, self.at.astimezone(zone(time_zone)).date(), self.code, corrects)


def released(kit: Kit) -> tuple[Revision, ...]:
    """Every revision of a kit, oldest first; empty before its release.

    Raises:
        UserError: a record that can't be read, a revision that is missing, or a file where their folder should be.
    """
    folder = kit.folder / PUBLISHED
    if folder.exists() and not folder.is_dir():
        # Else the kit would count as never released, and its pages would change without a word.
        raise UserError("releases.no-folder", place=Place(shown(folder)), kit=kit.id)
    for one in (folder, *revision_folders(kit.folder)):
        no_link_out(one, kit.folder, Place(shown(one)))
    found = [read_revision(kit.id, f) for f in revision_folders(kit.folder)]
    for i, revision in enumerate(found, 1):
        if revision.number != i or revision.folder.name != f"r{i}":
            raise UserError("releases.missing", place=Place(shown(folder)), kit=kit.id, revision=i)
    return tuple(found)


def read_revision(kit_id: str, folder: Path) -> Revision:
    """One revision from its folder.

    Raises:
        UserError: its record can't be read, or does not say what it must.
    """
    file = folder / RECORD
    document = read_yaml(file, shown(file))
    whole.stop_if_newer(document.data, Place(shown(file)))
    record = validated(Record, document)
    for key, text in (("released", record.released), ("reveal", record.reveal)):
        try:
            if text or key == "released":
                aware(dt.datetime.fromisoformat(text))
        except ValueError:
            raise UserError("releases.no-time", place=document.place((key,)), text=text) from None
    at = aware(dt.datetime.fromisoformat(record.released))
    kept = (RESULTS, FILES) if record.format > 1 else ()
    for name in (FACTS, CLUB_FILE, f"{kit_id}/{KIT_FILE}", *kept):
        if name not in record.frozen:
            others = [other.removesuffix(f"/{KIT_FILE}") for other in record.frozen if other.endswith(f"/{KIT_FILE}")]
            if name.startswith(f"{kit_id}/") and len(others) == 1:
                raise UserError("releases.renamed", place=Place(shown(folder.parent.parent)), kit=kit_id, before=others[0])
            raise UserError("releases.no-checksum", place=document.place(("frozen",)), name=name)
    for part in ("frozen", "printables", "files"):
        for name in getattr(record, part):
            if fault_of_name(name) or part != "frozen" and "/" in name:
                raise UserError("releases.no-name", place=document.place((part, name)))
    return Revision(kit_id, folder, record, at)


def revision_at(kit: Kit, as_of: dt.datetime) -> Revision | None:
    """The revision that is current at an instant; None before the first."""
    past = [r for r in released(kit) if r.at <= aware(as_of)]
    return past[-1] if past else None


def published_numbers(revision: Revision) -> dict[str, Any]:
    """The numbers that a revision was published with, as plain data.

    Raises:
        UserError: they can't be read.
    """
    file = revision.folder / FACTS
    try:
        return json.loads(file.read_text(encoding="utf-8"))
    except ValueError:
        raise UserError("releases.unread-numbers", place=Place(shown(file)), kit=revision.kit, revision=revision.number) from None


def record_text(record: Record) -> str:
    """A record as it is written, without its seal."""
    data = record.model_dump(exclude_defaults=True, exclude={"before", "digest"})
    return "# Written by kitwright release. What readers may have printed stays as it is: don't edit.\n" + yaml_text(data)


def yaml_text(data: dict[str, Any]) -> str:
    """Plain data as YAML."""
    return yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=110)
