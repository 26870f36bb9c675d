"""What a page of the site is, and what a kind of page: where its pages stand, for whom, by which template.

The kinds themselves stand in `kitwright.archive.kinds`, a module each.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from kitwright.archive.atom import changed_at
from kitwright.archive.audience import Audience
from kitwright.archive.credits import Part, credited
from kitwright.archive.gather import Archive
from kitwright.archive.make import Made
from kitwright.archive.standing import State
from kitwright.work.worked import Worked


@dataclass(frozen=True, eq=False)
class Site:
    """What all pages are made from."""

    archive: Archive
    made: tuple[Made, ...] = ()
    """Every kit, oldest first; none for members, who get files alone."""

    @property
    def seen(self) -> dt.datetime | None:
        """The instant that counts for what may be shown; None for eyes that may see everything."""
        return None if self.archive.audience == "team" else self.archive.as_of

    @cached_property
    def changed(self) -> dict[str, dt.datetime]:
        """When each kit's page last changed, by kit; for the map of the public site."""
        return changed_at(self.archive) if self.archive.audience == "public" else {}

    @property
    def newest_change(self) -> dt.datetime | None:
        """When pages that show every kit last changed."""
        return max(self.changed.values(), default=None)

    @cached_property
    def parts(self) -> dict[str, dict[Part, list[str]]]:
        """Who had which part in which kits, newest first: by the key of somebody on file, and the kit's id."""
        found: dict[str, dict[Part, list[str]]] = {}
        people = self.archive.people
        for one in reversed(self.made):
            if not isinstance(one.entry, Worked):
                continue
            kit = one.entry.kit
            had: list[tuple[Part, str]] = [(part, person.key) for part, person in credited(kit, people, self.seen)]
            had += [("sample", sample.person.key) for sample, _ in one.samples if sample.person.agreed("name")]
            had += [("thanks", p.key) for p in people.values() for e in one.errata if p.thanked(kit.id, e.number)]
            for part, key in dict.fromkeys(had):
                if key in people:
                    found.setdefault(key, {}).setdefault(part, []).append(kit.id)
        return found

    @cached_property
    def named(self) -> frozenset[str]:
        """Keys of everybody who has a place on the page of people."""
        people, club = self.archive.people, self.archive.club
        known = {*self.parts, *(role.who for role in club.team)}
        return frozenset(key for key in known if key in people and people[key].agreed("name"))


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
    in_menu: bool = True
    """Whether it stands in the menu, where its kind does: a menu leads to nothing that is still empty."""
    links: tuple[str, ...] = ()
    """Every address that its author's notes lead to."""
    changed: dt.datetime | None = None
    """When it last changed, for the map of the site; None where that is not known."""
    files: Mapping[str, bytes] = field(default_factory=dict)
    """What lies beside it: path to bytes."""
    given: Mapping[str, bytes | Path] = field(default_factory=dict)
    """What lies beside it in the built site as it is, and never in the tree, where a page generator would make a page of some."""


def page_beside(one: Made, name: str, title: str, values: Mapping[str, object] | None = None, description: str = "") -> Page:
    """A further page of a kit, beside the kit's own."""
    return Page(f"kits/{one.kit.id}/{name}", title, {"one": one, **(values or {})}, description, one.kit.id, one.state)


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
