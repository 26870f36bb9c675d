"""What is asked of whom for a kit, by when, and from when on she may show it: everybody's part, as values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club, Task
from kitwright.release.calendar import REVEAL, SAMPLES, Due, moment
from kitwright.release.codes import code_of
from kitwright.release.people import Person, guest_tasks, named, team_tasks


@dataclass(frozen=True)
class Part:
    """Somebody's part in a kit."""

    person: Person
    guest: bool
    """Whether she is asked as the kit's guest alone."""
    tasks: tuple[tuple[Task, Due], ...]
    """What is asked of her, each with the moment by which, always before it shows; the first to be due first. Empty for one of the club's team of whom nothing is asked."""
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
    found = []
    for key, asked in (every := _everybody(kit)).items():
        person, turn = named(people, key, asked.place), _turn(kit, club, key, asked)
        tasks = sorted(((task, _ready(kit, club, task, turn)) for _, task in asked.tasks), key=lambda each: each[1].at)
        found.append(_part(kit, person, asked.guest, tasks, turn))
    rest = dict.fromkeys(role.who for role in club.team if role.who in people and role.who not in every)
    found += [_part(kit, people[key], False, [], _turn(kit, club, key, _Asked(False, kit.place("team")))) for key in rest]
    return tuple(found)


def _part(kit: Kit, person: Person, guest: bool, tasks: list[tuple[Task, Due]], turn: Due) -> Part:
    earns = any(used.earns for sample in kit.spec.samples if sample.by == person.key for used in sample.used)
    return Part(person, guest, tuple(tasks), turn, earns)


# --- by when ----------------------------------------------------------------------------------------


@dataclass
class _Asked:
    """What is asked of somebody."""

    guest: bool
    place: Place
    tasks: list[tuple[Place, Task]] = field(default_factory=list)


def _everybody(kit: Kit) -> dict[str, _Asked]:
    """Everybody who is asked for something, by key; nobody need be on file."""
    found: dict[str, _Asked] = {}
    for section, tasks in (("team", team_tasks(kit)), ("guests", guest_tasks(kit))):
        for i, task in tasks:
            place = kit.place(section, i)
            found.setdefault(task.who, _Asked(section == "guests", place)).tasks.append((place, task))
    return found


def _turn(kit: Kit, club: Club, key: str, asked: _Asked) -> Due:
    """The moment from which somebody may show what she made."""
    listed = [sample for sample in kit.spec.samples if sample.by == key]
    reveal, usual = (moment(kit, club, name) for name in (REVEAL, SAMPLES if SAMPLES in kit.spec.moments else REVEAL))
    # Her own entry among the samples tells it; without one a guest has her own turn, and the team shows with the samples.
    said = [moment(kit, club, sample.since, kit.place("samples")) if sample.since else usual for sample in listed]
    if asked.guest and not said:
        said = [due for _, task in asked.tasks if (due := _named(kit, club, task)).at >= reveal.at]
    return max([reveal, *(said or [usual])], key=lambda due: due.at)


def _ready(kit: Kit, club: Club, task: Task, turn: Due) -> Due:
    """By when something has to be ready: by the moment that is named, if that comes before it shows; else a day before it does."""
    due = _named(kit, club, task)
    return due if due.at < turn.at else turn.day_before


def _named(kit: Kit, club: Club, task: Task) -> Due:
    return moment(kit, club, task.by, kit.place("team"))


def deadlines(kit: Kit, club: Club) -> tuple[Due, ...]:
    """The moments by which somebody has to be ready, each once, the first to come first.

    Raises:
        UserError: a moment that the kit does not have.
    """
    found = {
        _ready(kit, club, task, turn)
        for key, asked in _everybody(kit).items()
        for turn in (_turn(kit, club, key, asked),)
        for _, task in asked.tasks
    }
    return tuple(sorted(found, key=lambda due: (due.at, due.name, due.ahead)))


def findings(kit: Kit, club: Club) -> list[Finding]:
    """What is asked for by a moment at which it shows already: then it is due a day before it does."""
    found = []
    for key, asked in _everybody(kit).items():
        try:
            turn = _turn(kit, club, key, asked)
            late = [(place, due) for place, task in asked.tasks if (due := _named(kit, club, task)).at > turn.at]
        except UserError:
            # A moment that there is not, which is told elsewhere.
            continue
        found += [Finding("warning", place, "calendar.due-after-shown", by=due.name, shows=turn.name) for place, due in late]
    return found
