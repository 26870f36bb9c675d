"""What may be read below a folder that may come from a stranger: its own ordinary files, no larger than they need be.

The one home of three rules. A file is named by a plain relative path, which means the same on
every system. It lies in the folder itself: no link on the way leads out. And it is an ordinary
file whose size is known before it is read: nothing waits at a pipe, or fills the memory.
"""

from __future__ import annotations

import difflib
import os
import re
import stat
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from kitwright.errors import Place, UserError

LONGEST = 200
"""Characters in the name of a file, with its folders."""
DEVICES = re.compile(r"(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])", re.IGNORECASE)
"""Names that Windows keeps for its devices, whatever ending follows (Microsoft, “Naming Files, Paths, and Namespaces”)."""
MB = 1_000_000


def _called_alike(folder: Path, name: str) -> str | None:
    """A file that may have been meant: of the same letters, large or small, or with one wrong; None where there is none."""
    home, _, last = name.rpartition("/")
    try:
        there = {one.name.casefold(): one.name for one in sorted((folder / home).iterdir()) if one.is_file()}
    except OSError:
        return None
    near = difflib.get_close_matches(last.casefold(), there, 1, 0.75)
    return f"{home}/{there[near[0]]}".lstrip("/") if near else None


def own_file(folder: Path, name: str, place: Place, most: int | None = None) -> Path:
    """A file that a spec names, in the spec's own folder.

    Args:
        folder: the folder that the name is relative to.
        name: as it was typed.
        place: where it was typed, for an error.
        most: bytes that it may have; None where it is copied as it is.

    Raises:
        UserError: no plain name, not there, no ordinary file, too large, or outside the folder.
    """
    fault = fault_of_name(name)
    if fault:
        raise UserError(fault, place=place, name=name, folder=folder.name)
    path = folder / name
    try:
        if leads_out(path, folder):
            raise UserError("files.linked-outside", place=place, name=name, folder=folder.name)
        known = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        raise UserError("files.not-there", place=place, name=name, folder=folder.name, near=_called_alike(folder, name)) from None
    except (OSError, ValueError, RuntimeError):
        raise UserError("files.unreadable", place=place, name=name, folder=folder.name) from None
    if stat.S_ISDIR(known.st_mode):
        raise UserError("files.named-a-folder", place=place, name=name, folder=folder.name)
    if not stat.S_ISREG(known.st_mode):
        raise UserError("files.no-ordinary-file", place=place, name=name)
    if not os.access(path, os.R_OK):
        raise UserError("files.forbidden", place=place, name=name)
    if most is not None and known.st_size > most:
        raise UserError("files.too-large", place=place, name=name, size=known.st_size, most=most)
    return path.resolve()


def fault_of_name(name: str) -> str | None:
    """Why a text is no plain name of a file below its own folder, as the code of an error; None where it is sound."""
    if not name.strip() or any(unicodedata.category(c) in ("Cc", "Cs") for c in name):
        return "files.no-name"
    if len(name) > LONGEST or any(len(part.encode()) > 255 for part in name.split("/")):
        return "files.long-name"
    if "\\" in name and not name.startswith("\\") and ":" not in name:
        return "files.backslash"
    parts = name.split("/")
    if name.startswith(("/", "\\", "~")) or ":" in name or ".." in parts:
        return "files.outside"
    parts = [part for part in parts if part not in ("", ".")]
    if any(DEVICES.fullmatch(part.split(".")[0].strip()) or part.endswith((" ", ".")) for part in parts):
        return "files.no-name-everywhere"
    if any(part.startswith(".") for part in parts):
        return "files.hidden"
    return None


def leads_out(path: Path, home: Path) -> bool:
    """Whether a path, every link on its way followed, lies outside a folder.

    Raises:
        OSError, RuntimeError: a link leads back to itself.
    """
    return not path.resolve().is_relative_to(home.resolve())


def no_link_out(path: Path, home: Path, place: Place) -> None:
    """Refuse a file or folder that stands in `home` but is a link to somewhere else.

    Raises:
        UserError: it is.
    """
    try:
        out = leads_out(path, home)
    except (OSError, RuntimeError):
        out = True
    if out:
        raise UserError("files.link-out", place=place, name=path.name, home=home.resolve().name)


def files_below(folder: Path) -> list[Path]:
    """Every ordinary file below a folder, in order of their paths; nothing that a link out of it, or a hidden folder, leads to.

    None where the folder itself is not there, or is a link to somewhere else.
    """
    found: list[Path] = []
    try:
        if leads_out(folder, folder.parent):
            return found
    except (OSError, RuntimeError):
        return found
    for here, folders, names in os.walk(folder, followlinks=False):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in names:
            path = Path(here, name)
            try:
                if stat.S_ISREG(path.stat().st_mode) and not (path.is_symlink() and leads_out(path, folder)):
                    found.append(path)
            except (OSError, RuntimeError):
                # A link to nothing, or to itself.
                continue
    return sorted(found)


@contextmanager
def opened(file: Path) -> Iterator[BinaryIO]:
    """An ordinary file, opened to read: a pipe or device that took its place is not waited for.

    Raises:
        OSError: it can't be opened, or is no ordinary file.
    """
    handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(0, "no ordinary file")
        yield stream


def read_own(file: Path, most: int) -> bytes:
    """The bytes of a file, if they are not too many.

    Raises:
        OSError: it can't be read, or is no ordinary file.
        OverflowError: it is longer than `most`; nothing more of it was read.
    """
    with opened(file) as stream:
        data = stream.read(most + 1)
    if len(data) > most:
        raise OverflowError(most)
    return data
