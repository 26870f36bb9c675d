"""A move of the site to another address: which printables have a code that leads to the old one, and new revisions that lead to the new one.

Such a revision says what the one before says (`again.py`): the frozen club alone names
another address, and the files are drawn with that.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from urllib.parse import urlsplit

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.kit.read import CLUB_FILE, shown
from kitwright.release.again import AsOf, published_again
from kitwright.release.calendar import aware
from kitwright.release.publish import Draw
from kitwright.release.record import Revision, released
from kitwright.release.revisions import frozen


@dataclass(frozen=True)
class Astray:
    """A kit whose newest printable leads to where the site stood before."""

    kit: str
    address: str
    """The old one."""
    revisions: tuple[tuple[int, str], ...]
    """Every revision that leads there, with its code, oldest first."""


def same_place(one: str, other: str) -> bool:
    """Whether two addresses are one: small letters in the host, and the last stroke, don't count."""
    return _plain(one) == _plain(other)


def _plain(address: str) -> tuple[str, str, str]:
    parts = urlsplit(address.strip())
    return parts.scheme.lower(), parts.netloc.lower(), parts.path.rstrip("/")


def leads_to(kit: Kit, revision: Revision) -> str | None:
    """Where the code on a revision's printable leads; None where it has none.

    Raises:
        UserError: a frozen file is not as it was written.
    """
    return frozen(kit, revision).club.address


def astray(kit: Kit, club: Club, as_of: dt.datetime | None = None) -> Astray | None:
    """Whether a kit's newest revision leads elsewhere than to the club's address, and nobody says that readers are led on from there.

    Args:
        kit: the kit.
        club: as it is now.
        as_of: only revisions until then; None for all.
    """
    revisions = [r for r in released(kit) if as_of is None or r.at <= aware(as_of)]
    old = leads_to(kit, revisions[-1]) if revisions else None
    if not club.address or not old or any(same_place(old, each) for each in (club.address, *club.former_addresses)):
        return None
    there = tuple((r.number, r.code) for r in revisions if (its := leads_to(kit, r)) and same_place(its, old))
    return Astray(kit.id, old, there)


def astray_of(kit: Kit) -> Finding | None:
    """The warning of one kit, with every revision and code."""
    found = astray(kit, kit.club)
    if found is None:
        return None
    place = kit.club.place("address")
    return Finding("warning", place, "addresses.leads-elsewhere", kit=kit.id, address=found.address, revisions=found.revisions)


def astray_told(found: Iterable[Astray], club: Club) -> Iterator[Finding]:
    """One warning for each old address, with how many kits lead there."""
    there: dict[str, list[str]] = {}
    for one in found:
        there.setdefault(one.address, []).append(one.kit)
    for address, ids in there.items():
        yield Finding("warning", club.place("address"), "addresses.many-lead-elsewhere", kits=tuple(ids), address=address)


def readdressed(kits: Iterable[Kit], as_of: dt.datetime, now: dt.datetime, draw: Draw) -> Iterator[Revision]:
    """Publish each kit anew whose newest revision leads elsewhere than to the club's address, one after the other.

    Args:
        kits: as they are now.
        as_of: the instant that is recorded.
        now: the clock; what no reader could have had by then is replaced, under its own number.
        draw: draws what readers can download.

    Raises:
        UserError: the club has no address, something published was touched, or a revision is dated later than `as_of`.
    """
    for kit in kits:
        if not kit.club.address:
            raise UserError("addresses.none", place=Place(shown(kit.folder.parent / CLUB_FILE)))
        revisions = released(kit)
        old = leads_to(kit, revisions[-1]) if revisions else None
        if not old or same_place(old, kit.club.address):
            continue
        yield published_again(kit, revisions[-1], AsOf(as_of, now), draw, "readdressed", {"address": kit.club.address})
