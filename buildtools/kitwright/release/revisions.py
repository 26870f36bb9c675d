"""Published means frozen: write a revision, read it back, and guard it.

A revision is a folder `published/rN` in the kit's own, a small archive in itself:

    release.yaml       when, its code, checksums of the printables and of what is frozen here, its seal
    facts.json         every computed number
    club.yaml          what the kit takes from the club
    <kit id>/kit.yaml  the spec without what may change later, and without people
    <kit id>/notes.md

It is put in place together with its line in the ledger of releases, as one change, so that an
interrupted release leaves the kit as it was. `whole.py` looks whether all of it is still there.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import yaml
from pydantic import Field

from kitwright.check import check, errors
from kitwright.errors import Place, UserError
from kitwright.files import held, trouble, workshop
from kitwright.findings import Finding
from kitwright.kit.folder import fault_of_name, no_link_out
from kitwright.kit.model import LIVING, KitSpec, Spec
from kitwright.kit.read import CLUB_FILE, KIT_FILE, NOTES_FILE, Kit, read_club, read_kit, shown, validated
from kitwright.kit.yamltext import read_text, read_yaml
from kitwright.printable import EDITIONS, Stamp, printable_pdf
from kitwright.release import atomic, calendar, whole
from kitwright.release.calendar import aware, zone
from kitwright.release.ledger import PUBLISHED, RECORD, Entry, appended, opened, record_file, resealed, sealed
from kitwright.release.numbers import numbers_text
from kitwright.release.people import Person, names_in
from kitwright.release.state import club_papers, club_state, is_tested, own_state, release_code
from kitwright.release.whole import FACTS, revision_folders, text_checksum
from kitwright.telling.words import listed, number
from kitwright.work.worked import Worked, work

CLUB_KEYS = ("name", "tagline", "about", "time zone", "region", "address", "trimmer", "papers", "terms", "cautions")
"""What of the club is frozen with a kit."""
LIVING_CLUB = ("team", "prices")
"""What of the club is taken as it is now: people, and what things cost, which no printable tells."""


class NotReady(UserError):
    """A kit with errors can't be released."""

    def __init__(self, kit: Kit, findings: list[Finding]) -> None:
        super().__init__(
            f"{kit.id} has {number(len(findings), 'error', 'errors')}: it was not released",
            "mend what is listed above; nothing was written",
            Place(kit.document.file),
        )
        self.findings = findings
        """The errors."""


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


class Record(Spec):
    """What `release.yaml` says."""

    revision: int = Field(ge=1)
    released: str
    code: str
    tested: bool
    kitwright: str
    printables: dict[str, str]
    frozen: dict[str, str]
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

    def stamp(self, time_zone: str) -> Stamp:
        """What its printable carries; the date is the club's own."""
        return Stamp(self.number, self.at.astimezone(zone(time_zone)).date(), self.code)


# --- reading --------------------------------------------------------------------------------------


def released(kit: Kit) -> tuple[Revision, ...]:
    """Every revision of a kit, oldest first; empty before its release.

    Raises:
        UserError: a record that can't be read, a revision that is missing, or a file where their folder should be.
    """
    folder = kit.folder / PUBLISHED
    if folder.exists() and not folder.is_dir():
        # Else the kit would count as never released, and its pages would change without a word.
        raise UserError(
            f"this is no folder, so the revisions of {kit.id} can't be read",
            "put the folder back from your backup, or take this file away",
            Place(shown(folder)),
        )
    for one in (folder, *revision_folders(kit.folder)):
        no_link_out(one, kit.folder, Place(shown(one)))
    found = [read_revision(kit.id, f) for f in revision_folders(kit.folder)]
    for i, revision in enumerate(found, 1):
        if revision.number != i or revision.folder.name != f"r{i}":
            raise UserError(f"revision {i} of {kit.id} is missing", "put its folder back from your backup", Place(shown(folder)))
    return tuple(found)


def read_revision(kit_id: str, folder: Path) -> Revision:
    """One revision from its folder.

    Raises:
        UserError: its record can't be read, or does not say what it must.
    """
    document = read_yaml(folder / RECORD, shown(folder / RECORD))
    record = validated(Record, document)
    try:
        at = aware(dt.datetime.fromisoformat(record.released))
    except ValueError:
        raise UserError(
            f"“{record.released[:40]}” is not a time", "put this file back from your backup", document.place(("released",))
        ) from None
    unsaid = [name for name in (FACTS, CLUB_FILE, f"{kit_id}/{KIT_FILE}") if name not in record.frozen]
    if unsaid:
        raise UserError(f"no checksum of {unsaid[0]} stands here", "put this file back from your backup", document.place(("frozen",)))
    for part in ("frozen", "printables"):
        for name in getattr(record, part):
            if fault_of_name(name):
                raise UserError(
                    "a name here is no name of a file in this folder", "put this file back from your backup", document.place((part, name))
                )
    return Revision(kit_id, folder, record, at)


def revision_at(kit: Kit, as_of: dt.datetime) -> Revision | None:
    """The revision that is current at an instant; None before the first."""
    past = [r for r in released(kit) if r.at <= aware(as_of)]
    return past[-1] if past else None


def frozen(kit: Kit, revision: Revision) -> Kit:
    """The kit as that revision froze it, with the people and whatever else may change as they are now.

    Working and printing it gives what was published.

    Raises:
        UserError: a frozen file is not as it was written.
    """
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


# --- guarding -------------------------------------------------------------------------------------


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


def published_numbers(revision: Revision) -> dict[str, Any]:
    """The numbers that a revision was published with, as plain data.

    Raises:
        UserError: they can't be read.
    """
    file = revision.folder / FACTS
    try:
        return json.loads(file.read_text(encoding="utf-8"))
    except ValueError:
        raise UserError(
            f"the numbers of revision {revision.number} of {revision.kit} can't be read", whole.PUT_BACK, Place(shown(file))
        ) from None


def _holds(was: Any, now: Any) -> bool:
    """Whether all that was published is there, and the same; later keys may stand beside it."""
    if isinstance(was, dict) and isinstance(now, dict):
        return all(key in now and _holds(value, now[key]) for key, value in was.items())
    if isinstance(was, list) and isinstance(now, list):
        return len(was) == len(now) and all(map(_holds, was, now))
    return type(was) is type(now) and was == now


KEYS: dict[str, tuple[str, ...]] = {"cut_files": ("cut files",)}


def changed_keys(was: Mapping[str, Any], now: Mapping[str, Any]) -> list[str]:
    """Keys of a state that differ, in the order of the spec."""
    return [key for key in dict.fromkeys([*now, *was]) if was.get(key) != now.get(key)]


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
    return _record_text(revision.record.model_copy(update={"printables": drawn})) if drawn != revision.record.printables else None


# --- releasing ------------------------------------------------------------------------------------


def release(kit: Kit, people: Mapping[str, Person], as_of: dt.datetime) -> tuple[Revision, list[Finding]]:
    """Publish a kit as revision 1.

    Args:
        kit: as it is now.
        people: everybody on file, so that no name is frozen.
        as_of: the instant that is recorded.

    Returns:
        The revision, and warnings to pass on.

    Raises:
        NotReady: `check` has errors, or the text names a person.
        UserError: it was released before.
    """
    whole.stop_unless_whole(kit.folder.parent, kit.id)
    before = released(kit)
    if before:
        raise UserError(
            f"{kit.id} was released already; its newest revision is {before[-1].number}",
            f"to correct it, change it and run  kitwright erratum {kit.id}",
            Place(kit.document.file),
        )
    worked, warnings = ready(kit, people)
    return publish(worked, 1, aware(as_of), None), warnings


def ready(kit: Kit, people: Mapping[str, Person]) -> tuple[Worked, list[Finding]]:
    """A kit that may be published, worked out, and what to warn of.

    Raises:
        NotReady: it may not.
    """
    worked = work(kit)
    found = [*errors([*check(worked), *calendar.findings(kit, kit.club)]), *(f for f in named_people(kit, people) if f.level == "error")]
    if found:
        raise NotReady(kit, found)
    warnings = [f for f in named_people(kit, people) if f.level != "error"]
    if not is_tested(worked):
        warnings.append(untested(kit))
    return worked, warnings


def untested(kit: Kit) -> Finding:
    """The warning that nobody cut this very state."""
    if kit.spec.tested:
        return Finding(
            "warning",
            kit.place("tested"),
            "the kit has changed since it was last test-cut",
            "have this very state cut, and add its code under  tested",
        )
    return Finding(
        "warning",
        Place(kit.document.file),
        "nobody has test-cut this kit",
        "cut one batch, or ask somebody to, and add a line under  tested  with the code on the printable",
    )


def named_people(kit: Kit, people: Mapping[str, Person]) -> list[Finding]:
    """Names of people in what would be frozen: whole names are errors, parts of names warnings."""
    frozen_lines = _frozen_lines(kit)
    found: dict[tuple[Place, str], Finding] = {}
    texts = [(kit.document.file, read_text(kit.folder / KIT_FILE, kit.document.file), frozen_lines), (kit.notes_file, kit.notes, None)]
    for file, text, only in texts:
        for person, line, whole in names_in(text, people):
            if only is not None and line not in only:
                continue
            place = Place(file, line)
            remedy = "take the name out; who drew the kit up is said by  by,  who showed cards by  samples"
            if whole:
                found[place, person.key] = Finding(
                    "error", place, f"{person.spec.name} is named in what would be frozen, and may ask one day to be forgotten", remedy
                )
            else:
                found.setdefault((place, person.key), Finding("warning", place, f"this may name {person.spec.name}", remedy))
    return list(found.values())


def _frozen_lines(kit: Kit) -> set[int]:
    """Lines of kit.yaml on which something frozen stands; comments and living keys are not kept."""
    living = {KitSpec.model_fields[name].alias or name for name in LIVING}
    starts = sorted((line, path[0]) for path, line in kit.document.lines.items() if len(path) == 1)
    last = len(read_text(kit.folder / KIT_FILE, kit.document.file).split("\n"))
    spans = [(line, (starts[i + 1][0] if i + 1 < len(starts) else last + 1), key) for i, (line, key) in enumerate(starts)]
    return {n for start, end, key in spans if key not in living for n in range(start, end)}


def publish(
    worked: Worked, revision: int, at: dt.datetime, erratum: ErratumRecord | None, beside: Mapping[Path, bytes] | None = None
) -> Revision:
    """Write a revision and its line in the ledger, all of it or nothing.

    Args:
        worked: the state to freeze, free of errors.
        revision: its number.
        at: the instant that is recorded, in UTC.
        erratum: what it mends; None for the first.
        beside: other files below the folder of kits that change with it.

    Raises:
        UserError: something published was touched, or the folder can't be written.
    """
    kit, at = worked.kit, at.replace(microsecond=0)
    kits, home = kit.folder.parent, kit.folder / PUBLISHED / f"r{revision}"
    texts = frozen_texts(worked)
    blank = Record(
        revision=revision,
        released=at.isoformat(),
        code=release_code(worked, revision),
        tested=is_tested(worked),
        kitwright=own_version(),
        printables={},
        frozen={n: text_checksum(t.encode()) for n, t in texts.items()},
        erratum=erratum,
    )
    with held(kits):
        whole.stop_unless_whole(kits, kit.id)
        if os.path.lexists(home):
            raise UserError(
                f"revision {revision} of {kit.id} was published meanwhile",
                "look at it, and publish again if need be; nothing was changed",
                Place(shown(home)),
            )
        try:
            with workshop(kit.folder) as aside:
                # Printed from what was frozen, so that what can be printed later is what is published now.
                made = Revision(kit.id, aside / home.name, blank, at)
                write_frozen(made.folder, texts)
                drawn = reprint(kit, made)
                again = work(frozen(kit, made))
        except OSError as error:
            raise trouble(error, f"revision {revision} can't be written", "nothing was published", home.parent) from None
        if own_state(again) != own_state(worked) or club_state(again) != club_state(worked) or numbers_text(again) != texts[FACTS]:
            raise AssertionError(f"{kit.id} reads back otherwise than it was frozen")
        record = blank.model_copy(update={"printables": {n: sha256(d) for n, d in drawn.items()}})
        last = opened(record_file(kits, kit.id, revision - 1).read_text(encoding="utf-8")).digest if revision > 1 else ""
        text, own = sealed(_record_text(record), last)
        ledger = appended(kits, [Entry(kit.id, revision, record.released, record.code, own)])
        atomic.change(
            kits, {home / name: t.encode() for name, t in texts.items()} | {home / RECORD: text.encode()} | ledger | dict(beside or {})
        )
    return Revision(kit.id, home, record.model_copy(update={"before": last, "digest": own}), at)


def write_frozen(folder: Path, texts: Mapping[str, str]) -> None:
    """Frozen texts as files of a folder, to be read back."""
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(text.encode())


def frozen_texts(worked: Worked) -> dict[str, str]:
    """What a revision keeps, by name in its folder."""
    kit = worked.kit
    living = {KitSpec.model_fields[name].alias or name for name in LIVING}
    spec = {key: value for key, value in kit.document.data.items() if key not in living}
    club = {key: value for key, value in kit.club._document.data.items() if key in CLUB_KEYS}
    used = club_papers(worked)
    club["papers"] = {key: value for key, value in (club.get("papers") or {}).items() if key in used}
    return {FACTS: numbers_text(worked), CLUB_FILE: _yaml(club), f"{kit.id}/{KIT_FILE}": _yaml(spec)} | (
        {f"{kit.id}/{NOTES_FILE}": kit.notes.replace("\r\n", "\n")} if kit.notes else {}
    )


def _record_text(record: Record) -> str:
    data = record.model_dump(exclude_defaults=True, exclude={"before", "digest"})
    return "# Written by kitwright release. What readers may have printed stays as it is: don't edit.\n" + _yaml(data)


def _yaml(data: dict[str, Any]) -> str:
    return yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=110)


def own_version() -> str:
    """Which kitwright this is."""
    try:
        return version("kitwright")
    except PackageNotFoundError:
        return "from its source"


def sha256(data: bytes) -> str:
    """A checksum of bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()
