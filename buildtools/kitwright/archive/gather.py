"""Everything an archive holds, read, worked out and checked before anything is written."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from types import MappingProxyType

from kitwright.archive.audience import Audience
from kitwright.check import errors
from kitwright.errors import Place, Slips, UserError
from kitwright.findings import Finding
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.loose import loose_in
from kitwright.kit.model import Club
from kitwright.kit.project import KITS
from kitwright.kit.read import all_folders, check_folder, look_at_club, look_at_kit, read_kit, shown
from kitwright.otherwise.checked import check, check_published
from kitwright.past.kept import OldPrintable
from kitwright.past.looking import look, loose
from kitwright.release import atomic, whole, zonemove
from kitwright.release.calendar import due, reveal_of
from kitwright.release.lookover import look_over
from kitwright.release.people import Person, keys_on_file, read_people
from kitwright.release.readdress import Astray, astray, astray_told
from kitwright.release.record import released
from kitwright.release.revisions import as_it_stands, current
from kitwright.release.upcoming import left_out, read_or_left
from kitwright.work.worked import Worked


class BuildRefused(UserError):
    """Kits with errors: nothing is built until they are mended."""

    def __init__(self, findings: list[Finding], beside: tuple[Finding, ...] = ()) -> None:
        kits = len({f.place.file for f in findings})
        super().__init__("site.not-built", errors=len(findings), kits=kits)
        self.findings = findings
        """The errors, in the order of the kits."""
        self.beside = beside
        """What else was found in the kits, which stops nothing."""

    def at(self, place: Place) -> BuildRefused:
        return self


Entry = Worked | PastKit
"""A kit worked out, or a past one of which only the printable is left."""


EVER = dt.datetime(9999, 1, 1, tzinfo=dt.UTC)
"""After every moment."""


def kit_of(entry: Entry) -> Kit | PastKit:
    """The kit as it was read."""
    return entry.kit if isinstance(entry, Worked) else entry


@dataclass(frozen=True)
class Archive:
    """A club and the kits of its site."""

    club: Club
    entries: Sequence[Entry]
    """As they are shown. Oldest first, by reveal; kits revealed at one time in the order of their names."""
    sources: Sequence[Kit | PastKit]
    """The same as they are now, each read once for the whole build: what was worked out from them stays with them."""
    folder: Path
    """The folder of kits."""
    as_of: dt.datetime | None = None
    """The moment that the site is built for; None: the author's own preview, with everything."""
    audience: Audience = "public"
    """For whom it is built."""
    people: Mapping[str, Person] = field(default_factory=dict)
    """Everybody on file, by key."""
    unreleased: tuple[Finding, ...] = ()
    """A warning for each kit that is public though it was never released, and one where releases are in no ledger yet."""
    left: tuple[Finding, ...] = ()
    """A warning for each kit that is not due yet and that nothing could be made of, and for what lies loose or can't be opened."""
    ahead: bool = False
    """Whether that moment is still to come when it is built."""
    found: tuple[Finding, ...] = ()
    """What was found in its kits that stops nothing: warnings and hints, in the order of the kits."""
    old: Mapping[str, OldPrintable] = field(default_factory=dict)
    """What is known of the printables of past kits, by kit; one that nobody can open is not in it."""

    @property
    def at(self) -> dt.datetime:
        """The moment that counts for whatever has a time; the author's own preview looks past all of them."""
        return self.as_of or EVER

    @property
    def kits(self) -> tuple[Kit, ...]:
        """The kits that are computed, as they are now, oldest first."""
        return tuple(kit for kit in self.sources if isinstance(kit, Kit))


def gather(root: Path, as_of: dt.datetime | None = None, audience: Audience = "public") -> Archive:
    """Read, work out and check the kits below `root`.

    Args:
        root: the folder that holds `kits/`.
        as_of: an aware moment. Only what is due then is gathered, a released kit as its
            newest revision froze it; a kit that is not due leaves no trace, and one that is
            half typed stops nothing before it is due. None gathers everything as it stands,
            for the author's own eyes.
        audience: for whom. The team sees upcoming kits too, and of released ones what
            everybody sees.

    Raises:
        UserError: something that is due can't be read.
        Refused: kits with errors, or that differ from what was released.
    """
    folder = root / KITS
    atomic.finish(folder)
    club, people = club_and_people(folder)
    notes = Notes(guarded(folder, club, as_of))
    entries: list[tuple[Entry, Kit | PastKit]] = []
    folders = all_folders(folder)
    for kit_folder in folders:
        looked = notes.unread.trying(look_at_one, kit_folder, folders, club, people, as_of, audience)
        if looked is not None:
            notes.add(looked)
            if looked.kit is not None and looked.entry is not None:
                entries.append((looked.entry, looked.kit))
    notes.stop(folder)
    entries.sort(key=lambda one: (kit_of(one[0]).reveal, kit_of(one[0]).id))
    shown_ones, sources = zip(*entries)
    old, unopened = look(entry for entry in shown_ones if isinstance(entry, PastKit))
    left = (*notes.left, *unopened, *loose(loose_in(folder), folder))
    return Archive(
        club, shown_ones, sources, folder, as_of, audience, people, notes.told(folder, club), left, found=tuple(notes.beside), old=old
    )


def guarded(kits: Path, club: Club, as_of: dt.datetime | None, folders: Mapping[str, str] = MappingProxyType({})) -> tuple[Finding, ...]:
    """What is not as it was published and stops nothing; the author's own preview looks at no such thing.

    First of all, and of every kit: what vanished can't tell of itself, and what is half typed hides nothing.

    Args:
        kits: the folder of kits.
        club: whose.
        as_of: the moment.
        folders: digests of kits' folders, as for `whole.published`.

    Raises:
        UserError: something that was published was touched, or the club moved to another time zone.
    """
    if as_of is None:
        return ()
    touched = [finding for told in whole.published(kits, folders).values() for finding in told]
    if errors(touched):
        raise BuildRefused(errors(touched))
    zonemove.stop_if_moved(kits, club, as_of)
    return tuple(touched)


@dataclass(frozen=True)
class Looked:
    """One kit, read, worked out and checked for a moment and an audience."""

    kit: Kit | PastKit | None = None
    """As it is now; None where nothing of it is shown."""
    entry: Entry | None = None
    """As it is shown."""
    shown: bool = False
    """Whether it is."""
    seen: tuple[Finding, ...] = ()
    """What was found in it; errors stop the build."""
    left: tuple[Finding, ...] = ()
    """A warning where it is not due yet and nothing can be made of it."""
    unreleased: tuple[Finding, ...] = ()
    """A warning where it is public and was never released."""
    older: str = ""
    """Its id, where a record of it keeps no results."""
    astray: Astray | None = None
    """Where its newest printable leads to an address of before."""


def look_at_one(
    kit_folder: Path, folders: list[Path], club: Club, people: Mapping[str, Person], as_of: dt.datetime | None, audience: Audience
) -> Looked:
    """Read one kit, work it out and check it.

    Args:
        kit_folder: the kit's.
        folders: those of all kits, as far as one of them may be called alike.
        club: whose.
        people: everybody on file.
        as_of: as for `gather`.
        audience: for whom.

    Raises:
        UserError: it is due, and can't be read or worked out.
    """
    kit = read_or_left(kit_folder, club, as_of, partial(_read, kit_folder, folders, club))
    if isinstance(kit, Finding):
        return Looked(left=(kit,))
    public = as_of is None or due(kit, club, as_of)
    if not public:
        trouble = _trouble(kit, people)
        if trouble:
            return Looked(left=(trouble,))
        if audience != "team":
            return Looked()
    if isinstance(kit, PastKit):
        return Looked(kit, kit, True)
    now = as_it_stands(kit)
    # The author's own preview shows corrections before they are published.
    seen = tuple(look_over(now, people, draft=as_of is None))
    published = current(kit, as_of) if as_of is not None else None
    unreleased: tuple[Finding, ...] = ()
    if published is None and as_of is not None and public and audience != "team":
        if released(kit):
            return Looked(seen=seen)  # it was released later than this moment
        unreleased = (Finding("warning", Place(kit.document.file), "site.never-released", kit=kit.id),)
    seen += tuple(check_published(published) if published else check(now))
    return Looked(
        kit,
        published or now,
        True,
        seen,
        unreleased=unreleased,
        older=kit.id if published and not all(revision.keeps for revision in released(kit)) else "",
        astray=astray(kit, club, as_of) if as_of is not None and audience == "public" else None,
    )


@dataclass
class Notes:
    """What came of looking at every kit, in their order."""

    unreleased: tuple[Finding, ...] = ()
    """What is not as it was published, and then a warning for each kit that is public though it was never released."""
    seen: list[Finding] = field(default_factory=list)
    left: list[Finding] = field(default_factory=list)
    older: list[str] = field(default_factory=list)
    there: list[Astray] = field(default_factory=list)
    """What leads to an address of before."""
    shown: int = 0
    """Kits that are shown."""
    unread: Slips = field(default_factory=Slips)
    """What can't be read, or worked out."""

    def add(self, looked: Looked) -> None:
        """Take up what was found of a kit."""
        self.seen += looked.seen
        self.left += looked.left
        self.unreleased += looked.unreleased
        self.older += filter(None, [looked.older])
        self.there += filter(None, [looked.astray])
        self.shown += looked.shown

    @property
    def beside(self) -> list[Finding]:
        """What stops nothing, each once."""
        return [finding for finding in dict.fromkeys(self.seen) if finding.level != "error"]

    def told(self, kits: Path, club: Club) -> tuple[Finding, ...]:
        """What is worth a look though every kit is sound."""
        found = [*self.unreleased, *astray_told(self.there, club)]
        if self.older:
            found.append(Finding("warning", Place(shown(kits)), "releases.older-records", kits=tuple(self.older)))
        return tuple(found)

    def stop(self, kits: Path) -> None:
        """Go on only where every kit is sound, and there is one.

        Raises:
            UserError: something that is due can't be read, or there is nothing to show.
            BuildRefused: kits with errors.
        """
        self.unread.stop()
        stopping = errors(list(dict.fromkeys(self.seen)))
        if stopping:
            raise BuildRefused(stopping, tuple(self.beside))
        if not self.shown:
            # With nothing else to publish, what is wrong with the next kit is what there is to say.
            for one in self.left:
                self.unread.add(UserError(one.code, place=one.place, **one.values))
            self.unread.stop()
            raise UserError("site.nothing-due", place=Place(shown(kits)))


def club_and_people(kits: Path) -> tuple[Club, Mapping[str, Person]]:
    """The club and everybody on file.

    Raises:
        UserError: either can't be read; then what can't be read of the kits is told in the same run.
    """
    slips = Slips()
    club, people = look_at_club(kits, slips), slips.trying(read_people, kits)
    if slips.errors:
        for kit_folder in slips.trying(all_folders, kits) or ():
            look_at_kit(kit_folder, club, slips, keys_on_file(kits))
    slips.stop()
    assert club is not None and people is not None, "no club or no people, and nothing is wrong"
    return club, people


def _read(kit_folder: Path, folders: list[Path], club: Club) -> Kit | PastKit:
    check_folder(kit_folder, folders)
    return read_kit(kit_folder, club)


def _trouble(kit: Kit | PastKit, people: Mapping[str, Person]) -> Finding | None:
    """A warning for a kit that is not due yet and has errors; None where it is sound."""
    if isinstance(kit, PastKit):
        return None

    at = reveal_of(kit, kit.club)
    try:
        worked = as_it_stands(kit)
        told = errors([*look_over(worked, people), *check(worked)])
    except Exception as error:
        # Whatever it is, it must not stop what is due today.
        return left_out(kit.folder, kit.club, error, at)
    return left_out(kit.folder, kit.club, told, at) if told else None
