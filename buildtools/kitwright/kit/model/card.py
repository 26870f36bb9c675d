"""The base, and what lies on it and in it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from kitwright.kit.fields import EnvelopeField, LengthField, SizeField, WeightField
from kitwright.kit.model.fixing import Held
from kitwright.kit.model.pieces import At
from kitwright.kit.model.text import Key, Label, MeantList, OneOrMany, Spec

Fold = Literal["side", "top"]


class BaseSpec(Spec):
    """The card base before folding."""

    size: SizeField = Field(examples=["8-1/2 x 5-1/2", "210 x 148 mm"])
    """The flat base as it lies with the card upright."""
    paper: Key
    """The cardstock it is cut from."""
    meant: Annotated[tuple[Literal["thin"], ...], OneOrMany()] = ()
    """What looks odd and is meant: thin."""


class Layer(At, Held):
    """A full layer on the base, or the inside panel."""

    piece: Label
    """Its label."""
    paper: Key | None = None
    """Its paper, when the piece comes in several."""
    meant: MeantList = ()
    """What looks odd and is meant: uneven, larger …"""

    @model_validator(mode="before")
    @classmethod
    def _from_label(cls, value: Any) -> Any:
        return {"piece": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept the label alone or the spelt-out form."""
        return {"anyOf": [{"type": "string", "examples": ["M"]}, dict(handler.resolve_ref_schema(handler(core_schema)))]}


class CardSpec(Spec):
    """The card that the front goes on."""

    base: BaseSpec
    fold: Fold
    """side: opens to the left; top: opens upward."""
    score: LengthField | None = None
    """From the left (side fold) or the top (top fold); half when left out."""
    layers: list[Layer] = []
    """Full layers over the base, lowest first."""
    inside: Layer | None = None
    """The inside panel."""
    envelope: EnvelopeField | None = None
    """By unmistakable name or measure."""
    envelope_weight: WeightField | None = Field(None, alias="envelope weight")
    """How heavy its paper is, such as 24 lb bond or 100 gsm."""
    foam: LengthField | None = None
    """How thick the foam is that raises layers."""
