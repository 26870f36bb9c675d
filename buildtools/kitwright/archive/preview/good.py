"""The last good state of an archive: a copy of its files, in which each part is as it was when it could last be built.

A part is what goes bad by itself: a kit, the club's own files, the people, the theme. What was
saved is taken into the copy part by part; a part that can't be built is put back, and the others
stay. So one bad kit holds up no other, and a build always looks at files that nobody is writing.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import stat
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from kitwright import files
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.loose import NOT_KITS
from kitwright.kit.project import KITS
from kitwright.kit.read import CLUB_FILE, LARGEST_PDF, shown
from kitwright.kit.theme import THEME

Part = str
"""The path of its folder, from the top of the archive: `kits/2027-03-river-stones`; `kits` for the club's own files."""
CLUB = KITS
SHARED = (CLUB, *(f"{KITS}/{name}" for name in sorted(NOT_KITS)), THEME)
"""What is no kit: whatever is wrong with it concerns every page."""


@dataclass(frozen=True)
class Look:
    """What a part looked like at one moment: the same look means the same files."""

    files: Mapping[str, tuple[int, ...]]
    """By path in the part: kind, size, when changed, and which file it is."""

    @property
    def saved(self) -> float:
        """When the newest of its files was saved, in seconds since 1970; 0 for a part without files."""
        return max((known[2] / 1e9 for known in self.files.values()), default=0.0)


@dataclass(frozen=True)
class Held:
    """A part of which a newer state than the one shown was saved."""

    shown: float | None
    """When what is shown was saved, in seconds since 1970; None where nothing of it can be shown."""
    saved: float | None
    """When the newer state was; None where the part was deleted."""


class LastGood:
    """A copy of an archive in which every part is as it last was good."""

    def __init__(self, root: Path, home: Path) -> None:
        """Args:
        root: the archive.
        home: an empty folder of our own for the copy.
        """
        self.root, self.copy = root, home / "good"
        self._aside = home / "before"
        self.taken: dict[Part, Look] = {}
        """What each part of the copy looked like in the archive."""
        self._before: dict[Part, Look | None] = {}
        """What stands aside, until it is settled: None where there was nothing before."""
        self._seen: dict[Part, tuple[Look | None, float]] = {}
        """When a state that can't be shown was first seen."""
        self.copy.mkdir()

    def looks(self) -> dict[Part, Look]:
        """Every part of the archive as it is now."""
        found = {part: look_at(self.root / part) for part in SHARED[1:] if os.path.lexists(self.root / part)}
        kits = self.root / KITS
        if kits.is_dir():
            found[CLUB] = Look(dict(_plain_in(kits)))
            for folder in sorted(kits.iterdir()):
                if folder.name not in NOT_KITS and not folder.name.startswith(".") and (folder.is_dir() or _astray(folder)):
                    found[f"{KITS}/{folder.name}"] = look_at(folder)
        return found

    @property
    def kits(self) -> bool:
        """Whether there is a club with a kit in the copy."""
        return CLUB in self.taken and any(part not in SHARED for part in self.taken)

    def take(self, part: Part, look: Look | None) -> None:
        """Put a part as the archive has it now into the copy; what was there stands aside. None takes it away.

        Raises:
            UserError: a file can't be read, or the disk is full.
        """
        self._before[part] = self.taken.get(part)
        old, aside = self.copy / part, self._aside / part
        aside.parent.mkdir(parents=True, exist_ok=True)
        if part == CLUB:
            self._move_plain(old, aside)
        elif os.path.lexists(old):
            os.rename(old, aside)
        self.taken.pop(part, None)
        if look is None:
            return
        known = self._before[part]
        same = {name for name, one in look.files.items() if known is not None and known.files.get(name) == one}
        self.taken[part] = look
        try:
            for name in look.files:
                self._take_file(self.root / part / name, old / name, aside / name if name in same else None)
            if "" not in look.files:
                old.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            if error.errno in (errno.ENOSPC, errno.EDQUOT):
                raise files.trouble(error, "disk.preview") from None
            place = Place(self.their_path(Path(os.fsdecode(error.filename))) if error.filename else shown(self.root / part))
            raise UserError("files.unreadable-text", place=place, why=error.strerror) from None

    def same(self, part: Part, look: Look | None) -> bool:
        """Whether a part of the archive is the same in every byte as in the copy, whenever it was saved; then it is noted so."""
        known = self.taken.get(part)
        if known is None or look is None or {n: one[:2] for n, one in known.files.items()} != {n: one[:2] for n, one in look.files.items()}:
            return False
        changed = [name for name, one in look.files.items() if known.files[name] != one]
        try:
            if any(_bytes(self.root / part / name) != _bytes(self.copy / part / name) for name in changed):
                return False
        except OSError:
            return False
        self.taken[part] = look
        return True

    def put_back(self, part: Part) -> None:
        """Have a part of the copy as it was before it was taken."""
        known, here, aside = self._before.pop(part), self.copy / part, self._aside / part
        self.taken.pop(part, None)
        if part == CLUB:
            for name in list(_plain_in(here)) if here.is_dir() else ():
                (here / name[0]).unlink()
            self._move_plain(aside, here)
        else:
            files.clear(here)
            if os.path.lexists(aside):
                os.rename(aside, here)
        if known is not None:
            self.taken[part] = known

    def settle(self) -> None:
        """What was taken is good: nothing of before is needed any more."""
        self._before.clear()
        files.clear(self._aside)

    def held(self, looks: Mapping[Part, Look], now: float) -> dict[Part, Held]:
        """Every part of which the archive has another state than the copy.

        Args:
            looks: the archive's parts.
            now: the time, in seconds since 1970.
        """
        found = {}
        for part in sorted({**looks, **self.taken}):
            new, old = looks.get(part), self.taken.get(part)
            if new != old:
                # A file that was put there again with its old time, or taken away: then what counts is when that was seen.
                if self._seen.get(part, (None, 0.0))[0] != new:
                    self._seen[part] = new, now
                saved = None if new is None else new.saved if new.saved > (old.saved if old else 0) else self._seen[part][1]
                found[part] = Held(old.saved if old else None, saved)
        return found

    def as_theirs(self, found: Finding) -> Finding:
        """What was found in the copy, at the place that the user knows."""
        values = {name: self.their_path(value) if isinstance(value, Path) else value for name, value in found.values.items()}
        place = Place(self.their_path(found.place.file), found.place.line) if found.place.file else found.place
        return Finding(found.level, place, found.code, **values)

    def their_path(self, path: Path) -> Path:
        """A path in the copy as the one that the user knows; any other as it is."""
        with contextlib.suppress(ValueError, OSError, RuntimeError):
            return shown(self.root / Path(os.path.abspath(path)).relative_to(os.path.abspath(self.copy)))
        return path

    def part_of(self, place: Place | None) -> Part | None:
        """The part that a place of the user's is in; None where it is in none."""
        if place is None or place.file is None:
            return None
        try:
            way = Path(os.path.abspath(place.file)).relative_to(os.path.abspath(self.root)).parts
        except ValueError:
            return None
        if way[:1] == (THEME,):
            return THEME
        if way[:1] != (KITS,):
            return None
        part = "/".join(way[:2])
        return part if part in self.taken or part in self._before or (self.root / part).is_dir() else CLUB

    def _take_file(self, source: Path, target: Path, same: Path | None) -> None:
        target.parent.mkdir(parents=True, exist_ok=True)
        if same is not None:
            # It did not change since: the copy before has it.
            with contextlib.suppress(OSError):
                os.link(same, target, follow_symlinks=False)
                return
        _copied(source, target, lambda text: _leads(text, self.root, self.copy))

    def _move_plain(self, here: Path, there: Path) -> None:
        """Move the files of a folder that stand in it itself."""
        there.mkdir(parents=True, exist_ok=True)
        if here.is_dir():
            for name, _ in list(_plain_in(here)):
                os.rename(here / name, there / name)


def named(part: Part) -> str:
    """A part as its user knows it, from the top of the archive."""
    return f"{CLUB}/{CLUB_FILE}" if part == CLUB else part


def look_at(folder: Path) -> Look:
    """What a folder looks like."""
    return Look(dict(_below(folder)))


def _known(path: Path) -> tuple[int, ...]:
    found = os.lstat(path)
    return stat.S_IFMT(found.st_mode), found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino


def _bytes(path: Path) -> bytes | str:
    return os.readlink(path) if path.is_symlink() else path.read_bytes()


def _below(folder: Path) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Everything below a folder that is no folder; a link is one thing, wherever it leads. Empty for what vanishes meanwhile."""
    if folder.is_symlink() or not folder.is_dir():
        with contextlib.suppress(OSError):
            yield "", _known(folder)
        return
    for here, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith(files.OURS))
        for name in sorted([*names, *(name for name in folders if os.path.islink(os.path.join(here, name)))]):
            path = Path(here, name)
            if not name.startswith(files.OURS):
                with contextlib.suppress(OSError):
                    yield path.relative_to(folder).as_posix(), _known(path)


def _plain_in(folder: Path) -> Iterator[tuple[str, tuple[int, ...]]]:
    """The plain files of a folder itself."""
    for path in sorted(folder.iterdir()):
        if not path.name.startswith(files.OURS) and not path.is_dir() and not _astray(path):
            with contextlib.suppress(OSError):
                yield path.name, _known(path)


def _astray(path: Path) -> bool:
    """Whether a link leads nowhere, or to itself."""
    return path.is_symlink() and not os.path.exists(path)


def _copied(source: Path, target: Path, leads: Callable[[str], str]) -> None:
    """One file of the archive, put into the copy."""
    try:
        known = os.lstat(source)
    except FileNotFoundError:
        return  # Gone meanwhile: what is taken next tells.
    if stat.S_ISLNK(known.st_mode):
        os.symlink(leads(os.readlink(source)), target)
    elif not stat.S_ISREG(known.st_mode):
        if hasattr(os, "mkfifo"):
            os.mkfifo(target)  # Refused there as here, and nobody waits at it.
    elif known.st_size > LARGEST_PDF:
        # Whatever is larger is refused for its size alone.
        with open(target, "wb") as stream:
            stream.truncate(known.st_size)
    else:
        with contextlib.suppress(FileNotFoundError):
            shutil.copy2(source, target)


def _leads(text: str, root: Path, copy: Path) -> str:
    """Where the copy of a link leads: a whole path into the archive leads into the copy."""
    with contextlib.suppress(ValueError):
        return str(copy / Path(text).relative_to(root))
    return text
