"""`kitwright arrange`: how else the same pieces can go."""

from __future__ import annotations

import json

import click

from kitwright.cli.asked import kit_of, root_of, sound
from kitwright.cli.worded import Worded
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.telling import arranging


@click.command("arrange", cls=Worded, prints=True)
@click.argument("kit", metavar="KIT")
@click.option("--json", "as_json", is_flag=True)
@click.pass_context
def command(ctx: click.Context, kit: str, as_json: bool) -> None:
    found = [arrangements_of(design) for design in sound(ctx, kit_of(root_of(ctx), kit, "arranged")).designs]
    if as_json:
        click.echo(json.dumps(arranging.every_as_json(found), indent=1, ensure_ascii=False))
    else:
        click.echo("\n".join(line for i, one in enumerate(found) for line in (*[""] * bool(i), *arranging.as_text(one))))
