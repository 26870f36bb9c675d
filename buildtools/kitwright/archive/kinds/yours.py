"""A page of their own for everybody who has a part in a kit: by when, what, what may be shown when, one download, what to post. For the team alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.archive.teamwork import Hers, Teamwork


def _pages(site: Site) -> Iterator[Page]:
    for one in site.kits:
        work = one.listing.teamwork
        for hers in work.hers if work else ():
            page = page_beside(one, f"{hers.name}.md", hers.title, None, "", partial(_whole, one, hers))
            yield replace(page, files={hers.calendar: work.files[hers.calendar]} if work else {})


def _whole(one: Listed, hers: Hers) -> dict[str, object]:
    made = one.whole
    work = made.teamwork
    assert isinstance(work, Teamwork), "a kit of the team's site without its tasks"
    return {"one": made, "told": hers.told, "calendar": hers.calendar, "bundle": work.bundle, "places": work.places}


KIND = Kind("yours.md", _pages, audiences=("team",), search=0)
