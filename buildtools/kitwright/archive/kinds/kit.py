"""A kit's own page: a kit that is computed, or one of which only the old printable is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from kitwright.archive.make import Made
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.text import notes_view
from kitwright.archive.views import KitView


def _pages(site: Site) -> Iterator[Page]:
    for i, one in enumerate(site.made):
        if isinstance(one.view, KitView):
            notes = notes_view(one.view.notes)
            values = {"notes": notes.text, "gallery": one.gallery, "told": one.after, "yours": one.yours, "made": one.making}
            yield _page(site, i, one, values, notes.links)


def _past(site: Site) -> Iterator[Page]:
    for i, one in enumerate(site.made):
        if not isinstance(one.view, KitView):
            yield _page(site, i, one, {}, ())


def _page(site: Site, i: int, one: Made, values: Mapping[str, object], links: tuple[str, ...]) -> Page:
    card, cards = one.card, site.cards
    beside = {"before": cards[i - 1] if i else None, "after": cards[i + 1] if i + 1 < len(cards) else None}
    return Page(
        path=card.page,
        title=card.title,
        values={"kit": one.view, **values, **beside},
        description=card.summary,
        kit=card.id,
        state=one.state,
        links=links,
        changed=site.changed.get(card.id),
        files=one.files,
    )


KIND = Kind("kit.md", _pages, tells_state=True)
PAST = Kind("past.md", _past)
