"""Calendar files for the team and for each of them, as other programs read them (iCalendar, RFC 5545).

Times are in UTC, so that every calendar shows them on its owner's clock and no program has to
know the club's zone. The same kits give the same bytes: a stamp is the moment that it stamps.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.files import trouble, write_file
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.release.calendar import Due, moments
from kitwright.release.team import Part, deadlines
from kitwright.telling.moments import due_about, due_soon, due_title, event_about, event_title, ready_title, show_now
from kitwright.telling.team import due_name, make_text, shown_then

BEGINS = "BEGIN:VCALENDAR"
DAY_BEFORE, DAYS_BEFORE, THEN = "-P1D", "-P3D", "PT0S"
"""When an alarm goes off, as a duration from its event (RFC 5545, section 3.8.6.3)."""


@dataclass(frozen=True)
class Event:
    """Something in a calendar."""

    uid: str
    due: Due
    title: str
    about: str
    alarms: tuple[tuple[str, str], ...] = ()
    """When each goes off, and what it says."""


def calendar_text(club: Club, kits: Iterable[Kit | PastKit]) -> str:
    """Every moment as an iCalendar file, for the whole team, and every deadline; by whatever somebody has to be ready has an alarm a day before."""
    found = []
    for kit in kits:
        dues = deadlines(kit, club) if isinstance(kit, Kit) else ()
        for due in (*moments(kit, club), *(due for due in dues if due.ahead)):
            title = ready_title(due.title, due_name(due)) if due.ahead else event_title(due.title, due.name)
            about = event_about(due.kit, due.local, due.show)
            alarms = (
                ((DAY_BEFORE, due_soon(due.title, due.local)),) if any(due.at == one.at and due.name == one.name for one in dues) else ()
            )
            found.append(Event(uid(club, due.kit, f"{due.name}/due" if due.ahead else due.name), due, title, about, alarms))
    return file_text(club.name, found)


def her_calendar(kit: Kit, club: Club, part: Part) -> str:
    """Somebody's own calendar of a kit: what she has to make, with alarms some days and a day before, and what may be shown when.

    Her events are known by her mark and by the place of the task among hers, so that one that is moved moves in her calendar.
    """
    zone, found = part.person.zone(club), []
    for n, (task, due) in enumerate(part.tasks, 1):
        local, make = due.at.astimezone(zone), make_text(task)
        soon = due_soon(due.title, local, make)
        title, about = due_title(due.title, local, make), due_about(due.kit, local, make)
        found.append(Event(uid(club, due.kit, f"{part.mark}/{n}"), due, title, about, ((DAYS_BEFORE, soon), (DAY_BEFORE, soon))))
    for due in moments(kit, club):
        local, show = due.at.astimezone(zone), shown_then(due, part)
        alarms = ((THEN, show_now(due.title, show)),) if show else ()
        found.append(Event(uid(club, due.kit, due.name), due, event_title(due.title, due.name), event_about(due.kit, local, show), alarms))
    return file_text(f"{kit.spec.title}, {club.name}", found)


def file_text(name: str, events: Iterable[Event]) -> str:
    """Events as a file, with lines that end in CRLF; programs that subscribe to it are asked to look once a day (RFC 7986)."""
    lines = [BEGINS, "VERSION:2.0", "PRODID:-//kitwright//calendar//EN", "CALSCALE:GREGORIAN"]
    lines += [f"NAME:{_escaped(name)}", f"X-WR-CALNAME:{_escaped(name)}", "REFRESH-INTERVAL;VALUE=DURATION:P1D"]
    for each in sorted(events, key=lambda e: (e.due.at, e.due.kit, e.due.name, e.uid)):
        stamp = f"{each.due.at:%Y%m%dT%H%M%SZ}"
        lines += [
            "BEGIN:VEVENT",
            f"UID:{each.uid}",
            f"DTSTAMP:{stamp}",
            f"DTSTART:{stamp}",
            f"SUMMARY:{_escaped(each.title)}",
            f"DESCRIPTION:{_escaped(each.about)}",
            "TRANSP:TRANSPARENT",
        ]
        for trigger, words in each.alarms:
            lines += ["BEGIN:VALARM", "ACTION:DISPLAY", f"TRIGGER:{trigger}", f"DESCRIPTION:{_escaped(words)}", "END:VALARM"]
        lines.append("END:VEVENT")
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
                raise UserError("calendar.no-ordinary-file", place=Place(file))
            with file.open("rb") as stream:
                if stream.read(len(BEGINS)) != BEGINS.encode():
                    raise UserError("calendar.no-calendar", place=Place(file))
        write_file(file, text.encode())
    except OSError as error:
        raise trouble(error, "disk.calendar", file) from None


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
