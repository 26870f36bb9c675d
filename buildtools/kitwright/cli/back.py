"""`kitwright back`: the site before, in place again."""

from __future__ import annotations

from pathlib import Path

import click

from kitwright.archive import before
from kitwright.archive.build import check_target
from kitwright.archive.built import Built
from kitwright.cli.asked import root_of, site_folder
from kitwright.cli.terminal import say
from kitwright.cli.worded import Worded
from kitwright.errors import UserError
from kitwright.files import held, real
from kitwright.kit.clock import zone
from kitwright.kit.project import KITS
from kitwright.kit.read import read_club
from kitwright.telling import builds as words


@click.command("back", cls=Worded)
@click.option("--out", type=click.Path(path_type=Path, file_okay=True), default=None)
@click.pass_context
def command(ctx: click.Context, out: Path | None) -> None:
    root = root_of(ctx)
    site = real(site_folder(root, out))
    # A build that is at work puts its site in place at its end.
    with held(root / KITS):
        check_target(site, root)
        done = before.back(site)
    time_zone = _zone(root)
    say(words.put_back(_told(done.to, time_zone), _told(done.was, time_zone) if done.was else ""))
    if done.was:
        for line in words.compared(done.was.kits, done.to.kits):
            say(line)
    say(words.after_back(site.name))


def _told(one: Built, time_zone: str) -> str:
    built, moment = (at.astimezone(zone(time_zone)) if at else None for at in (one.at, one.moment))
    return words.which(built, moment, len(one.kits) if one.kits is not None else None)


def _zone(root: Path) -> str:
    """The club's, as far as it can be read: what is wrong with the kits must not stand in the way."""
    try:
        return read_club(root / KITS).time_zone
    except UserError:
        return "UTC"
