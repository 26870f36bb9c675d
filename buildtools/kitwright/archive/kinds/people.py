"""The page of everybody who agreed to be named."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site


def _pages(site: Site) -> Iterator[Page]:
    view, portraits = site.people
    if view.groups:
        yield Page("people.md", "Who makes the kits", {"view": view}, files=portraits)


KIND = Kind("people.md", _pages, menu="People", search=0.1)
