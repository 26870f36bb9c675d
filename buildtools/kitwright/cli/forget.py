"""`kitwright forget`: a person taken out."""

from __future__ import annotations

import click

from kitwright.cli.asked import kits_of
from kitwright.cli.terminal import FINDINGS
from kitwright.cli.worded import Worded
from kitwright.kit.read import shown
from kitwright.release import forget


@click.command("forget", cls=Worded)
@click.argument("name", metavar="NAME")
@click.option("--yes", is_flag=True)
@click.pass_context
def command(ctx: click.Context, name: str, yes: bool) -> None:
    kits = kits_of(ctx)
    person = forget.find(kits, name)
    if not yes and not click.confirm(
        f"Forget {person.spec.name}? Her folder is deleted, and “a maker” stands in her place.", default=False
    ):
        click.echo("Nothing was changed.")
        ctx.exit(FINDINGS)
    done = forget.forget(kits, person.key)
    click.echo(f"Forgotten; {len(done.written)} more files changed. Now build the site, the team's and the members' anew.")
    for old, new in done.renamed:
        click.echo(f"  renamed {old.relative_to(kits)} to {new.relative_to(kits)}")
    for place in done.left:
        click.echo(f"{place}: a part of the name stands here; look whether it means the same person", err=True)
    for path, why in done.unchanged:
        click.echo(f"{shown(path)}: not changed: {why}", err=True)
