"""`kitwright pictures`: the finished cards as pictures for the video and for posts, into a folder."""

from __future__ import annotations

from pathlib import Path

import click

from kitwright import cache
from kitwright.archive import apart
from kitwright.archive.inputs import file_digest, folder_digest
from kitwright.cli.asked import as_it_is, folder_for, kit_of, root_of
from kitwright.cli.terminal import say
from kitwright.cli.worded import Worded
from kitwright.release.ledger import LEDGER
from kitwright.release.people import PEOPLE
from kitwright.telling import terminal as words


@click.command("pictures", cls=Worded)
@click.argument("kit", metavar="KIT")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default=None)
@click.option("--ratio", "ratios", multiple=True, metavar="RATIO")
@click.option("--design", metavar="NAME", default="")
@click.option("--look", metavar="NAME", default="")
@click.option("--ground", metavar="COLOUR", default=None)
@click.option("--title", is_flag=True)
@click.option("--words", "own", metavar="TEXT", default=None)
@click.option("--with-scans", "scans", is_flag=True)
@click.pass_context
def command(
    ctx: click.Context,
    kit: str,
    out: Path | None,
    ratios: tuple[str, ...],
    design: str,
    look: str,
    ground: str | None,
    title: bool,
    own: str | None,
    scans: bool,
) -> None:
    from kitwright.archive.elsewhere import choice_of, pictures_elsewhere

    root = root_of(ctx)
    with cache.using(root / cache.FOLDER) as store:
        read = kit_of(root, kit, "pictured")
        choice = choice_of(read, ratios, design, look, ground, title, own, scans)
        name = f"{read.id}-pictures"
        folder = folder_for(root, out, name)
        apart.free(folder, apart.SHOWN)
        home = read.folder.parent
        people, ledger = folder_digest(home / PEOPLE), file_digest(home / LEDGER)
        key = cache.digest("elsewhere", read.folder, folder_digest(read.folder), read.club, people, ledger, choice)
        files = apart.kept(key)
        if files is None:
            files = pictures_elsewhere(as_it_is(ctx, read, store), choice)
            apart.keep(key, files)
    say(words.drawn(len(files), apart.write(folder, files, apart.SHOWN, choice.whole), folder))
