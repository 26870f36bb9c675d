"""`kitwright release`: a kit published as revision 1."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import click

from kitwright.archive import offered
from kitwright.cli.asked import AS_OF, kit_of, kits_of, moment
from kitwright.cli.future import tell_of_the_future
from kitwright.cli.terminal import refuse, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.kit.project import KITS, kit_folder
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.release import carry, publish, readdress, reform, takeback
from kitwright.release.adopt import adopt as take_in
from kitwright.release.again import AsOf
from kitwright.release.ledger import LEDGER, PUBLISHED
from kitwright.release.people import findings, read_people
from kitwright.release.whole import revision_folders
from kitwright.telling import releasing as words


@click.command("release", cls=Worded)
@click.argument("kit", metavar="[KIT]", required=False)
@AS_OF
@click.option("--adopt", is_flag=True)
@click.option("--carry-over", is_flag=True)
@click.option("--as-drawn", is_flag=True)
@click.option("--take-back", is_flag=True)
@click.option("--new-address", is_flag=True)
@click.option("--new-form", is_flag=True)
@click.pass_context
def command(
    ctx: click.Context,
    kit: str | None,
    as_of: str | None,
    adopt: bool,
    carry_over: bool,
    as_drawn: bool,
    take_back: bool,
    new_address: bool,
    new_form: bool,
) -> None:
    if as_drawn and not carry_over:
        # Else a slip would publish the kit.
        raise click.UsageError(words.ONLY_CARRIED, ctx)
    if sum((adopt, carry_over, take_back, new_address, new_form or as_of is not None)) > 1:
        raise click.UsageError(words.ONE_AT_A_TIME, ctx)
    kits = kits_of(ctx)
    if adopt:
        _adopt(kits, kit)
        return
    if carry_over:
        _carry_over(kits, kit, as_drawn)
        return
    if new_address:
        _new_address(kits, kit)
        return
    if new_form:
        _new_form(kits, kit, as_of)
        return
    if kit is None:
        raise click.UsageError(words.NAME_THE_KIT, ctx)
    read = kit_of(kits.parent, kit, "revised")
    now = dt.datetime.now(dt.UTC)
    if take_back:
        for gone in takeback.take_back(read, now):
            say(words.taken_back(read.id, gone.number, gone.code))
        say(words.BUILD_AGAIN)
        return
    as_revision_one(ctx, read, moment(as_of, read.club), takeback.unread(read, now))


def as_revision_one(ctx: click.Context, kit: Kit, as_of: dt.datetime, instead: takeback.Instead) -> None:
    """Publish a kit as revision 1, and take back for it what nobody could have had yet."""
    people = read_people(kit.folder.parent)
    tell_findings(f for f in findings(kit, people) if f.level != "hint")
    try:
        made, warnings = publish.release(kit, people, as_of, offered.offered, instead)
    except publish.NotReady as error:
        refuse(ctx, error.findings, error)
    tell_findings(warnings)
    tell_of_the_future(made)
    say(words.released(kit.id, made.code, Path(KITS) / kit.id / PUBLISHED))
    tell_what_was_replaced(instead)


def tell_what_was_replaced(instead: takeback.Instead) -> None:
    """What was taken back for what was just published."""
    for gone in instead.revisions:
        say(words.replaced(gone.number, gone.code))
    if instead.revisions:
        say(words.BUILD_AGAIN)


def _adopt(kits: Path, kit: str | None) -> None:
    entries = take_in(kits, kit_folder(kits.parent, kit).name if kit is not None else None)
    for entry in entries:
        say(words.taken_in(entry.kit, entry.revision, entry.code, entry.released))
    say(words.all_taken_in(Path(KITS) / LEDGER, len(entries)))


def _released(kits: Path, club: Club, kit: str | None = None) -> Iterator[Kit]:
    """The named kit, or every one, where anything of it was released."""
    folders = [kit_folder(kits.parent, kit)] if kit is not None else kit_folders(kits)
    return (found for folder in folders if revision_folders(folder) and isinstance(found := read_kit(folder, club), Kit))


def _new_form(kits: Path, kit: str | None, as_of: str | None) -> None:
    now, club = dt.datetime.now(dt.UTC), read_club(kits)
    clock = AsOf(moment(as_of, club), now)
    # Of a kit that is named, it is told why not.
    anew = (
        (reform.reformed(kit_of(kits.parent, kit, "revised"), clock, offered.offered),)
        if kit is not None
        else reform.all_reformed(_released(kits, club), clock, offered.offered)
    )
    done = 0
    for made in anew:
        tell_of_the_future(made)
        say(words.readdressed(made.kit, made.number, made.code))
        done += 1
    say(words.all_reformed(done))


def _new_address(kits: Path, kit: str | None) -> None:
    now, club = dt.datetime.now(dt.UTC), read_club(kits)
    read = _released(kits, club, kit)
    done = 0
    for made in readdress.readdressed(read, now, now, offered.offered):
        say(words.readdressed(made.kit, made.number, made.code))
        done += 1
    say(words.all_readdressed(done, club.address))


def _carry_over(kits: Path, kit: str | None, as_drawn: bool) -> None:
    done, warnings = carry.carry_over(
        kits, offered.offered, kit_folder(kits.parent, kit).name if kit is not None else None, as_drawn=as_drawn
    )
    tell_findings(warnings)
    for one in done:
        say(words.carried(one.kit, one.revision, one.files))
    say(words.all_carried(len(done)))
