"""The page of a kit's arrangements, where there are several."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site, page_beside


def _pages(site: Site) -> Iterator[Page]:
    for one in site.kits:
        if told := one.listing.arrangements:
            yield page_beside(one, "arrangements.md", f"Arrangements of {one.kit.spec.title}", None, told, partial(_whole, one))


def _whole(one: Listed) -> dict[str, object]:
    return {"one": one.whole, "gallery": one.whole.gallery}


KIND = Kind("gallery.md", _pages, search=0.1)
