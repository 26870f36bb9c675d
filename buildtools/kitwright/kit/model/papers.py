"""Papers on the table."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, PrivateAttr, field_validator, model_validator

from kitwright.kit.fields import LengthField, MarginField, PaperColourField, SheetField, SheetsField, SizeField, Unfit, WeightField
from kitwright.kit.model.text import Edge, Key, OneOrMany, ShortWords, Spec, YesNo
from kitwright.kit.scan import LaidOn, Scan
from kitwright.materials import MATERIALS, Kind, Material
from kitwright.units import ZERO

FACES: tuple[Literal["front", "back"], ...] = ("front", "back")
"""Both sides of a sheet."""


class Crop(Spec):
    """What a scan shows besides the paper, edge by edge."""

    left: MarginField | None = None
    """Left off at its left, measured as what it shows."""
    right: MarginField | None = None
    """The same at its right."""
    top: MarginField | None = None
    """The same at its top."""
    bottom: MarginField | None = None
    """The same at its bottom."""


class PaperFace(Spec):
    """One printed side of a patterned paper."""

    living = ("scan", "shows", "turned", "crop", "source", "public")

    look: Key = "plain"
    """The drawn stand-in: stripes, dots, checks, sprigs …"""
    colours: Annotated[tuple[PaperColourField, ...], OneOrMany()] = Field((), max_length=3)
    """One to three colours: by name, or each as "#rrggbb" in quotes."""
    up: Edge | None = None
    """For a one-way paper: which edge of the sheet is its top."""
    scan: ShortWords | None = Field(None, examples=["papers/meadow.jpg"])
    """A scan or photo of the sheet as it lies, beside the spec: JPEG, PNG or WebP."""
    shows: SizeField | None = None
    """How much paper the scan shows from edge to edge; the whole sheet when left out."""
    turned: Literal["right", "left", "upside down"] | None = None
    """How the scan has to be turned first: right or left by a quarter, or upside down."""
    crop: Crop | None = None
    """What the scan shows beside the paper, at each edge."""
    source: ShortWords | None = None
    """Where the paper is from, told beside pictures that show it."""
    public: YesNo = True
    """no: the scan stays off the public site, which has the drawn stand-in."""
    _read: Scan | None = PrivateAttr(None)

    @field_validator("colours", mode="before")
    @classmethod
    def _typed(cls, value: Any) -> Any:
        if value is None or isinstance(value, list) and None in value:
            # What follows a bare # is a note, so that nothing is left of the colour.
            raise Unfit("fields.no-text", given="blank", wanted="paper colour")
        return value

    @field_validator("scan", mode="before")
    @classmethod
    def _named(cls, value: Any) -> Any:
        if value is None:
            raise Unfit("scans.unnamed")
        return value

    @field_validator("shows", mode="before")
    @classmethod
    def _said(cls, value: Any) -> Any:
        if value is None:
            raise Unfit("fields.no-text", given="blank", wanted="size")
        return value

    @model_validator(mode="after")
    def _of_a_scan(self) -> PaperFace:
        said = next((name for name in self.living[1:] if name in self.model_fields_set), None)
        if self.scan is None and said:
            raise Unfit("scans.none", key=said).under(said)
        return self

    @property
    def laid(self) -> LaidOn:
        """How its scan is said to lie."""
        crop = self.crop or Crop()
        off = crop.left or ZERO, crop.top or ZERO, crop.right or ZERO, crop.bottom or ZERO
        return LaidOn(self.shows, off, self.turned, self.public, self.source or "")

    @property
    def picture(self) -> Scan | None:
        """Its scan as it was read; None where there is none."""
        return self._read

    def scanned(self, found: Scan | None) -> None:
        """Note its scan, once it is read."""
        self._read = found

    @property
    def drawn_look(self) -> str:
        """Its drawn stand-in: as typed, else as the scan suggests."""
        return self._read.stand_in[0] if self._read and "look" not in self.model_fields_set else self.look

    @property
    def drawn_colours(self) -> tuple[str, ...]:
        """The colours of that: as typed, else the main ones of the scan."""
        return self._read.stand_in[1] if self._read and not self.colours else self.colours

    @property
    def called(self) -> str:
        """What its pattern is called beside its other face; empty where only a scan shows it."""
        return "" if self.scan and "look" not in self.model_fields_set else self.look

    @property
    def lasting(self) -> PaperFace:
        return self.as_scanned(None)

    def as_scanned(self, other: PaperFace | None) -> PaperFace:
        """The same with the scan that another has, which may change at any time."""
        said = {name: getattr(other or _BARE, name) for name in self.living}
        if all(getattr(self, name) == value for name, value in said.items()) and self._read == (other or _BARE).picture:
            return self
        found = self.model_copy(update=said)
        found.scanned((other or _BARE).picture)
        return found


_BARE = PaperFace()


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

    def as_scanned(self, other: Paper | None) -> Paper:
        """The same with the scans that another has now."""
        front = self.front.as_scanned(other.front if other else None)
        back = self.back.as_scanned(other.back if other else None) if self.back else None
        return self if front is self.front and back is self.back else self.model_copy(update={"front": front, "back": back})

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
