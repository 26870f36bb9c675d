"""What every command prints alike: errors, findings, and the exit status that says which."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import NoReturn

import click

from kitwright.errors import UserError
from kitwright.findings import Finding, Level

OK, FINDINGS, BAD_INPUT = 0, 1, 2
STYLES: dict[Level, dict[str, object]] = {"error": {"fg": "red", "bold": True}, "warning": {"fg": "yellow"}, "hint": {"fg": "cyan"}}
_UNPRINTED = dict.fromkeys((7, 8, 11, 12, 13, 27))
"""What would ring a terminal's bell or move its cursor; a kit may come from a stranger."""


def say(text: str, *, err: bool = False) -> None:
    """Print a line, in colour on a terminal only, unless its owner wants none."""
    click.echo(text, err=err, color=False if os.environ.get("NO_COLOR") else None)


def styled(text: str, **style: object) -> str:
    """A text in colour, without what a terminal would obey."""
    return click.style(text.translate(_UNPRINTED), **style)  # type: ignore[arg-type]  # a style is handed on as it is


def plain(text: object) -> str:
    """A text without what a terminal would obey."""
    return str(text).translate(_UNPRINTED)


def tell(error: UserError) -> None:
    """Print a user error: place, problem, remedy, for each that it stands for."""
    for one in error.each:
        where = styled(f"{one.place}: ", fg="red", bold=True) if one.place and one.place.file else ""
        say(where + plain(one.problem), err=True)
        if one.remedy:
            say(f"  {plain(one.remedy)}", err=True)


def tell_findings(findings: Iterable[Finding], *, err: bool = True) -> None:
    """Print findings, one paragraph each."""
    for found in findings:
        level = styled(found.level, **STYLES[found.level])
        say(f"{plain(found.place)}: {level}: {plain(found.problem)}\n  {plain(found.remedy)}", err=err)


def refuse(ctx: click.Context, findings: Iterable[Finding], error: UserError | None = None) -> NoReturn:
    """Print why nothing is done, and end with the status for findings."""
    tell_findings(findings)
    if error is not None:
        tell(error)
    ctx.exit(FINDINGS)
