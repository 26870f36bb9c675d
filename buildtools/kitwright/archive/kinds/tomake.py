"""The page of the kits that a reader marked to make, with the sheets for all of them. What she marked stays on her device: the page's script asks for it."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.called import call
from kitwright.archive.listing import Kits, Listed
from kitwright.archive.page import Kind, Page, Site
from kitwright.telling.facets import Both, sizes_both
from kitwright.telling.words import month_text

KITS_FILE = "find/make.js"
"""What the page's script loads of all kits."""


def _pages(site: Site) -> Iterator[Page]:
    yield Page("to-make.md", "Kits to make", {"made_from": KITS_FILE}, files={KITS_FILE: _script(site.kits)})


def _script(kits: Kits) -> bytes:
    """Each kit, newest first, as plain data: what a card shows of it, and its papers with the sheets that they take."""
    return call("kwMake", [_kit(one) for one in reversed(kits)])


def _kit(one: Listed) -> list[object]:
    lines = list(one.line), list(one.line_beside or one.line)
    facts, image = one.listing.facts, one.images.get("thumbnail")
    papers = [
        [
            int(paper.patterned),
            paper.name,
            _both(paper.size_name, sizes_both((paper.sheet,))),
            paper.sheets.numerator,
            paper.sheets.denominator,
        ]
        for paper in (facts.papers if facts else ())
    ]
    return [
        one.id,
        one.kit.spec.title,
        month_text(one.kit.month),
        one.unit,
        list(lines if one.unit == "in" else reversed(lines)),
        [f"kits/{one.id}/{image.narrow}", image.narrow_width, image.narrow_height] if image else [],
        papers,
    ]


def _both(name: str, sizes: Both) -> Both:
    """A sheet as it is bought: by its name, else by its size in inches and in millimetres."""
    return (name, name) if name else sizes


KIND = Kind("tomake.md", _pages, menu="Kits to make", search=0.3, offered=True)
