"""The page on which a reader says what paper she has, and finds the kits that it makes."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.archive.beforehand import addresses
from kitwright.archive.finder import EASY
from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site
from kitwright.papers import ENVELOPES
from kitwright.telling.paper import OFFERED, PAPER_DESCRIBED, PAPER_TITLE, kinds_of


def tried(site: Site) -> list[Listed]:
    """The kits that a reader's paper is tried on, the newest first; where there are none, there is no such page."""
    return [one for one in reversed(site.kits) if one.listing.facts and one.listing.yields]


def _pages(site: Site) -> Iterator[Page]:
    kits = tried(site)
    if not kits:
        return
    used = {paper.kind for one in kits if one.listing.facts for paper in one.listing.facts.papers}
    values = {
        "kits": kits,
        "kinds": kinds_of(used),
        "sizes": OFFERED,
        "envelopes": [one.name for one in ENVELOPES],
        "easy": EASY,
        "alone": " ".join(f"{sides}={key}" for sides, key in addresses()),
        "untried": sum(one.past for one in site.kits),
    }
    yield Page("paper.md", PAPER_TITLE, values, description=PAPER_DESCRIBED, changed=site.newest_change)


KIND = Kind("paper.md", _pages, menu="From your paper", search=0.3, offered=True)
