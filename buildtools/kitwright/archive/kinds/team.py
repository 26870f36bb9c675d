"""For the team alone: what is under way, and what to make of each kit, by when on whose clock."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.kit.kit import Kit
from kitwright.release.calendar import moments
from kitwright.release.people import guests_of, team_of
from kitwright.telling.brief import Told, asked_of, told_at
from kitwright.telling.moments import city
from kitwright.telling.words import listed
from kitwright.work.worked import Worked


def _home(site: Site) -> Iterator[Page]:
    kits = [(one, _times(kit), _over(site, kit)) for one in reversed(site.made) if isinstance(kit := one.kit, Kit)]
    if kits:
        yield Page("team.md", "For the team", {"kits": kits})


def _of_kit(site: Site) -> Iterator[Page]:
    for one in site.made:
        if isinstance(one.entry, Worked):
            yield page_beside(one, "team.md", f"{one.kit.spec.title}: for the team", _values(site, one.entry.kit))


def _times(kit: Kit) -> tuple[Told, ...]:
    """Every moment on the club's own clock."""
    return tuple(told_at(due, due.local) for due in moments(kit, kit.club))


def _over(site: Site, kit: Kit) -> bool:
    """Whether the kit's last moment has passed."""
    as_of = site.archive.as_of
    return as_of is not None and moments(kit, kit.club)[-1].at <= as_of


def _values(site: Site, kit: Kit) -> dict[str, object]:
    people = site.archive.people
    team, guests = (
        [asked_of(kit, kit.club, person, task.make, task.by) for person, task in part(kit, people)] for part in (team_of, guests_of)
    )
    times = _times(kit)
    # On every other clock, the names of those who read it.
    clocks: dict[tuple[Told, ...], list[str]] = {}
    for asked in team + guests:
        clocks.setdefault(asked.times, []).append(asked.name)
    clocks.pop(times, None)
    return {
        "team": team,
        "guests": guests,
        "times": times,
        "zone": city(kit.club.time_zone),
        "clocks": [(listed(list(dict.fromkeys(names))), told) for told, names in clocks.items()],
    }


HOME = Kind("teamhome.md", _home, audiences=("team",), menu="Team", search=0)
OF_KIT = Kind("team.md", _of_kit, audiences=("team",), search=0)
