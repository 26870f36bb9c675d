"""`kitwright draw`: one kit's printables and pictures into a folder."""

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


@click.command("draw", cls=Worded)
@click.argument("kit", metavar="KIT")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default=None)
@click.pass_context
def command(ctx: click.Context, kit: str, out: Path | None) -> None:
    root = root_of(ctx)
    with cache.using(root / cache.FOLDER) as store:
        read = kit_of(root, kit, "drawn")
        name = f"{read.id}-drawn"
        folder = folder_for(root, out, name)
        apart.free(folder)
        home = read.folder.parent
        key = cache.digest(read.folder, folder_digest(read.folder), read.club, folder_digest(home / PEOPLE), file_digest(home / LEDGER))
        files = apart.kept(key)
        if files is None:
            files = apart.drawn(as_it_is(ctx, read, store))
            apart.keep(key, files)
    say(words.drawn(len(files), apart.write(folder, files), folder))
