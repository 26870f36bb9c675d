"""A kit's own page: a kit that is computed, or one of which only the old printable is left."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from kitwright.archive.howto import howto
from kitwright.archive.listing import Listed
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.text import notes_view
from kitwright.release.credits import credits_of
from kitwright.units import other_unit
from kitwright.work.cite import notes_of


def _pages(site: Site) -> Iterator[Page]:
    for i, one in enumerate(site.kits):
        if not one.past:
            yield _page(site, i, one, partial(_whole, site, one))


def _past(site: Site) -> Iterator[Page]:
    for i, one in enumerate(site.kits):
        if one.past:
            yield _page(site, i, one, partial(_old, one))


def _whole(site: Site, one: Listed) -> dict[str, object]:
    made = one.whole
    worked = made.worked
    credits = credits_of(worked.kit, site.archive.people, site.seen)
    data = howto(made) if site.archive.audience == "public" else None
    beside = notes_of(worked.told_in(other_unit(worked.unit)))
    notes = notes_view(notes_of(worked), beside, worked.unit).text
    return {"one": made, "worked": worked, "notes": notes, "credits": credits, "howto": data}


def _old(one: Listed) -> dict[str, object]:
    return {"one": one.whole}


def _page(site: Site, i: int, one: Listed, more: Callable[[], Mapping[str, object]]) -> Page:
    kits = site.kits
    beside = {"before": kits[i - 1] if i else None, "after": kits[i + 1] if i + 1 < len(kits) else None, "like": site.like.get(one.id, ())}
    return Page(
        path=f"kits/{one.id}/index.md",
        title=one.kit.spec.title,
        values=beside,
        more=more,
        description=one.kit.spec.summary or "",
        kit=one.id,
        state=one.state,
        links=one.listing.links,
        changed=one.listing.changed,
        files=one.files,
        again=one.again,
        key=one.listing.key,
    )


KIND = Kind("kit.md", _pages, tells_state=True)
PAST = Kind("past.md", _past)
