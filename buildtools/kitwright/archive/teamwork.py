"""What the team's own pages say of a kit: its moments on every clock, who makes what by when, and one download of all."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from kitwright.archive.bundle import Bundle, bundle_of
from kitwright.archive.content import Content
from kitwright.archive.ics import her_calendar
from kitwright.archive.make import Made
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.release.calendar import moments
from kitwright.release.people import Person
from kitwright.release.team import Part, parts_of
from kitwright.telling.moments import city
from kitwright.telling.team import Told, ToldPart, page_name, page_title, shared_places, told_at, told_part
from kitwright.telling.words import listed

STAYS = dt.timedelta(days=90)
"""How long after a kit's last moment the team's one download stays; the public page has all of it by then."""


@dataclass(frozen=True)
class Hers:
    """The page of one who has a part in a kit."""

    told: ToldPart
    name: str
    """Of her page, without an ending."""
    title: str

    @property
    def calendar(self) -> str:
        """Her calendar file, beside the page."""
        return f"{self.name}.ics"


@dataclass(frozen=True)
class Teamwork:
    """What is asked for a kit."""

    times: tuple[Told, ...]
    """Every moment on the club's own clock."""
    over: bool
    """Whether the last of them has passed."""
    hers: tuple[Hers, ...]
    """Everybody's part."""
    bundle: Bundle | None = None
    """Everything in one download, as long as the team gets it."""
    places: Any = ()
    """Public addresses to share."""
    zone: str = ""
    clocks: tuple[tuple[str, tuple[Told, ...]], ...] = ()
    """The same moments on other clocks, with the names of those who read them."""
    files: Mapping[str, Content] = field(default_factory=dict)
    """The bundle and the calendars, by their names beside the kit's page."""

    @property
    def listed(self) -> Teamwork:
        """As other pages, and the list of a site's files, need it."""
        return Teamwork(self.times, self.over, self.hers, self.bundle, files=self.files)

    @property
    def parts(self) -> list[ToldPart]:
        """Everybody's part, told."""
        return [one.told for one in self.hers]


def for_team(made: Made, club: Club, people: Mapping[str, Person], as_of: dt.datetime | None) -> Made:
    """A kit with what the team's own pages say of it."""
    return replace(made, teamwork=teamwork_of(made, club, people, as_of))


def teamwork_of(made: Made, club: Club, people: Mapping[str, Person], as_of: dt.datetime | None) -> Teamwork | None:
    """What is asked for a kit; None for a past kit.

    Args:
        made: the kit, with its files.
        club: whose.
        people: everybody on file.
        as_of: the moment; None looks past all.

    Raises:
        UserError: an unknown person or moment.
    """
    if made.past or not isinstance(made.kit, Kit):
        return None
    worked, kit, last = made.worked, made.kit, moments(made.kit, club)[-1].at
    bundle = bundle_of(made) if as_of is None or as_of < last + STAYS else None
    parts = parts_of(kit, club, people)
    hers, files = [], {}
    for part in parts:
        told, name = told_part(worked, club, part), page_name(part.mark)
        hers.append(Hers(told, name, page_title(kit.spec.title, told.name)))
        files[f"{name}.ics"] = her_calendar(kit, club, part).encode()
    times = tuple(told_at(due, due.local) for due in moments(kit, club))
    return Teamwork(
        times,
        as_of is not None and last <= as_of,
        tuple(hers),
        replace(bundle, data=b"") if bundle else None,
        shared_places(worked, club, [(one.design, one.page) for one in made.galleries if one.has_page]),
        city(club.time_zone),
        _clocks(kit, club, parts, times),
        files | ({bundle.download.file: bundle.data} if bundle else {}),
    )


def _clocks(kit: Kit, club: Club, parts: tuple[Part, ...], times: tuple[Told, ...]) -> tuple[tuple[str, tuple[Told, ...]], ...]:
    """On every other clock, the names of those who read it."""
    clocks: dict[tuple[Told, ...], list[str]] = {}
    for part in parts:
        if part.tasks:
            clocks.setdefault(_on_her_clock(kit, club, part), []).append(part.person.name)
    clocks.pop(times, None)
    return tuple((listed(list(dict.fromkeys(names))), told) for told, names in clocks.items())


def _on_her_clock(kit: Kit, club: Club, part: Part) -> tuple[Told, ...]:
    return tuple(told_at(due, due.at.astimezone(part.person.zone(club))) for due in moments(kit, club))
