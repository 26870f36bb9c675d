"""The page on which a reader looks up the code of her printable."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.mycopy import copy_view
from kitwright.archive.page import Kind, Page, Site


def _pages(site: Site) -> Iterator[Page]:
    copy = copy_view((one.kit, one.listing.copied) for one in reversed(site.kits) if one.listing.copied)
    if copy:
        yield Page("mycopy.md", "Is my copy current?", {"copy": copy})


KIND = Kind("mycopy.md", _pages, menu="Is my copy current?", codes=True)
