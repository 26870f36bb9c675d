"""A kit's page for any number of cards and from other paper."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.telling.site import your_paper_described


def _pages(site: Site) -> Iterator[Page]:
    for one in site.kits:
        if one.listing.has_yours:
            title = one.kit.spec.title
            yield page_beside(one, "your-paper.md", f"{title} on your paper", None, your_paper_described(title), partial(_whole, one))


def _whole(one: Listed) -> dict[str, object]:
    return {"one": one.whole, "yours": one.whole.yours}


KIND = Kind("your-paper.md", _pages, search=0.3)
