"""What a page of the site is, and what a kind of page: where its pages stand, for whom, by which template.

The kinds themselves stand in `kitwright.archive.kinds`, a module each.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from kitwright.archive.audience import Audience
from kitwright.archive.content import Content
from kitwright.archive.gather import Archive
from kitwright.archive.like import Like, likes
from kitwright.archive.listing import Kits, Listed, listed, listing_of
from kitwright.archive.make import Made
from kitwright.archive.standing import State
from kitwright.archive.teamwork import for_team
from kitwright.release.credits import Part


@dataclass(frozen=True, eq=False)
class Site:
    """What all pages are made from."""

    archive: Archive
    made: Sequence[Made | Listed] = ()
    """Every kit, oldest first."""

    @cached_property
    def kits(self) -> Kits:
        """The same, each at hand as far as other pages need it."""
        return tuple(one if isinstance(one, Listed) else self._listed(one) for one in self.made)

    def _listed(self, made: Made) -> Listed:
        """A kit that was made by itself."""
        archive = self.archive
        now = next((kit for kit in archive.sources if kit.id == made.kit.id), made.kit)
        if archive.audience == "team" and made.teamwork is None:
            made = for_team(made, archive.club, archive.people, archive.as_of)
        return listed(made, listing_of(made, now, archive.club, archive.people, archive.as_of, archive.audience))

    @property
    def seen(self) -> dt.datetime | None:
        """The instant that counts for what may be shown; None for eyes that may see everything."""
        return None if self.archive.audience == "team" else self.archive.as_of

    @cached_property
    def like(self) -> Mapping[str, tuple[Like, ...]]:
        """Kits that are like each of those that are worked out, by its id."""
        return likes(self.kits, self.archive.club)

    @property
    def newest_change(self) -> dt.datetime | None:
        """When pages that show every kit last changed."""
        return max((one.listing.changed for one in self.kits if one.listing.changed), default=None)

    @cached_property
    def parts(self) -> dict[str, dict[Part, list[str]]]:
        """Who had which part in which kits, newest first: by the key of somebody on file, and the kit's id."""
        found: dict[str, dict[Part, list[str]]] = {}
        for one in reversed(self.kits):
            for part, key in one.listing.parts:
                found.setdefault(key, {}).setdefault(part, []).append(one.id)
        return found

    @cached_property
    def named(self) -> frozenset[str]:
        """Keys of everybody who has a place on the page of people."""
        people, club = self.archive.people, self.archive.club
        known = {*self.parts, *(role.who for role in club.team)}
        return frozenset(key for key in known if key in people and people[key].agreed("name"))


def _nothing() -> Mapping[str, object]:
    return {}


@dataclass(frozen=True)
class Page:
    """One page."""

    path: str
    """In the content tree, `kits/2027-04-aster/index.md`."""
    title: str
    """Empty for the home page, which is called as the club is."""
    values: Mapping[str, object] = field(default_factory=dict)
    """What its template reads, beside what every template may read."""
    more: Callable[[], Mapping[str, object]] = _nothing
    """What else it reads, for which a whole kit has to be read: asked for when the page is filled in, and not kept."""
    description: str = ""
    """A sentence or two for those who list pages."""
    kit: str = ""
    """The kit that it is about: its notes are named where the page can't be made."""
    state: State | None = None
    """Which state of the kit it shows."""
    in_menu: bool = True
    """Whether it stands in the menu, where its kind does: a menu leads to nothing that is still empty."""
    links: tuple[str, ...] = ()
    """Every address that its author's notes lead to."""
    changed: dt.datetime | None = None
    """When it last changed, for the map of the site; None where that is not known."""
    files: Mapping[str, Content] = field(default_factory=dict)
    """What lies beside it, by its path."""
    given: Mapping[str, Content] = field(default_factory=dict)
    """What lies beside it in the built site as it is, and never in the tree, where a page generator would make a page of some."""
    again: Callable[[], object] | None = None
    """Makes its kit again, where a file that lies beside it was lost."""
    key: str = ""
    """By which what is shown of its kit is known: as long as that is the same, so is all that it reads of the kit."""


def page_beside(
    one: Listed,
    name: str,
    title: str,
    values: Mapping[str, object] | None = None,
    description: str = "",
    more: Callable[[], Mapping[str, object]] = _nothing,
) -> Page:
    """A further page of a kit, beside the kit's own."""
    return Page(
        f"kits/{one.id}/{name}",
        title,
        {"one": one, **(values or {})},
        more,
        description,
        one.id,
        one.state,
        again=one.again,
        key=one.listing.key,
    )


@dataclass(frozen=True)
class Kind:
    """A kind of page."""

    template: str
    pages: Callable[[Site], Iterable[Page]]
    """Its pages; none where there is nothing to say."""
    audiences: tuple[Audience, ...] = ("public", "team")
    menu: str = ""
    """What its page is called in the menu; empty where it is not there."""
    offered: bool = False
    """Whether a search of which nothing is typed yet leads to its page."""
    codes: bool = False
    """Whether its page looks up the code of a printable that stands behind a `#`."""
    search: float = 1
    """How much it weighs in the search; 0 keeps it out."""
    tells_state: bool = False
    """Whether the template itself tells a kit's revision; otherwise it stands at the foot."""
