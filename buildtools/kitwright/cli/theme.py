"""`kitwright theme`: which files of her theme stand over the program's, and what the program's have outgrown."""

from __future__ import annotations

from importlib.metadata import version

import click

from kitwright.archive import taking
from kitwright.archive.themed import slips_of
from kitwright.cli.asked import root_of
from kitwright.cli.terminal import FINDINGS, OK, Styled, say
from kitwright.cli.worded import Worded
from kitwright.errors import UserError
from kitwright.kit.theme import THEME, read_theme
from kitwright.telling import theme as words

COLOURS = {"+": "green", "-": "red", "@": "cyan"}


@click.command("theme", cls=Worded, prints=True)
@click.argument("files", nargs=-1, metavar="[FILE]...")
@click.option("--take", "act", flag_value="take")
@click.option("--mine", "act", flag_value="mine")
@click.option("--done", "act", flag_value="done")
@click.pass_context
def command(ctx: click.Context, files: tuple[str, ...], act: str | None) -> None:
    root = root_of(ctx)
    if act is not None and not files:
        raise UserError("theme.name-a-file")
    theme = read_theme(root)
    if files:
        taking.refuse_own(root)
    if not files:
        standing = theme.standings
        slips = dict(slips_of(theme))
        for line in words.listing(standing, slips, {name: origin.version for name, origin in theme.taken.items()}):
            say(line)
        if taking.is_own(root):
            say(words.KITWRIGHTS_OWN)
        elif not theme.files:
            for line in words.can_be_taken(taking.names(theme)):
                say(line)
        ctx.exit(FINDINGS if slips or {"outgrown", "unrecorded", "gone"} & {*standing.values()} else OK)
    names = [taking.name_of(theme, typed) for typed in files]
    if act == "take":
        taking.take(root, names, version("kitwright"))
        say(words.took([f"{THEME}/{name}" for name in names]))
    elif act == "done":
        taking.done(root, names, version("kitwright"))
        say(words.looked_at(names))
    else:
        for name in names:
            told, lines = taking.difference(theme, name, mine=act == "mine")
            say(words.compared(name, told))
            for line in lines:
                say(Styled(line, COLOURS.get(line[:1]), bold=False))
