"""A kit as pages over all kits need it: a few words and pictures of each, while the rest of it stays where it is kept.

An archive may have a thousand kits, and memory holds a few of them: whoever asks a kit for more
than stands here, a template of hers perhaps, has it read then.
"""

from __future__ import annotations

import datetime as dt
from collections import OrderedDict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from kitwright.archive.asked import AskedQuestion
from kitwright.archive.atom import FeedEntry, changed_of, entries
from kitwright.archive.audience import Audience
from kitwright.archive.content import Content
from kitwright.archive.corrections import ErratumView
from kitwright.archive.data import kits_data
from kitwright.archive.downloads import Download, Printables
from kitwright.archive.dress import Shared, card_of
from kitwright.archive.facts import KitFacts, kit_facts
from kitwright.archive.finder import entry_of
from kitwright.archive.gather import EVER
from kitwright.archive.given import Given
from kitwright.archive.make import Made
from kitwright.archive.mycopy import Copied, copies_of
from kitwright.archive.picture import Image
from kitwright.archive.search.record import Facts, facts_of
from kitwright.archive.standing import State
from kitwright.archive.teamwork import Teamwork
from kitwright.archive.text import notes_view
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.release.calendar import reveal_of
from kitwright.release.credits import Part, credited
from kitwright.release.people import Person, thanked
from kitwright.release.record import revision_at
from kitwright.telling.gallery import counts_text
from kitwright.work.cite import notes_of
from kitwright.work.worked import Worked

LISTED = ("card", "page", "thumbnail")
"""Pictures of a kit that other pages show."""
OF_SPEC = ("title", "summary", "tags", "cards", "reveal", "thumbnail")
OF_KIT = ("id", "month", "reveal")
MOST = 16
"""Whole kits in memory."""


@dataclass(frozen=True)
class Listing:
    """What is known of a kit without reading it."""

    id: str
    key: str
    """By which the rest of it is kept; it changes with all that is shown of the kit."""
    at: dt.datetime
    """Its reveal, in UTC."""
    past: bool
    kit: Mapping[str, Any]
    spec: Mapping[str, Any]
    """What other pages ask its kit and its spec for, by name."""
    line: tuple[str, ...]
    """What other pages say of it below its title."""
    line_beside: tuple[str, ...]
    """The same in the other unit."""
    unit: str
    """The kit's own."""
    images: Mapping[str, Image]
    """Those that other pages show."""
    printables: Printables
    upcoming: str = ""
    revision: int | None = None
    """Which is shown; 0 of a kit that was never released, None of a past kit."""
    state: State | None = None
    errata: tuple[ErratumView, ...] = ()
    asked: tuple[AskedQuestion, ...] = ()
    arrangements: tuple[tuple[str, str], ...] = ()
    """The pages of its galleries: the name of the design, where there are several, and what the page holds."""
    has_yours: bool = False
    """Whether it has a page of other paper and other batches."""
    links: tuple[str, ...] = ()
    """Every address that its notes lead to."""
    changed: dt.datetime | None = None
    """When its page last changed; None where that is told nowhere."""
    feed: tuple[FeedEntry, ...] = ()
    data: Mapping[str, Any] | None = None
    """Its entry in the data for other tools."""
    copied: Copied | None = None
    """Its codes, and what became of them."""
    parts: tuple[tuple[Part, str], ...] = ()
    """Who had which part in it, by key."""
    picture: Shared | None = None
    """What goes with a link to it."""
    teamwork: Teamwork | None = None
    """For the team: its moments, and who makes what."""
    given: Given | None = None
    """What members get of it."""
    found: Facts | None = None
    """What the search knows of it beside its pages' words."""
    facts: KitFacts | None = None
    """The facts by which it is chosen; None of a past kit."""
    yields: str = ""
    """Its part of the finder's tables (`archive.finder`); empty of a past kit."""


def listing_of(
    made: Made, now: Kit | PastKit, club: Club, people: Mapping[str, Person], as_of: dt.datetime | None, audience: Audience, key: str = ""
) -> Listing:
    """What pages over all kits need of one.

    Args:
        made: the kit.
        now: as its files are now.
        club: whose.
        people: everybody on file.
        as_of: the moment; None looks past all.
        audience: for whom.
        key: by which it is kept.

    Raises:
        UserError: somebody who is not on file, or a moment that the kit does not have.
    """
    kit, entry, at = made.kit, made.entry, as_of or EVER
    found: dict[str, Any] = {}
    if isinstance(entry, Worked) and isinstance(now, Kit):
        revision = revision_at(now, as_of) if as_of else None
        found["revision"] = revision.number if revision else 0
    if audience == "public":
        found["changed"] = changed_of(now, club, people, at)
        found["feed"] = tuple(entries([now], club, people, at))
        old = {now.id: made.old} if made.old else {}
        found["data"] = next(iter(kits_data([now], club, people, at, old)["kits"]), None)
    if audience != "members":
        found["picture"], found["found"], found["facts"] = card_of(made), facts_of(made), kit_facts(made)
        found["yields"] = entry_of(made)
        if isinstance(entry, Worked):
            found["links"] = notes_view(notes_of(entry)).links
            found["parts"] = tuple(_parts(made, entry.kit, people, None if audience == "team" else as_of))
        if isinstance(now, Kit):
            found["copied"] = copies_of(now, club, at, team=audience == "team" or as_of is None)
    return Listing(
        id=kit.id,
        key=key,
        at=reveal_of(kit, club),
        past=made.past,
        kit={name: getattr(kit, name) for name in OF_KIT},
        spec={name: getattr(kit.spec, name) for name in OF_SPEC if hasattr(kit.spec, name)},
        line=made.line,
        line_beside=made.line_beside,
        unit=made.unit,
        images={name: made.images[name] for name in LISTED if name in made.images},
        printables=made.printables,
        upcoming=made.upcoming,
        state=made.state,
        errata=made.errata,
        asked=made.asked,
        arrangements=tuple((one.design, counts_text(one.found)) for one in made.galleries if one.has_page),
        has_yours=made.yours is not None,
        teamwork=made.teamwork.listed if made.teamwork else None,
        given=made.given,
        **found,
    )


def _parts(made: Made, kit: Kit, people: Mapping[str, Person], seen: dt.datetime | None) -> list[tuple[Part, str]]:
    """Who had which part in a kit, each once."""
    had: list[tuple[Part, str]] = [(part, person.key) for part, person in credited(kit, people, seen)]
    had += [("sample", sample.person.key) for sample, _ in made.samples if sample.person.agreed("name")]
    had += [("thanks", person.key) for person in thanked(people, kit.id) for e in made.errata if person.thanked(kit.id, e.number)]
    return [(part, key) for part, key in dict.fromkeys(had) if key in people]


# --- a kit that is read when it is asked for more ---------------------------------------------------------


class Light:
    """What is at hand of a record; the record itself is read when something else is asked."""

    digested = None
    """No digest of it is known, and looking for one is nothing to read it for."""

    def __init__(self, known: Mapping[str, Any], rest: Callable[[], Any]) -> None:
        self._known, self._rest = known, rest

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        return self._known[name] if name in self._known else getattr(self._rest(), name)


class LightImages(Mapping[str, Image]):
    """A kit's pictures, of which those that other pages show are at hand."""

    def __init__(self, known: Mapping[str, Image], rest: Callable[[], Mapping[str, Image]]) -> None:
        self._known, self._rest = known, rest

    def __getitem__(self, name: str) -> Image:
        return self._known[name] if name in self._known else self._rest()[name]

    def get(self, name: str, default: Any = None) -> Any:
        # Other pages ask for these whether there are any or not.
        return self._known.get(name, default) if name in LISTED else self._rest().get(name, default)

    def __iter__(self) -> Iterator[str]:
        return iter(self._rest())

    def __len__(self) -> int:
        return len(self._rest())


class Listed:
    """A kit of the site: what stands in its listing, and, read when it is asked, all else that is known of it."""

    digested = None
    """As for `Light`."""

    def __init__(
        self,
        listing: Listing,
        whole: Callable[[], Made],
        files: Callable[[], Mapping[str, Content]] | None = None,
        again: Callable[[], object] | None = None,
    ) -> None:
        """Put it together.

        Args:
            listing: what is at hand.
            whole: reads the rest.
            files: reads what its pages show and lead to.
            again: makes it again, where a file was lost.
        """
        self.listing, self.again = listing, again
        self._whole, self._files = whole, files
        self.kit = Light({**listing.kit, "spec": Light(listing.spec, lambda: whole().kit.spec)}, lambda: whole().kit)
        self.images = LightImages(listing.images, lambda: whole().images)

    @property
    def whole(self) -> Made:
        """All of it."""
        return self._whole()

    @property
    def files(self) -> Mapping[str, Content]:
        """Whatever its pages show and lead to, as for `Made`."""
        return self._files() if self._files else self.whole.files

    @property
    def id(self) -> str:
        return self.listing.id

    @property
    def past(self) -> bool:
        return self.listing.past

    @property
    def line(self) -> tuple[str, ...]:
        return self.listing.line

    @property
    def line_beside(self) -> tuple[str, ...]:
        return self.listing.line_beside

    @property
    def unit(self) -> str:
        return self.listing.unit

    @property
    def printables(self) -> Printables:
        return self.listing.printables

    @property
    def downloads(self) -> tuple[Download, ...]:
        return self.listing.printables["full"]

    @property
    def upcoming(self) -> str:
        return self.listing.upcoming

    @property
    def state(self) -> State | None:
        return self.listing.state

    @property
    def errata(self) -> tuple[ErratumView, ...]:
        return self.listing.errata

    @property
    def asked(self) -> tuple[AskedQuestion, ...]:
        return self.listing.asked

    def __getattr__(self, name: str) -> Any:
        # What her own templates may ask of any kit.
        if name.startswith("_"):
            raise AttributeError(name)
        return getattr(self._whole(), name)


@dataclass
class Shelf:
    """Whole kits, read when they are asked for; the last few stay at hand."""

    read: Callable[[str], Made]
    """Reads one, by its id."""
    most: int = MOST
    _held: OrderedDict[str, Made] = field(default_factory=OrderedDict)

    def take(self, kit: str) -> Made:
        """A kit by its id."""
        found = self._held.get(kit) or self.read(kit)
        self.put(kit, found)
        return found

    def put(self, kit: str, made: Made) -> None:
        """Have a kit at hand."""
        self._held.pop(kit, None)
        self._held[kit] = made
        while len(self._held) > self.most:
            self._held.popitem(last=False)


def listed(made: Made, listing: Listing) -> Listed:
    """A kit that is in memory anyway."""
    return Listed(listing, lambda: made)


Kits = Sequence[Listed]
"""The kits of a site, oldest first."""
