"""`kitwright arrange`: how else the same pieces can go."""

from __future__ import annotations

import json

import click

from kitwright.check import errors
from kitwright.errors import UserError
from kitwright.kit.project import read_one
from kitwright.kit.read import PastKit
from kitwright.otherwise.checked import check
from kitwright.work.worked import work


def register(cli: click.Group) -> None:
    """Add the command to the group."""
    cli.add_command(arrange_command)


@click.command(
    name="arrange", epilog="\b\nExamples:\n  kitwright arrange 2027-03-river-stones\n  kitwright arrange 2027-03-river-stones --json"
)
@click.argument("kit", metavar="KIT")
@click.option("--json", "as_json", is_flag=True, help="Print plain data instead of text.")
@click.pass_context
def arrange_command(ctx: click.Context, kit: str, as_json: bool) -> None:
    """Print how else the same pieces can go: how many ways, which are one card, and sets for the batch.

    The sets are chosen from the pieces that the sheets really yield. What the kit lets
    vary besides the order, such as the fold, is worked out and checked like the card itself.
    """
    from kitwright.cli import FINDINGS, console, root_of, tell_findings
    from kitwright.otherwise.arrangements import arrangements_of, words

    read = read_one(root_of(ctx), kit)
    if isinstance(read, PastKit):
        raise UserError(f"{read.id} is a past kit: only its old printable exists, so nothing can be arranged")
    worked = work(read)
    stopping = errors(check(worked))
    if stopping:
        tell_findings(stopping, console(stderr=True))
        ctx.exit(FINDINGS)
    found = arrangements_of(worked)
    if as_json:
        click.echo(json.dumps(words.as_json(found), indent=1, ensure_ascii=False))
    else:
        click.echo("\n".join(words.as_text(found)))
