"""`kitwright show`: what follows from a kit."""

from __future__ import annotations

import click

from kitwright.check import errors
from kitwright.cli.asked import root_of
from kitwright.cli.tables import print_tables
from kitwright.cli.terminal import Styled, refuse, say
from kitwright.cli.worded import Worded
from kitwright.kit.kit import PastKit
from kitwright.kit.project import read_one
from kitwright.otherwise.checked import check
from kitwright.past.looking import look
from kitwright.telling.facts import tables
from kitwright.telling.past import pages_text, paper_text
from kitwright.telling.terminal import PAST_SHOWN
from kitwright.work.working import work


@click.command("show", cls=Worded, prints=True)
@click.argument("kit", metavar="KIT")
@click.pass_context
def command(ctx: click.Context, kit: str) -> None:
    read = read_one(root_of(ctx), kit)
    say(Styled(read.spec.title), f"  {read.id}")
    if isinstance(read, PastKit):
        say(PAST_SHOWN)
        if old := look([read])[0].get(read.id):
            say(f"  {pages_text(old)}, {paper_text(old)}")
        for name, value in read.spec.facts.items():
            say(f"  {name}: {value}")
        return
    worked = work(read)
    say(worked.kit.spec.summary)
    print_tables(tables(worked))
    stopping = errors(check(worked))
    if stopping:
        refuse(ctx, stopping)
