"""The JSON Schemas for editors, generated from the model; an editor shows what stands under each of its fields."""

from __future__ import annotations

import json
from typing import Any, Literal

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core.core_schema import ModelSchema

from kitwright.kit.fields import WANTED, Wanted
from kitwright.kit.model import Club, KitSpec, PastSpec, Spec
from kitwright.kit.remarks import remark

SCHEMAS: dict[str, tuple[type[Spec], str]] = {
    "kit.schema.json": (KitSpec, "A kitwright kit"),
    "past.schema.json": (PastSpec, "A past kit that is only a PDF"),
    "club.schema.json": (Club, "The club that publishes"),
}
"""File name in `kits/` → the model and what the schema is called."""

_TYPED: dict[Wanted | Literal["address"], str] = {
    "length": "A length; a bare number is in the kit's own unit.",
    "margin": "A length, 0 allowed.",
    "size": "Width × height as the thing lies.",
    "sheet": "A sheet by name or measure.",
    "envelope": "An envelope by name or measure.",
    "weight": "A paper weight.",
    "count": "Pieces on each card; 1/2 means on every second card.",
    "sheets": "Whole or half sheets.",
    "price": "A price, without the currency.",
    "price by length": "A price for so much of it.",
    "price by area": "A price for a sheet of it.",
    "colour": "A colour as #rrggbb, in quotes.",
    "paper colour": "A colour by name, or as #rrggbb in quotes.",
    "score line": "Where a score line is, and which way it folds: forward, towards you, or back.",
    "sheets of a paper": "Sheets of one paper, such as 3 of 8 x 8.",
    "card": "A card's closed front, by measure or by the name of a sheet.",
    "margins": "A length, or several with commas between them; 0 allowed.",
    "pieces on a card": "A number of pieces, or two such as 3-5.",
    "ruler step": "1/8, 1/16 or mm.",
    "part": "A part of the whole, such as 10%.",
    "address": "A whole address of a page.",
    "link": "A whole address of a page, or mailto: and an address to write to.",
}
"""What may be typed as a single value, where the field itself says no more."""


def schema_text(model: type[Spec], title: str) -> str:
    """A schema as JSON text ending in a newline, the same bytes every time."""
    schema = model.model_json_schema(by_alias=True, mode="validation", schema_generator=_Worded)
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = title
    return json.dumps(_worded(schema), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


class _Worded(GenerateJsonSchema):
    """Takes the remark under each field of a class for what it is."""

    def model_schema(self, schema: ModelSchema) -> JsonSchemaValue:
        made, model = super().model_schema(schema), schema["cls"]
        for name, info in model.model_fields.items():
            if text := remark(model, name):
                made["properties"][info.alias or name]["description"] = text
        return made


def _worded(part: Any) -> Any:
    """A part of a schema with its single values named as what they are (`kit/fields.py` says which by a word)."""
    if isinstance(part, list):
        return [_worded(each) for each in part]
    if not isinstance(part, dict):
        return part
    wanted = part.get(WANTED)
    told = {"description": _TYPED[wanted]} if wanted else {}
    return told | {key: _worded(value) for key, value in part.items() if key != WANTED}
