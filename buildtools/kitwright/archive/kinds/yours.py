"""A page of their own for everybody who has a part in a kit: by when, what, what may be shown when, one download, what to post. For the team alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from kitwright.archive.bundle import bundle_of
from kitwright.archive.ics import her_calendar
from kitwright.archive.kinds.team import takes_bundle
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.release.team import parts_of
from kitwright.telling.team import page_name, page_title, shared_places, told_part
from kitwright.work.worked import Worked


def _pages(site: Site) -> Iterator[Page]:
    club = site.archive.club
    for one in site.made:
        if not isinstance(one.entry, Worked):
            continue
        kit, bundle = one.entry.kit, bundle_of(one) if takes_bundle(site, one.entry.kit) else None
        places = shared_places(one.entry, club, bool(one.gallery and one.gallery.has_page))
        for part in parts_of(kit, club, site.archive.people):
            told, name = told_part(one.entry, club, part), page_name(part.mark)
            calendar = f"{name}.ics"
            values = {"told": told, "calendar": calendar, "bundle": bundle, "places": places}
            files = {calendar: her_calendar(kit, club, part).encode()}
            page = page_beside(one, f"{name}.md", page_title(kit.spec.title, told.name), values)
            yield replace(page, files=files)


KIND = Kind("yours.md", _pages, audiences=("team",), search=0)
