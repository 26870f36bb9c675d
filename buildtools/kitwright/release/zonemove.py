"""A move of the club to another time zone: nothing moves before its author has seen what does, and agreed.

The zone that counted is that of the last move in the ledger, else the one that the newest
revision froze. Where `club.yaml` says another, whatever depends on a moment is refused until
the move is a line of the ledger. Moments that had come by then stay where they were.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from kitwright.errors import UserError
from kitwright.files import held
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.kit.read import all_folders, read_club, read_kit
from kitwright.release import atomic, whole
from kitwright.release.calendar import REVEAL, aware, instant
from kitwright.release.ledger import PUBLISHED, ZoneMove, appended, read_ledger
from kitwright.release.upcoming import typed_reveals


@dataclass(frozen=True)
class Moved:
    """A moment that is to come, and moves."""

    kit: str
    name: str
    was: dt.datetime
    """The instant as it counted, on the old zone's clocks."""
    now: dt.datetime
    """The instant as it would count, on the new zone's clocks."""


@dataclass(frozen=True)
class Move:
    """A move that she has not agreed to yet."""

    was: str
    now: str
    moved: tuple[Moved, ...]
    """What is to come and moves, in order of the old instants."""


def move(kits: Path, club: Club, as_of: dt.datetime) -> Move | None:
    """A move of the club's time zone that is in no ledger yet; None where there is none, or where it changes no moment at all.

    Args:
        kits: the folder of kits.
        club: as it is typed now.
        as_of: what has come by then stays where it was.
    """
    was = _counted(kits)
    if was is None or was == club.time_zone:
        return None
    before, after = zone(was), zone(club.time_zone)
    every = [(kit, name, instant(local, before), instant(local, after)) for kit, name, local in _typed(kits, club)]
    if all(old == new for _, _, old, new in every):
        return None
    moved = [
        Moved(kit, name, old.astimezone(before), new.astimezone(after))
        for kit, name, old, new in every
        if old > aware(as_of) and old != new
    ]
    return Move(was, club.time_zone, tuple(sorted(moved, key=lambda m: (m.was, m.kit, m.name))))


def _counted(kits: Path) -> str | None:
    """The zone that counted so far; None where nothing published tells."""
    try:
        ledger = read_ledger(kits)
        if ledger is None:
            return None
        last, moves = (ledger.entries or (None,))[-1], ledger.zones
        if moves and (last is None or moves[-1].line > last.line):
            return moves[-1].now
        if last is None:
            return None
        froze = read_club(kits / last.kit / PUBLISHED / f"r{last.revision}", frozen=True).time_zone
        # What is published anew for its address alone keeps the zone of its day, and is no move back.
        return moves[-1].now if moves and froze in {each.was for each in moves} else froze
    except UserError:
        return None  # what was touched is told by whoever guards it


def _typed(kits: Path, club: Club) -> Iterator[tuple[str, str, dt.datetime]]:
    """Every moment of every kit as it is typed, with the kit and its name; of a kit that can't be read, its reveal."""
    for folder in all_folders(kits):
        try:
            kit = read_kit(folder, club)
        except UserError:
            yield from ((folder.name, REVEAL, at) for at in typed_reveals(folder))
            continue
        yield kit.id, REVEAL, kit.reveal
        if isinstance(kit, Kit):
            yield from ((kit.id, name, each.at) for name, each in kit.spec.moments.items())


def finding(kits: Path, club: Club, as_of: dt.datetime) -> Finding | None:
    """The error that stops whatever depends on a moment, until she agreed; None where nothing moves."""
    found = move(kits, club, as_of)
    return (
        None if found is None else Finding("error", club.place("time zone"), "zones.moved", was=found.was, now=found.now, moved=found.moved)
    )


def stop_if_moved(kits: Path, club: Club, as_of: dt.datetime) -> None:
    """Refuse whatever depends on a moment.

    Raises:
        UserError: the club moved to another time zone, and she has not agreed to what moves with it.
    """
    if (found := finding(kits, club, as_of)) is not None:
        raise found.raised()


def agree(kits: Path, move: Move, at: dt.datetime) -> None:
    """Note a move: from now on what is to come counts by the new zone.

    Raises:
        UserError: the ledger was touched, or the disk can't be written.
    """
    with held(kits):
        whole.stop_unless_whole(kits, "")
        atomic.change(kits, appended(kits, [ZoneMove(move.now, move.was, aware(at).replace(microsecond=0).isoformat())]))
