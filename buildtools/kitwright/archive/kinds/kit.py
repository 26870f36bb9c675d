"""A kit's own page: a kit that is computed, or one of which only the old printable is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from kitwright.archive.credits import credits_of
from kitwright.archive.make import Made
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.text import notes_view
from kitwright.work.cite import notes_of
from kitwright.work.worked import Worked


def _pages(site: Site) -> Iterator[Page]:
    for i, one in enumerate(site.made):
        if isinstance(one.entry, Worked):
            notes, kit = notes_view(notes_of(one.entry)), one.entry.kit
            values = {"worked": one.entry, "notes": notes.text, "credits": credits_of(kit, site.archive.people, site.seen)}
            yield _page(site, i, one, values, notes.links)


def _past(site: Site) -> Iterator[Page]:
    for i, one in enumerate(site.made):
        if not isinstance(one.entry, Worked):
            yield _page(site, i, one, {}, ())


def _page(site: Site, i: int, one: Made, values: Mapping[str, object], links: tuple[str, ...]) -> Page:
    made = site.made
    beside = {"before": made[i - 1] if i else None, "after": made[i + 1] if i + 1 < len(made) else None}
    return Page(
        path=f"kits/{one.kit.id}/index.md",
        title=one.kit.spec.title,
        values={"one": one, **values, **beside},
        description=one.kit.spec.summary or "",
        kit=one.kit.id,
        state=one.state,
        links=links,
        changed=site.changed.get(one.kit.id),
        files=one.files,
    )


KIND = Kind("kit.md", _pages, tells_state=True)
PAST = Kind("past.md", _past)
