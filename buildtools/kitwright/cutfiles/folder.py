"""A kit's cut files put into a folder, whole or not at all."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from kitwright.cutfiles.make import CONTENTS
from kitwright.errors import Place, UserError
from kitwright.files import nearest, put_folder, real, trouble, workshop
from kitwright.telling.contents import FIRST_LINE


def write(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put the files in a folder, whole or not at all.

    Raises:
        UserError: the folder holds something else, or can't be written.
    """
    folder = real(folder)
    try:
        _only_ours(folder)
        with workshop(nearest(folder.parent)) as shop:
            made = shop / "cut-files"
            for path, data in files.items():
                (made / path).parent.mkdir(parents=True, exist_ok=True)
                (made / path).write_bytes(data)
            _only_ours(folder)
            put_folder(made, folder)
    except OSError as error:
        raise trouble(error, "disk.cut-files", folder) from None


def _only_ours(folder: Path) -> None:
    """Refuse to replace what is no cut files of ours."""
    if folder.is_symlink() or folder.exists() and not folder.is_dir():
        raise UserError("commands.no-folder", place=Place(folder))
    if folder.exists() and any(folder.iterdir()):
        mark = folder / CONTENTS
        if not (mark.is_file() and mark.read_bytes().startswith(FIRST_LINE.encode())):
            raise UserError("commands.folder-in-use", place=Place(folder))
