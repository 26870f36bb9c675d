"""A kit's page for any number of cards and from other paper."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.telling.site import your_paper_described


def _pages(site: Site) -> Iterator[Page]:
    for one in site.made:
        if one.yours:
            title = one.kit.spec.title
            yield page_beside(one, "your-paper.md", f"{title} on your paper", {"yours": one.yours}, your_paper_described(title))


KIND = Kind("your-paper.md", _pages, search=0.3)
