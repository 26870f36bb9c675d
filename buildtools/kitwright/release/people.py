"""People: who they are, what they agreed to, and what of them may be shown.

A person is a folder below `kits/people/` that holds `person.yaml` and her pictures.
Everything else names her by the folder's name, so that nothing frozen ever holds a name.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal
from zoneinfo import ZoneInfo

from kitwright.errors import Place, Slips, UserError
from kitwright.findings import Finding, errors_in
from kitwright.kit.clock import precise_zone, zone
from kitwright.kit.folder import no_link_out, own_file
from kitwright.kit.kit import Kit
from kitwright.kit.loose import PEOPLE as PEOPLE
from kitwright.kit.model import FORGOTTEN, Agreed, Anniversaries, Club, Consent, PersonSpec, Sample, Task
from kitwright.kit.picture import LARGEST
from kitwright.kit.read import document_of, shown
from kitwright.kit.valid import looked_through, validated
from kitwright.kit.yamltext import Document, look_at
from kitwright.release.calendar import REVEAL, SAMPLES
from kitwright.release.names import Named, find, find_parts

PERSON_FILE, PRIVATE_FILE = "person.yaml", "private.yaml"
NO_PICTURE = "none"
"""Stands for the picture of a sample whose maker was forgotten."""
KEY = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


@dataclass(frozen=True)
class Person:
    """Somebody named in the archive, as far as she agreed to it."""

    key: str
    """The name of her folder; `a maker` for one who was forgotten."""
    folder: Path
    """Where her file and pictures lie."""
    spec: PersonSpec
    document: Document
    """Her file as read."""

    def agreed(self, what: Agreed) -> bool:
        """Whether she agreed to this."""
        return what in self.spec.consent.to

    @property
    def name(self) -> str:
        """Her name where she agreed to it, and `a maker` otherwise."""
        return self.spec.name if self.agreed("name") else FORGOTTEN

    @property
    def link(self) -> str | None:
        return self.spec.link if self.agreed("link") and self.agreed("name") else None

    @property
    def photo(self) -> Path | None:
        """A picture of her."""
        return self.folder / self.spec.photo if self.agreed("photo") and self.agreed("name") and self.spec.photo else None

    def zone(self, club: Club) -> ZoneInfo:
        """Where she reads the clock."""
        return zone(self.spec.time_zone or club.time_zone)

    def thanked(self, kit: str, revision: int) -> bool:
        """Whether she is thanked for spotting what that revision mended, and agreed to it."""
        return self.agreed("thanks") and any(t.kit == kit and t.revision == revision for t in self.spec.thanks)


Question = tuple[Literal["there", "person", "thanks", "everybody"], str]
"""What may be asked of people: whether somebody is on file, by her key; anything else of her; who is thanked for a kit, by its id; or of all of them."""


class Consulted(Mapping[str, Person]):
    """Everybody on file, noting what was asked of whom: what is made of the answers is made anew where one of them is another."""

    def __init__(self, people: Mapping[str, Person]) -> None:
        """Take them; nothing was asked yet."""
        self.people = people
        self.asked: set[Question] = set()

    def __getitem__(self, key: str) -> Person:
        self.asked.add(("person", key))
        return self.people[key]

    def __contains__(self, key: object) -> bool:
        self.asked.add(("there", str(key)))
        return key in self.people

    def __iter__(self) -> Iterator[str]:
        self.asked.add(("everybody", ""))
        return iter(self.people)

    def __len__(self) -> int:
        self.asked.add(("everybody", ""))
        return len(self.people)


def answered(question: Question, people: Mapping[str, Person], digests: Mapping[str, str]) -> object:
    """What would be answered now, told by digests.

    Args:
        question: what was asked.
        people: everybody on file.
        digests: of everybody's folder, by key.
    """
    what, about = question
    if what == "there":
        return about in people
    if what == "person":
        return digests.get(about) if about in people else None
    if what == "thanks":
        return [(person.key, digests.get(person.key)) for person in thanked(people, about)]
    return dict(sorted(digests.items()))


def thanked(people: Mapping[str, Person], kit: str) -> list[Person]:
    """Whoever has an entry of thanks for a kit, agreed or not, in order of their keys."""
    if isinstance(people, Consulted):
        people.asked.add(("thanks", kit))
        people = people.people
    return [person for person in people.values() if any(thanks.kit == kit for thanks in person.spec.thanks)]


A_MAKER = Person(FORGOTTEN, Path(FORGOTTEN), PersonSpec(name=FORGOTTEN, consent=Consent(on=dt.date.min)), Document(Path(FORGOTTEN), {}))
"""One who was forgotten: she agreed to nothing, and nothing lies anywhere."""


def read_people(kits: Path) -> dict[str, Person]:
    """Everybody below `kits/people/`, by key, in order of the keys.

    Raises:
        UserError: a person's file that can't be read, with file and line.
    """
    folder = kits / PEOPLE
    if not folder.is_dir():
        return {}
    no_link_out(folder, kits, Place(shown(folder)))
    slips = Slips()
    found = {f.name: slips.trying(_person, f) for f in sorted(folder.iterdir()) if f.is_dir() and not f.name.startswith(".")}
    slips.stop()
    return found


def keys_on_file(kits: Path) -> tuple[str, ...]:
    """The keys of everybody who has a folder, whatever it holds."""
    folder = kits / PEOPLE
    return tuple(sorted(f.name for f in folder.iterdir() if f.is_dir() and not f.name.startswith("."))) if folder.is_dir() else ()


def _person(folder: Path) -> Person:
    if not KEY.fullmatch(folder.name):
        raise UserError("people.bad-key", key=folder.name, place=Place(shown(folder)))
    no_link_out(folder, folder.parent, Place(shown(folder)))
    slips = Slips()
    document = document_of(folder / PERSON_FILE, PersonSpec, slips)
    if document is None:
        slips.stop()
        raise AssertionError("no file, and nothing is wrong")
    spec = looked_through(PersonSpec, document, slips)
    for key, read in (
        ("time zone", lambda said, place: precise_zone(said)),
        ("photo", lambda said, place: own_file(folder, said, place, LARGEST)),
    ):
        # Told beside what the model refuses, so from the text itself.
        if isinstance(said := document.data.get(key), str) and said.strip():
            try:
                read(said.strip(), document.place((key,)))
            except UserError as error:
                slips.add(error.at(document.place((key,))))
    slips.stop()
    assert spec is not None, "no person, and nothing is wrong"
    return Person(folder.name, folder, spec, document)


def anniversaries(kits: Path) -> Anniversaries:
    """The private list of members; empty where there is none.

    Raises:
        UserError: it can't be read, with file and line.
    """
    file = kits / PEOPLE / PRIVATE_FILE
    if not file.exists():
        return Anniversaries()
    read = validated(Anniversaries, look_at(file, shown(file)))
    return Anniversaries(members=[m for m in read.members if m.name != FORGOTTEN])


# --- who does what for a kit ----------------------------------------------------------------------


def named(people: Mapping[str, Person], key: str, place: Place) -> Person:
    """The person of that key.

    Raises:
        UserError: nobody has it.
    """
    if key == FORGOTTEN:
        return A_MAKER
    if key not in people:
        raise UserError("people.nobody", key=key, known=tuple(people), place=place)
    return people[key]


def _on_file(named_ones: Iterable[tuple[str, Place]], people: Mapping[str, Person]) -> None:
    """Refuse the first who is not on file.

    Raises:
        UserError: nobody has that key.
    """
    for key, place in named_ones:
        if key != FORGOTTEN and key not in people:
            named(people, key, place)


def team_of(kit: Kit, people: Mapping[str, Person]) -> list[tuple[Person, Task]]:
    """Who of the team makes what for a kit: its own list, or else everybody of the club's team."""
    return [(named(people, t.who, kit.place("team", i)), t) for i, t in team_tasks(kit)]


def _team(kit: Kit) -> list[Task]:
    return kit.spec.team or [Task(who=r.who, by=SAMPLES if SAMPLES in kit.spec.moments else REVEAL) for r in kit.club.team]


def team_tasks(kit: Kit) -> list[tuple[int, Task]]:
    """What the team makes for a kit, each with its place in the list."""
    return [(i, t) for i, t in enumerate(_team(kit)) if t.who != FORGOTTEN]


def guest_tasks(kit: Kit) -> list[tuple[int, Task]]:
    """What guests make for it, likewise."""
    return [(i, t) for i, t in enumerate(kit.spec.guests) if t.who != FORGOTTEN]


def tasks_of(kit: Kit) -> list[Task]:
    """Everything that somebody makes for a kit, the team's and the guests', whoever they are."""
    return [t for _, t in (*team_tasks(kit), *guest_tasks(kit))]


def guests_of(kit: Kit, people: Mapping[str, Person]) -> list[tuple[Person, Task]]:
    """The guests of a kit and what they make."""
    return [(named(people, t.who, kit.place("guests", i)), t) for i, t in guest_tasks(kit)]


@dataclass(frozen=True)
class Shown:
    """A sample as it may be shown."""

    sample: Sample
    person: Person
    photo: Path | None
    """Her picture of the card."""
    moment: str
    """The moment from which it shows."""


def samples_of(kit: Kit, people: Mapping[str, Person]) -> list[Shown]:
    """Every sample whose maker agreed to have her cards shown, or was forgotten; the latter without a picture.

    Raises:
        UserError: an unknown person, moment or picture.
    """
    found = []
    for i, sample in enumerate(kit.spec.samples):
        person = named(people, sample.by, kit.place("samples", i, "by"))
        moment = sample.since or (SAMPLES if SAMPLES in kit.spec.moments else REVEAL)
        if moment != REVEAL and moment not in kit.spec.moments:
            raise UserError("calendar.no-moment", moment=moment, moments=(REVEAL, *kit.spec.moments), place=kit.place("samples", i, "from"))
        photo = None
        if person is not A_MAKER:
            if sample.photo and sample.photo != NO_PICTURE:
                photo = own_file(person.folder, sample.photo, kit.place("samples", i, "photo"), LARGEST)
            if not person.agreed("samples"):
                continue
        found.append(Shown(sample, person, photo, moment))
    return found


def findings(kit: Kit, people: Mapping[str, Person]) -> list[Finding]:
    """Everything that a kit says of people, looked up: keys, moments, pictures, consent."""
    found: list[Finding] = []

    def tried(read: Callable[..., object], *given: object) -> None:
        try:
            read(*given)
        except UserError as error:
            found.extend(errors_in(error))

    # Of the team and of guests nothing else is asked here, so that what they agree to concerns only kits that show them.
    tried(_on_file, [(t.who, kit.place("team", i)) for i, t in enumerate(_team(kit))], people)
    tried(_on_file, [(t.who, kit.place("guests", i)) for i, t in enumerate(kit.spec.guests)], people)
    tried(samples_of, kit, people)
    keys: list[tuple[tuple[str | int, ...], str]] = [(("by",), kit.spec.by)] if kit.spec.by else []
    keys += [(("tested", i, "by"), t.by) for i, t in enumerate(kit.spec.tested)]
    for path, key in keys:
        tried(named, people, key, kit.place(*path))
    for name, tasks in (("team", kit.spec.team), ("guests", kit.spec.guests)):
        for i, task in enumerate(tasks):
            if task.by != REVEAL and task.by not in kit.spec.moments:
                moments = (REVEAL, *kit.spec.moments)
                found.append(Finding("error", kit.place(name, i), "calendar.no-moment", moment=task.by, moments=moments))
    found += _due_at_midnight(kit)
    for i, sample in enumerate(kit.spec.samples):
        person = people.get(sample.by)
        if person and not person.agreed("samples"):
            found.append(Finding("hint", kit.place("samples", i), "people.not-agreed", who=sample.by))
    return list(dict.fromkeys(found))


def _due_at_midnight(kit: Kit) -> list[Finding]:
    """A hint where something is due by a date alone: that is the start of the day, which many take for its end."""
    deadlines = {task.by.casefold() for task in tasks_of(kit)}
    said: list[tuple[str, dt.datetime, tuple[str, ...]]] = [(REVEAL, kit.spec.reveal, (REVEAL,))] if kit.spec.reveal else []
    said += [(name, moment.at, ("moments", name)) for name, moment in kit.spec.moments.items()]
    return [
        Finding("hint", kit.place(*path), "calendar.due-at-midnight", moment=name, at=at)
        for name, at, path in said
        if name.casefold() in deadlines and at.time() == dt.time() and "24:00" not in _typed(kit, path)
    ]


def _typed(kit: Kit, path: tuple[str, ...]) -> str:
    """An entry of the kit's file as it stands there."""
    found: object = kit.document.data
    for key in path:
        found = found.get(key) if isinstance(found, dict) else None
    return str(found)


# --- names in prose -------------------------------------------------------------------------------


def named_as(person: Person) -> Named:
    """How a person may be named in a text."""
    return Named(person.spec.name, person.key)


def names_in(text: str, people: Mapping[str, Person]) -> Iterator[tuple[Person, int, bool]]:
    """People whom a text names: who, on which line, and whether by the whole name or only a part of it."""
    for person in people.values():
        others = [named_as(other) for other in people.values() if other.key != person.key]
        lines = {text.count("\n", 0, found.start) + 1 for found in find(text, named_as(person), others)}
        yield from ((person, line, True) for line in sorted(lines))
        near = {text.count("\n", 0, start) + 1 for start in find_parts(text, person.spec.name)}
        yield from ((person, line, False) for line in sorted(near - lines))
