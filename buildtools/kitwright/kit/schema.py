"""The JSON Schemas for editors, generated from the model."""

from __future__ import annotations

import json
from pathlib import Path

from kitwright.files import trouble, write_file
from kitwright.kit.model import Club, KitSpec, PastSpec, Spec


def schema_text(model: type[Spec], title: str) -> str:
    """A schema as JSON text ending in a newline, the same bytes every time."""
    schema = model.model_json_schema(by_alias=True, mode="validation")
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = title
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


SCHEMAS = {
    "kit.schema.json": (KitSpec, "A kitwright kit"),
    "past.schema.json": (PastSpec, "A past kit that is only a PDF"),
    "club.schema.json": (Club, "The club that publishes"),
}
"""File name in `kits/` → the model and what the schema is called."""


def write_schemas(kits: Path) -> None:
    """Put the schemas beside the kits, where their first lines name them; untouched when nothing changed.

    Raises:
        UserError: one can't be written. Nothing else needs them, so the caller may go on.
    """
    for name, (model, title) in SCHEMAS.items():
        file, data = kits / name, schema_text(model, title).encode()
        try:
            if file.is_symlink() or not file.is_file() or file.read_bytes() != data:
                write_file(file, data)
        except OSError as error:
            raise trouble(error, "disk.schema", file) from None
