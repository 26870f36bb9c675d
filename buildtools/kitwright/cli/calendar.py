"""`kitwright calendar`: what is due when."""

from __future__ import annotations

import datetime as dt
import sys
from functools import partial
from pathlib import Path

import click

from kitwright.archive.ics import calendar_text, write_calendar
from kitwright.cli.asked import AS_OF, kits_of, moment
from kitwright.cli.terminal import FINDINGS, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Place, UserError
from kitwright.files import real
from kitwright.findings import Finding
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.kit.project import SITE
from kitwright.kit.read import all_folders, check_folder, read_club, read_kit
from kitwright.release import calendar, zonemove
from kitwright.release.record import released
from kitwright.release.upcoming import read_or_left
from kitwright.telling import terminal as words
from kitwright.telling.releasing import LET_MOVE, NOTHING_WRITTEN, zone_move
from kitwright.work.working import said


@click.command("calendar", cls=Worded, prints=True)
@AS_OF
@click.option("--ics", type=click.Path(path_type=Path, dir_okay=False), default=None, metavar="FILE")
@click.option("--agree", is_flag=True)
@click.pass_context
def command(ctx: click.Context, as_of: str | None, ics: Path | None, agree: bool) -> None:
    kits = kits_of(ctx)
    club = read_club(kits)
    _moved(ctx, kits, club, agree)
    now = moment(as_of, club)
    folders = all_folders(kits)

    def one(folder: Path) -> Kit | PastKit:
        check_folder(folder, folders)
        kit = read_kit(folder, club)
        return said(kit) if isinstance(kit, Kit) else kit

    # A kit that is half typed takes nothing away from the others while it is not due.
    found = [read_or_left(folder, club, now, partial(one, folder)) for folder in folders]
    read = [kit for kit in found if not isinstance(kit, Finding)]
    tell_findings(left for left in found if isinstance(left, Finding))
    if ics is not None:
        if real(ics).is_relative_to(real(kits.parent / SITE)):
            raise UserError("calendar.in-site", place=Place(ics))
        write_calendar(ics, calendar_text(club, read))
    tell_findings(f for kit in read if isinstance(kit, Kit) for f in calendar.findings(kit, club))
    every = sorted((d for kit in read for d in calendar.moments(kit, club)), key=lambda d: (d.at, d.kit, d.name))
    done = {kit.id: bool(released(kit)) for kit in read if isinstance(kit, Kit)}
    clock = ""
    for each in every:
        if clock != (clock := str(each.local.tzinfo)):
            # Anew where the club moved to other clocks.
            say(words.clock_of(clock))
        missing = each.name == calendar.REVEAL and not done.get(each.kit, True)
        say(words.due(each.local, each.at <= now, each.kit, each.name, missing))
    if ics is not None:
        say(words.wrote(ics))


def _moved(ctx: click.Context, kits: Path, club: Club, agree: bool) -> None:
    """Where the club moved to another time zone: what moves with it, and whether she agrees."""
    now = dt.datetime.now(dt.UTC)
    move = zonemove.move(kits, club, now)
    if move is None:
        if agree:
            raise UserError("zones.not-moved", place=club.place("time zone"))
        return
    for line in zone_move(move):
        say(line)
    if not agree:
        if not _at_a_terminal():
            zonemove.stop_if_moved(kits, club, now)
        if not click.confirm(LET_MOVE, default=False):
            say(NOTHING_WRITTEN)
            ctx.exit(FINDINGS)
    zonemove.agree(kits, move, now)


def _at_a_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()
