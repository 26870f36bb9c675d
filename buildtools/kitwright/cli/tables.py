"""Tables on a terminal; the one place, with the progress of a build, that needs `rich`."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.markup import escape
from rich.table import Table as RichTable

from kitwright.telling.facts import FactTable

WIDE = 150
"""Columns when the output goes to a file or a pipe, where nothing needs to be folded."""


def console(stderr: bool = False) -> Console:
    """A console that uses colour on a terminal only."""
    stream = Console(stderr=stderr, highlight=False)
    return stream if stream.is_terminal else Console(stderr=stderr, highlight=False, width=WIDE, no_color=True)


def print_tables(tables: Iterable[FactTable]) -> None:
    """Print tables, each under its title."""
    out = console()
    for table in tables:
        drawn = RichTable(title=table.title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
        for column in table.columns:
            drawn.add_column(column, header_style="dim", overflow="fold")
        for row in table.rows:
            drawn.add_row(*map(escape, row))
        out.print()
        out.print(drawn)
