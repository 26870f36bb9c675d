"""The page of everybody who agreed to be named: the club's team, then guests, makers and those who spotted slips."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from kitwright import cache
from kitwright.archive.inputs import file_digest
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.photos import ReadyPhoto, photo
from kitwright.release.people import Person

FOLDER = "people"
"""The folder of portraits, at the top."""


def _pages(site: Site) -> Iterator[Page]:
    did, people = site.parts, site.archive.people
    roles = {role.who: role.role for role in site.archive.club.team}
    left = [key for key in people if key in did and key not in roles]
    groups = {
        "team": [key for key in roles if key in people],
        "guests": [key for key in left if "guest" in did[key]],
        "makers": [key for key in left if "guest" not in did[key] and set(did[key]) != {"thanks"}],
        "thanks": [key for key in left if set(did[key]) == {"thanks"}],
    }
    named = {slug: [people[key] for key in keys if key in site.named] for slug, keys in groups.items()}
    if site.named:
        portraits = {
            person.key: _portrait(person, file) for group in named.values() for person in group if (file := person.photo) is not None
        }
        values = {
            "groups": named,
            "did": did,
            "roles": roles,
            "portraits": {key: portrait for key, (portrait, _) in portraits.items()},
            "titles": {one.kit.id: one.kit.spec.title for one in site.kits},
        }
        files = {portrait.src: data for portrait, data in portraits.values()}
        yield Page("people.md", "People", values, files=files)


def _portrait(person: Person, file: Path) -> tuple[ReadyPhoto, bytes]:
    src, place = f"{FOLDER}/{person.key}.jpg", person.document.place(("photo",))
    return cache.value("portrait", cache.digest(src, file_digest(file)), partial(photo, file, src, place))


KIND = Kind("people.md", _pages, menu="People", search=0.3)
