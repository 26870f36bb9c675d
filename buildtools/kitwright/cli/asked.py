"""What a command is asked about: the folder of kits, a kit, a moment."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

import click

from kitwright.archive.audience import FOLDERS, Audience
from kitwright.cli.terminal import refuse
from kitwright.errors import Place, UserError
from kitwright.files import real
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.kit.project import KITS, find_root, read_one
from kitwright.kit.read import shown
from kitwright.release import atomic
from kitwright.telling.wrong.commands import Purpose

if TYPE_CHECKING:
    from kitwright.cache import Store
    from kitwright.work.worked import Worked

AS_OF = click.option("--as-of", metavar="TIME")


def root_of(ctx: click.Context) -> Path:
    """The folder that holds `kits/`, after a change that was cut short has been finished."""
    root = real(ctx.obj) if ctx.obj else find_root(Path.cwd())
    atomic.finish(root / KITS)
    return root


def kits_of(ctx: click.Context) -> Path:
    """The folder of kits, after a change that was cut short has been finished."""
    return root_of(ctx) / KITS


def site_folder(root: Path, out: Path | None, audience: Audience = "public") -> Path:
    """The folder of a site: what was typed, or where it goes when nothing else is asked for.

    Raises:
        UserError: nothing was typed, and its place is a link out of the archive.
    """
    target = (out or root / FOLDERS[audience]).absolute()
    if out is None and not real(target).is_relative_to(root):
        raise UserError("commands.site-elsewhere", name=target.name, place=Place(target))
    return target


def folder_for(root: Path, out: Path | None, name: str) -> Path:
    """The folder of what a command writes of one kit: what was typed, else one of this name; from anywhere inside an archive at its top.

    Raises:
        UserError: it was typed, and lies among the kits, where it would be taken for one.
    """
    if out is None:
        return shown(root / name) if Path.cwd().resolve().is_relative_to(root) else Path(name)
    if real(root / KITS) in (real(out.absolute()), real(out.absolute()).parent):
        raise UserError("commands.among-the-kits", place=Place(out), name=name)
    return out


def kit_of(root: Path, name: str, asked: Purpose) -> Kit:
    """A kit by its id or path.

    Args:
        root: the folder that holds `kits/`.
        name: what was typed.
        asked: what is asked of it that a past kit can't do.

    Raises:
        UserError: there is none, or it is a past kit.
    """
    read = read_one(root, name)
    if not isinstance(read, Kit):
        raise UserError("commands.past-kit", kit=read.id, asked=asked)
    return read


def sound(ctx: click.Context, kit: Kit) -> Worked:
    """A kit worked out, when its checks find no error; else these are told, and the command ends."""
    # Loaded late: most commands work nothing out.
    from kitwright.check import errors
    from kitwright.otherwise.checked import check
    from kitwright.work.working import work

    worked = work(kit)
    stopping = errors(check(worked))
    if stopping:
        refuse(ctx, stopping)
    return worked


def as_it_is(ctx: click.Context, kit: Kit, store: Store) -> Worked:
    """A kit as it stands, to be drawn; errors that would stop a build are told, and end the command."""
    # Loaded late: what was drawn before is only copied.
    from kitwright.check import errors
    from kitwright.otherwise.checked import check
    from kitwright.release.lookover import look_over
    from kitwright.release.people import read_people
    from kitwright.release.revisions import as_it_stands

    now = as_it_stands(kit)
    stopping = errors([*look_over(now, read_people(kit.folder.parent), draft=True), *check(now)])
    if stopping:
        store.withdraw()
        refuse(ctx, stopping)
    return now


def now() -> dt.datetime:
    """What the clock says."""
    return dt.datetime.now(dt.UTC)


def moment(as_of: str | None, club: Club) -> dt.datetime:
    """The moment that counts: what was asked for, else now."""
    from kitwright.release.calendar import read_time

    # An empty text is no “now”: a script whose variable is empty would publish at once.
    return read_time(as_of, club) if as_of is not None else now()
