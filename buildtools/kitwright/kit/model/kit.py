"""A kit as a whole, and a past one."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field, model_validator

from kitwright.kit.model.after import Extra, Link, Photo, Question, Sample, Video
from kitwright.kit.model.card import CardSpec, FaceName, FaceSpec, front_among_faces
from kitwright.kit.model.designs import DESIGNED, DesignName, DesignSpec
from kitwright.kit.model.front import ArrangementsSpec, Decoration, Front, SentimentSpec
from kitwright.kit.model.guides import Guide, StandIn, Steps
from kitwright.kit.model.moments import Moment, MomentField, TaskField, Tested
from kitwright.kit.model.papers import Paper
from kitwright.kit.model.pieces import Piece
from kitwright.kit.model.text import Key, Label, OneOrMany, PersonKey, Prose, ShortWords, Spec, Words, YesNo

MOST_TAGS = 60
"""Of a kit; a reader chooses by a few."""
MOST_LABELS = 120
"""Of a kit's pieces; a batch that anybody cuts has a dozen."""


class KitSpec(Spec):
    """A kit as typed in `kit.yaml`."""

    title: ShortWords
    """What the kit is called."""
    summary: Prose
    """One or two sentences for the archive."""
    cards: int = Field(ge=1, le=500, examples=[8])
    """Cards in a batch."""
    unit: Literal["in", "mm"] = "in"
    """The unit shown first, and what a bare number means."""
    tags: Annotated[tuple[ShortWords, ...], OneOrMany()] = Field((), max_length=MOST_TAGS)
    """Techniques and occasions."""
    reveal: Moment | None = None
    """When it becomes public, in the club's time."""
    meant: Annotated[tuple[Literal["reveal"], ...], OneOrMany()] = ()
    """What looks odd and is meant: reveal, in another month than the folder's."""
    papers: dict[Key, Paper] = {}
    """The papers on the table, besides the club's usual ones."""
    pieces: dict[Label, Piece] = Field(min_length=1, max_length=MOST_LABELS, json_schema_extra={"additionalProperties": False})
    """A label for every size."""
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
    designs: dict[DesignName, DesignSpec] = Field({}, json_schema_extra={"additionalProperties": False})
    """Several designs from one set of sheets, each with its cards, card and front."""
    guides: list[Guide] = []
    """Your own cutting guides; papers without one are cut by auto."""
    also_from: Annotated[tuple[StandIn, ...], OneOrMany()] = Field((), alias="also from")
    """A4 or Letter, where the kit may be cut from that too: its edition of the printable then carries guides for it."""
    steps: Steps = Steps()
    cut_files: Literal["public", "members", "none"] = Field("public", alias="cut files")
    """Who gets the cut files: everybody, members only, or nobody."""
    photos: list[Photo] = []
    by: PersonKey | None = None
    """Who drew the kit up: the key of a person."""
    moments: dict[ShortWords, MomentField] = {}
    """Further named moments, such as samples."""
    team: list[TaskField] = []
    """Who of the team makes what; the whole team of the club when left out."""
    guests: list[TaskField] = []
    """Guests, and what they make."""
    tested: list[Tested] = []
    """Who cut it before its release, when, from which code."""
    samples: list[Sample] = []
    """Finished cards to show."""
    questions: list[Question] = []
    """Readers' questions with answers."""
    video: Video | None = None
    links: list[Link] = []
    """Where things are to be had."""
    members: list[Extra] = []
    """Files that members get."""

    @classmethod
    def __get_pydantic_json_schema__(cls, core_schema: Any, handler: Any) -> dict[str, Any]:
        """Editors ask for one design's lines, or for several designs."""
        schema = dict(handler.resolve_ref_schema(handler(core_schema)))
        one = [name for name in DESIGNED if name in schema["required"]]
        schema["required"] = [name for name in schema["required"] if name not in one]
        faced = ["faces" if name == "front" else name for name in one]
        return schema | {"anyOf": [{"required": one}, {"required": faced}, {"required": ["designs"]}]}

    @model_validator(mode="before")
    @classmethod
    def _front_among_faces(cls, value: Any) -> Any:
        return front_among_faces(value)


def _from_the_designs() -> Any:
    """Stands until the designs are read."""
    return None


class SeveralSpec(KitSpec):
    """A kit of several designs; what stands under each of them is that of the first one here, and all their cards."""

    copies: ClassVar[tuple[str, ...]] = DESIGNED

    cards: int = Field(default_factory=_from_the_designs, ge=1, le=500)
    card: CardSpec = Field(default_factory=_from_the_designs)
    front: Front = Field(default_factory=_from_the_designs)
    designs: dict[DesignName, DesignSpec] = Field(min_length=1, json_schema_extra={"additionalProperties": False})

    @model_validator(mode="after")
    def _leading(self) -> SeveralSpec:
        return self._copied()

    def _copied(self) -> SeveralSpec:
        first = next(iter(self.designs.values()))
        self.__dict__.update({name: getattr(first, name) for name in DESIGNED})
        self.__dict__["cards"] = sum(design.cards for design in self.designs.values())
        return self

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> SeveralSpec:
        """Changed, and what is copied from the designs with it."""
        return super().model_copy(update=update, deep=deep)._copied()


def model_of(data: Mapping[str, Any]) -> type[KitSpec]:
    """Which of the two a file is meant to be, by the words at its top; `designs` may be misspelt."""
    if any(name in data for name in ("card", "front")):
        return SeveralSpec if "designs" in data else KitSpec
    return SeveralSpec if difflib.get_close_matches("designs", map(str, data), 1, 0.75) else KitSpec


LIVING = (
    "reveal",
    "meant",
    "cut_files",
    "photos",
    "by",
    "moments",
    "team",
    "guests",
    "tested",
    "samples",
    "questions",
    "video",
    "links",
    "members",
)
"""Fields of a kit that may change after its release: nothing on the printable depends on them, and people stand only here."""


class PastSpec(Spec):
    """A past kit that exists only as an old printable. Nothing is computed for it."""

    past: YesNo
    """yes: only an old printable exists."""
    title: ShortWords
    """What the kit was called."""
    summary: Words | None = None
    printable: ShortWords = Field(examples=["old-printable.pdf"])
    """The PDF, inside the kit's folder."""
    thumbnail: ShortWords | None = None
    """A picture, inside the kit's folder; page 1 of the printable when left out."""
    thumbnail_alt: Words | None = Field(None, alias="thumbnail alt")
    """What the thumbnail shows."""
    cards: int | None = Field(None, ge=1, le=500)
    """Only if known."""
    tags: Annotated[tuple[ShortWords, ...], OneOrMany()] = ()
    facts: dict[ShortWords, Words] = {}
    """The few things known, in your words."""
    reveal: Moment | None = None
