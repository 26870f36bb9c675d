"""`kitwright cutfiles`: a kit's cut files into a folder."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import click

from kitwright.archive.cutters import names_released
from kitwright.cli.asked import folder_for, kit_of, root_of, sound
from kitwright.cli.terminal import say
from kitwright.cli.worded import Worded
from kitwright.cutfiles import MATS, cut_files, mat_named
from kitwright.cutfiles.folder import write
from kitwright.cutfiles.mats import RIM
from kitwright.errors import UserError
from kitwright.kit.model import FoldLines
from kitwright.telling import terminal as words
from kitwright.units import parse_length


@click.command("cutfiles", cls=Worded)
@click.argument("kit", metavar="KIT")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default=None)
@click.option("--mat", "mats", multiple=True, metavar="SIZE")
@click.option("--margin", metavar="LENGTH")
@click.option("--gap", metavar="LENGTH")
@click.option("--folds", type=click.Choice(get_args(FoldLines)))
@click.pass_context
def command(
    ctx: click.Context, kit: str, out: Path | None, mats: tuple[str, ...], margin: str | None, gap: str | None, folds: FoldLines | None
) -> None:
    root = root_of(ctx)
    read = kit_of(root, kit, "cut")
    if read.spec.cut_files == "none":
        raise UserError("commands.no-cut-files", kit=read.id, place=read.place("cut files"))
    unit = read.spec.unit
    chosen = [mat_named(text, unit) for text in mats] or MATS
    files = cut_files(
        sound(ctx, read),
        chosen,
        parse_length(margin, unit, allow_zero=True) if margin is not None else RIM,
        parse_length(gap, unit, allow_zero=True) if gap is not None else None,
        folds,
        names_released(read),
    )
    for mat in chosen if mats else ():
        if not any(path.startswith(f"layouts/{mat.key}/") for path in files):
            raise UserError("commands.mat-too-small", kit=read.id, mat=mat.size, unit=unit)
    name = f"{read.id}-cut-files"
    folder = folder_for(root, out, name)
    write(folder, files)
    say(words.cut_files(len(files), folder))
