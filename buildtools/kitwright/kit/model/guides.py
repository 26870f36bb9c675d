"""The author's own cutting guides and words for the steps."""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, Field, WithJsonSchema

from kitwright.kit.fields import SheetsField, Unfit
from kitwright.kit.model.text import Keys, ProseList, ShortWords, Spec

_CUTS = {"anyOf": [{"const": "auto"}, {"type": "array", "items": {"type": ["string", "object"]}}]}


def _cut_list(value: Any) -> Any:
    if value == "auto" or value is None:
        return None
    if isinstance(value, str):
        raise Unfit("spec.no-cuts", text=value)
    return value


class Guide(Spec):
    """How one sheet, or several cut alike, is cut."""

    papers: Keys = Field(alias="papers", min_length=1)
    """The papers cut by this guide."""
    name: ShortWords | None = None
    """What to call it."""
    sheets: SheetsField | None = None
    """Sheets of each paper cut this way; worked out when left out."""
    cuts: Annotated[list[Any] | None, BeforeValidator(_cut_list), WithJsonSchema(_CUTS)] = None
    """The cuts in order, or auto."""


def _sheet_name(value: Any) -> Any:
    """However it is spelt: `a4`, `LETTER`."""
    return next((name for name in STAND_INS if isinstance(value, str) and value.strip().casefold() == name.casefold()), value)


STAND_INS = ("A4", "Letter")
StandIn = Annotated[Literal["A4", "Letter"], BeforeValidator(_sheet_name)]
"""Sheets that stand in for one another, each with an edition of the printable."""

Stage = Literal["cut", "stamp", "score", "build", "mount", "finish"]
STAGES: tuple[Stage, ...] = get_args(Stage)


class Steps(Spec):
    """The author's own words for a stage of the work; the rest is derived."""

    cut: ProseList = ()
    stamp: ProseList = ()
    score: ProseList = ()
    build: ProseList = ()
    mount: ProseList = ()
    finish: ProseList = ()
