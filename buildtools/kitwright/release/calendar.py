"""What is due when: a kit's moments in the club's own time zone, and the team's calendar file.

A moment is typed as a local time. Where clocks go forward and the hour does not exist, it is
read with the offset from before; where an hour comes twice, the first one is meant. That is
the rule of RFC 5545, section 3.3.5, and of Python's own `fold=0`.
"""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from kitwright.errors import Place, UserError
from kitwright.files import trouble, write_file
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.model import Club
from kitwright.kit.read import Kit, PastKit
from kitwright.telling.words import month_text, number

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


def moments(kit: Kit | PastKit, club: Club) -> tuple[Due, ...]:
    """Every moment of a kit, in order of time; the reveal leads those at one time."""
    where = zone(club.time_zone)
    named = getattr(kit.spec, "moments", {})
    said = [(REVEAL, kit.reveal, ""), *((name, moment.at, moment.show or "") for name, moment in named.items())]
    found = [Due(kit.id, kit.spec.title, name, instant(at, where), instant(at, where).astimezone(where), show) for name, at, show in said]
    return tuple(sorted(found, key=lambda d: (d.at, d.name != REVEAL, d.name)))


def moment(kit: Kit | PastKit, club: Club, name: str) -> Due | None:
    """A kit's moment of that name; None where it has none."""
    return next((d for d in moments(kit, club) if d.name.casefold() == name.casefold()), None)


def reveal_of(kit: Kit | PastKit, club: Club) -> dt.datetime:
    """The instant of the reveal, in UTC."""
    return instant(kit.reveal, zone(club.time_zone))


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
        read = dt.datetime.fromisoformat(text.strip())
    except ValueError:
        raise UserError(
            f"“{text[:30]}” is not a time", "write it like 2027-03-06 10:00, in the club's own time, or with an offset such as +01:00"
        ) from None
    try:
        return read.astimezone(UTC) if read.tzinfo else instant(read, zone(club.time_zone))
    except OverflowError:
        raise UserError(f"“{text[:30]}” is too far away", "write a time within a lifetime") from None


def _other_month(kit: Kit) -> list[Finding]:
    """A reveal that the folder's name contradicts: a slip in the year publishes a year early."""
    at = kit.spec.reveal
    if at is None or (at.year, at.month) == (kit.month.year, kit.month.month) or REVEAL in kit.spec.meant:
        return []
    early = " early" if at < dt.datetime.combine(kit.month, dt.time()) else " late"
    months = abs((at.year - kit.month.year) * 12 + at.month - kit.month.month)
    by = number(months // 12, "year", "years") if months % 12 == 0 else number(months, "month", "months")
    return [
        Finding(
            "error",
            kit.place("reveal"),
            f"the reveal is in {month_text(at.date())}, and the folder is that of {month_text(kit.month)}: {by}{early}",
            f"write it like {kit.month:%Y-%m}-{at.day:02} {at:%H:%M}, rename the folder, or say  meant: reveal  on a line of its own",
        )
    ]


def findings(kit: Kit, club: Club) -> list[Finding]:
    """A reveal in another month than the folder's, moments that clocks skip or show twice, and moments before the reveal that wait for it."""
    where, found = zone(club.time_zone), _other_month(kit)
    said = ([(REVEAL, kit.spec.reveal, ("reveal",))] if kit.spec.reveal else []) + [
        (name, m.at, ("moments", name)) for name, m in kit.spec.moments.items()
    ]
    for name, at, path in said:
        odd = oddity(at, where)
        counts = instant(at, where).astimezone(where)
        if odd == "skipped":
            found.append(
                Finding(
                    "warning",
                    kit.place(*path),
                    f"{name}: clocks in {club.time_zone} skip {at:%H:%M} on that day",
                    f"it counts as {counts:%H:%M}; write that, or another time",
                )
            )
        elif odd == "twice":
            found.append(
                Finding(
                    "warning",
                    kit.place(*path),
                    f"{name}: clocks in {club.time_zone} show {at:%H:%M} twice on that day",
                    "the first of the two counts; choose another time if that is not meant",
                )
            )
        if name.casefold() == REVEAL and path != ("reveal",):
            found.append(Finding("error", kit.place(*path), "“reveal” is given among the moments", "write it as  reveal: …  at the top"))
    samples = kit.spec.moments.get(SAMPLES)
    if samples and samples.at < kit.reveal:
        found.append(
            Finding(
                "warning",
                kit.place("moments", SAMPLES),
                "samples come before the reveal",
                "nothing shows before the reveal; give a later time, or leave it",
            )
        )
    return found


# --- the calendar file ------------------------------------------------------------------------

CALENDAR_BEGINS = "BEGIN:VCALENDAR"


def calendar_text(club: Club, kits: Iterable[Kit | PastKit]) -> str:
    """Every moment as an iCalendar file (RFC 5545): the same text for the same kits, with lines that end in CRLF.

    Times are given in UTC, so that no program has to know the club's zone. An event is
    known by its kit and its name, so that a moved moment moves in the team's calendars.
    """
    lines = [
        CALENDAR_BEGINS,
        "VERSION:2.0",
        "PRODID:-//kitwright//calendar//EN",
        "CALSCALE:GREGORIAN",
        f"X-WR-CALNAME:{_escaped(club.name)}",
    ]
    events = sorted((d for kit in kits for d in moments(kit, club)), key=lambda d: (d.at, d.kit, d.name))
    for each in events:
        stamp = f"{each.at:%Y%m%dT%H%M%SZ}"
        lines += [
            "BEGIN:VEVENT",
            f"UID:{uid(club, each.kit, each.name)}",
            f"DTSTAMP:{stamp}",
            f"DTSTART:{stamp}",
            f"SUMMARY:{_escaped(f'{each.title}: {each.name}')}",
            f"DESCRIPTION:{_escaped(_description(club, each))}",
            "TRANSP:TRANSPARENT",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def write_calendar(file: Path, text: str) -> None:
    """Write the calendar file, whole; only over a calendar file.

    Raises:
        UserError: something else stands there, or it can't be written.
    """
    try:
        if file.exists():
            if not file.is_file():
                raise UserError("this is no ordinary file", "give another name with --ics; nothing was written", Place(file))
            with file.open("rb") as stream:
                if stream.read(len(CALENDAR_BEGINS)) != CALENDAR_BEGINS.encode():
                    raise UserError(
                        "this file is something other than a calendar", "give another name with --ics; nothing was written", Place(file)
                    )
        write_file(file, text.encode())
    except OSError as error:
        raise trouble(error, "disk.calendar", file) from None


def _description(club: Club, each: Due) -> str:
    show = f" From then on may be shown: {each.show}" if each.show else ""
    return f"Kit {each.kit}, {each.local:%Y-%m-%d %H:%M} in {club.time_zone}.{show}"


def uid(club: Club, kit: str, name: str) -> str:
    """A name for an event that stays the same whenever it is written."""
    return str(uuid.uuid5(uuid.NAMESPACE_URL, f"kitwright:{club.name}/{kit}/{name}"))


def _escaped(text: str) -> str:
    """Text as RFC 5545, section 3.3.11, wants it."""
    plain = " ".join(text.split())
    return plain.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")


def _folded(line: str) -> list[str]:
    """A line in parts of at most 75 octets (RFC 5545, section 3.1), never inside a character."""
    parts, part, room = [], "", 75
    for character in line:
        size = len(character.encode())
        if size > room:
            parts.append(part)
            part, room = " ", 74
        part += character
        room -= size
    return [*parts, part]
