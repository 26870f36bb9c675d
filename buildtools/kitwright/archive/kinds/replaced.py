"""A page for each revision that was replaced, below its kit's page, where its printables stay."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site, page_beside


def _pages(site: Site) -> Iterator[Page]:
    for one in site.kits:
        for old in one.state.older if one.state else ():
            yield page_beside(one, f"{old.folder}index.md", f"Revision {old.number} of {one.kit.spec.title}", {"old": old})


KIND = Kind("replaced.md", _pages, search=0, tells_state=True)
