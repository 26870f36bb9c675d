"""All kits of an archive, each made once for what it is made from, and at hand as far as pages need it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, field, replace
from pathlib import Path

from kitwright import cache
from kitwright.archive.audience import Audience
from kitwright.archive.content import Content
from kitwright.archive.gather import Archive, BuildRefused, Notes, guarded
from kitwright.archive.inputs import Inputs, inputs
from kitwright.archive.listing import Listed, Listing, Shelf
from kitwright.archive.make import Made
from kitwright.archive.unit import (
    Outcome,
    Request,
    Shared,
    files_kept,
    key_of,
    ledger_of,
    lines_of,
    made_now,
    read_shared,
    remembered,
    unit,
    whole,
)
from kitwright.archive.watched import Span, Watched
from kitwright.archive.workers import Progress, done
from kitwright.check import errors
from kitwright.errors import Slips
from kitwright.findings import Finding
from kitwright.kit.loose import loose_in
from kitwright.kit.project import KITS
from kitwright.kit.read import all_folders
from kitwright.past.looking import loose
from kitwright.release import atomic


@dataclass
class Units:
    """The kits of a site, kept by what they were made from."""

    archive: Archive
    kits: tuple[Listed, ...]
    """Oldest first, by reveal; kits revealed at one time in the order of their names."""
    inputs: Inputs
    """All that they were made from, by digests."""
    span: Span
    """For which moments all of it holds: at any other something fell due."""
    again: Again
    """Makes a kit again whose files were lost."""
    fresh: tuple[str, ...] = ()
    """Ids of the kits that were made just now."""


@dataclass
class Again:
    """Reads what was made, and makes it again where that is lost."""

    requests: Mapping[str, Request]
    keys: dict[str, str]
    """By which each kit is kept, by its id."""
    shelf: Shelf = field(init=False)

    def __post_init__(self) -> None:
        self.shelf = Shelf(self._read)

    def kit(self, kit: str) -> Made:
        """Make a kit again, and keep all of it.

        Raises:
            UserError: that can't be any more.
        """
        outcome, made = made_now(replace(self.requests[kit], store=None))
        if error := outcome.unread or outcome.failed:
            raise error
        if outcome.listing is None or made is None:
            raise BuildRefused(errors(list(outcome.looked.seen)))
        self.keys[kit] = outcome.listing.key
        self.shelf.put(kit, made)
        return made

    def files(self, kit: str) -> Mapping[str, Content]:
        """What its pages show and lead to."""
        found = files_kept(self.requests[kit].kits, self.keys[kit])
        return self.kit(kit).files if found is None else found

    def _read(self, kit: str) -> Made:
        kits, key = self.requests[kit].kits, self.keys[kit]
        made, files = whole(kits, key), files_kept(kits, key)
        return self.kit(kit) if made is None or files is None else replace(made, files=files)


def made_units(root: Path, as_of: dt.datetime | None, audience: Audience, progress: Progress, executor: Executor | None = None) -> Units:
    """Every kit of an archive that is shown, read, worked out, checked and made.

    Args:
        root: the folder that holds `kits/`.
        as_of: the moment; None for everything as it stands.
        audience: for whom.
        progress: told after each kit.
        executor: who makes them; processes of our own if left out.

    Raises:
        UserError: something that is due can't be read or made.
        BuildRefused: kits with errors, or that differ from what was released.
    """
    kits = root / KITS
    atomic.finish(kits)
    shared, given = _read(kits)
    at = Watched.of(as_of) if as_of is not None else None
    notes, span = Notes(guarded(kits, shared.club, at, given.kits)), at.span if at is not None else Span()
    requests = {request.kit: request for request in _requests(kits, shared, given, as_of, audience)}
    outcomes = {name: found for name, request in requests.items() if (found := remembered(request, shared)) is not None}
    wanted = [request for name, request in requests.items() if name not in outcomes]
    fresh: list[str] = []
    progress("Drawing the kits", 0, len(wanted))
    refused = False

    def asked() -> Iterator[Request]:
        for request in wanted:
            # Where there will be no site anyway, the rest is only looked over, so that all that is wrong is told.
            yield replace(request, look_only=True) if refused else request

    for n, outcome in enumerate(done(unit, asked(), len(wanted), executor), 1):
        outcomes[outcome.kit] = outcome
        fresh.append(outcome.kit)
        refused |= not outcome.sound and not outcome.looked.left and not outcome.unopened
        progress("Drawing the kits", n, len(wanted))
    return _concluded(kits, shared, given, requests, outcomes, notes, span, as_of, audience, tuple(fresh))


def _read(kits: Path) -> tuple[Shared, Inputs]:
    """Club and people, and digests of everything, at one and the same time."""
    while True:
        given = inputs(kits)
        shared = read_shared(kits)
        if dict(given.people) == dict(shared.digests):
            return shared, given


def _requests(kits: Path, shared: Shared, given: Inputs, as_of: dt.datetime | None, audience: Audience) -> Iterator[Request]:
    names = [folder.name for folder in all_folders(kits)]
    alike: dict[str, list[str]] = {}
    for name in names:
        alike.setdefault(name.casefold(), []).append(name)
    ledger, store, everything = ledger_of(kits), cache.handle(), shared.key
    for name in names:
        twins = tuple(alike[name.casefold()])
        key = key_of(name, given.kits.get(name, ""), shared, lines_of(ledger, name), twins, audience, as_of is None)
        yield Request(kits, name, as_of, audience, key, everything, twins, store)


def _concluded(
    kits: Path,
    shared: Shared,
    given: Inputs,
    requests: Mapping[str, Request],
    outcomes: Mapping[str, Outcome],
    notes: Notes,
    span: Span,
    as_of: dt.datetime | None,
    audience: Audience,
    fresh: tuple[str, ...],
) -> Units:
    failed = Slips()
    unopened: list[Finding] = []
    listings: list[Listing] = []
    for name in requests:
        outcome = outcomes[name]
        if outcome.unread:
            notes.unread.add(outcome.unread)
        notes.add(outcome.looked)
        if outcome.failed:
            failed.add(outcome.failed)
        unopened += outcome.unopened
        span.meet(outcome.span)
        if outcome.listing is not None:
            listings.append(outcome.listing)
    notes.stop(kits)
    failed.stop()
    listings.sort(key=lambda one: (one.kit["reveal"], one.id))
    again = Again(requests, {one.id: one.key for one in listings})
    left = (*notes.left, *unopened, *loose(loose_in(kits), kits))
    archive = Archive(
        shared.club, (), (), kits, as_of, audience, shared.people, notes.told(kits, shared.club), left, found=tuple(notes.beside)
    )
    return Units(archive, tuple(_listed(one, again) for one in listings), given, span, again, fresh)


def _listed(listing: Listing, again: Again) -> Listed:
    kit = listing.id
    return Listed(listing, lambda: again.shelf.take(kit), lambda: again.files(kit), lambda: again.kit(kit))
