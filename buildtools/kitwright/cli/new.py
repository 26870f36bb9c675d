"""`kitwright new`: a starter kit."""

from __future__ import annotations

from pathlib import Path

import click

from kitwright.archive.starter import write_starter
from kitwright.cli.asked import kits_of
from kitwright.cli.schemas import renew_schemas
from kitwright.cli.terminal import say
from kitwright.cli.worded import Worded
from kitwright.telling.terminal import new_kit


@click.command("new", cls=Worded)
@click.argument("name", metavar="YYYY-MM-SHORT-NAME")
@click.option("--title")
@click.option("--from", "question", type=click.Path(path_type=Path), metavar="FILE")
@click.pass_context
def command(ctx: click.Context, name: str, title: str | None, question: Path | None) -> None:
    if question is not None:
        # Loaded late: a starter needs no search.
        from kitwright.cli.propose import first_of

        first_of(ctx, question, name, title)
        return
    kits = kits_of(ctx)
    folder = write_starter(kits, name, title)
    renew_schemas(kits)
    say(new_kit(folder.name))
