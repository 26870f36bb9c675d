"""What a page of the site is, and what a kind of page: where its pages stand, for whom, by which template.

The kinds themselves stand in `kitwright.archive.kinds`, a module each.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from kitwright.archive.audience import Audience
from kitwright.archive.feeds import changed_at
from kitwright.archive.gather import Archive
from kitwright.archive.make import Made
from kitwright.archive.makers import PeopleView, people_view
from kitwright.archive.views import Card, State


@dataclass(frozen=True, eq=False)
class Site:
    """What all pages are made from."""

    archive: Archive
    made: tuple[Made, ...] = ()
    """Every kit, oldest first; none for members, who get files alone."""

    @property
    def cards(self) -> list[Card]:
        """Every kit as other pages refer to it, oldest first."""
        return [one.card for one in self.made]

    @cached_property
    def changed(self) -> dict[str, dt.datetime]:
        """When each kit's page last changed, by kit; for the map of the public site."""
        return changed_at(self.archive) if self.archive.audience == "public" else {}

    @property
    def newest_change(self) -> dt.datetime | None:
        """When pages that show every kit last changed."""
        return max(self.changed.values(), default=None)

    @cached_property
    def people(self) -> tuple[PeopleView, dict[str, bytes]]:
        """Everybody who has a place on the page of people, with the portraits."""
        parts = [part for one in reversed(self.made) if one.after for part in one.after.parts]
        return people_view(self.archive.club, self.archive.people, parts)


@dataclass(frozen=True)
class Page:
    """One page."""

    path: str
    """In the content tree, `kits/2027-04-aster/index.md`."""
    title: str
    """Empty for the home page, which is called as the club is."""
    values: Mapping[str, object] = field(default_factory=dict)
    """What its template reads, beside what every template may read."""
    description: str = ""
    """A sentence or two for those who list pages."""
    kit: str = ""
    """The kit that it is about: its notes are named where the page can't be made."""
    state: State | None = None
    """Which state of the kit it shows."""
    links: tuple[str, ...] = ()
    """Every address that its author's notes lead to."""
    changed: dt.datetime | None = None
    """When it last changed, for the map of the site; None where that is not known."""
    files: Mapping[str, bytes] = field(default_factory=dict)
    """What lies beside it: path to bytes."""
    given: Mapping[str, bytes | Path] = field(default_factory=dict)
    """What lies beside it in the built site as it is, and never in the tree, where a page generator would make a page of some."""


def page_beside(one: Made, name: str, title: str, description: str = "", **values: object) -> Page:
    """A further page of a kit, beside the kit's own."""
    return Page(f"kits/{one.card.id}/{name}", title, {"kit": one.view, **values}, description, one.card.id, one.state)


@dataclass(frozen=True)
class Kind:
    """A kind of page."""

    template: str
    pages: Callable[[Site], Iterable[Page]]
    """Its pages; none where there is nothing to say."""
    audiences: tuple[Audience, ...] = ("public", "team")
    menu: str = ""
    """What its page is called in the menu; empty where it is not there."""
    search: float = 1
    """How much it weighs in the search; 0 keeps it out."""
    tells_state: bool = False
    """Whether the template itself tells a kit's revision; otherwise it stands at the foot."""
