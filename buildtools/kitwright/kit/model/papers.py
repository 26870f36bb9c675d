"""Papers on the table."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from kitwright.kit.fields import LengthField, SheetField, SheetsField, WeightField
from kitwright.kit.model.text import Edge, Key, OneOrMany, ShortWords, Spec


class PaperFace(Spec):
    """One printed side of a patterned paper."""

    look: Key = "plain"
    """The drawn stand-in: stripes, dots, checks, sprigs …"""
    colours: Annotated[tuple[Key, ...], OneOrMany()] = Field((), max_length=3)
    """One to three palette colours."""
    up: Edge | None = None
    """For a one-way paper: which edge of the sheet is its top."""


class Paper(Spec):
    """A paper on the table."""

    kind: Literal["patterned", "cardstock"]
    """patterned or cardstock"""
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
