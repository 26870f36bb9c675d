"""`kitwright build`: the whole site."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from kitwright.archive.audience import AUDIENCES, Audience
from kitwright.archive.report import BuildReport
from kitwright.archive.unchanged import Asked, as_it_stands
from kitwright.cli.asked import moment, now, root_of, site_folder
from kitwright.cli.schemas import renew_schemas
from kitwright.cli.terminal import refuse, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.files import real
from kitwright.kit.project import KITS
from kitwright.kit.read import read_club
from kitwright.telling import builds
from kitwright.telling import terminal as words


@click.command("build", cls=Worded)
@click.option("--out", type=click.Path(path_type=Path, file_okay=True), default=None)
@click.option("--as-of", metavar="TIME")
@click.option("--for", "audience", type=click.Choice(AUDIENCES), default="public", show_default=True)
@click.option("--on", metavar="ADDRESS")
@click.pass_context
def command(ctx: click.Context, out: Path | None, as_of: str | None, audience: Audience, on: str | None) -> None:
    root = root_of(ctx)
    target = site_folder(root, out, audience)
    # What the club says is asked only where a moment was typed; a build without one tells of it itself.
    clock = now()
    at = moment(as_of, read_club(root / KITS)) if as_of is not None else clock
    report = as_it_stands(Asked(root, real(target), audience, at, clock)) or _built(ctx, root, target, at, audience, clock, on)
    renew_schemas(root / KITS)
    tell_findings(report.warnings)
    if audience != "public":
        say(words.NOT_PUBLIC)
    if not report.kits:
        say(words.NO_MEMBERS_FILES if audience == "members" else words.NO_KITS)
    say(words.built(report.kits, report.seconds, report.index) if report.fresh else words.unchanged(report.kits, report.index))
    if audience == "public" and at < clock:
        say(builds.AS_IT_WAS)
    if report.kept:
        say(builds.kept(report.kept.name, report.kept_size))


def _built(
    ctx: click.Context, root: Path, target: Path, at: dt.datetime, audience: Audience, clock: dt.datetime, on: str | None
) -> BuildReport:
    """Build it, and show how far it is."""
    # Loaded late: where nothing changed, nothing of it is needed.
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    from kitwright.archive import build
    from kitwright.cli.tables import console

    bars = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), console=console(stderr=True), transient=True)
    try:
        with bars:
            task = bars.add_task(words.READING, total=None)

            def progress(what: str, done: int, total: int) -> None:
                bars.update(task, description=what, completed=done, total=total)

            report = build.build_archive(root, target, progress, as_of=at, audience=audience, now=clock, on=on)
    except build.BuildRefused as refused:
        refuse(ctx, refused.findings, refused)
    return report
