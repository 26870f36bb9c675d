"""Pages that show every kit: the home page, all kits by year, and by tag."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.views import by_tag, by_year

RECENT = 6
"""Kits on the home page below the newest."""


def _home(site: Site) -> Iterator[Page]:
    values = {"newest": site.made[-1].view, "recent": site.cards[-2 : -RECENT - 2 : -1]}
    yield Page("index.md", "", values, changed=site.newest_change)


def _all_kits(site: Site) -> Iterator[Page]:
    yield Page("archive.md", "All kits", {"years": by_year(site.cards)}, changed=site.newest_change)


def _by_tag(site: Site) -> Iterator[Page]:
    yield Page("tags.md", "Kits by tag", {"tags": by_tag(site.cards)}, changed=site.newest_change)


HOME = Kind("home.md", _home, menu="Home", search=0)
ALL_KITS = Kind("archive.md", _all_kits, menu="All kits", search=0)
BY_TAG = Kind("tags.md", _by_tag, menu="By tag", search=0)
