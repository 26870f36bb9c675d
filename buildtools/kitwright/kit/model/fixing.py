"""How pieces are fixed beyond glue all over: on foam, by a hidden edge, as a pocket, a shaker, a band."""

from __future__ import annotations

from typing import Any, Literal, get_args

from pydantic import Field, model_validator

from kitwright.kit.fields import LengthField, MarginField, Unfit
from kitwright.kit.model.text import Edge, Key, Label, ShortProse, Spec, YesNo
from kitwright.units import ZERO, Size

Fixing = Literal["flat", "foam", "hidden edge", "loose"]
"""How a piece may be held."""

UNMEASURED = Size(ZERO, ZERO)
"""Stands for a size that follows from others and is not typed, until `kitwright.work.measured` has filled it in."""


class PocketSpec(Spec):
    """What makes a piece a pocket: three of its edges are glued, the fourth stays open."""

    open: Edge = "top"
    """Which edge stays open, as the piece is written."""
    glue: LengthField | None = None
    """How wide the glued strip is along the other three; ¼ in or 6 mm when left out."""
    holds: Label | None = None
    """The label of what goes in."""
    thumb_notch: LengthField | None = Field(None, alias="thumb notch")
    """Across a half circle that you punch from the middle of the open edge, to pull by."""

    @model_validator(mode="before")
    @classmethod
    def _from_word(cls, value: Any) -> Any:
        return {"open": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors accept the open edge alone or the spelt-out form."""
        return {"anyOf": [{"enum": list(get_args(Edge))}, dict(handler.resolve_ref_schema(handler(core_schema)))]}


class BandSpec(Spec):
    """A belly band: a strip round the closed card, fixed to itself alone. Its length is worked out."""

    height: LengthField
    """How wide the strip is; it goes round the other way."""
    round: Literal["width", "height"] = "width"
    """What it goes round: the closed card's width, or its height."""
    overlap: LengthField | None = None
    """How far it reaches over itself; ½ in or 12 mm when left out."""
    stack: int = Field(1, ge=1, le=500, examples=[1])
    """Round how many cards that lie on one another."""
    design: str | None = None
    """Round the card of which design, where there are several."""


class ShakerSpec(Spec):
    """What makes a piece with a window a shaker: film behind the window, foam all round, something loose inside."""

    sound_with = ("inside",)

    film: Key
    """The paper that its film is cut from."""
    label: Label | None = None
    """The label of that film; Film when left out."""
    lap: LengthField | None = None
    """How far the film reaches past the window on each side; ¼ in or 6 mm when left out."""
    foam: LengthField | None = None
    """How wide the strips of foam are; ¼ in or 6 mm when left out."""
    from_window: MarginField | None = Field(None, alias="from window")
    """From the window to the foam; ⅛ in or 3 mm when left out."""
    inside: ShortProse | None = None
    """What is loose inside: sequins, beads …"""
    inside_thickness: LengthField | None = Field(None, alias="inside thickness")
    """How thick that is at its thickest."""


class Held(Spec):
    """How something that lies on the card is held there."""

    raised: YesNo = False
    """On foam."""
    fixing: Fixing | None = None
    """flat, foam (the same as raised), hidden edge, or loose; flat when left out."""

    @model_validator(mode="after")
    def _one_way(self) -> Held:
        if self.raised and self.fixing not in (None, "foam"):
            raise Unfit("spec.raised-otherwise", fixing=self.fixing)
        return self

    @property
    def held(self) -> Fixing:
        """How it is held."""
        return self.fixing or ("foam" if self.raised else "flat")
