"""A kit as a whole, and a past one."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from kitwright.kit.model.after import Extra, Link, Photo, Question, Sample, Video
from kitwright.kit.model.card import CardSpec
from kitwright.kit.model.front import ArrangementsSpec, Decoration, Front, SentimentSpec
from kitwright.kit.model.guides import Guide, Steps
from kitwright.kit.model.moments import Moment, MomentField, TaskField, Tested
from kitwright.kit.model.papers import Paper
from kitwright.kit.model.pieces import Piece
from kitwright.kit.model.text import Key, Label, OneOrMany, PersonKey, Prose, ShortWords, Spec, Words, YesNo


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
    tags: Annotated[tuple[ShortWords, ...], OneOrMany()] = ()
    """Techniques and occasions."""
    reveal: Moment | None = None
    """When it becomes public, in the club's time."""
    meant: Annotated[tuple[Literal["reveal"], ...], OneOrMany()] = ()
    """What looks odd and is meant: reveal, in another month than the folder's."""
    papers: dict[Key, Paper] = {}
    """The papers on the table, besides the club's usual ones."""
    pieces: dict[Label, Piece] = Field(min_length=1, json_schema_extra={"additionalProperties": False})
    """A label for every size."""
    card: CardSpec
    front: Front
    sentiment: SentimentSpec | None = None
    decorations: list[Decoration] = []
    arrangements: ArrangementsSpec = ArrangementsSpec()
    """How else the same pieces may go."""
    guides: list[Guide] = []
    """Your own cutting guides; papers without one are cut by auto."""
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
