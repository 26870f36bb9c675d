"""One kit's printables and pictures by themselves, in a folder: what its readers get, as the kit stands."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from kitwright import cache
from kitwright.errors import Place, UserError
from kitwright.files import nearest, put_folder, real, trouble, workshop

if TYPE_CHECKING:
    from kitwright.work.worked import Worked

PICTURES = "pictures"
"""The folder of pictures, among the printables."""
OURS = ".kitwright-drawn"
"""Says of each file that was drawn into a folder what it was then."""
SHOWN = ".kitwright-pictures"
"""The same in a folder of pictures for elsewhere."""
TEXTS = ".kitwright-texts"
"""The same in a folder of texts."""
PROPOSED = ".kitwright-proposed"
"""The same in a folder of proposed layouts."""
_FOLDERS = (PICTURES, "look")
"""What such a folder may have below it."""


def drawn(worked: Worked) -> dict[str, bytes]:
    """A kit's printables and contact sheets, and below `pictures/` those of its page; each marked as a preview.

    Args:
        worked: the kit as it stands, released or not; without errors.

    Returns:
        Path → bytes, the same for the same kit.
    """
    try:
        return _drawn(worked)
    except cache.Lost:
        with cache.using(None):
            return _drawn(worked)


def _drawn(worked: Worked) -> dict[str, bytes]:
    # Loaded late: what was drawn before is only copied.
    from kitwright.archive.content import data_of
    from kitwright.archive.drawn import pictured, to_print
    from kitwright.release.stamp import PreviewStamp
    from kitwright.release.state import preview_code

    files = {name: data_of(content) for name, content in to_print(worked, PreviewStamp(preview_code(worked))).items()}
    files |= {f"{PICTURES}/{name}": data_of(content) for name, content in pictured(worked).items()}
    return files


def free(folder: Path, record: str = OURS) -> None:
    """See to it that drawings may be put into a folder, before any are drawn.

    Args:
        folder: where they go.
        record: the file in it that says what was drawn there.

    Raises:
        UserError: the folder holds something else.
    """
    try:
        _before(real(folder), record)
    except OSError as error:
        raise trouble(error, "disk.drawn", folder) from None


def changed(folder: Path, files: Mapping[str, bytes], record: str) -> list[str]:
    """Those of these files that somebody changed there since they were put there, or put there herself.

    Raises:
        UserError: the folder holds something else.
    """
    folder = real(folder)
    try:
        before, there = _before(folder, record), {path: _bytes(folder / path) for path in files}
    except OSError as error:
        raise trouble(error, "disk.drawn", folder) from None
    return [path for path, data in there.items() if data is not None and data != files[path] and _digest(data) != before.get(path)]


def write(folder: Path, files: Mapping[str, bytes], record: str = OURS, all_of_it: bool = True) -> int:
    """Put drawings into a folder, whole or not at all.

    What is there already with the same bytes stays the very file, so that whatever shows it has
    nothing to load. What was drawn there before and is not drawn any more goes, unless somebody
    changed it; so whatever else lies there stays.

    Args:
        folder: where they go.
        files: path → bytes.
        record: the file in it that says what was drawn there; a picture for elsewhere that somebody changed is not drawn over.
        all_of_it: whether that is all there is to be drawn; where it is a part, what was drawn before stays.

    Returns:
        How many files are new or differ.

    Raises:
        UserError: the folder holds something else, or can't be written.
    """
    folder = real(folder)
    try:
        before = _before(folder, record)
        there = {path: _bytes(folder / path) for path in {*files, *before}}
        new = {path: data for path, data in files.items() if there[path] != data}
        if record == SHOWN:
            for path in new:
                if (was := there[path]) is not None and _digest(was) != before.get(path):
                    raise UserError("commands.changed-by-hand", place=Place(folder / path))
        gone = [path for path in before if path not in files and there[path] is not None and _digest(there[path] or b"") == before[path]]
        said = {path: _digest(data) for path, data in files.items()}
        if not all_of_it:
            gone, said = [], before | said
        said = dict(sorted(said.items()))
        if new or gone or said != before:
            with workshop(nearest(folder.parent)) as shop:
                made = shop / "drawn"
                if folder.is_dir():
                    shutil.copytree(folder, made, symlinks=True, copy_function=_linked)
                for path in gone:
                    (made / path).unlink()
                    with suppress(OSError):
                        (made / path).parent.rmdir()
                for path, data in (*new.items(), (record, json.dumps(said, indent=0).encode())):
                    (made / path).parent.mkdir(parents=True, exist_ok=True)
                    # Never through a second name of the old file.
                    (made / path).unlink(missing_ok=True)
                    (made / path).write_bytes(data)
                put_folder(made, folder)
        return len(new)
    except OSError as error:
        raise trouble(error, "disk.drawn", folder) from None


def _before(folder: Path, record: str) -> dict[str, str]:
    """What was drawn into this folder before, and the digests of that."""
    if folder.is_symlink() or folder.exists() and not folder.is_dir():
        raise UserError("commands.no-folder", place=Place(folder))
    if not folder.exists() or not any(folder.iterdir()):
        return {}
    try:
        found = json.loads((folder / record).read_bytes())
    except (FileNotFoundError, IsADirectoryError, ValueError, RecursionError):
        found = None
    if found is None or any((folder / below).is_symlink() for below in _FOLDERS):
        if record == TEXTS:
            raise UserError("commands.no-texts-here", place=Place(folder))
        if record == PROPOSED:
            raise UserError("commands.not-proposed-here", place=Place(folder))
        raise UserError("commands.no-pictures-here" if record == SHOWN else "commands.not-drawn-here", place=Place(folder))
    # A list from elsewhere names nothing outside this folder.
    known = found.items() if isinstance(found, dict) else ()
    return {path: said for path, said in known if isinstance(said, str) and _inside(path)}


def _inside(path: str) -> bool:
    first, _, rest = path.partition("/")
    return (
        bool(first) and path == os.path.normpath(path).replace(os.sep, "/") and (not rest or first in _FOLDERS) and first not in (".", "..")
    )


def _bytes(file: Path) -> bytes | None:
    return file.read_bytes() if file.is_file() and not file.is_symlink() else None


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _linked(source: str, copy: str) -> str:
    """The same file by a second name, or a copy of it where the system knows no such thing."""
    try:
        os.link(source, copy, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(source, copy, follow_symlinks=False)
    return copy


def kept(key: str) -> dict[str, bytes] | None:
    """What was drawn before of all that a key tells, if every byte of it is still there."""
    found = cache.known("drawn apart", key)
    with suppress(cache.Lost):
        return None if found is None else {path: cache.read(blob) for path, blob in found.items()}
    return None


def keep(key: str, files: Mapping[str, bytes]) -> None:
    """Remember what was drawn; where it can't be written, it is only drawn again."""
    with suppress(OSError):
        cache.note("drawn apart", key, {path: cache.keep(data) for path, data in files.items()})
