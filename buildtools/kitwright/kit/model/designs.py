"""One of several designs of a kit: cards, fronts and batches of their own, from one set of sheets."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, StringConstraints, WithJsonSchema, model_validator

from kitwright.kit.model.card import CardSpec, FaceName, FaceSpec, front_among_faces
from kitwright.kit.model.front import ArrangementsSpec, Decoration, Front, SentimentSpec
from kitwright.kit.model.text import Spec

DESIGN_FORM = r"^[^\W\d_][\w' -]{0,29}$"
"""A letter, then letters of any language, digits, spaces, dashes: a name is part of labels, links and names of files."""
_FOR_EDITORS = r"^[^\s0-9_'./\\\[\]:-][^./\\\[\]:]{0,29}$"
"""The same as near as an editor's expressions go, to which a letter is one of A to Z."""
DesignName = Annotated[
    str,
    StringConstraints(strip_whitespace=True, pattern=DESIGN_FORM),
    WithJsonSchema({"type": "string", "pattern": _FOR_EDITORS, "examples": ["Tall"]}),
]


class DesignSpec(Spec):
    """One design: what is its own; papers, pieces and guides are the kit's."""

    cards: int = Field(ge=1, le=500, examples=[8])
    """Cards of this design in a batch."""
    card: CardSpec
    front: Front
    faces: dict[FaceName, FaceSpec] = Field({}, min_length=1)
    """What stands on other faces of the card, by their names: inside, a door, a panel."""
    sentiment: SentimentSpec | None = None
    sentiments: list[SentimentSpec] = []
    """Further words, on any face."""
    decorations: list[Decoration] = []
    arrangements: ArrangementsSpec = ArrangementsSpec()
    """How else the same pieces may go."""

    @model_validator(mode="before")
    @classmethod
    def _front_among_faces(cls, value: Any) -> Any:
        return front_among_faces(value)

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept faces in place of the front."""
        schema = dict(handler.resolve_ref_schema(handler(core_schema)))
        schema["required"] = [name for name in schema["required"] if name != "front"]
        return schema | {"anyOf": [{"required": ["front"]}, {"required": ["faces"]}]}


DESIGNED = tuple(DesignSpec.model_fields)
"""What is each design's own; in a kit of one design it stands at the top of the file."""
