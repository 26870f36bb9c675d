"""What is asked of whom for a kit, by when, and from when on she may show it: everybody's part, as values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.kit.kit import Kit
from kitwright.kit.model import Club, Task
from kitwright.release.calendar import REVEAL, SAMPLES, Due, moment
from kitwright.release.codes import code_of
from kitwright.release.people import Person, guests_of, named, tasks_of, team_of


@dataclass(frozen=True)
class Part:
    """Somebody's part in a kit."""

    person: Person
    guest: bool
    """Whether she is asked as the kit's guest alone."""
    tasks: tuple[tuple[Task, Due], ...]
    """What is asked of her, each with the moment by which; the first to be due first. Empty for one of the club's team of whom nothing is asked."""
    turn: Due
    """The moment from which she may show what she made."""
    earns: bool
    """Whether a link of hers beside her card earns money."""

    @property
    def mark(self) -> str:
        """What her pages and events are called by. It stays hers through every kit and tells no name, since she may not have agreed to be named."""
        return code_of(f"kitwright:person/{self.person.key}".encode()).replace("-", "").lower()


def parts_of(kit: Kit, club: Club, people: Mapping[str, Person]) -> tuple[Part, ...]:
    """The part of everybody who is asked for something, the team first, then guests, then the rest of the club's team.

    Raises:
        UserError: an unknown person or moment.
    """
    asked: dict[str, tuple[bool, list[Task]]] = {}
    for guest, part in ((False, team_of(kit, people)), (True, guests_of(kit, people))):
        for person, task in part:
            asked.setdefault(person.key, (guest, []))[1].append(task)
    for role in club.team:
        if role.who in people:
            asked.setdefault(role.who, (False, []))
    return tuple(_part(kit, club, named(people, key, kit.place("team")), *said) for key, said in asked.items())


def _part(kit: Kit, club: Club, person: Person, guest: bool, asked: list[Task]) -> Part:
    tasks = sorted(((task, moment(kit, club, task.by, kit.place("team"))) for task in asked), key=lambda each: each[1].at)
    listed = [sample for sample in kit.spec.samples if sample.by == person.key]
    earns = any(used.earns for sample in listed for used in sample.used)
    reveal, usual = (moment(kit, club, name) for name in (REVEAL, SAMPLES if SAMPLES in kit.spec.moments else REVEAL))
    # Her own entry among the samples tells it; without one a guest has her own turn, and the team shows with the samples.
    said = [moment(kit, club, sample.since, kit.place("samples")) if sample.since else usual for sample in listed]
    if guest and not said:
        said = [due for _, due in tasks if due.at >= reveal.at]
    return Part(person, guest, tuple(tasks), max([reveal, *(said or [usual])], key=lambda due: due.at), earns)


def deadlines(kit: Kit) -> frozenset[str]:
    """The moments by which somebody has to be ready, by name in small letters."""
    return frozenset(task.by.casefold() for task in tasks_of(kit))
