"""The page of a kit's arrangements, where there are several."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.telling.gallery import counts_text


def _pages(site: Site) -> Iterator[Page]:
    for one in site.made:
        if one.gallery and one.gallery.has_page:
            yield page_beside(
                one, "arrangements.md", f"Arrangements of {one.kit.spec.title}", {"gallery": one.gallery}, counts_text(one.gallery.found)
            )


KIND = Kind("gallery.md", _pages, search=0.1)
