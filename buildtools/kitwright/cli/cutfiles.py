"""`kitwright cutfiles`: a kit's cut files into a folder."""

from __future__ import annotations

from pathlib import Path

import click

from kitwright.errors import Place, UserError
from kitwright.files import nearest, put_folder, real, trouble, workshop
from kitwright.kit.project import read_one
from kitwright.kit.read import PastKit
from kitwright.units import parse_length, size_text


def register(cli: click.Group) -> None:
    """Add the command."""
    cli.add_command(cutfiles_command)


@click.command(
    name="cutfiles",
    epilog="""\b
Examples:
  kitwright cutfiles 2027-03-river-stones
  kitwright cutfiles 2027-03-river-stones --mat 12x24 --mat A4
  kitwright cutfiles 2027-03-river-stones --out cut --margin 1/2 --gap 1/8""",
)
@click.argument("kit", metavar="KIT")
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="The folder to write; the kit's id with -cut-files where you stand, when left out.",
)
@click.option(
    "--mat", "mats", multiple=True, metavar="SIZE", help="A cutting mat by its measure: 12x12, 12x24, A4. Several may be asked for."
)
@click.option("--margin", metavar="LENGTH", help="The mat's rim where nothing is cut; a quarter of an inch when left out.")
@click.option(
    "--gap", metavar="LENGTH", help="Between neighbours; a sixteenth of an inch, or none where that spares a sheet, when left out."
)
@click.pass_context
def cutfiles_command(ctx: click.Context, kit: str, out: Path | None, mats: tuple[str, ...], margin: str | None, gap: str | None) -> None:
    """Write cut files for electronic cutters: SVG and DXF at true size, for each piece and set out on cutting mats.

    A folder that already holds cut files is written anew; any other that is not empty is
    left as it is.
    """
    from kitwright.check import errors
    from kitwright.cli import FINDINGS, console, root_of, tell_findings
    from kitwright.cutfiles import MATS, cut_files, mat_named
    from kitwright.cutfiles.mats import RIM
    from kitwright.otherwise.checked import check
    from kitwright.telling.words import number
    from kitwright.work.worked import work

    read = read_one(root_of(ctx), kit)
    if isinstance(read, PastKit):
        raise UserError(f"{read.id} is a past kit: only its old printable exists, so there is nothing to cut")
    if read.spec.cut_files == "none":
        raise UserError(f"{read.id} says  cut files: none", "change that line to public or members", read.place("cut files"))
    unit = read.spec.unit
    chosen = [mat_named(text, unit) for text in mats] or MATS
    worked = work(read)
    stopping = errors(check(worked))
    if stopping:
        tell_findings(stopping, console(stderr=True))
        ctx.exit(FINDINGS)
    files = cut_files(
        worked,
        chosen,
        parse_length(margin, unit, allow_zero=True) if margin is not None else RIM,
        parse_length(gap, unit, allow_zero=True) if gap is not None else None,
    )
    for mat in chosen if mats else ():
        if not any(path.startswith(f"layouts/{mat.key}/") for path in files):
            raise UserError(f"no piece of {read.id} fits on a mat of {size_text(mat.size, unit)}", "choose a larger one")
    folder = out or Path(f"{read.id}-cut-files")
    write(folder, files)
    console().print(
        f"Wrote {number(len(files), 'file', 'files')} to {folder}. Begin with contents.txt there.", soft_wrap=True, markup=False
    )


def write(folder: Path, files: dict[str, bytes]) -> None:
    """Put the files in a folder, whole or not at all.

    Raises:
        UserError: the folder holds something else, or can't be written.
    """
    folder = real(folder)
    try:
        _only_ours(folder)
        with workshop(nearest(folder.parent)) as shop:
            made = shop / "cut-files"
            for path, data in files.items():
                (made / path).parent.mkdir(parents=True, exist_ok=True)
                (made / path).write_bytes(data)
            _only_ours(folder)
            put_folder(made, folder)
    except OSError as error:
        raise trouble(error, "the cut files can't be written", "what stood there stands there still", folder) from None


def _only_ours(folder: Path) -> None:
    """Refuse to replace what is no cut files of ours."""
    from kitwright.cutfiles.contents import FIRST_LINE
    from kitwright.cutfiles.make import CONTENTS

    if folder.is_symlink() or folder.exists() and not folder.is_dir():
        raise UserError("this is no folder", "give a folder with --out", Place(folder))
    if folder.exists() and any(folder.iterdir()):
        mark = folder / CONTENTS
        if not (mark.is_file() and mark.read_bytes().startswith(FIRST_LINE.encode())):
            raise UserError("this folder holds something other than cut files", "choose an empty or a new one with --out", Place(folder))
