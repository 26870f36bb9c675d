"""Corrections: those of every kit on one page, and a page for each kit that was corrected."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.page import Kind, Page, Site, page_beside


def _all(site: Site) -> Iterator[Page]:
    told = [erratum for one in site.kits for erratum in one.errata]
    told.sort(key=lambda e: (e.at, e.kit, e.number), reverse=True)
    # It stands from the first day, since what is sent to viewers links to it; the menu leads there once there is one.
    yield Page("errata.md", "Corrections", {"one": None, "errata": told}, in_menu=bool(told))


def _of_kit(site: Site) -> Iterator[Page]:
    for one in site.kits:
        if one.errata:
            yield page_beside(one, "errata.md", f"Corrections to {one.kit.spec.title}", {"errata": one.errata})


ALL = Kind("errata.md", _all, menu="Corrections", search=0.3)
OF_KIT = Kind("errata.md", _of_kit, search=0)
