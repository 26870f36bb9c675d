"""`kitwright check`: kits looked over before anybody cuts paper."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click

from kitwright.cli.asked import kits_of
from kitwright.cli.terminal import BAD_INPUT, FINDINGS, OK, Styled, say, tell, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Slips, UserError
from kitwright.findings import LEVELS, Finding
from kitwright.kit.project import kit_folder
from kitwright.kit.read import Kit, PastKit, kit_folders, read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.release import whole
from kitwright.release.lookover import look_over
from kitwright.release.people import Person, read_people
from kitwright.telling import terminal as words
from kitwright.work.worked import work


@click.command("check", cls=Worded)
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
    for finding in _published_beside(home, [folder.name for folder in folders]) if not kits else ():
        tell_findings([finding], err=False)
        status = FINDINGS
    for folder in folders:
        try:
            kit = read_kit(folder, club)
            found = _everything(kit, people) if isinstance(kit, Kit) else whole.of_kit(home, folder.name)
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


def _published_beside(kits: Path, read: list[str]) -> list[Finding]:
    """What was published and vanished with its kit, or concerns the ledger itself: no kit that is read can tell."""
    return [f for name, told in whole.published(kits).items() if name not in read for f in told]


def _everything(kit: Kit, people: Mapping[str, Person]) -> list[Finding]:
    """What is found in a kit, and in whatever of it may change after its release, errors first."""
    worked = work(kit)
    return sorted(dict.fromkeys([*check(worked), *look_over(worked, people)]), key=lambda f: LEVELS.index(f.level))
