"""`kitwright preview`: the site in a browser, while it is written."""

from __future__ import annotations

import click
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from kitwright.archive.preview import preview
from kitwright.cli.asked import root_of
from kitwright.cli.tables import console
from kitwright.cli.worded import Worded


@click.command("preview", cls=Worded)
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True)
@click.pass_context
def command(ctx: click.Context, port: int) -> None:
    root, screen = root_of(ctx), console(stderr=True)
    if not screen.is_terminal:
        preview(root, port=port)
        return
    bars = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), console=screen, transient=True)
    task = bars.add_task("", total=None, visible=False)

    def progress(what: str, done: int, total: int) -> None:
        bars.update(task, description=what, completed=done, total=total, visible=bool(what))
        if what:
            bars.start()
        else:
            bars.stop()

    try:
        preview(root, port=port, progress=progress)
    finally:
        bars.stop()
