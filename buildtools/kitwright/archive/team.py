"""The team's own page of a kit: what to make, by when on whose clock, what may be shown when, and where everything is."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.release.calendar import moments
from kitwright.release.people import Person, guests_of, team_of
from kitwright.telling.brief import Asked, Told, asked_of, told_at
from kitwright.telling.steps import steps_of
from kitwright.telling.words import listed
from kitwright.work.worked import Worked

PAGE = "team.md"
"""The page of a kit, and the team's overview at the top of its site."""


@dataclass(frozen=True)
class TeamView:
    """What the team's page of a kit says."""

    team: tuple[Asked, ...]
    guests: tuple[Asked, ...]
    times: tuple[Told, ...]
    """Every moment on the club's own clock."""
    zone: str
    clocks: tuple[tuple[str, tuple[Told, ...]], ...]
    """The same on every other clock, with the names of those who read it."""
    sections: tuple[tuple[str, str], ...]
    """Place on the kit's page and its name; these links don't change."""
    over: bool
    """Whether its last moment has passed."""
    code: str
    """Of the preview that is to be cut from; empty once it is released."""


def team_view(worked: Worked, code: str, people: Mapping[str, Person], as_of: dt.datetime | None) -> TeamView:
    """The page's words.

    Args:
        worked: the kit.
        code: of its preview, where it is not released yet; empty once it is.
        people: everybody on file.
        as_of: the instant; None where no moment counts.

    Raises:
        UserError: somebody is asked for a moment that the kit does not have.
    """
    kit, club = worked.kit, worked.kit.club
    team, guests = (
        tuple(asked_of(kit, club, person, task.make, task.by) for person, task in part(kit, people)) for part in (team_of, guests_of)
    )
    sections = [
        ("the-sketch", "The sketch"),
        ("what-you-need", "What you need"),
        ("the-pieces", "The pieces"),
        ("cutting-guides", "Cutting guides"),
    ]
    sections += [(f"guide-{i}", layout.name) for i, layout in enumerate(worked.layouts, 1)]
    sections += [("the-card-base", "The card base"), ("step-by-step", "Step by step")]
    sections += [(f"step-{step.stage}", step.title) for step in steps_of(worked)]
    known = moments(kit, club)
    times = tuple(told_at(d, club.time_zone, d.local) for d in known)
    clocks: dict[tuple[Told, ...], list[str]] = {}
    for one in team + guests:
        clocks.setdefault(one.times, []).append(one.name)
    clocks.pop(times, None)
    return TeamView(
        team,
        guests,
        times,
        club.time_zone.replace("_", " "),
        tuple((listed(list(dict.fromkeys(names))), told) for told, names in clocks.items()),
        tuple(sections),
        as_of is not None and known[-1].at <= as_of,
        code,
    )
