"""`kitwright erratum`: a correction published."""

from __future__ import annotations

import click

from kitwright.archive import offered
from kitwright.cli.asked import AS_OF, kit_of, kits_of, moment
from kitwright.cli.future import tell_of_the_future
from kitwright.cli.terminal import FINDINGS, refuse, tell_findings
from kitwright.cli.worded import Worded
from kitwright.release import errata
from kitwright.release.people import read_people
from kitwright.release.publish import NotReady
from kitwright.telling.changes import GRADE_WORDS
from kitwright.telling.errata import draft_lines, group_lines


@click.command("erratum", cls=Worded)
@click.argument("kit", metavar="KIT")
@click.option("--spotted-by", metavar="NAME")
@click.option("--thank/--no-thank", default=None)
@click.option("--advice", metavar="TEXT")
@AS_OF
@click.option("--yes", is_flag=True)
@click.pass_context
def command(
    ctx: click.Context, kit: str, spotted_by: str | None, thank: bool | None, advice: str | None, as_of: str | None, yes: bool
) -> None:
    kits = kits_of(ctx)
    read, people = kit_of(kits.parent, kit, "revised"), read_people(kits)
    try:
        made = errata.draft(read, people)
    except NotReady as error:
        refuse(ctx, error.findings, error)
    tell_findings(made.warnings)
    click.echo(f"{read.id}, revision {made.number} mends revision {made.revision.number}:")
    for line in draft_lines(made):
        click.echo(f"  {line}")
    click.echo(f"In all: {GRADE_WORDS[made.grade]}.")
    for line in group_lines(made):
        click.echo(line)
    if not yes:
        if spotted_by is None:
            spotted_by = click.prompt("Who spotted it? (empty: nobody to name)", default="", show_default=False).strip() or None
        if spotted_by and thank is None:
            thank = click.confirm(f"Did {spotted_by} agree to be thanked by name?", default=False)
        if advice is None:
            advice = click.prompt("What to do with pieces already cut? (empty: what the grade says)", default="", show_default=False)
        if not click.confirm(f"Publish this as revision {made.number}?", default=False):
            click.echo("Nothing was written.")
            ctx.exit(FINDINGS)
    new = errata.publish_erratum(made, moment(as_of, read.club), offered.offered, advice or "", spotted_by, bool(thank), kits, people)
    tell_of_the_future(new)
    click.echo(f"Published revision {new.number} of {read.id}, code {new.code}.")
