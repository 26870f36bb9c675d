"""`kitwright brief`: text that is ready to send."""

from __future__ import annotations

import datetime as dt

import click

from kitwright.cli.asked import AS_OF, kit_of, kits_of, moment
from kitwright.cli.terminal import tell_findings
from kitwright.cli.worded import Worded
from kitwright.findings import Finding
from kitwright.kit.theme import read_theme
from kitwright.release import zonemove
from kitwright.release.people import anniversaries, read_people
from kitwright.telling.brief import WHOM, Whom, brief


@click.command("brief", cls=Worded, prints=True)
@click.argument("kit", metavar="KIT")
@click.option("--for", "whom", type=click.Choice(WHOM), required=True)
@click.option("--plain", is_flag=True)
@AS_OF
@click.pass_context
def command(ctx: click.Context, kit: str, whom: Whom, plain: bool, as_of: str | None) -> None:
    kits = kits_of(ctx)
    read = kit_of(kits.parent, kit, "told")
    zonemove.stop_if_moved(kits, read.club, dt.datetime.now(dt.UTC))
    text = brief(read, whom, read_theme(kits.parent), read_people(kits), anniversaries(kits), moment(as_of, read.club), plain=plain)
    click.echo(text, nl=False)
    if not read.club.address:
        tell_findings([Finding("hint", read.club.place(), "briefs.no-address")])
