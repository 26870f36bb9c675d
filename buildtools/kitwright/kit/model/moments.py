"""Moments, days, addresses, and who makes what by when."""

from __future__ import annotations

import datetime as dt
import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from kitwright.kit.fields import WANTED, Unfit
from kitwright.kit.model.text import PersonKey, Prose, ShortWords, Spec, _no_citation
from kitwright.kit.typed import moment_meant, moment_typed, no_such_day

FIRST_YEAR, LAST_YEAR = 1900, 2199


def _moment(value: Any) -> Any:
    if not isinstance(value, str):
        raise Unfit("spec.no-moment", text=None)
    try:
        at = moment_typed(value)
    except OverflowError:
        at = None
    if at is None:
        if day := no_such_day(value):
            raise Unfit("spec.no-such-day", year=day[0], month=day[1], day=day[2])
        raise Unfit("spec.no-moment", text=value, meant=moment_meant(value))
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise Unfit("spec.far-year", year=at.year, first=FIRST_YEAR, last=LAST_YEAR)
    return at


Moment = Annotated[dt.datetime, BeforeValidator(_moment), Field(examples=["2027-03-06 10:00"])]


def _address(value: Any) -> Any:
    if isinstance(value, str):
        _no_citation(value)
    if isinstance(value, str) and not re.fullmatch(r"https?://[^\s<>\"]{3,400}", value.strip()):
        raise Unfit("spec.no-address", text=value)
    return value.strip() if isinstance(value, str) else value


def _address_or_post(value: Any) -> Any:
    """A page, or where to write to: `mailto:` and one address (RFC 6068), with nothing else in it."""
    if isinstance(value, str) and re.fullmatch(r"mailto:[A-Za-z0-9.!#$%'*+/=?^_{|}~-]{1,64}@[A-Za-z0-9.-]{1,255}", value.strip()):
        return value.strip()
    if isinstance(value, str) and not re.match(r"\s*https?:", value):
        raise Unfit("spec.no-link", text=value)
    return _address(value)


def _day(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    try:
        return dt.datetime.strptime(value.strip(), "%Y-%m-%d").date()
    except ValueError:
        if day := no_such_day(value):
            raise Unfit("spec.no-such-day", year=day[0], month=day[1], day=day[2]) from None
        raise Unfit("spec.no-day", text=value, meant=(moment_meant(value) or "")[:10]) from None


def _clock(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    match = re.fullmatch(r"(?:(\d{1,2}):)?(\d{1,2}):([0-5]\d)", value.strip())
    if not match or (match[1] and int(match[2]) > 59):
        raise Unfit("spec.no-time-in-a-video", text=value)
    return int(match[1] or 0) * 3600 + int(match[2]) * 60 + int(match[3])


Address = Annotated[
    str,
    BeforeValidator(_address),
    WithJsonSchema({"type": "string", "format": "uri", WANTED: "address", "examples": ["https://cards.example/page"]}),
]
LinkAddress = Annotated[
    str,
    BeforeValidator(_address_or_post),
    WithJsonSchema(
        {"type": "string", "format": "uri", WANTED: "link", "examples": ["https://cards.example/page", "mailto:hello@cards.example"]}
    ),
]
Day = Annotated[dt.date, BeforeValidator(_day), Field(examples=["2027-02-20"])]
Clock = Annotated[int, BeforeValidator(_clock), WithJsonSchema({"type": "string", "examples": ["4:05", "1:04:05"]})]


class NamedMoment(Spec):
    """A moment of the author's choosing; typed as a time alone when there is no more to say."""

    at: Moment
    """When, in the club's own time."""
    show: Prose | None = None
    """What the team and guests may show from then on."""

    @model_validator(mode="before")
    @classmethod
    def _from_time(cls, value: Any) -> Any:
        return {"at": value} if isinstance(value, str) else value


class Task(Spec):
    """What somebody makes for a kit; typed as the person's key alone when there is no more to say."""

    who: PersonKey
    """The key of a person."""
    make: Prose | None = None
    """What to make; a card of one's own when left out."""
    by: ShortWords = "reveal"
    """The moment by which it is due: reveal, or one of the kit's own."""

    @model_validator(mode="before")
    @classmethod
    def _from_words(cls, value: Any) -> Any:
        return {"who": value} if isinstance(value, str) else value


_TIME = WithJsonSchema({"type": ["string", "object"], "examples": ["2027-03-08 10:00"]})
_TASK = WithJsonSchema({"type": ["string", "object"], "examples": ["ada-bell"]})
MomentField = Annotated[NamedMoment, _TIME]
TaskField = Annotated[Task, _TASK]


class Tested(Spec):
    """Who cut a kit from start to finish before its release."""

    by: PersonKey
    """The key of a person."""
    on: Day
    """The day."""
    code: ShortWords
    """The code on the printable that was cut from."""
