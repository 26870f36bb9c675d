"""Whether all that was ever published is there as it was: files, seals and ledger, before any kit is read.

Nothing here needs a kit that can be read, so that a half-typed spec hides no damage, and a
kit that vanished is noticed.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import re
from collections.abc import Mapping
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.folder import MB, leads_out, read_own
from kitwright.kit.kit import NOTES_FILE
from kitwright.kit.read import CLUB_FILE, KIT_FILE, NOT_KITS, shown
from kitwright.kit.yamltext import read_text, read_yaml
from kitwright.release.ledger import LEDGER, PUBLISHED, PUT_BACK, RECORD, Entry, Ledger, opened, read_ledger

FACTS = "facts.json"
LARGEST = 5 * MB
"""Bytes of a frozen text."""
TOUCHED = "this file of revision {} of {} was changed after its release"
SYSTEMS_OWN = {"thumbs.db", "desktop.ini"}
"""What a file manager leaves lying about; nothing ever reads it, no more than a name that begins with a dot."""
ADOPT = "kitwright release --adopt"


def revision_folders(kit_folder: Path) -> list[Path]:
    """The folders of a kit's revisions, oldest first; what is none of theirs is passed over."""
    home = kit_folder / PUBLISHED
    return (
        sorted((f for f in home.iterdir() if f.is_dir() and re.fullmatch("r[0-9]{1,6}", f.name)), key=lambda f: int(f.name[1:]))
        if home.is_dir()
        else []
    )


def frozen_names(kit: str) -> tuple[str, ...]:
    """What a revision freezes, by name in its folder; the notes only where there are some."""
    return FACTS, CLUB_FILE, f"{kit}/{KIT_FILE}", f"{kit}/{NOTES_FILE}"


def text_checksum(data: bytes) -> str:
    """A checksum of text that holds whatever the line endings that a machine gave it."""
    return hashlib.sha256(data.replace(b"\r\n", b"\n")).hexdigest()


def touched(folder: Path, kit: str, checksums: Mapping[str, str]) -> tuple[Path, str] | None:
    """The first file of a revision that is not as it was written, and what is wrong with it; None where all are.

    Args:
        folder: the revision's.
        kit: the kit's id.
        checksums: of the frozen files, by their names, as the record says.
    """
    number = folder.name[1:]
    for name in (f"{kit}/", *checksums, RECORD):
        file = folder / name
        if file.is_symlink():
            return file, f"a link stands in place of this file of revision {number} of {kit}"
        if name in checksums and not (name in frozen_names(kit) and _is(file, folder, checksums[name])):
            return file, TOUCHED.format(number, kit)
    known = {folder / name for name in (kit, RECORD, *checksums)}
    for file in sorted(folder.rglob("*")):
        if file not in known and not file.name.startswith(".") and file.name.lower() not in SYSTEMS_OWN:
            return file, f"revision {number} of {kit} was published without this file"
    return None


def _is(file: Path, folder: Path, checksum: str) -> bool:
    try:
        return not leads_out(file, folder) and text_checksum(read_own(file, LARGEST)) == checksum
    except (OSError, RuntimeError, OverflowError):
        return False


def published(kits: Path) -> dict[str, list[Finding]]:
    """Everything that is not as it was published, by kit; what concerns the ledger itself under the empty name.

    Raises:
        UserError: the ledger can't be read.
    """
    ledger = read_ledger(kits)
    folders = (
        {f.name: f for f in sorted(kits.iterdir()) if f.is_dir() and not f.name.startswith(".") and f.name not in NOT_KITS}
        if kits.is_dir()
        else {}
    )
    with_revisions = [name for name, folder in folders.items() if revision_folders(folder)]
    found: dict[str, list[Finding]] = {}
    if ledger is None:
        if with_revisions:
            found[""] = [_no_ledger(kits, with_revisions)]
    elif ledger.findings:
        found[""] = list(ledger.findings)
    for kit in sorted({*with_revisions, *(e.kit for e in ledger.entries)} if ledger else with_revisions):
        told = _kit(kits, kit, ledger)
        if told:
            found[kit] = told
    return found


def of_kit(kits: Path, kit: str) -> list[Finding]:
    """What is not as it was published of one kit, or in the ledger itself."""
    found = published(kits)
    return [*found.get(kit, []), *found.get("", [])]


def without_ledger(kits: Path, kit: str) -> list[Finding]:
    """What is not as it was published of one kit, by its own records alone."""
    return _kit(kits, kit, None)


def stop_unless_untouched(kits: Path, kit: str) -> None:
    """Refuse to note anew what is not as it was published.

    Raises:
        UserError: something of this kit or of the ledger was touched.
    """
    _stop([f for f in of_kit(kits, kit) if f.level == "error"])


def stop_unless_whole(kits: Path, kit: str) -> None:
    """Refuse to publish beside what is not as it was published, or not in a ledger yet.

    Raises:
        UserError: something of this kit or of the ledger was touched, or the archive has no ledger of its releases.
    """
    _stop(of_kit(kits, kit))


def _stop(found: list[Finding]) -> None:
    if found:
        raise UserError(found[0].problem, found[0].remedy, found[0].place)


def _no_ledger(kits: Path, names: list[str]) -> Finding:
    sealed = [name for name in names if any(_seal_of(f / RECORD) for f in revision_folders(kits / name))]
    if sealed:
        return Finding(
            "error",
            Place(shown(kits / LEDGER)),
            f"the ledger of releases is gone, which names every revision that was published, those of {sealed[0]} among them",
            "put it back from your backup",
        )
    return Finding(
        "warning",
        Place(shown(kits / LEDGER)),
        "this archive has no ledger of its releases yet, so a revision that vanishes would not be noticed",
        f"write it, once, with  {ADOPT}",
    )


def _seal_of(record: Path) -> str:
    try:
        return opened(read_text(record, shown(record))).digest
    except UserError:
        return ""


def _kit(kits: Path, kit: str, ledger: Ledger | None) -> list[Finding]:
    home = kits / kit / PUBLISHED
    entries = {e.revision: e for e in ledger.of(kit)} if ledger else {}
    if entries and not (kits / kit).is_dir():
        return [
            Finding(
                "error",
                Place(shown(kits / kit)),
                f"{kit} is gone, of which {_revisions(entries)} published",
                "put its folder back from your backup, under this very name",
            )
        ]
    if home.is_symlink() or (kits / kit).is_symlink():
        return [Finding("error", Place(shown(home)), f"a link stands in place of the revisions of {kit}", "put the folder itself here")]
    if home.exists() and not home.is_dir():
        return []  # told where the kit is read
    folders = {int(f.name[1:]): f for f in revision_folders(kits / kit)}
    if entries and not folders:
        return [
            Finding(
                "error",
                Place(shown(home)),
                f"the revisions of {kit} are gone: {_revisions(entries)} published",
                "put this folder back from your backup",
            )
        ]
    found: list[Finding] = []
    last: tuple[str, dt.datetime | None] = ("", None)
    for number in sorted({*folders, *entries} if ledger else folders):
        folder, entry = folders.get(number), entries.get(number)
        if folder is None:
            found.append(
                Finding(
                    "error",
                    Place(shown(home / f"r{number}")),
                    f"revision {number} of {kit} is missing",
                    "put its folder back from your backup",
                )
            )
            last = entry.record, None
        elif ledger and entry is None:
            found.append(
                Finding(
                    "error",
                    Place(shown(folder)),
                    f"revision {number} of {kit} stands in no line of {LEDGER}: it was not published here",
                    f"put back its line from your backup, or take this folder away; revisions that came from another archive are taken in with  {ADOPT.replace('--', f'{kit} --')}",
                )
            )
        else:
            told, last = _revision(folder, kit, number, ledger, entry, last)
            found += told
    order = [e.revision for e in ledger.of(kit)] if ledger else []
    if not found and order != sorted(order):
        found.append(
            Finding(
                "error",
                ledger.place(ledger.of(kit)[0]),
                f"the revisions of {kit} stand in another order than they were published in",
                PUT_BACK,
            )
        )
    return found


def _revisions(entries: Mapping[int, Entry]) -> str:
    return f"revision{'s' if len(entries) > 1 else ''} {' and '.join(filter(None, (', '.join(map(str, sorted(entries)[:-1])), str(max(entries)))))} {'were' if len(entries) > 1 else 'was'}"


def _revision(
    folder: Path, kit: str, number: int, ledger: Ledger | None, entry: Entry | None, last: tuple[str, dt.datetime | None]
) -> tuple[list[Finding], tuple[str, dt.datetime | None]]:
    """What is wrong with one revision; and its digest and instant, for the next."""
    record = folder / RECORD
    place = Place(shown(record))

    def wrong(problem: str, where: Place = place, remedy: str = PUT_BACK) -> tuple[list[Finding], tuple[str, dt.datetime | None]]:
        return [Finding("error", where, problem, remedy)], (entry.record if entry else "", None)

    if record.is_symlink() or folder.is_symlink():
        return wrong(f"a link stands in place of this file of revision {number} of {kit}")
    try:
        text = read_text(record, shown(record))
        data = read_yaml(record, shown(record)).data
    except UserError as error:
        return wrong(f"the record of revision {number} of {kit}: {error.problem}", error.place or place, "put it back from your backup")
    seal = opened(text)
    if entry and not seal.digest:
        return wrong(f"the record of revision {number} of {kit} has lost the digest that it was published with")
    if seal.digest and not seal.holds or entry and seal.digest != entry.record:
        return wrong(TOUCHED.format(number, kit))
    if seal.digest and seal.before != last[0]:
        return wrong(f"the record of revision {number} of {kit} does not follow from that of the revision before")
    frozen, released = data.get("frozen"), str(data.get("released", ""))
    if entry and (entry.released, entry.code) != (released, data.get("code")):
        return wrong(
            f"the line of revision {number} of {kit} was changed: its record says another {'time' if entry.released != released else 'code'}",
            ledger.place(entry),
        )
    if data.get("revision") != str(number):
        return wrong(f"this record is not that of revision {number} of {kit}")
    odd = touched(folder, kit, {str(n): str(c) for n, c in frozen.items()} if isinstance(frozen, dict) else {})
    if odd:
        return wrong(odd[1], Place(shown(odd[0])))
    try:
        at = dt.datetime.fromisoformat(released)
        early = last[1] is not None and at <= last[1]
    except (ValueError, TypeError):
        return wrong(f"“{released[:40]}” is not the time of revision {number} of {kit}")
    if early:
        return wrong(f"revision {number} of {kit} is dated before the revision that it corrects")
    return [], (seal.digest, at)
