"""What every command prints alike: lines, errors and findings, and the exit status that says which."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from typing import NamedTuple, NoReturn

import click

from kitwright.errors import UserError
from kitwright.findings import Finding, Level

OK, FINDINGS, BAD_INPUT = 0, 1, 2
_OBEYED = dict.fromkeys((7, 8, 11, 12, 13, 27))
"""What would ring a terminal's bell or move its cursor; a kit may come from a stranger."""


class Styled(NamedTuple):
    """A part of a line that a terminal shows in another way."""

    text: str
    colour: str | None = None
    bold: bool = True


def say(*parts: str | Styled, err: bool = False) -> None:
    """Print a line of parts: in colour on a terminal only, and there only where its owner wants colours."""
    shown = [p.translate(_OBEYED) if isinstance(p, str) else click.style(p.text.translate(_OBEYED), p.colour, bold=p.bold) for p in parts]
    click.echo("".join(shown), err=err, color=False if os.environ.get("NO_COLOR") else None)


def say_wrapped(text: str) -> None:
    """Print a paragraph: on a terminal in lines that end at words, elsewhere as it is."""
    if not sys.stdout.isatty():
        say(text)
        return
    # Loaded late: a pipe needs no folding.
    from rich.markup import escape

    from kitwright.cli.tables import console

    console().print(escape(text.translate(_OBEYED)))


def at_a_terminal() -> bool:
    """Whether somebody is there to be asked."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def tell(error: UserError) -> None:
    """Print a user error: place, problem, remedy, for each that it stands for."""
    for one in error.each:
        say(Styled(f"{one.place}: ", "red") if one.place and one.place.file else "", one.problem, err=True)
        if one.remedy:
            say(f"  {one.remedy}", err=True)


_LEVELS: dict[Level, Styled] = {
    "error": Styled("error", "red"),
    "warning": Styled("warning", "yellow", bold=False),
    "hint": Styled("hint", "cyan", bold=False),
}


def tell_findings(findings: Iterable[Finding], *, err: bool = True) -> None:
    """Print findings, one paragraph each."""
    for found in findings:
        say(f"{found.place}: ", _LEVELS[found.level], f": {found.problem}\n  {found.remedy}", err=err)


def refuse(ctx: click.Context, findings: Iterable[Finding], error: UserError | None = None) -> NoReturn:
    """Print why nothing is done, and end with the status for findings."""
    tell_findings(findings)
    if error is not None:
        tell(error)
    ctx.exit(FINDINGS)
