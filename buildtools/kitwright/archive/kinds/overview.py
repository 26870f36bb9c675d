"""Pages that show every kit: the home page, all kits by their facts, and by tag."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kitwright.archive.facets import FACTS_FILE, all_kits
from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site

RECENT = 6
"""Kits on the home page below the newest."""
KNOWN = 24
"""Kits of which a page says when they came out."""


def _home(site: Site) -> Iterator[Page]:
    first = leading(site.kits)
    rest = [one for one in site.kits if one not in first]
    # `newest` is asked for by home pages of hers that are older than `leading`.
    values = {"leading": first, "newest": first[0], "recent": rest[: -RECENT - 1 : -1], "news": _news(site.kits)}
    yield Page("index.md", "", values, changed=site.newest_change)


def leading(kits: Sequence[Listed]) -> tuple[Listed, ...]:
    """The newest kit, and beside it those that were due at the same moment, in the order of every list: newest first.

    Old printables without a moment of their own share the first of their month by chance, so of those only the newest leads,
    and none before a kit of that month that is worked out here.
    """
    newest = kits[-1]
    if newest.past and newest.kit.spec.reveal is None:
        same = [one for one in kits if not one.past and (one.kit.month, one.kit.reveal) == (newest.kit.month, newest.kit.reveal)]
        if same:
            return tuple(reversed(same))
    if newest.past and newest.kit.spec.reveal is None:
        return (newest,)
    return tuple(one for one in reversed(kits) if one.kit.reveal == newest.kit.reveal)


def _news(kits: Sequence[Listed]) -> str:
    """The newest kits with their moments, in seconds of 1970, by which a page's script tells what a reader has not seen."""
    return " ".join(f"{one.id}@{int(one.listing.at.timestamp())}" for one in reversed(kits[-KNOWN:]))


def _all_kits(site: Site) -> Iterator[Page]:
    years: dict[int, list[Listed]] = {}
    for one in reversed(site.kits):
        years.setdefault(one.kit.month.year, []).append(one)
    found = all_kits(site.kits, site.archive.club)
    # `years` is asked for by pages of hers that are older than `all`.
    values = {"years": sorted(years.items(), reverse=True), "all": found, "news": _news(site.kits)}
    yield Page("archive.md", "All kits", values, changed=site.newest_change, files={FACTS_FILE: found.script})


def _by_tag(site: Site) -> Iterator[Page]:
    tags: dict[str, list[Listed]] = {}
    for one in reversed(site.kits):
        for tag in dict.fromkeys(one.kit.spec.tags):
            tags.setdefault(tag, []).append(one)
    ordered = sorted(tags.items(), key=lambda tag: (tag[0].casefold(), tag[0]))
    if ordered:
        yield Page("tags.md", "Kits by tag", {"tags": ordered}, changed=site.newest_change)


HOME = Kind("home.md", _home, menu="Home", search=0)
ALL_KITS = Kind("archive.md", _all_kits, menu="All kits", search=0, offered=True)
BY_TAG = Kind("tags.md", _by_tag, search=0)
