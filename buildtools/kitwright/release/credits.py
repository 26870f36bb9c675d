"""By whom: the credits of a kit, and who had which part in it; named is only who agreed to it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from typing import Literal

from kitwright.kit.kit import Kit
from kitwright.release.calendar import aware, moment
from kitwright.release.people import Person, guests_of, named

Part = Literal["by", "tested", "guest", "sample", "thanks"]
"""Who drew a kit up, cut it before its release, was its guest, showed a card, spotted a slip."""


def credited(kit: Kit, people: Mapping[str, Person], as_of: dt.datetime | None) -> Iterator[tuple[Part, Person]]:
    """Who drew a kit up, who cut it before its release, and its guests from their own moments on; whoever agreed or not.

    Args:
        kit: the kit.
        people: everybody on file.
        as_of: the instant; None for eyes that may see everybody.

    Raises:
        UserError: somebody who is not on file, or a moment that the kit does not have.
    """
    if kit.spec.by:
        yield "by", named(people, kit.spec.by, kit.place("by"))
    for i, tested in enumerate(kit.spec.tested):
        yield "tested", named(people, tested.by, kit.place("tested", i, "by"))
    for person, task in guests_of(kit, people):
        if as_of is None or moment(kit, kit.club, task.by, kit.place("guests")).at <= aware(as_of):
            yield "guest", person


def credits_of(kit: Kit, people: Mapping[str, Person], as_of: dt.datetime | None) -> dict[Part, list[Person]]:
    """The same for the kit's page: each once, and only who agreed to be named."""
    found: dict[Part, list[Person]] = {}
    for part, person in credited(kit, people, as_of):
        if person.agreed("name") and person not in found.setdefault(part, []):
            found[part].append(person)
    return {part: each for part, each in found.items() if each}
