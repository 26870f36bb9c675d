"""`kitwright preview`: the site in a browser, while it is written."""

from __future__ import annotations

import click

from kitwright.archive.preview import preview
from kitwright.cli.asked import root_of
from kitwright.cli.worded import Worded


@click.command("preview", cls=Worded)
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True)
@click.pass_context
def command(ctx: click.Context, port: int) -> None:
    preview(root_of(ctx), port=port)
