"""Who publishes."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, PrivateAttr

from kitwright.errors import Place
from kitwright.kit.fields import ByAreaField, ByLengthField, LengthField, MoneyField
from kitwright.kit.model.papers import Paper
from kitwright.kit.model.text import Key, PersonKey, ShortWords, Spec, TextList, Words


class Role(Spec):
    """Somebody of the design team."""

    who: PersonKey
    """The key of a person."""
    role: ShortWords = "design team"
    """What she is to the club."""


class Trimmer(Spec):
    """The trimmer at the desk."""

    cut_length: LengthField = Field(alias="cut length")
    """The longest cut it makes."""
    finest_mark: LengthField = Field(alias="finest mark")
    """The finest mark on its ruler."""
    least_hold: LengthField = Field(alias="least hold")
    """The narrowest paper it holds flat beside the blade."""
    ruler_side: Literal["left", "right"] = Field("left", alias="ruler side")
    """On which side of the blade its ruler lies."""
    reach: LengthField | None = None
    """The farthest mark of its ruler; the cut length when left out."""
    sheets_at_once: int = Field(1, ge=1, le=10, alias="sheets at once")
    """How many sheets it cuts together."""


class Prices(Spec):
    """What the club pays, so that the supplies of a kit can be costed."""

    currency: ShortWords
    """Its sign or its letters, such as $ or EUR."""
    patterned: MoneyField | None = None
    """A sheet of patterned paper."""
    cardstock: MoneyField | None = None
    """A sheet of cardstock."""
    papers: dict[Key, MoneyField] = {}
    """A sheet of one paper, by its key, where it costs something else."""
    envelope: MoneyField | None = None
    """An envelope."""
    adhesive: ByLengthField | None = None
    """Adhesive by the length, such as 4.50 for 8 m."""
    foam: ByAreaField | None = None
    """Foam by the sheet, such as 3 for 4 x 6 in."""


class Club(Spec):
    """Who publishes, as typed in `club.yaml`."""

    name: ShortWords
    tagline: Words
    """One line under the name."""
    about: Words
    """What this archive is, for the home page."""
    time_zone: ShortWords = Field(alias="time zone")
    """An IANA name such as Europe/Lisbon."""
    region: Literal["us", "metric"] = "us"
    """Which printable is offered first: Letter or A4."""
    address: ShortWords | None = None
    """Where the site will stand, such as https://cards.example/."""
    trimmer: Trimmer
    papers: dict[Key, Paper] = {}
    """Usual papers; a kit may use them without saying them again."""
    terms: Words
    """What readers may do with the printables."""
    cautions: TextList = Field(min_length=1)
    """Blades, adhesives, small parts."""
    prices: Prices | None = None
    """What things cost, for the supplies of a kit."""
    team: list[Role] = []
    """The design team."""
    _document: Any = PrivateAttr(None)

    def place(self, *path: str | int) -> Place:
        """File and line of an entry of the club file."""
        return self._document.place(path) if self._document else Place()
