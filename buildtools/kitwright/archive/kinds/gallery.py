"""The page of a kit's arrangements, where there are several; of each design one."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from kitwright.archive.listing import Listed
from kitwright.archive.offered import arrangements_name
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.telling.arranging import titled


def _pages(site: Site) -> Iterator[Page]:
    for one in site.kits:
        for design, told in one.listing.arrangements:
            title = f"Arrangements of {titled(one.kit.spec.title, design)}"
            yield page_beside(one, f"{arrangements_name(design)}.md", title, None, told, partial(_whole, one, design))


def _whole(one: Listed, design: str) -> dict[str, object]:
    gallery = next(each for each in one.whole.galleries if each.design == design)
    return {"one": one.whole, "gallery": gallery}


KIND = Kind("gallery.md", _pages, search=0.1)
