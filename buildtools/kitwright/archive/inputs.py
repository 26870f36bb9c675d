"""What a folder of kits holds, told by digests: every kit, everybody on file, and what lies beside them.

Every byte is read at every build, since times of files tell nothing for certain: a copy, a merge
or an unpacked archive sets them as it likes. Each folder is read once a build, and whatever is
kept between builds goes by what is found here.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from kitwright.kit.folder import leads_out, opened
from kitwright.kit.loose import PEOPLE, PUBLISHED, SCHEMA

AT_ONCE = 1 << 20
"""Bytes that are read at a time."""


@dataclass(frozen=True)
class Inputs:
    """A folder of kits, by digests."""

    kits: Mapping[str, str]
    """Every folder beside `people`, by its name."""
    people: Mapping[str, str]
    """Every folder of a person, by its name."""
    files: Mapping[str, str]
    """What lies in the folder of kits itself, by name: the club file, its pictures, the ledger, loose pages."""
    private: str
    """What lies in the folder of people itself."""

    @cached_property
    def whole(self) -> str:
        """One digest over all of it: the same as long as nothing whatever was changed."""
        found = (*_pairs(self.kits), "\n", *_pairs(self.people), "\n", *_pairs(self.files), "\n", self.private)
        return hashlib.sha256("\0".join(found).encode("utf-8", "surrogateescape")).hexdigest()

    @cached_property
    def everybody(self) -> str:
        """One digest over all people."""
        return hashlib.sha256("\0".join(_pairs(self.people)).encode("utf-8", "surrogateescape")).hexdigest()


def _pairs(found: Mapping[str, str]) -> Iterator[str]:
    for name in sorted(found):
        yield name
        yield found[name]


def inputs(kits: Path) -> Inputs:
    """Everything below a folder of kits, read once.

    Args:
        kits: the folder; one that is not there holds nothing.
    """
    found: dict[str, str] = {}
    people: dict[str, str] = {}
    files: dict[str, str] = {}
    private = ""
    for entry in _entries(kits):
        if entry.name == PEOPLE:
            people = {one.name: folder_digest(Path(one.path)) for one in _entries(Path(entry.path)) if one.is_dir()}
            private = _digest(_lines(Path(entry.path), b"", False, deep=False)) + ("" if not entry.is_symlink() else " a link")
        elif entry.is_dir():
            found[entry.name] = folder_digest(Path(entry.path))
        elif not entry.name.endswith(SCHEMA):
            files[entry.name] = file_digest(Path(entry.path))
    return Inputs(found, people, files, private)


def folder_digest(folder: Path) -> str:
    """A digest over all that lies below a folder: names, bytes, and where links lead. What is hidden counts only where something looks at it."""
    try:
        return _digest(_lines(folder, b"", False))
    except _Linked:
        # What is hidden may be seen by another name.
        return _digest(_lines(folder, b"", True))


def file_digest(file: Path) -> str:
    """A digest over one file: its bytes, and where it leads if it is a link; of one that is not there too."""
    return hashlib.sha256(b"".join(_file(file, file.parent, file.is_symlink()))).hexdigest()


class _Linked(Exception):
    """A folder is seen by another name."""


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return sorted((entry for entry in entries if not entry.name.startswith(".")), key=lambda entry: entry.name)
    except OSError:
        return []


def _digest(lines: Iterator[bytes]) -> str:
    total = hashlib.sha256()
    for line in lines:
        total.update(line)
    return total.hexdigest()


def _lines(folder: Path, above: bytes, hidden: bool, *, deep: bool = True, home: Path | None = None) -> Iterator[bytes]:
    """Name, kind and content of each entry, in order of their names."""
    home = home or folder
    try:
        with os.scandir(folder) as entries:
            there = sorted(entries, key=lambda entry: entry.name)
    except OSError:
        yield b"unread %s\0" % above
        return
    for entry in there:
        name = above + os.fsencode(entry.name)
        # Of what was published nothing at all may be changed.
        if entry.name.startswith(".") and not hidden and not above.startswith(os.fsencode(PUBLISHED)):
            continue
        link = entry.is_symlink()
        if entry.is_dir(follow_symlinks=False):
            if deep:
                yield b"folder %s\0" % name
                yield from _lines(Path(entry.path), name + b"/", hidden, home=home)
        elif link and _is_dir(entry):
            if not hidden:
                raise _Linked
            yield b"link %s\0%s\0" % (name, _target(entry.path))
        else:
            yield b"file %s\0" % name
            yield from _file(Path(entry.path), home, link)


def _file(file: Path, home: Path, link: bool) -> Iterator[bytes]:
    """Where a file leads if it is a link, and a digest of its bytes if it is one of `home`'s own."""
    try:
        if link:
            yield b"link %s\0" % _target(str(file))
            if leads_out(file, home):
                return
        total = hashlib.sha256()
        with opened(file) as stream:
            while part := stream.read(AT_ONCE):
                total.update(part)
        yield total.digest()
    except (OSError, RuntimeError):
        yield b"unread\0"


def _is_dir(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_dir()
    except OSError:
        return False


def _target(path: str) -> bytes:
    try:
        return os.fsencode(os.readlink(path))
    except OSError:
        return b""
