"""By whom: the credits of a kit, and the page of everybody who agreed to be named."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from kitwright.archive.photos import Photo, photo
from kitwright.kit.model import Club
from kitwright.kit.read import Kit
from kitwright.release.calendar import aware, moment
from kitwright.release.people import Person, guests_of, named
from kitwright.telling.people import portrait_of

PAGE, FOLDER = "people.md", "people"
"""The page, and the folder of portraits, both at the top."""


@dataclass(frozen=True)
class Credit:
    """What somebody, or several, did for a kit."""

    words: str
    """`Drawn up by`."""
    names: tuple[tuple[str, str], ...]
    """Keys and names; everybody here has agreed to be named."""


@dataclass(frozen=True)
class Part:
    """One person's part in one kit, for her entry on the page of people."""

    key: str
    kind: Literal["by", "tested", "guest", "sample", "thanks"]
    kit: str
    title: str


def credits_of(kit: Kit, people: Mapping[str, Person], as_of: dt.datetime | None) -> tuple[Credit, ...]:
    """Who drew a kit up, who cut it before its release, and its guests from their own moments on.

    Args:
        kit: the kit.
        people: everybody on file.
        as_of: the instant; None for eyes that may see everybody.
    """
    drew = [named(people, kit.spec.by, kit.place("by"))] if kit.spec.by else []
    cut = [named(people, t.by, kit.place("tested", i, "by")) for i, t in enumerate(kit.spec.tested)]
    found = [
        Credit("Drawn up by", _names(drew)),
        Credit("Cut before its release by", _names(cut)),
        Credit("Guest", _names(guests_now(kit, people, as_of))),
    ]
    return tuple(credit for credit in found if credit.names)


def guests_now(kit: Kit, people: Mapping[str, Person], as_of: dt.datetime | None) -> list[Person]:
    """The guests whose moment has come."""
    return [person for person, task in guests_of(kit, people) if as_of is None or moment(kit, kit.club, task.by).at <= aware(as_of)]


def _names(people: Iterable[Person]) -> tuple[tuple[str, str], ...]:
    return tuple(dict.fromkeys((p.key, p.name) for p in people if p.agreed("name")))


# --- the page of people ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class PersonView:
    """Somebody on the page of people."""

    key: str
    name: str
    role: str
    link: str
    photo: Photo | None
    alt: str
    parts: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    """What she did, in words, and the kits: id and title."""


@dataclass(frozen=True)
class PeopleView:
    """Everybody who agreed to be named, each once."""

    groups: tuple[tuple[str, str, tuple[PersonView, ...]], ...]
    """Slug, heading and people."""

    @property
    def keys(self) -> frozenset[str]:
        """Everybody who has an entry."""
        return frozenset(p.key for _, _, people in self.groups for p in people)


DID: tuple[tuple[str, str], ...] = (
    ("by", "Drew up"),
    ("tested", "Cut before release"),
    ("guest", "Guest for"),
    ("sample", "Cards for"),
    ("thanks", "Spotted a slip in"),
)


def people_view(club: Club, people: Mapping[str, Person], parts: Iterable[Part]) -> tuple[PeopleView, dict[str, bytes]]:
    """The page of people: the club's team, then guests, makers and those who spotted slips; with the portraits, from the top of the site."""
    did: dict[str, list[Part]] = {}
    for part in parts:
        did.setdefault(part.key, []).append(part)
    team = {role.who: role.role for role in club.team}
    kinds = {key: {p.kind for p in these} for key, these in did.items()}
    left = [key for key in people if key in did and key not in team]
    groups = [
        ("team", "The team", [key for key in team if key in people]),
        ("guests", "Guests", [key for key in left if "guest" in kinds[key]]),
        ("makers", "They cut along", [key for key in left if "guest" not in kinds[key] and kinds[key] != {"thanks"}]),
        ("thanks", "With thanks", [key for key in left if kinds[key] == {"thanks"}]),
    ]
    files: dict[str, bytes] = {}
    told = tuple(
        (slug, title, tuple(_person(people[key], team.get(key, ""), did.get(key, []), files) for key in keys if people[key].agreed("name")))
        for slug, title, keys in groups
    )
    return PeopleView(tuple(group for group in told if group[2])), files


def _person(person: Person, role: str, parts: list[Part], files: dict[str, bytes]) -> PersonView:
    portrait = None
    if person.photo:
        src = f"{FOLDER}/{person.key}.jpg"
        place = person.document.place(("photo",))
        portrait, files[src] = photo(person.photo, src, place)
    did = tuple((words, tuple(dict.fromkeys((p.kit, p.title) for p in parts if p.kind == kind))) for kind, words in DID)
    return PersonView(
        person.key,
        person.name,
        role,
        person.link or "",
        portrait,
        person.spec.alt or portrait_of(person.name),
        tuple(d for d in did if d[1]),
    )
