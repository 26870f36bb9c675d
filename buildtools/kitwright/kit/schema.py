"""The JSON Schemas for editors, generated from the model."""

from __future__ import annotations

import json

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
