"""The team's calendar file, as other programs read it (iCalendar, RFC 5545)."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.files import trouble, write_file
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.release.calendar import moments
from kitwright.telling.moments import event_about, event_title

BEGINS = "BEGIN:VCALENDAR"


def calendar_text(club: Club, kits: Iterable[Kit | PastKit]) -> str:
    """Every moment as an iCalendar file: the same text for the same kits, with lines that end in CRLF.

    Times are given in UTC, so that no program has to know the club's zone. An event is
    known by its kit and its name, so that a moved moment moves in the team's calendars.
    """
    lines = [BEGINS, "VERSION:2.0", "PRODID:-//kitwright//calendar//EN", "CALSCALE:GREGORIAN", f"X-WR-CALNAME:{_escaped(club.name)}"]
    events = sorted((d for kit in kits for d in moments(kit, club)), key=lambda d: (d.at, d.kit, d.name))
    for each in events:
        stamp = f"{each.at:%Y%m%dT%H%M%SZ}"
        lines += [
            "BEGIN:VEVENT",
            f"UID:{uid(club, each.kit, each.name)}",
            f"DTSTAMP:{stamp}",
            f"DTSTART:{stamp}",
            f"SUMMARY:{_escaped(event_title(each.title, each.name))}",
            f"DESCRIPTION:{_escaped(event_about(each.kit, each.local, each.show))}",
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
