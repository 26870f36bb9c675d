"""`kitwright plan`: how the sheets are cut."""

from __future__ import annotations

import json

import click

from kitwright import api
from kitwright.cli.asked import kit_of, root_of
from kitwright.cli.terminal import FINDINGS, OK, refuse
from kitwright.cli.worded import Worded
from kitwright.errors import UserError
from kitwright.telling import cutplan


@click.command("plan", cls=Worded, prints=True)
@click.argument("kit", metavar="KIT")
@click.option("--cards", type=click.IntRange(1, 100000))
@click.option("--paper", "papers", multiple=True, metavar="NAME=SIZE")
@click.option("--one-way", "upright", multiple=True, metavar="NAME")
@click.option("--json", "as_json", is_flag=True)
@click.pass_context
def command(ctx: click.Context, kit: str, cards: int | None, papers: tuple[str, ...], upright: tuple[str, ...], as_json: bool) -> None:
    worked = api.work(kit_of(root_of(ctx), kit, "planned"))
    stopping = [f for f in worked.troubles if f.level == "error"]
    if stopping:
        refuse(ctx, stopping)
    sheets: dict[str, str] = {}
    for given in papers:
        name, equals, sheet = given.partition("=")
        if not equals:
            raise UserError("commands.which-sheet", given=given)
        if name in sheets:
            raise UserError("commands.two-sheets", paper=name)
        sheets[name] = sheet
    found = api.plan(worked, cards=cards, papers=sheets, one_way=upright)
    if as_json:
        click.echo(json.dumps(cutplan.as_json(worked, found), indent=1, ensure_ascii=False))
    else:
        click.echo("\n".join(cutplan.as_text(worked, found)).rstrip())
    ctx.exit(OK if all(report.plan for report in found) else FINDINGS)
