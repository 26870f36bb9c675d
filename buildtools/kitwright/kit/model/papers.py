"""Papers on the table."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, field_validator

from kitwright.kit.fields import LengthField, PaperColourField, SheetField, SheetsField, Unfit, WeightField
from kitwright.kit.model.text import Edge, Key, OneOrMany, ShortWords, Spec
from kitwright.materials import MATERIALS, Kind, Material


class PaperFace(Spec):
    """One printed side of a patterned paper."""

    look: Key = "plain"
    """The drawn stand-in: stripes, dots, checks, sprigs …"""
    colours: Annotated[tuple[PaperColourField, ...], OneOrMany()] = Field((), max_length=3)
    """One to three colours: by name, or each as "#rrggbb" in quotes."""
    up: Edge | None = None
    """For a one-way paper: which edge of the sheet is its top."""

    @field_validator("colours", mode="before")
    @classmethod
    def _typed(cls, value: Any) -> Any:
        if value is None or isinstance(value, list) and None in value:
            # What follows a bare # is a note, so that nothing is left of the colour.
            raise Unfit("fields.no-text", given="blank", wanted="paper colour")
        return value


class Paper(Spec):
    """A paper on the table."""

    kind: Kind
    """patterned, cardstock, vellum, film (clear), chipboard or foam (sheet)"""
    name: ShortWords
    """What the guide calls it."""
    size: SheetField
    """Sheet by name or measure."""
    front: PaperFace = PaperFace()
    """How its front is drawn."""
    back: PaperFace | None = None
    """Its other printed face, if it has one."""
    weight: WeightField | None = None
    """80 lb cover, 216 gsm …"""
    thickness: LengthField | None = None
    """How thick one sheet is, by a calliper; weight does not tell."""
    grain: Literal["long", "short"] | None = None
    """Which side of the sheet the grain runs along."""
    sheets: SheetsField | None = None
    """Sheets at hand; leave out to have them worked out."""

    @property
    def material(self) -> Material:
        """What holds for everything of its kind."""
        return MATERIALS[self.kind]

    def face(self, name: str) -> PaperFace | None:
        """Its `front` or `back` face."""
        return self.front if name == "front" else self.back

    def shown(self, name: str) -> PaperFace:
        """The face of that name, where it is known that there is one.

        Raises:
            KeyError: there is none.
        """
        face = self.face(name)
        if face is None:
            raise KeyError(name)
        return face
