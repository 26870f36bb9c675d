"""`kitwright build`: the whole site."""

from __future__ import annotations

from pathlib import Path

import click
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from kitwright.archive import build
from kitwright.archive.audience import AUDIENCES, FOLDERS, Audience
from kitwright.cli.asked import moment, now, root_of
from kitwright.cli.schemas import renew_schemas
from kitwright.cli.tables import console
from kitwright.cli.terminal import refuse, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Place, UserError
from kitwright.files import real
from kitwright.kit.project import KITS
from kitwright.kit.read import read_club
from kitwright.telling import terminal as words


@click.command("build", cls=Worded)
@click.option("--out", type=click.Path(path_type=Path, file_okay=True), default=None)
@click.option("--as-of", metavar="TIME")
@click.option("--for", "audience", type=click.Choice(AUDIENCES), default="public", show_default=True)
@click.pass_context
def command(ctx: click.Context, out: Path | None, as_of: str | None, audience: Audience) -> None:
    root = root_of(ctx)
    target = (out or root / FOLDERS[audience]).absolute()
    if out is None and not real(target).is_relative_to(root):
        raise UserError("commands.site-elsewhere", name=target.name, place=Place(target))
    # What the club says is asked only where a moment was typed; a build without one tells of it itself.
    clock = now()
    at = moment(as_of, read_club(root / KITS)) if as_of is not None else clock
    bars = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), console=console(stderr=True), transient=True)
    try:
        with bars:
            task = bars.add_task(words.READING, total=None)

            def progress(what: str, done: int, total: int) -> None:
                bars.update(task, description=what, completed=done, total=total)

            report = build.build_archive(root, target, progress, as_of=at, audience=audience, now=clock)
    except build.BuildRefused as refused:
        refuse(ctx, refused.findings, refused)
    renew_schemas(root / KITS)
    tell_findings(report.warnings)
    if audience != "public":
        say(words.NOT_PUBLIC)
    say(words.built(report.kits, report.seconds, report.index))
