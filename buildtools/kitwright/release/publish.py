"""Publish a kit: write a revision and its line in the ledger as one change, so that an interrupted release leaves the kit as it was.

How a kit is drawn is none of this room's business: whoever publishes hands in what draws the
files that readers can download.
"""

from __future__ import annotations

import datetime as dt
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from kitwright.check import errors
from kitwright.errors import Place, UserError
from kitwright.files import held, trouble, workshop
from kitwright.findings import Finding
from kitwright.kit.kit import NOTES_FILE, Kit
from kitwright.kit.model import FACES, LIVING, KitSpec, PaperFace
from kitwright.kit.read import CLUB_FILE, KIT_FILE, shown
from kitwright.kit.yamltext import read_text
from kitwright.otherwise.asked import answers_of
from kitwright.otherwise.checked import check
from kitwright.release import atomic, calendar, takeback, whole, zonemove
from kitwright.release.calendar import aware, reveal_of
from kitwright.release.history import corrected
from kitwright.release.kept import results_text
from kitwright.release.ledger import FORMAT, PUBLISHED, RECORD, LedgerLine, appended, opened, record_file, sealed
from kitwright.release.numbers import numbers_text
from kitwright.release.packed import packed
from kitwright.release.people import Person, names_in
from kitwright.release.record import FORM, ErratumRecord, Record, Revision, Same, record_text, released, yaml_text
from kitwright.release.revisions import as_it_would_be, as_published, sha256
from kitwright.release.stamp import Stamp
from kitwright.release.state import club_papers, club_state, is_tested, own_state, release_code
from kitwright.release.takeback import NOTHING, Instead
from kitwright.release.whole import FACTS, FILES, RESULTS, checksum
from kitwright.work.batches import tables_of
from kitwright.work.worked import Worked

Draw = Callable[[Worked, Stamp], Mapping[str, bytes]]
"""Draws every file that readers can download of a kit in this state, by name."""
CLUB_KEYS = ("name", "tagline", "about", "time zone", "region", "address", "trimmer", "papers", "terms", "cautions")
"""What of the club is frozen with a kit."""


class NotReady(UserError):
    """A kit with errors can't be released."""

    def __init__(self, kit: Kit, findings: list[Finding]) -> None:
        super().__init__("releases.not-ready", place=Place(kit.document.file), kit=kit.id, errors=len(findings))
        self.findings = findings
        """The errors."""


def release(
    kit: Kit, people: Mapping[str, Person], as_of: dt.datetime, draw: Draw, instead: Instead = NOTHING
) -> tuple[Revision, list[Finding]]:
    """Publish a kit as revision 1.

    Args:
        kit: as it is now.
        people: everybody on file, so that no name is frozen.
        as_of: the instant that is recorded.
        draw: draws what readers can download.
        instead: what nobody could have had yet, and is taken back for it.

    Returns:
        The revision, and warnings to pass on.

    Raises:
        NotReady: `check` has errors, or the text names a person.
        UserError: it was released before, and readers may have it; or nothing of it has changed since.
    """
    whole.stop_unless_whole(kit.folder.parent, kit.id)
    before = released(kit)
    if len(before) != len(instead.revisions):
        raise UserError("releases.released-already", place=Place(kit.document.file), kit=kit.id, revision=before[-1].number)
    worked, warnings = ready(kit, people)
    if before and is_as_released(worked, before[-1]):
        raise UserError("releases.as-released", place=Place(kit.document.file), kit=kit.id, revision=before[-1].number)
    return publish(worked, 1, aware(as_of), None, draw, instead=instead), warnings


def is_as_released(worked: Worked, last: Revision) -> bool:
    """Whether a revision would say nothing that the last one does not, whichever kitwright made that."""
    texts = {name: checksum(name, text.encode()) for name, text in frozen_texts(worked).items()}
    reveal = reveal_of(worked.kit, worked.kit.club)
    return (
        texts == {name: said for name, said in last.record.frozen.items() if name != FILES}
        and last.record.kitwright == own_version()
        and last.record.form == FORM
        and last.reveal in (None, reveal)
    )


def ready(kit: Kit, people: Mapping[str, Person]) -> tuple[Worked, list[Finding]]:
    """A kit that may be published, worked out, and what to warn of.

    Raises:
        NotReady: it may not.
        UserError: the club moved to another time zone, and she has not agreed to what moves with it.
    """
    zonemove.stop_if_moved(kit.folder.parent, kit.club, dt.datetime.now(dt.UTC))
    worked = as_it_would_be(kit)
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
        return Finding("warning", kit.place("tested"), "releases.changed-since-tested")
    return Finding("warning", Place(kit.document.file), "releases.never-tested")


def named_people(kit: Kit, people: Mapping[str, Person]) -> list[Finding]:
    """Names of people in what would be frozen: whole names are errors, parts of names warnings."""
    frozen_lines = _frozen_lines(kit)
    found: dict[tuple[Place, str], Finding] = {}
    texts = [(kit.document.file, read_text(kit.folder / KIT_FILE, kit.document.file), frozen_lines), (kit.notes_file, kit.notes, None)]
    for file, text, only in texts:
        for person, line, in_full in names_in(text, people):
            if only is not None and line not in only:
                continue
            place = Place(file, line)
            if in_full:
                found[place, person.key] = Finding("error", place, "releases.person-named", name=person.spec.name)
            else:
                found.setdefault((place, person.key), Finding("warning", place, "releases.person-perhaps", name=person.spec.name))
    return list(found.values())


def _frozen_lines(kit: Kit) -> set[int]:
    """Lines of kit.yaml on which something frozen stands; comments and living keys are not kept."""
    living = {KitSpec.model_fields[name].alias or name for name in LIVING}
    starts = sorted((line, path[0]) for path, line in kit.document.lines.items() if len(path) == 1)
    lines = read_text(kit.folder / KIT_FILE, kit.document.file).split("\n")
    last = len(lines)
    spans = [(line, (starts[i + 1][0] if i + 1 < len(starts) else last + 1), key) for i, (line, key) in enumerate(starts)]
    found = {n for start, end, key in spans if key not in living for n in range(start, end)}
    # Of a scan, what has lines of its own: beside it something frozen may stand.
    own = [
        (path, line) for path, line in kit.document.lines.items() if len(path) == 4 and path[0] == "papers" and path[3] in PaperFace.living
    ]
    return found - {
        n for path, line in own if lines[line - 1].strip().startswith(f"{path[3]}:") for n in range(line, kit.document.end(path) + 1)
    }


@dataclass(frozen=True)
class Again:
    """What a revision kept, and the next one keeps as well."""

    texts: Mapping[str, bytes]
    """Without the files, by name in its folder."""
    tested: bool
    reveal: dt.datetime
    same: Same
    """What alone is new in it."""


def publish(
    worked: Worked,
    revision: int,
    at: dt.datetime,
    erratum: ErratumRecord | None,
    draw: Draw,
    beside: Mapping[Path, bytes] | None = None,
    instead: Instead = NOTHING,
    again: Again | None = None,
) -> Revision:
    """Write a revision and its line in the ledger, all of it or nothing.

    Args:
        worked: the state to freeze, free of errors.
        revision: its number.
        at: the instant that is recorded, in UTC.
        erratum: what it mends; None for the first.
        draw: draws what readers can download.
        beside: other files below the folder of kits that change with it.
        instead: what nobody could have had yet, and is taken back for it.
        again: what it keeps, where that is what the revision before kept and was not worked out anew.

    Raises:
        UserError: something published was touched, or the folder can't be written.
    """
    kit, at = worked.kit, at.replace(microsecond=0)
    kits, home = kit.folder.parent, kit.folder / PUBLISHED / f"r{revision}"
    texts = {name: text.encode() for name, text in frozen_texts(worked).items()} if again is None else dict(again.texts)
    with held(kits):
        whole.stop_unless_whole(kits, kit.id)
        there = [(r.number, r.code) for r in released(kit)]
        if there[revision - 1 :] != [(r.number, r.code) for r in instead.revisions] or not there and os.path.lexists(home):
            raise UserError("releases.published-meanwhile", place=Place(shown(home)), kit=kit.id, revision=revision)
        # In the place of what nobody could have had, it follows nothing.
        follows = again if erratum is None and revision > 1 else None
        blank = Record(
            format=FORMAT,
            revision=revision,
            released=at.isoformat(),
            code=release_code(worked, revision),
            tested=is_tested(worked) if again is None else again.tested,
            kitwright=own_version(),
            frozen={},
            reveal=(reveal_of(kit, kit.club) if again is None else again.reveal).isoformat(),
            readdressed=follows is not None and follows.same == "readdressed",
            redrawn=follows is not None and follows.same == "redrawn",
            erratum=erratum,
        )
        try:
            with workshop(kit.folder) as aside:
                record, kept = filled(kit, Revision(kit.id, aside / home.name, blank, at), texts, draw)
                back = as_published(kit, Revision(kit.id, aside / home.name, record, at))
        except OSError as error:
            raise trouble(error, "disk.revision", home.parent, revision=revision) from None
        if (own_state(back), club_state(back)) != (own_state(worked), club_state(worked)) or (
            # A later kitwright may work out other numbers for what was published: those that were, stay.
            again is None and numbers_text(back).encode() != texts[FACTS]
        ):
            raise AssertionError(f"{kit.id} reads back otherwise than it was frozen")
        last = opened(record_file(kits, kit.id, revision - 1).read_text(encoding="utf-8")).digest if revision > 1 else ""
        text, own = sealed(record_text(record), last)
        gone = takeback.lines(kit, instead.revisions, instead.at) if instead.revisions else ()
        ledger = appended(kits, [*gone, LedgerLine(kit.id, revision, record.released, record.code, own)])
        atomic.change(
            kits,
            {home / name: data for name, data in kept.items()} | {home / RECORD: text.encode()} | ledger | dict(beside or {}),
            takeback.left_over(instead.revisions, home, [*kept]),
        )
    return Revision(kit.id, home, record.model_copy(update={"before": last, "digest": own}), at)


def filled(
    kit: Kit, blank: Revision, texts: Mapping[str, bytes], draw: Draw, before: Revision | None = None
) -> tuple[Record, dict[str, bytes]]:
    """A revision's record with its checksums, and all that is kept of it, by name in its folder.

    Drawn from what is kept, so that what can be drawn later is what is published now.

    Args:
        kit: as it is now.
        blank: the revision without checksums; its folder is to hold what is kept.
        texts: what is kept of it but the files.
        draw: draws those.
        before: the revision before, where it is not as it stands in the kit's folder.
    """
    written(blank.folder, texts)
    named = blank.record.model_copy(update={"frozen": {name: checksum(name, data) for name, data in texts.items()}})
    read = as_published(kit, Revision(kit.id, blank.folder, named, blank.at))
    files = draw(read, blank.stamp(read.kit.club.time_zone, corrected(kit, blank, read, before)))
    kept = {**texts, FILES: packed(files)}
    written(blank.folder, kept)
    checksums = {
        "files": {name: sha256(data) for name, data in files.items()},
        "frozen": {name: checksum(name, data) for name, data in kept.items()},
        "form": FORM,
    }
    return blank.record.model_copy(update=checksums), kept


def written(folder: Path, files: Mapping[str, bytes]) -> None:
    """What is kept as files of a folder, to be read back."""
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


def frozen_texts(worked: Worked) -> dict[str, str]:
    """What a revision keeps but its files, by name in its folder."""
    kit = worked.kit
    living = {KitSpec.model_fields[name].alias or name for name in LIVING}
    spec = {key: value for key, value in kit.document.data.items() if key not in living}
    if "papers" in spec:
        spec["papers"] = _unscanned(spec["papers"])
    club = {key: value for key, value in kit.club._document.data.items() if key in CLUB_KEYS}
    used = club_papers(worked)
    club["papers"] = {key: value for key, value in _unscanned(club.get("papers") or {}).items() if key in used}
    return {
        FACTS: numbers_text(worked),
        RESULTS: results_text(worked, tables_of(worked), answers_of(worked)),
        CLUB_FILE: yaml_text(club),
        f"{kit.id}/{KIT_FILE}": yaml_text(spec),
    } | ({f"{kit.id}/{NOTES_FILE}": kit.notes.replace("\r\n", "\n")} if kit.notes else {})


def _unscanned(papers: Any) -> Any:
    """Papers as they were typed, without what their scans are: that may change at any time."""
    if not isinstance(papers, dict):
        return papers
    living = {PaperFace.model_fields[name].alias or name for name in PaperFace.living}

    def face(name: str, said: Any) -> Any:
        return {key: value for key, value in said.items() if key not in living} if name in FACES and isinstance(said, dict) else said

    return {
        key: {name: face(name, said) for name, said in paper.items()} if isinstance(paper, dict) else paper for key, paper in papers.items()
    }


def own_version() -> str:
    """Which kitwright this is."""
    try:
        return version("kitwright")
    except PackageNotFoundError:
        return "from its source"
