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
from types import MappingProxyType
from typing import Any

from kitwright import cache
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.folder import MB, leads_out, read_own
from kitwright.kit.kit import NOTES_FILE
from kitwright.kit.loose import NOT_KITS
from kitwright.kit.read import CLUB_FILE, KIT_FILE, shown
from kitwright.kit.yamltext import read_text, read_yaml
from kitwright.release.ledger import FORMAT, LEDGER, PUBLISHED, RECORD, Ledger, LedgerLine, ZoneMove, opened, read_ledger

FACTS, RESULTS, FILES = "facts.json", "results.json", "files.tar.xz"
SOUND = "sound"
"""Under which kind it is kept what was found to be as it was published."""
LARGEST, LARGEST_FILES = 5 * MB, 100 * MB
"""Bytes of a frozen text, and of all files packed."""
SYSTEMS_OWN = {"thumbs.db", "desktop.ini"}
"""What a file manager leaves lying about; nothing ever reads it, no more than a name that begins with a dot."""


def revision_folders(kit_folder: Path) -> list[Path]:
    """The folders of a kit's revisions, oldest first; what is none of theirs is passed over."""
    home = kit_folder / PUBLISHED
    return (
        sorted((f for f in home.iterdir() if f.is_dir() and re.fullmatch("r[0-9]{1,6}", f.name)), key=lambda f: int(f.name[1:]))
        if home.is_dir()
        else []
    )


def frozen_names(kit: str) -> tuple[str, ...]:
    """What a revision keeps, by name in its folder; the notes only where there are some."""
    return FACTS, RESULTS, FILES, CLUB_FILE, f"{kit}/{KIT_FILE}", f"{kit}/{NOTES_FILE}"


def text_checksum(data: bytes) -> str:
    """A checksum of text that holds whatever the line endings that a machine gave it."""
    return hashlib.sha256(data.replace(b"\r\n", b"\n")).hexdigest()


def checksum(name: str, data: bytes) -> str:
    """The checksum of what is kept under a name."""
    return hashlib.sha256(data).hexdigest() if name == FILES else text_checksum(data)


def touched(folder: Path, kit: str, checksums: Mapping[str, str]) -> Finding | None:
    """What is wrong with the first file of a revision that is not as it was written; None where all are.

    Args:
        folder: the revision's.
        kit: the kit's id.
        checksums: of what is kept, by their names, as the record says.
    """

    def wrong(code: str, file: Path) -> Finding:
        return Finding("error", Place(shown(file)), code, kit=kit, revision=int(folder.name[1:]))

    for name in (f"{kit}/", *checksums, RECORD):
        file = folder / name
        if file.is_symlink():
            return wrong("releases.link-for-a-file", file)
        if name in checksums and not (name in frozen_names(kit) and _is(file, folder, checksums[name])):
            return wrong("releases.touched", file)
    known = {folder / name for name in (kit, RECORD, *checksums)}
    for file in sorted(folder.rglob("*")):
        if file not in known and not file.name.startswith(".") and file.name.lower() not in SYSTEMS_OWN:
            return wrong("releases.published-without", file)
    return None


def _is(file: Path, folder: Path, wanted: str) -> bool:
    try:
        most = LARGEST_FILES if file.name == FILES else LARGEST
        return not leads_out(file, folder) and checksum(file.name, read_own(file, most)) == wanted
    except (OSError, RuntimeError, OverflowError):
        return False


def newer(data: Mapping[str, object]) -> int | None:
    """The format of a record that a later kitwright made, in a form that is not known yet; None of any other."""
    said = data.get("format")
    return int(said) if isinstance(said, str) and re.fullmatch("[0-9]{1,9}", said) and int(said) > FORMAT else None


def stop_if_newer(data: Mapping[str, object], place: Place) -> None:
    """Refuse to read a record that a later kitwright made.

    Raises:
        UserError: so it is.
    """
    if (form := newer(data)) is not None:
        raise UserError("releases.newer", place=place, format=form, known=FORMAT, kitwright=str(data.get("kitwright", "")))


def published(kits: Path, folders: Mapping[str, str] = MappingProxyType({})) -> dict[str, list[Finding]]:
    """Everything that is not as it was published, by kit; what concerns the ledger itself under the empty name.

    Args:
        kits: the folder of kits.
        folders: digests of kits' folders, by name: what was found sound with the very same bytes is not looked at again.

    Raises:
        UserError: the ledger can't be read.
    """
    ledger, with_revisions = read_ledger(kits), _with_revisions(kits)
    found: dict[str, list[Finding]] = {}
    if told := _of_ledger(kits, ledger, with_revisions):
        found[""] = told
    lines: dict[str, list[str]] = {}
    for line in ledger.lines if ledger else ():
        if not isinstance(line, ZoneMove):
            lines.setdefault(line.kit, []).append(line.text)
    place = cache.digest(kits)
    known = cache.known(SOUND, place) or frozenset()
    sound: set[str] = set()
    for kit in sorted({*with_revisions, *(e.kit for e in ledger.entries)} if ledger else with_revisions):
        state = cache.digest(kit, folders.get(kit), ledger is not None, lines.get(kit))
        if kit in folders and state in known:
            sound.add(state)
        elif told := _kit(kits, kit, ledger):
            found[kit] = told
        else:
            sound.add(state)
    if folders and sound != known:
        cache.note(SOUND, place, frozenset(sound))
    return found


def _with_revisions(kits: Path) -> list[str]:
    """The kits that have any."""
    folders = (f for f in kits.iterdir() if f.is_dir() and not f.name.startswith(".") and f.name not in NOT_KITS) if kits.is_dir() else ()
    return sorted(f.name for f in folders if revision_folders(f))


def _of_ledger(kits: Path, ledger: Ledger | None, with_revisions: list[str]) -> list[Finding]:
    """What is wrong with the ledger in itself."""
    if ledger is None:
        return [_no_ledger(kits, with_revisions)] if with_revisions else []
    return list(ledger.findings)


def of_kit(kits: Path, kit: str) -> list[Finding]:
    """What is not as it was published of one kit, or in the ledger itself."""
    ledger = read_ledger(kits)
    named = ledger is not None and any(e.kit == kit for e in ledger.entries)
    told = _kit(kits, kit, ledger) if kit and (named or revision_folders(kits / kit)) else []
    return [*told, *_of_ledger(kits, ledger, [] if ledger else _with_revisions(kits))]


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
        raise found[0].raised()


def _no_ledger(kits: Path, names: list[str]) -> Finding:
    sealed = [name for name in names if any(_seal_of(f / RECORD) for f in revision_folders(kits / name))]
    place = Place(shown(kits / LEDGER))
    return Finding("error", place, "releases.ledger-gone", kit=sealed[0]) if sealed else Finding("warning", place, "releases.no-ledger-yet")


def _seal_of(record: Path) -> str:
    try:
        return opened(read_text(record, shown(record))).digest
    except UserError:
        return ""


def _kit(kits: Path, kit: str, ledger: Ledger | None) -> list[Finding]:
    home = kits / kit / PUBLISHED
    entries = {e.revision: e for e in ledger.of(kit)} if ledger else {}
    known = tuple(sorted(entries))

    def wrong(code: str, place: Path, **values: Any) -> Finding:
        return Finding("error", Place(shown(place)), code, kit=kit, **values)

    if entries and not (kits / kit).is_dir():
        return [wrong("releases.kit-gone", kits / kit, revisions=known)]
    if home.is_symlink() or (kits / kit).is_symlink():
        return [wrong("releases.link-for-all", home)]
    if home.exists() and not home.is_dir():
        return []  # told where the kit is read
    folders = {int(f.name[1:]): f for f in revision_folders(kits / kit)}
    if entries and not folders:
        return [wrong("releases.all-gone", home, revisions=known)]
    found: list[Finding] = []
    last: _Last = ("", None)
    for number in sorted({*folders, *entries} if ledger else folders):
        folder, entry = folders.get(number), entries.get(number)
        if folder is None:
            found.append(wrong("releases.missing", home / f"r{number}", revision=number))
            last = entry.record if entry else "", None
        elif ledger and entry is None:
            if any(back.revision == number for back in ledger.taken_back(kit)):
                found.append(wrong("releases.stands-again", folder, revision=number))
            else:
                found.append(wrong("releases.in-no-line", folder, revision=number, ledger=LEDGER))
        else:
            told, last = _revision(folder, kit, number, ledger, entry, last)
            found += told
    in_order = ledger.of(kit) if ledger else []
    if ledger and not found and in_order != sorted(in_order, key=lambda e: e.revision):
        found.append(Finding("error", ledger.place(in_order[0]), "releases.other-order", kit=kit))
    return found


_Last = tuple[str, dt.datetime | None]
"""The digest of the record before, and its instant."""


def _revision(
    folder: Path, kit: str, number: int, ledger: Ledger | None, entry: LedgerLine | None, last: _Last
) -> tuple[list[Finding], _Last]:
    """What is wrong with one revision; and its digest and instant, for the next."""
    record = folder / RECORD
    place = Place(shown(record))
    anyway: _Last = (entry.record if entry else "", None)

    def wrong(code: str, where: Place = place, **values: Any) -> tuple[list[Finding], _Last]:
        return [Finding("error", where, code, kit=kit, revision=number, **values)], anyway

    if record.is_symlink() or folder.is_symlink():
        return wrong("releases.link-for-a-file")
    try:
        text = read_text(record, shown(record))
        data = read_yaml(record, shown(record)).data
        stop_if_newer(data, place)
    except UserError as error:
        if error.code == "releases.newer":
            return [Finding("error", place, error.code, **error.values)], anyway
        return wrong("releases.unread-record", error.place or place, error=error)
    seal = opened(text)
    if entry and not seal.digest:
        return wrong("releases.no-seal")
    if seal.digest and not seal.holds or entry and seal.digest != entry.record:
        return wrong("releases.touched")
    if seal.digest and seal.before != last[0]:
        return wrong("releases.no-chain")
    frozen, released = data.get("frozen"), str(data.get("released", ""))
    if ledger and entry and (entry.released, entry.code) != (released, data.get("code")):
        return wrong("releases.other-line", ledger.place(entry), what="time" if entry.released != released else "code")
    if data.get("revision") != str(number):
        return wrong("releases.other-record")
    odd = touched(folder, kit, {str(n): str(c) for n, c in frozen.items()} if isinstance(frozen, dict) else {})
    if odd:
        return [odd], anyway
    try:
        at = dt.datetime.fromisoformat(released)
        early = last[1] is not None and at <= last[1]
    except (ValueError, TypeError):
        return wrong("releases.not-the-time", text=released)
    if early:
        return wrong("releases.too-early")
    return [], (seal.digest, at)
