"""What comes after the reveal: photos, samples, questions, the video, links."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from kitwright.kit.fields import Unfit
from kitwright.kit.model.guides import Stage
from kitwright.kit.model.moments import Address, Clock
from kitwright.kit.model.text import Key, Label, PersonKey, Prose, ShortProse, ShortWords, Spec, YesNo


class Photo(Spec):
    """A picture of a finished card."""

    file: ShortWords = Field(examples=["photos/first.jpg"])
    """Path inside the kit's folder."""
    alt: Prose | None = None
    """What the picture shows, for those who can't see it."""
    caption: Prose | None = None
    """A line under it."""


class Used(Spec):
    """Something a sample was made with, told by kind."""

    kind: ShortWords
    """What it is: ink, die, thread …"""
    words: ShortProse
    """The maker's own words for it."""
    link: Address | None = None
    """Where it is to be had."""
    earns: YesNo = False
    """Whether this link earns money."""


class Sample(Spec):
    """A finished card that somebody shows."""

    by: PersonKey
    """The key of a person."""
    photo: ShortWords | None = None
    """A picture in that person's own folder."""
    alt: Prose | None = None
    """What the picture shows."""
    since: ShortWords | None = Field(None, alias="from")
    """From which moment on it is shown; samples, or else the reveal, when left out."""
    design: ShortWords | None = None
    """Of which design it is, where there are several; the first when left out."""
    arrangement: ShortWords | None = None
    """The arrangement it used, by name or by link."""
    changed: Prose | None = None
    """What the maker changed."""
    used: list[Used] = []
    """What it was made with."""


ComputedAnswer = Literal["A4", "Letter", "other sheets", "one sheet", "other fold", "more cards"]


class Question(Spec):
    """A reader's question with its answer."""

    sound_with = ("answer",)

    ask: Prose
    """The question."""
    answer: Prose | None = None
    """The answer, with citations where it names a size."""
    computed: ComputedAnswer | None = None
    """Work the answer out instead."""
    cards: int | None = Field(None, ge=1, le=500)
    """For more cards: how many."""
    design: ShortWords | None = None
    """The design that it is about, where there are several."""
    step: Stage | None = None
    """The stage that it is about."""
    piece: Label | None = None
    """The piece that it is about."""
    sheet: Key | None = None
    """The paper that it is about."""

    @model_validator(mode="after")
    def _one_answer(self) -> Question:
        if (self.answer is None) == (self.computed is None):
            raise Unfit("spec.not-one-answer")
        if sum(x is not None for x in (self.step, self.piece, self.sheet)) > 1:
            raise Unfit("spec.tied-twice")
        return self


class Video(Spec):
    """The video of a kit, and where its steps begin."""

    address: Address
    """Where it can be watched."""
    steps: dict[Stage, Clock] = {}
    """Stage of the work → time."""
    chapters: dict[ShortProse, Clock] = {}
    """Further chapters, in your words → time."""


class Link(Spec):
    """Where something that a kit takes is to be had."""

    what: ShortProse = Field(alias="for")
    """A paper's key, or words of your own."""
    address: Address
    earns: YesNo = False
    """Whether this link earns money."""


class Extra(Spec):
    """A file that members get; never in the public site."""

    file: ShortWords = Field(examples=["extras/tags.pdf"])
    """Path inside the kit's folder."""
    name: ShortProse
    """What it is, as the public page may say it."""
