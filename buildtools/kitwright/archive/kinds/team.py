"""For the team alone: what is under way, and what to make of each kit, by when on whose clock."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from kitwright.archive.bundle import bundle_of
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.release.calendar import moments
from kitwright.release.team import Part, parts_of
from kitwright.telling.moments import city
from kitwright.telling.team import Told, ToldPart, page_name, shared_places, told_at, told_part
from kitwright.telling.words import listed
from kitwright.work.worked import Worked

STAYS = dt.timedelta(days=90)
"""How long after a kit's last moment the team's one download stays; the public page has all of it by then."""


def takes_bundle(site: Site, kit: Kit) -> bool:
    """Whether the team still gets everything of a kit in one download."""
    as_of = site.archive.as_of
    return as_of is None or as_of < moments(kit, site.archive.club)[-1].at + STAYS


def _home(site: Site) -> Iterator[Page]:
    kits = [
        (one, _times(site, kit), _over(site, kit))
        for one in reversed(site.made)
        if isinstance(one.entry, Worked) and isinstance(kit := one.kit, Kit)
    ]
    if kits:
        parts = {one.kit.id: _parts(site, one.entry) for one, _, _ in kits if isinstance(one.entry, Worked)}
        yield Page("team.md", "For the team", {"kits": kits, "parts": parts, "page_name": page_name})


def _of_kit(site: Site) -> Iterator[Page]:
    for one in site.made:
        if isinstance(one.entry, Worked):
            bundle = bundle_of(one) if takes_bundle(site, one.entry.kit) else None
            values = _values(site, one.entry) | {
                "bundle": bundle,
                "places": shared_places(one.entry, site.archive.club, bool(one.gallery and one.gallery.has_page)),
                "page_name": page_name,
            }
            page = page_beside(one, "team.md", f"{one.kit.spec.title}: for the team", values)
            yield replace(page, given={bundle.download.file: bundle.data} if bundle else {})


def _times(site: Site, kit: Kit) -> tuple[Told, ...]:
    """Every moment on the club's own clock."""
    return tuple(told_at(due, due.local) for due in moments(kit, site.archive.club))


def _over(site: Site, kit: Kit) -> bool:
    """Whether the kit's last moment has passed."""
    as_of = site.archive.as_of
    return as_of is not None and moments(kit, site.archive.club)[-1].at <= as_of


def _parts(site: Site, worked: Worked) -> list[ToldPart]:
    return [told_part(worked, site.archive.club, part) for part in parts_of(worked.kit, site.archive.club, site.archive.people)]


def _values(site: Site, worked: Worked) -> dict[str, object]:
    kit, club = worked.kit, site.archive.club
    times = _times(site, kit)
    # On every other clock, the names of those who read it.
    clocks: dict[tuple[Told, ...], list[str]] = {}
    for part in parts_of(kit, club, site.archive.people):
        if part.tasks:
            clocks.setdefault(_on_her_clock(kit, club, part), []).append(part.person.name)
    clocks.pop(times, None)
    return {
        "parts": _parts(site, worked),
        "times": times,
        "zone": city(club.time_zone),
        "clocks": [(listed(list(dict.fromkeys(names))), told) for told, names in clocks.items()],
    }


def _on_her_clock(kit: Kit, club: Club, part: Part) -> tuple[Told, ...]:
    return tuple(told_at(due, due.at.astimezone(part.person.zone(club))) for due in moments(kit, club))


HOME = Kind("teamhome.md", _home, audiences=("team",), menu="Team", search=0)
OF_KIT = Kind("team.md", _of_kit, audiences=("team",), search=0)
