"""`kitwright check`: kits looked over before anybody cuts paper."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from kitwright import api
from kitwright.check.colours import of_club
from kitwright.cli.asked import kits_of
from kitwright.cli.terminal import BAD_INPUT, FINDINGS, OK, Styled, say, tell, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Slips, UserError
from kitwright.findings import LEVELS, Finding
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.loose import loose_in
from kitwright.kit.project import kit_folder
from kitwright.kit.read import all_folders, check_folder, look_at_club, look_at_kit
from kitwright.kit.theme import THEME, read_theme
from kitwright.past.looking import look, loose
from kitwright.release import whole, zonemove
from kitwright.release.lookover import portraits
from kitwright.release.people import anniversaries, keys_on_file, read_people
from kitwright.telling import terminal as words


@click.command("check", cls=Worded, prints=True)
@click.argument("kits", nargs=-1, metavar="[KIT]...")
@click.option("--quiet", "-q", is_flag=True)
@click.pass_context
def command(ctx: click.Context, kits: tuple[str, ...], quiet: bool) -> None:
    home = kits_of(ctx)
    slips = Slips()
    club, people = look_at_club(home, slips), slips.trying(read_people, home)
    slips.trying(anniversaries, home)
    # What is wrong with the club hides nothing of the kits, but nothing can be worked out for it.
    sound = not slips.errors
    folders = slips.trying(_folders, home, kits) or []
    status = OK
    moved = zonemove.finding(home, club, dt.datetime.now(dt.UTC)) if club and sound else None
    if moved:
        tell_findings([moved], err=False)
        status = FINDINGS
    if club and sound and not kits and not quiet:
        tell_findings(of_club(club), err=False)
    beside = [] if kits else [*_published_beside(home, [folder.name for folder in folders]), *loose(loose_in(home), home)]
    for finding in beside:
        tell_findings([finding], err=False)
        status = FINDINGS
    told = portraits(people) if sound and people and not kits else []
    tell_findings(told, err=False)
    status = FINDINGS if told else status
    if not kits:
        status = max(status, _theme(home.parent, quiet))
    twins: set[str] = set()
    # Years of them would push what is found off the screen.
    old = 0
    for folder in folders:
        before = len(slips.errors)
        if not kits and folder.name.casefold() not in twins:
            slips.trying(check_folder, folder, folders)
            twins |= {folder.name.casefold()} if len(slips.errors) > before else set()
        if folder.name.casefold() in twins:
            continue
        kit = look_at_kit(folder, club, slips, keys_on_file(home))
        if kit is None or not sound or len(slips.errors) > before:
            continue
        found = slips.trying(api.check, kit, people) if isinstance(kit, Kit) else slips.trying(_old, home, kit)
        if found is None:
            continue
        found = [f for f in found if f not in told]
        tell_findings([f for f in found if not (quiet and f.level == "hint")], err=False)
        serious = [f for f in found if f.level != "hint"]
        status = max(status, FINDINGS if serious else OK)
        if not kits and not found and isinstance(kit, PastKit):
            old += 1
            continue
        counts = {level: sum(f.level == level for f in found) for level in LEVELS}
        say(Styled(kit.id), ": ", words.old_found(counts) if isinstance(kit, PastKit) else words.found(counts))
    if old:
        say(words.old_sound(old))
    try:
        slips.stop()
    except UserError as error:
        tell(error)
        status = BAD_INPUT
    ctx.exit(status)


def _theme(root: Path, quiet: bool) -> int:
    """What is the matter with her own theme; the status that follows."""
    if not (root / THEME).exists():
        return OK
    # Loaded late: most look at kits alone.
    from kitwright.archive.themed import look_over, refuse_faults

    try:
        theme = read_theme(root)
        refuse_faults(theme)
    except UserError as error:
        tell(error)
        return BAD_INPUT
    found = [f for f in look_over(theme) if not (quiet and f.level == "hint")]
    tell_findings(found, err=False)
    return FINDINGS if any(f.level != "hint" for f in found) else OK


def _folders(kits: Path, named: tuple[str, ...]) -> list[Path]:
    return [kit_folder(kits.parent, name) for name in named] or all_folders(kits)


def _old(home: Path, kit: PastKit) -> list[Finding]:
    """What is found of a past kit: whether anybody can open its printable."""
    return [*whole.of_kit(home, kit.id), *look([kit])[1]]


def _published_beside(kits: Path, read: list[str]) -> list[Finding]:
    """What was published and vanished with its kit, or concerns the ledger itself: no kit that is read can tell."""
    return [f for name, told in whole.published(kits).items() if name not in read for f in told]
