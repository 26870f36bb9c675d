"""The JSON Schemas for editors, put beside the kits."""

from __future__ import annotations

from pathlib import Path

from kitwright import cache
from kitwright.files import trouble, write_file
from kitwright.telling.schema import SCHEMAS, schema_text


def write_schemas(kits: Path) -> None:
    """Put the schemas beside the kits, where their first lines name them; untouched when nothing changed.

    Raises:
        UserError: one can't be written. Nothing else needs them, so the caller may go on.
    """
    folder = kits.parent / cache.FOLDER
    with cache.using(folder if folder.is_dir() else None):
        texts = cache.value("schemas", "", lambda: {name: schema_text(*of).encode() for name, of in SCHEMAS.items()})
    for name, data in texts.items():
        file = kits / name
        try:
            if file.is_symlink() or not file.is_file() or file.read_bytes() != data:
                write_file(file, data)
        except OSError as error:
            raise trouble(error, "disk.schema", file) from None
