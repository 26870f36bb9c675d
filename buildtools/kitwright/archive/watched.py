"""A moment that notes what it is compared with, so that what was made for it is known to hold for others too.

A kit's page at noon is its page at one o'clock, unless something of that kit fell due between.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass
class Span:
    """The moments for which something holds: between the nearest ones that were compared with."""

    since: dt.datetime | None = None
    """None: from ever."""
    after: bool = False
    """Whether it holds only after that very instant."""
    until: dt.datetime | None = None
    """None: for ever."""
    through: bool = False
    """Whether it holds at that very instant too."""

    def holds(self, at: dt.datetime) -> bool:
        """Whether a moment is one of them."""
        early = self.since is not None and (at <= self.since if self.after else at < self.since)
        late = self.until is not None and (at > self.until if self.through else at >= self.until)
        return not early and not late

    def from_on(self, at: dt.datetime, after: bool = False) -> None:
        """It holds from a moment on, or only after it."""
        if self.since is None or at > self.since or at == self.since and after:
            self.since, self.after = at, after

    def up_to(self, at: dt.datetime, through: bool = False) -> None:
        """It holds before a moment, or through it."""
        if self.until is None or at < self.until or at == self.until and not through:
            self.until, self.through = at, through

    def meet(self, other: Span) -> None:
        """It holds only where another does too."""
        if other.since is not None:
            self.from_on(other.since, other.after)
        if other.until is not None:
            self.up_to(other.until, other.through)

    def digested(self) -> tuple[object, ...]:
        """What counts in a digest of it."""
        return self.since, self.after, self.until, self.through


class Watched(dt.datetime):
    """An instant whose comparisons are noted; whatever else is asked of it holds for that very instant alone."""

    span: Span

    @classmethod
    def of(cls, at: dt.datetime) -> Watched:
        """An aware moment, watched from now on.

        Raises:
            ValueError: it has no time zone.
        """
        if at.tzinfo is None:
            raise ValueError("a moment needs a time zone")
        there = at.astimezone(dt.UTC)
        new = cls.combine(there.date(), there.time(), dt.UTC)
        new.span = Span()
        return new

    def _plain(self) -> dt.datetime:
        """The instant as any other, which may be looked at without a note."""
        return dt.datetime.combine(dt.datetime.date(self), dt.datetime.time(self), dt.UTC)

    def _alone(self) -> dt.datetime:
        """The same, for what holds at no other."""
        at = self._plain()
        self.span.from_on(at)
        self.span.up_to(at, through=True)
        return at

    def __lt__(self, other: Any) -> bool:
        found = self._plain() < (other := _unwatched(other))
        self.span.up_to(other) if found else self.span.from_on(other)
        return found

    def __ge__(self, other: Any) -> bool:
        return not self < other

    def __le__(self, other: Any) -> bool:
        found = self._plain() <= (other := _unwatched(other))
        self.span.up_to(other, through=True) if found else self.span.from_on(other, after=True)
        return found

    def __gt__(self, other: Any) -> bool:
        return not self <= other

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, dt.datetime):
            return False
        at, other = self._plain(), _unwatched(other)
        if at == other:
            self._alone()
            return True
        self.span.up_to(other) if at < other else self.span.from_on(other, after=True)
        return False

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(self._alone())

    def astimezone(self, tz: dt.tzinfo | None = None) -> Any:
        return self if tz is dt.UTC else self._alone().astimezone(tz)

    def __reduce_ex__(self, protocol: Any) -> Any:
        return self._alone().__reduce_ex__(protocol)


def _unwatched(at: dt.datetime) -> dt.datetime:
    at = at._plain() if isinstance(at, Watched) else at
    return at.astimezone(dt.UTC) if at.tzinfo is not None else at


def instant(at: dt.datetime) -> dt.datetime:
    """A moment as any other, whether it is watched or not."""
    return _unwatched(at)


def _asked(name: str) -> Callable[..., Any]:
    def asked(self: Watched, *args: Any, **more: Any) -> Any:
        return getattr(self._alone(), name)(*args, **more)

    return asked


def _read(name: str) -> property:
    return property(lambda self: getattr(self._alone(), name))


for _name in (
    *("__add__", "__radd__", "__sub__", "__rsub__", "__str__", "__repr__", "__format__"),
    *("ctime", "isoformat", "strftime", "timetuple", "utctimetuple", "timestamp", "toordinal", "replace"),
    *("weekday", "isoweekday", "isocalendar", "date", "time", "timetz", "dst", "tzname"),
):
    setattr(Watched, _name, _asked(_name))
for _name in ("year", "month", "day", "hour", "minute", "second", "microsecond", "fold"):
    setattr(Watched, _name, _read(_name))
