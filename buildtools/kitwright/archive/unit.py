"""One kit from plain paths: read, worked out, checked and made, with all of its files kept, and a light answer.

What came of it is remembered by all that it was made from: every byte below the kit's folder, the
club file with the pictures that it names, the kit's lines of the ledger; of people what was asked of them while it was
made, and of the moment only between which others it lies. So a build a minute later makes
nothing again, unless something of the kit fell due, and one person's consent renews only the
kits that name her. The theme is no part of it: templates are filled in later.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import cast

from kitwright import cache
from kitwright.archive.audience import Audience
from kitwright.archive.content import Content, put_away
from kitwright.archive.gather import Looked, club_and_people, look_at_one
from kitwright.archive.inputs import folder_digest
from kitwright.archive.later import was_put_off
from kitwright.archive.listing import Listing, listing_of
from kitwright.archive.make import Made, make
from kitwright.archive.portable import packed, unpacked
from kitwright.archive.teamwork import for_team
from kitwright.archive.watched import Span, Watched
from kitwright.check import errors
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.kit.folder import read_own
from kitwright.kit.kit import PastKit
from kitwright.kit.model import Club
from kitwright.kit.read import CLUB_FILE, shown
from kitwright.past.looking import look
from kitwright.release.ledger import Ledger, TakenBack, ZoneMove, read_ledger
from kitwright.release.people import PEOPLE, Consulted, Person, Question, answered

REMEMBERED, FILES, WHOLE = "unit", "files", "kit"
"""Under which kinds a unit's answer, its files, and all that is known of a kit are kept."""
VARIANTS = 4
"""Answers remembered for the same bytes: for other moments, and for other answers of people."""
LARGEST_CLUB = 5_000_000


@dataclass(frozen=True)
class Shared:
    """What all kits have in common, as it was read once."""

    club: Club
    people: Mapping[str, Person]
    digests: Mapping[str, str]
    """Of everybody's folder, by key."""
    file: str
    """Of the club file."""

    @cached_property
    def whose(self) -> str:
        """A digest of what a kit takes from the club."""
        return cache.digest(self.file, self.club.mark, self.club.papers)

    @cached_property
    def key(self) -> str:
        """A digest of all of it."""
        return cache.digest(self.whose, dict(sorted(self.digests.items())))


def read_shared(kits: Path) -> Shared:
    """Club and people, with digests of the very bytes that they were read from.

    Raises:
        UserError: either can't be read.
    """
    while True:
        before = _state(kits)
        club, people = club_and_people(kits)
        if before == _state(kits):
            file, digests = before
            found = Shared(club, people, digests, file)
            _read.clear()
            _read[kits, shown(kits), found.key] = found
            return found


def _state(kits: Path) -> tuple[str, dict[str, str]]:
    try:
        file = hashlib.sha256(read_own(kits / CLUB_FILE, LARGEST_CLUB)).hexdigest()
    except (OSError, OverflowError):
        file = ""
    folder = kits / PEOPLE
    people = sorted(f for f in folder.iterdir() if f.is_dir() and not f.name.startswith(".")) if folder.is_dir() else []
    return file, {person.name: folder_digest(person) for person in people}


_read: dict[tuple[Path, Path, str], Shared] = {}
"""What was read last: many kits of one archive have the same in common."""


def shared_of(kits: Path, key: str) -> Shared:
    """Club and people as they were read with that digest, else as they are now."""
    return _read.get((kits, shown(kits), key)) or read_shared(kits)


@dataclass(frozen=True)
class Request:
    """What is asked for: one kit, by plain values."""

    kits: Path
    """The folder of kits."""
    kit: str
    """The kit's id."""
    as_of: dt.datetime | None
    audience: Audience
    key: str
    """A digest of every byte that it is made from, people and the moment aside (`key_of`)."""
    shared: str
    """A digest of club and people."""
    twins: tuple[str, ...] = ()
    """Folders that are called alike, itself among them."""
    store: cache.Handle | None = None
    """Where what is made is kept; None in the process that asks."""
    look_only: bool = False
    """Whether it is only looked over, since there will be no site anyway."""


@dataclass(frozen=True)
class Outcome:
    """What came of one kit."""

    kit: str
    looked: Looked = Looked()
    """What was found in it; the kit itself is not carried along."""
    unopened: tuple[Finding, ...] = ()
    """A warning where its old printable can't be opened."""
    unread: UserError | None = None
    """Why it can't be read or worked out."""
    failed: UserError | None = None
    """Why it can't be made."""
    listing: Listing | None = None
    """What other pages need of it; None where nothing of it is shown."""
    span: Span = field(default_factory=Span)
    """For which moments all of that holds."""

    @property
    def sound(self) -> bool:
        """Whether nothing stops a site with it."""
        return not (self.unread or self.failed or self.looked.left or self.unopened or errors(list(self.looked.seen)))


@dataclass(frozen=True)
class _Remembered:
    """An outcome, and what was asked of people for it."""

    asked: tuple[tuple[Question, str], ...]
    span: Span
    """For which moments it holds."""
    outcome: bytes


# --- keys -----------------------------------------------------------------------------------------


def key_of(kit: str, folder: str, shared: Shared, lines: object, twins: tuple[str, ...], audience: str, now: bool) -> str:
    """A digest of every byte that a kit is made from, people and the moment aside.

    Args:
        kit: its id.
        folder: a digest of its folder.
        shared: club and people.
        lines: what the ledger says of it (`lines_of`).
        twins: folders that are called alike.
        audience: for whom.
        now: whether it is made as it stands, whatever is due.
    """
    return cache.digest(kit, folder, shared.whose, lines, twins, audience, now)


def ledger_of(kits: Path) -> Ledger | str | None:
    """The ledger, and the code of what is wrong where it can't be read."""
    try:
        return read_ledger(kits)
    except UserError as error:
        return error.code


def lines_of(ledger: Ledger | str | None, kit: str) -> object:
    """What the ledger says of a kit, and of the club's time zones: nothing else of it is asked while a kit is made."""
    if not isinstance(ledger, Ledger):
        return ledger
    said = (line for line in ledger.lines if isinstance(line, ZoneMove) or line.kit == kit)
    return [(line.text, isinstance(line, TakenBack)) for line in said], bool(ledger.findings)


def remembered(request: Request, shared: Shared) -> Outcome | None:
    """What came of a kit before, from the same bytes, at a moment that is no other to it, with the same answers of people."""
    for one in cache.known(REMEMBERED, request.key) or ():
        if request.as_of is not None and not one.span.holds(request.as_of):
            continue
        if all(cache.digest(answered(question, shared.people, shared.digests)) == answer for question, answer in one.asked):
            return cast(Outcome, unpacked(one.outcome, request.kits))
    return None


# --- making ---------------------------------------------------------------------------------------


def unit(request: Request) -> Outcome:
    """Make one kit, and keep all that is made of it.

    Errors that its author can mend are part of the answer.
    """
    if request.store is None:
        return made_now(request)[0]
    with cache.taken_up(request.store):
        return made_now(request)[0]


def made_now(request: Request) -> tuple[Outcome, Made | None]:
    """The same, with all that is known of the kit; None where nothing of it is shown, or it can't be made."""
    shared = shared_of(request.kits, request.shared)
    people, as_of = Consulted(shared.people), Watched.of(request.as_of) if request.as_of is not None else None
    outcome, whole = _looked_and_made(request, shared.club, people, as_of)
    if whole is None:
        outcome = replace(outcome, span=_span(as_of))
        if not outcome.looked.shown and not request.look_only:
            _remember(request, shared, people, outcome)
        return outcome, None
    made, listing, files = whole
    # Whatever of the moment is kept along holds for that very instant.
    data = packed(made, request.kits)
    packed(listing, request.kits)
    span = _span(as_of)
    # What nobody will look for again goes by a name of its own.
    same = outcome.sound and not was_put_off(request.kit) and _steady(request, shared)
    key = cache.digest(request.key, _answers(people, shared), span) if same else secrets.token_hex(32)
    cache.note(FILES, key, packed(files, request.kits))
    cache.note(WHOLE, key, data)
    outcome = replace(outcome, listing=replace(listing, key=key), span=span)
    if same:
        _remember(request, shared, people, outcome)
    return outcome, replace(made, files=files)


def _looked_and_made(
    request: Request, club: Club, people: Mapping[str, Person], as_of: dt.datetime | None
) -> tuple[Outcome, tuple[Made, Listing, Mapping[str, Content]] | None]:
    name, folders = request.kit, [request.kits / twin for twin in request.twins or (request.kit,)]
    try:
        looked = look_at_one(request.kits / name, folders, club, people, as_of, request.audience)
    except UserError as error:
        return Outcome(name, unread=error), None
    outcome = Outcome(name, replace(looked, kit=None, entry=None))
    if looked.kit is None or looked.entry is None or request.look_only or errors(list(looked.seen)):
        return outcome, None
    try:
        old, unopened = look([looked.entry]) if isinstance(looked.entry, PastKit) else ({}, [])
        outcome = replace(outcome, unopened=tuple(unopened))
        made = make(looked.kit, looked.entry, people, as_of, request.audience, old.get(name))
        if request.audience == "team":
            made = for_team(made, club, people, as_of)
        if made.teamwork:
            made = replace(made, teamwork=replace(made.teamwork, files=put_away(made.teamwork.files)))
        listing = listing_of(made, looked.kit, club, people, as_of, request.audience)
    except UserError as error:
        return replace(outcome, failed=error), None
    files = put_away(made.files)
    if listing.given:
        listing = replace(listing, given=replace(listing.given, kit=None, data=put_away(listing.given.data)))
    return outcome, (replace(made, files={}, given=None), listing, files)


def _span(as_of: Watched | None) -> Span:
    return as_of.span if as_of is not None else Span()


def _answers(people: Consulted, shared: Shared) -> tuple[tuple[Question, str], ...]:
    return tuple((question, cache.digest(answered(question, shared.people, shared.digests))) for question in sorted(set(people.asked)))


def _steady(request: Request, shared: Shared) -> bool:
    """Whether everything is still as it was when it was asked for: what is saved meanwhile may have been read half."""
    folder = folder_digest(request.kits / request.kit)
    lines = lines_of(ledger_of(request.kits), request.kit)
    now = request.as_of is None
    key = key_of(request.kit, folder, shared, lines, request.twins, request.audience, now)
    return (shared.key, key) == (request.shared, request.key)


def _remember(request: Request, shared: Shared, people: Consulted, outcome: Outcome) -> None:
    """Keep an outcome, if nothing is wrong that may be mended elsewhere, and nothing was saved meanwhile."""
    if not outcome.sound or not _steady(request, shared):
        return
    new = _Remembered(_answers(people, shared), outcome.span, packed(outcome, request.kits))
    others = [one for one in cache.known(REMEMBERED, request.key) or () if (one.asked, one.span) != (new.asked, new.span)]
    cache.note(REMEMBERED, request.key, (new, *others[: VARIANTS - 1]))


def whole(kits: Path, key: str) -> Made | None:
    """All that is known of a kit, its files aside; None where that is lost."""
    data = cache.known(WHOLE, key)
    return None if data is None else cast(Made, unpacked(data, kits))


def files_kept(kits: Path, key: str) -> Mapping[str, Content] | None:
    """What its pages show and lead to; None where that is lost."""
    data = cache.known(FILES, key)
    return None if data is None else cast("Mapping[str, Content]", unpacked(data, kits))
