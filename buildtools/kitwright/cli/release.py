"""`kitwright release`: a kit published as revision 1."""

from __future__ import annotations

from pathlib import Path

import click

from kitwright.cli.asked import AS_OF, kit_of, kits_of, moment
from kitwright.cli.future import tell_of_the_future
from kitwright.cli.terminal import refuse, tell_findings
from kitwright.cli.worded import Worded
from kitwright.kit.project import KITS, kit_folder
from kitwright.release import publish, revisions
from kitwright.release.adopt import adopt as take_in
from kitwright.release.ledger import LEDGER, PUBLISHED
from kitwright.release.people import findings, read_people
from kitwright.telling.words import number


@click.command("release", cls=Worded)
@click.argument("kit", metavar="KIT", required=False)
@AS_OF
@click.option("--redraw", is_flag=True)
@click.option("--adopt", is_flag=True)
@click.pass_context
def command(ctx: click.Context, kit: str | None, as_of: str | None, redraw: bool, adopt: bool) -> None:
    kits = kits_of(ctx)
    if adopt:
        _adopt(kits, kit)
        return
    if kit is None:
        raise click.UsageError("name the kit that is to be released", ctx)
    read = kit_of(kits.parent, kit, "revised")
    if redraw:
        renewed = revisions.redraw(read)
        click.echo(
            f"{read.id}: "
            + (f"noted anew for revision {', '.join(str(r.number) for r in renewed)}" if renewed else "drawn as it was published")
        )
        return
    people = read_people(kits)
    tell_findings(f for f in findings(read, people) if f.level != "hint")
    try:
        made, warnings = publish.release(read, people, moment(as_of, read.club))
    except publish.NotReady as error:
        refuse(ctx, error.findings, error)
    tell_findings(warnings)
    tell_of_the_future(made)
    click.echo(
        f"Released {read.id} as revision 1, code {made.code}. Keep {Path(KITS) / read.id / PUBLISHED} with the kit, and never edit it."
    )


def _adopt(kits: Path, kit: str | None) -> None:
    entries = take_in(kits, kit_folder(kits.parent, kit).name if kit is not None else None)
    for entry in entries:
        click.echo(f"  {entry.kit}, revision {entry.revision}, code {entry.code}, released {entry.released}")
    click.echo(
        f"Taken into {Path(KITS) / LEDGER}: {number(len(entries), 'release', 'releases')}. Keep it with the kits, and never edit it."
    )
