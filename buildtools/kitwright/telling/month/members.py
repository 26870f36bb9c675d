"""The members' note, for whom and what it says besides, by one rule.

- **joined**: her day of joining lies after the day on which the kit before was shown, up to the
  day on which this one is; where there is no kit before, in the month of the kit up to that day.
- **year**: she joined in the month of the kit, a year or more before.
- **others**: everybody else, of whom nothing is to be told; whoever is not on the list too.

So whoever joins is welcomed once, with the first kit after, and nobody is in two of them.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from kitwright.kit.kit import Kit
from kitwright.kit.model import Anniversaries
from kitwright.kit.model.people import Member
from kitwright.telling.words import listed, spelled

Group = Literal["joined", "year", "others"]


@dataclass(frozen=True)
class Anniversary:
    """A member who joined in this month, some years ago."""

    name: str
    years: str
    """`five years`."""


@dataclass(frozen=True)
class Reading:
    """Those who get one of the notes."""

    group: Group
    names: tuple[str, ...] = ()
    anniversaries: tuple[Anniversary, ...] = ()
    """How long each has been there, longest first; of the group with a year alone."""

    @property
    def them(self) -> str:
        """All of them, to be greeted: `Ada Bell and Noor Hale`; empty for the others."""
        return listed(self.names)


def readings(private: Anniversaries, kit: Kit, before: dt.date | None) -> tuple[Reading, ...]:
    """Who gets which note; the one for the others is always there.

    Args:
        private: members and their days of joining.
        kit: the kit, as it is now.
        before: the day on which the kit before was shown; None where there is none.
    """
    shown, month = kit.reveal.date(), kit.month
    first = before + dt.timedelta(days=1) if before else month.replace(day=1)
    joined = [m for m in private.members if first <= m.since <= shown]
    stayed = [m for m in private.members if m not in joined and m.since.month == month.month and m.since.year < month.year]
    found = [Reading("joined", tuple(m.name for m in sorted(joined, key=lambda m: (m.since, m.name))))] if joined else []
    if stayed:
        stayed.sort(key=lambda m: (m.since.year, m.name))
        found.append(Reading("year", tuple(m.name for m in stayed), tuple(_anniversary(m, month.year) for m in stayed)))
    return (*found, Reading("others"))


def _anniversary(member: Member, year: int) -> Anniversary:
    years = year - member.since.year
    return Anniversary(member.name, "a year" if years == 1 else f"{spelled(years)} years")
