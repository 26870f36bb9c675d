"""The page of all that readers asked."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site


def _pages(site: Site) -> Iterator[Page]:
    kits = [one for one in reversed(site.kits) if one.asked]
    if kits:
        yield Page("asked.md", "Questions", {"kits": kits})


KIND = Kind("asked.md", _pages, menu="Questions", search=0.1)
