"""`kitwright check`: kits looked over before anybody cuts paper."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from kitwright import api
from kitwright.cli.asked import kits_of
from kitwright.cli.terminal import BAD_INPUT, FINDINGS, OK, Styled, say, tell, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Slips, UserError
from kitwright.findings import LEVELS, Finding
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.project import kit_folder
from kitwright.kit.read import kit_folders, read_club, read_kit
from kitwright.kit.theme import THEME, read_theme
from kitwright.release import whole, zonemove
from kitwright.release.people import read_people
from kitwright.telling import terminal as words


@click.command("check", cls=Worded, prints=True)
@click.argument("kits", nargs=-1, metavar="[KIT]...")
@click.option("--quiet", "-q", is_flag=True)
@click.pass_context
def command(ctx: click.Context, kits: tuple[str, ...], quiet: bool) -> None:
    home = kits_of(ctx)
    slips = Slips()
    club, people = slips.trying(read_club, home), slips.trying(read_people, home)
    slips.stop()
    folders = [kit_folder(home.parent, name) for name in kits] or kit_folders(home)
    status = OK
    moved = zonemove.finding(home, club, dt.datetime.now(dt.UTC)) if club else None
    if moved:
        tell_findings([moved], err=False)
        status = FINDINGS
    for finding in _published_beside(home, [folder.name for folder in folders]) if not kits else ():
        tell_findings([finding], err=False)
        status = FINDINGS
    if not kits:
        status = max(status, _theme(home.parent, quiet))
    for folder in folders:
        try:
            kit = read_kit(folder, club)
            found = api.check(kit, people) if isinstance(kit, Kit) else whole.of_kit(home, folder.name)
        except UserError as error:
            tell(error)
            status = BAD_INPUT
            continue
        tell_findings([f for f in found if not (quiet and f.level == "hint")], err=False)
        serious = [f for f in found if f.level != "hint"]
        status = max(status, FINDINGS if serious else OK)
        counts = {level: sum(f.level == level for f in found) for level in LEVELS}
        say(Styled(kit.id), ": ", words.PAST_CHECKED if isinstance(kit, PastKit) else words.found(counts))
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


def _published_beside(kits: Path, read: list[str]) -> list[Finding]:
    """What was published and vanished with its kit, or concerns the ledger itself: no kit that is read can tell."""
    return [f for name, told in whole.published(kits).items() if name not in read for f in told]
