"""People named on the pages, and members who are not."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from kitwright.kit.model.moments import Address, Day
from kitwright.kit.model.text import OneOrMany, ShortWords, Spec, Words

Agreed = Literal["name", "link", "photo", "samples", "thanks"]


class Consent(Spec):
    """What somebody agreed to, and when."""

    on: Day
    """The day on which consent was given."""
    to: Annotated[tuple[Agreed, ...], OneOrMany()] = ()
    """What may be shown: name, link, photo, samples, thanks."""


class Thanks(Spec):
    """Thanks for a slip that somebody spotted."""

    kit: ShortWords = Field(examples=["2027-03-river-stones"])
    """The kit's id."""
    revision: int = Field(ge=2, examples=[2])
    """The revision that mended it."""


class PersonSpec(Spec):
    """Somebody named on the pages, as typed in `people/KEY/person.yaml`."""

    name: ShortWords
    """The whole name, as the person wants to see it."""
    link: Address | None = None
    """Her own page."""
    photo: ShortWords | None = None
    """A picture of her, in this folder."""
    alt: Words | None = None
    """What that picture shows."""
    time_zone: ShortWords | None = Field(None, alias="time zone")
    """Where she lives, as an IANA name; the club's own when left out."""
    consent: Consent
    thanks: list[Thanks] = []
    """Written by the erratum command."""


class Member(Spec):
    """A member whose anniversary is kept; private."""

    name: ShortWords
    """Who she is."""
    since: Day
    """The day of joining."""


class Anniversaries(Spec):
    """The private list of members, as typed in `people/private.yaml`. Never published."""

    members: list[Member] = []
    """Names and days of joining."""
