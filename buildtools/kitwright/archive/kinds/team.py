"""For the team alone: what is under way, and what to make of each kit, by when on whose clock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.archive.teamwork import Teamwork
from kitwright.telling.team import page_name


def _home(site: Site) -> Iterator[Page]:
    kits = [(one, work) for one in reversed(site.kits) if (work := one.listing.teamwork)]
    if kits:
        parts = {one.id: work.parts for one, work in kits}
        shown = [(one, work.times, work.over) for one, work in kits]
        yield Page("team.md", "For the team", {"kits": shown, "parts": parts, "page_name": page_name})


def _of_kit(site: Site) -> Iterator[Page]:
    for one in site.kits:
        if work := one.listing.teamwork:
            page = page_beside(one, "team.md", f"{one.kit.spec.title}: for the team", None, "", partial(_whole, one))
            yield replace(page, given={work.bundle.download.file: work.files[work.bundle.download.file]} if work.bundle else {})


def _whole(one: Listed) -> dict[str, object]:
    made = one.whole
    work = made.teamwork
    assert isinstance(work, Teamwork), "a kit of the team's site without its tasks"
    return {
        "one": made,
        "parts": work.parts,
        "times": work.times,
        "zone": work.zone,
        "clocks": work.clocks,
        "bundle": work.bundle,
        "places": work.places,
        "page_name": page_name,
    }


HOME = Kind("teamhome.md", _home, audiences=("team",), menu="For the team", search=0)
OF_KIT = Kind("team.md", _of_kit, audiences=("team",), search=0)
