"""For the team alone: what is under way, and what to make of each kit by when."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site, page_beside


def _home(site: Site) -> Iterator[Page]:
    kits = [(one.card, one.after.team) for one in reversed(site.made) if one.after and one.after.team]
    if kits:
        yield Page("team.md", "For the team", {"kits": kits})


def _of_kit(site: Site) -> Iterator[Page]:
    for one in site.made:
        if one.after and one.after.team:
            yield page_beside(one, "team.md", f"{one.card.title}: for the team", team=one.after.team, gallery=one.gallery, made=one.making)


HOME = Kind("teamhome.md", _home, audiences=("team",), menu="Team", search=0)
OF_KIT = Kind("team.md", _of_kit, audiences=("team",), search=0)
