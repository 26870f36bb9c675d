"""`kitwright forget`: a person taken out."""

from __future__ import annotations

import click

from kitwright.archive import offered
from kitwright.cli.asked import kits_of
from kitwright.cli.terminal import FINDINGS, say
from kitwright.cli.worded import Worded
from kitwright.kit.read import shown
from kitwright.release import forget
from kitwright.telling import people as words
from kitwright.telling.terminal import NOTHING_CHANGED


@click.command("forget", cls=Worded)
@click.argument("name", metavar="NAME")
@click.option("--yes", is_flag=True)
@click.pass_context
def command(ctx: click.Context, name: str, yes: bool) -> None:
    kits = kits_of(ctx)
    person = forget.find(kits, name)
    if not yes and not click.confirm(words.forget_her(person.spec.name), default=False):
        say(NOTHING_CHANGED)
        ctx.exit(FINDINGS)
    done = forget.forget(kits, person.key, offered.offered)
    say(words.forgotten(len(done.written)))
    for old, new in done.renamed:
        say(words.renamed(old.relative_to(kits), new.relative_to(kits)))
    for place in done.left:
        say(words.part_left(place), err=True)
    for one in done.unchanged:
        say(words.kept(shown(one.file), one.why, one.pictures), err=True)
