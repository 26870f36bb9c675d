"""What is due when: a kit's moments in the club's own time zone.

A moment is typed as a local time. Where clocks go forward and the hour does not exist, it is
read with the offset from before; where an hour comes twice, the first one is meant. That is
the rule of RFC 5545, section 3.3.5, and of Python's own `fold=0`.

Where the club moved to another time zone, which she agreed to at an instant, a moment that had
come by then stays where it was, and one that was to come is read anew (`zonemove.py`).
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from pathlib import Path
from zoneinfo import ZoneInfo

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.kit.typed import moment_meant, moment_typed, no_such_day
from kitwright.release.ledger import zone_moves

REVEAL = "reveal"
SAMPLES = "samples"
"""The moment from which samples show, where a kit names it."""
UTC = dt.UTC


def instant(local: dt.datetime, zone_: ZoneInfo) -> dt.datetime:
    """A local time without zone as the exact instant, in UTC."""
    return local.replace(tzinfo=zone_, fold=0).astimezone(UTC)


def oddity(local: dt.datetime, zone_: ZoneInfo) -> str | None:
    """`skipped` for a local time that clocks jump over, `twice` for one that they show twice."""
    back = instant(local, zone_).astimezone(zone_).replace(tzinfo=None)
    if back != local:
        return "skipped"
    later = local.replace(tzinfo=zone_, fold=1).astimezone(UTC)
    return "twice" if later != instant(local, zone_) else None


@dataclass(frozen=True, slots=True)
class Due:
    """Something that happens at a moment."""

    kit: str
    """The kit's id."""
    title: str
    name: str
    """`reveal`, or the author's own name for it."""
    at: dt.datetime
    """The instant, in UTC."""
    local: dt.datetime
    """The same in the club's own time."""
    show: str = ""
    """What may be shown from then on, where the author says it."""
    ahead: bool = False
    """Whether it lies a day before the moment of that name: then something is due that shows at that moment."""

    @property
    def day_before(self) -> Due:
        """The same hour a day earlier, by the clocks that count."""
        at = (self.local - dt.timedelta(days=1)).astimezone(UTC)
        return replace(self, at=at, local=at.astimezone(self.local.tzinfo), show="", ahead=True)


def placed(local: dt.datetime, club: Club, kits: Path) -> dt.datetime:
    """A moment of a kit as the exact instant, in the zone that counts for it.

    Args:
        local: as it is typed, without zone.
        club: whose time counts.
        kits: the folder of kits, whose ledger knows where the club moved.
    """
    moves = zone_moves(kits)
    if not moves:
        return local.replace(tzinfo=zone(club.time_zone), fold=0)
    for move in moves:
        here = zone(move.was)
        if instant(local, here) <= dt.datetime.fromisoformat(move.since):
            break
    else:
        here = zone(moves[-1].now)
    return local.replace(tzinfo=here, fold=0)


def moments(kit: Kit | PastKit, club: Club) -> tuple[Due, ...]:
    """Every moment of a kit, in order of time; the reveal leads those at one time."""
    named = kit.spec.moments if isinstance(kit, Kit) else {}
    said = [(REVEAL, kit.reveal, ""), *((name, moment.at, moment.show or "") for name, moment in named.items())]
    found = []
    for name, local, show in said:
        here = placed(local, club, kit.folder.parent)
        at = here.astimezone(UTC)
        # Anew from the instant: a time that clocks jump over is told as they show it.
        found.append(Due(kit.id, kit.spec.title, name, at, at.astimezone(here.tzinfo), show))
    return tuple(sorted(found, key=lambda d: (d.at, d.name != REVEAL, d.name)))


def moment(kit: Kit | PastKit, club: Club, name: str, place: Place | None = None) -> Due:
    """A kit's moment of that name.

    Args:
        kit: the kit.
        club: whose time counts.
        name: as somebody typed it.
        place: where.

    Raises:
        UserError: it has none.
    """
    known = moments(kit, club)
    found = next((d for d in known if d.name.casefold() == name.casefold()), None)
    if found is None:
        raise UserError("calendar.no-moment", moment=name, moments=tuple(d.name for d in known), place=place)
    return found


def reveal_of(kit: Kit | PastKit, club: Club) -> dt.datetime:
    """The instant of the reveal, in UTC."""
    return placed(kit.reveal, club, kit.folder.parent).astimezone(UTC)


def due(kit: Kit | PastKit, club: Club, as_of: dt.datetime) -> bool:
    """Whether a kit is public at that instant: from its reveal on, to the second.

    Raises:
        ValueError: `as_of` has no time zone.
    """
    return reveal_of(kit, club) <= aware(as_of)


def aware(as_of: dt.datetime) -> dt.datetime:
    """The instant in UTC.

    Raises:
        ValueError: without a time zone it is no instant.
    """
    if as_of.tzinfo is None:
        raise ValueError("as_of needs a time zone")
    return as_of.astimezone(UTC)


def read_time(text: str, club: Club) -> dt.datetime:
    """A time as typed after --as-of, as an instant in UTC; without a zone it is the club's own.

    Raises:
        UserError: not a time.
    """
    try:
        read = moment_typed(text) or dt.datetime.fromisoformat(text.strip())
    except ValueError:
        if day := no_such_day(text):
            raise UserError("spec.no-such-day", year=day[0], month=day[1], day=day[2]) from None
        raise UserError("calendar.no-time", text=text, meant=moment_meant(text)) from None
    except OverflowError:
        raise UserError("calendar.too-far", text=text) from None
    try:
        return read.astimezone(UTC) if read.tzinfo else instant(read, zone(club.time_zone))
    except OverflowError:
        raise UserError("calendar.too-far", text=text) from None


def _other_month(kit: Kit) -> list[Finding]:
    """A reveal that the folder's name contradicts: a slip in the year publishes a year early."""
    at = kit.spec.reveal
    if at is None or (at.year, at.month) == (kit.month.year, kit.month.month) or REVEAL in kit.spec.meant:
        return []
    return [Finding("error", kit.place("reveal"), "calendar.other-month", reveal=at, month=kit.month)]


def findings(kit: Kit, club: Club) -> list[Finding]:
    """A reveal in another month than the folder's, moments that clocks skip or show twice, and moments before the reveal that wait for it."""
    found = _other_month(kit)
    said: list[tuple[str, dt.datetime, tuple[str, ...]]] = [(REVEAL, kit.spec.reveal, ("reveal",))] if kit.spec.reveal else []
    said += [(name, m.at, ("moments", name)) for name, m in kit.spec.moments.items()]
    for name, at, path in said:
        where = zone(str(placed(at, club, kit.folder.parent).tzinfo))
        odd = oddity(at, where)
        counts = instant(at, where).astimezone(where)
        if odd == "skipped":
            found.append(
                Finding("warning", kit.place(*path), "calendar.skipped", moment=name, zone=where.key, at=at.time(), counts=counts.time())
            )
        elif odd == "twice":
            found.append(Finding("warning", kit.place(*path), "calendar.twice", moment=name, zone=where.key, at=at.time()))
        if name.casefold() == REVEAL and path != ("reveal",):
            found.append(Finding("error", kit.place(*path), "calendar.reveal-among-moments"))
    samples = kit.spec.moments.get(SAMPLES)
    if samples and samples.at < kit.reveal:
        found.append(Finding("warning", kit.place("moments", SAMPLES), "calendar.samples-before-reveal"))
    return found
