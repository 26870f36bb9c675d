"""Changes to several files that happen whole or not at all.

The new files are first written into a folder of their own, together with a record of what is
to happen, and all of it is synced. Renaming that folder is the one moment of decision: cut
short before it, nothing has happened; cut short after it, `finish` does the rest, as often as
need be.

The record may come from anywhere, in a folder that somebody else packed. It is followed only
where kitwright itself could have written it: every path in it leads, without a link, to a
file below the folder, the new files are those that it gives checksums of, and every file that
is to change still is as it was, or is changed already. Anything else is told and changes nothing.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import stat
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.files import clear, held, remove, sweep, sync_folder, sync_tree, trouble, workshop, write_file
from kitwright.release.ledger import LEDGER, PUBLISHED, read_lines

__all__ = ["PLAN", "READY", "change", "finish"]

PLAN = "plan.json"
READY = ".change-ready"
FORMAT = 2
BIGGEST = 16_000_000
"""Bytes of a record; thousands of files have room in it."""
LEFT_BEHIND = (".change-new", ".published-new")
"""What an earlier kitwright called what was not whole yet."""
KINDS = frozenset(
    ".yaml .yml .md .txt .json .svg .csv .html .htm .xml .pdf .png .jpg .jpeg .webp .gif .tif .tiff .bmp .avif .heic .dxf .rtf .ics .xz".split()
)
"""The kinds of files that kits are made of. Another kind may be changed or renamed where it is there already, as it was when the record was written, but never begun."""
NEVER_REMOVED = ("releases.yaml", "club.yaml", "kit.yaml", "release.yaml")
"""Files that are changed, and stay."""
_PART = re.compile(r"[^\x00-\x1f\x7f/\\:*?\"<>|]{1,255}")


@dataclass(frozen=True)
class _Write:
    kept: str
    """Its name in the folder of the record."""
    file: Path
    was: str | None
    """The checksum of what stood there; None where nothing did."""
    now: str
    """The checksum of what will stand there."""


@dataclass(frozen=True)
class _Plan:
    written: tuple[_Write, ...]
    removed: tuple[Path, ...]


class _Unfit(UserError):
    """Why a record can't be followed."""


def change(folder: Path, written: Mapping[Path, bytes], removed: Iterable[Path] = ()) -> None:
    """Write and remove files and folders below `folder`, all of them or none.

    Files are written first and removed last, so that what is renamed is written under its new
    name and removed under its old one. Folders on the way are made.

    Args:
        folder: everything changed lies below it.
        written: file → its new bytes.
        removed: files and whole folders; what is not there is passed over.

    Raises:
        UserError: a path that may not be changed, or the disk is full or can't be written; nothing was changed.
    """
    with held(folder):
        finish(folder)
        names = [[str(i), _name(folder, file)] for i, file in enumerate(sorted(written))]
        gone = sorted(_name(folder, path) for path in removed)
        try:
            with workshop(folder) as shop:
                new = shop / "change"
                new.mkdir()
                entries = []
                for (kept, name), (file, data) in zip(names, sorted(written.items())):
                    (new / kept).write_bytes(data)
                    entries.append([kept, name, _checksum_of(file), _checksum(data)])
                plan = {"format": FORMAT, "written": entries, "removed": gone}
                (new / PLAN).write_text(json.dumps(plan, indent=0), encoding="utf-8")
                (new / ".gitignore").write_bytes(b"*\n")
                # What can't be followed must not be decided on.
                _read(folder, new)
                sync_tree(new)
                os.rename(new, folder / READY)
            sync_folder(folder)
        except _Unfit as error:
            raise UserError("change.impossible", place=Place(folder), reason=error) from None
        except OSError as error:
            raise trouble(error, "disk.change", folder) from None
        finish(folder)


def finish(folder: Path) -> bool:
    """Do what is left of a change that was cut short, and clear up what a killed command left; whether there was a change.

    Raises:
        UserError: the record of the change can't be followed, or not now; nothing was lost.
    """
    ready = folder / READY
    if not os.path.lexists(ready):
        _clear_up(folder)
        return False
    with held(folder):
        if not os.path.lexists(ready):
            return True  # Another command did it meanwhile.
        try:
            plan = _read(folder, ready)
            if plan is not None:
                _follow(plan, ready)
            _put_away(ready)
            _clear_up(folder)
        except _Unfit as error:
            raise UserError("change.unfollowed", place=Place(ready / PLAN), reason=error, folder=folder.name, ready=READY) from None
        except OSError as error:
            raise trouble(error, "disk.half-a-change", ready) from None
        return True


def _clear_up(folder: Path) -> None:
    """Remove what killed commands left in the folder and in those of its kits."""
    places = [folder]
    try:
        places += [Path(e.path) for e in os.scandir(folder) if e.is_dir(follow_symlinks=False) and not e.name.startswith(".")]
        places += [Path(e.path) for e in os.scandir(folder / "people") if e.is_dir(follow_symlinks=False)]
    except OSError:
        pass
    for place in places:
        sweep(place)
        for name in LEFT_BEHIND:
            if (place / name).is_dir() and not (place / name).is_symlink():
                clear(place / name)


# --- the record -----------------------------------------------------------------------------------


def _read(folder: Path, ready: Path) -> _Plan | None:
    """The record in its folder; None where all of it was done, and only clearing up was cut short.

    Raises:
        _Unfit: kitwright did not write this, or what it speaks of is not as it was.
    """
    if not stat.S_ISDIR(os.lstat(ready).st_mode):
        raise _Unfit("change.no-folder", name=ready.name)
    names = set(os.listdir(ready))
    foreign = sorted(
        n for n in names if not (n.isascii() and n.isdigit() or n in (PLAN, ".gitignore")) or not stat.S_ISREG(os.lstat(ready / n).st_mode)
    )
    if foreign:
        raise _Unfit("change.foreign", name=foreign[0], folder=ready.name)
    if PLAN not in names:
        return None
    if os.lstat(ready / PLAN).st_size > BIGGEST:
        raise _Unfit("change.too-long")
    try:
        data = json.loads((ready / PLAN).read_bytes().decode("utf-8"))
        if not isinstance(data, dict) or set(data) != {"format", "written", "removed"} or data["format"] != FORMAT:
            raise ValueError
        entries, gone = data["written"], data["removed"]
        if not isinstance(entries, list) or not isinstance(gone, list) or not all(isinstance(n, str) for n in gone):
            raise ValueError
        for entry in entries:
            if not (
                isinstance(entry, list)
                and len(entry) == 4
                and all(isinstance(part, str) or i == 2 and part is None for i, part in enumerate(entry))
            ):
                raise ValueError
    except (ValueError, RecursionError):
        raise _Unfit("change.other-form") from None
    kinds = KINDS | {Path(name).suffix.lower() for name in gone}
    written = tuple(
        _Write(kept, _path(folder, name, kinds if was is None else kinds | {Path(name).suffix.lower()}), was, now)
        for kept, name, was, now in entries
    )
    removed = tuple(_path(folder, name, None, _taken_back(folder, ready, written)) for name in gone)
    if {w.kept for w in written} != names - {PLAN, ".gitignore"} or len({w.file for w in written}) != len(written):
        raise _Unfit("change.other-files")
    for write in written:
        if any(gone == write.file or gone in write.file.parents for gone in removed):
            raise _Unfit("change.both", name=write.file.relative_to(folder).as_posix())
        if _checksum((ready / write.kept).read_bytes()) != write.now:
            raise _Unfit("change.damaged", name=write.file.relative_to(folder).as_posix())
        if _checksum_of(write.file) not in (write.was, write.now):
            raise _Unfit("change.changed-since", name=write.file.relative_to(folder).as_posix())
    return _Plan(written, removed)


def _taken_back(folder: Path, ready: Path, written: Iterable[_Write]) -> frozenset[Path]:
    """Folders of revisions that the ledger, as it will be, says were taken back."""
    kept = next((w.kept for w in written if w.file == folder / LEDGER), None)
    if kept is None:
        return frozenset()
    said = read_lines(folder / LEDGER, (ready / kept).read_bytes().decode("utf-8", "replace"))
    return frozenset() if said.findings else frozenset(folder / kit / PUBLISHED / f"r{number}" for kit, number in said.gone)


def _name(folder: Path, path: Path) -> str:
    """A path as the record says it."""
    try:
        return path.relative_to(folder).as_posix()
    except ValueError:
        raise UserError("change.outside", place=Place(path)) from None


def _path(folder: Path, name: str, kinds: frozenset[str] | None, taken_back: frozenset[Path] = frozenset()) -> Path:
    """The file that a record names.

    Args:
        folder: where it must lie.
        name: as the record says it.
        kinds: what kinds of files may be written; None for what is removed.
        taken_back: folders of revisions that are removed since nobody could have had them.

    Raises:
        _Unfit: it lies elsewhere, behind a link, or is nothing that kitwright would change.
    """
    parts = name.split("/")
    if not name or not all(_PART.fullmatch(part) and part == part.strip() and not part.endswith(".") for part in parts):
        raise _Unfit("change.no-path", name=name, folder=folder.name)
    if any(part.startswith(".") for part in parts):
        raise _Unfit("change.not-changed", name=name)
    path = folder
    for i, part in enumerate(parts, 1):
        path = path / part
        try:
            mode = os.lstat(path).st_mode
        except FileNotFoundError:
            continue
        except (NotADirectoryError, OSError):
            raise _Unfit("change.unseen", name=name) from None
        if stat.S_ISLNK(mode):
            raise _Unfit("change.through-a-link", name=name)
        if i < len(parts) and not stat.S_ISDIR(mode) or not (stat.S_ISDIR(mode) or stat.S_ISREG(mode)):
            raise _Unfit("change.through-no-folder", name=name)
        if i == len(parts) and stat.S_ISDIR(mode):
            # A person's folder, or one inside a kit's; never a kit, and never what was published, unless the ledger says in the same change that it was taken back.
            if kinds is not None or len(parts) < 2 or any(p.casefold() == "published" for p in parts[1:]) and path not in taken_back:
                raise _Unfit("change.not-that-folder", name=name, removed=kinds is None)
            return path
    if kinds is None and parts[-1].casefold() in NEVER_REMOVED:
        raise _Unfit("change.not-removed", name=name)
    if kinds is not None and Path(parts[-1]).suffix.lower() not in kinds:
        raise _Unfit("change.other-kind", name=name)
    if kinds is not None and len(parts) > 1 and parts[0] != "people" and not (folder / parts[0]).is_dir():
        raise _Unfit("change.new-folder", name=name)
    return path


# --- following it ---------------------------------------------------------------------------------


def _follow(plan: _Plan, ready: Path) -> None:
    for write in plan.written:
        if _checksum_of(write.file) == write.now:
            continue
        _make_folders(write.file.parent)
        # Copied, not moved, so that it can be done again.
        write_file(write.file, (ready / write.kept).read_bytes())
    for gone in plan.removed:
        if os.path.lexists(gone):
            remove(gone)
            sync_folder(gone.parent)


def _make_folders(folder: Path) -> None:
    missing = []
    while not folder.is_dir():
        missing.append(folder)
        folder = folder.parent
    for each in reversed(missing):
        os.mkdir(each)
        sync_folder(each.parent)


def _put_away(ready: Path) -> None:
    """Remove a record that was followed: the plan goes first, so that it is never followed in part."""
    (ready / PLAN).unlink(missing_ok=True)
    sync_folder(ready)
    for name in sorted(os.listdir(ready)):
        (ready / name).unlink()
    ready.rmdir()
    sync_folder(ready.parent)


def _checksum(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _checksum_of(file: Path) -> str | None:
    try:
        return _checksum(file.read_bytes())
    except FileNotFoundError:
        return None
