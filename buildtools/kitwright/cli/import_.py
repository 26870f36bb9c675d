"""`kitwright import`: old printables become past kits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path

import click
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from kitwright.cli.asked import kits_of
from kitwright.cli.schemas import renew_schemas
from kitwright.cli.tables import console
from kitwright.cli.terminal import FINDINGS, OK, at_a_terminal, say, tell
from kitwright.cli.worded import Worded
from kitwright.errors import Place, UserError
from kitwright.kit.read import read_club
from kitwright.past.plan import Undated, plan
from kitwright.past.write import write
from kitwright.telling import past as words
from kitwright.telling.terminal import NOTHING_CHANGED


@click.command("import", cls=Worded)
@click.argument("folders", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FOLDER...")
@click.option("--month", metavar="YYYY-MM")
@click.option("--yes", is_flag=True)
@click.pass_context
def command(ctx: click.Context, folders: tuple[Path, ...], month: str | None, yes: bool) -> None:
    kits = kits_of(ctx)
    club, now = read_club(kits), dt.date.today()
    typed = _month(month, now) if month is not None else None
    with _bars() as bars:
        task = bars.add_task(words.LOOKING, total=None)

        def asked(undated: Sequence[Undated]) -> Mapping[Path, dt.date]:
            bars.stop()
            return _asked(undated, now)

        may_ask = asked if at_a_terminal() and not yes else None
        found = plan(folders, kits, club, now, typed, lambda done, total: bars.update(task, completed=done, total=total), may_ask)
    for line in words.plan_lines(found):
        say(line)
    for fault in found.faults:
        tell(fault)
    status = FINDINGS if found.faults or found.unknown else OK
    if not found.kits and not found.renewed:
        say(words.nothing_new(found.seen))
        ctx.exit(status)
    if not yes and not click.confirm(words.ask(len(found.kits), len(found.renewed)), default=False):
        say(NOTHING_CHANGED)
        ctx.exit(FINDINGS)
    with _bars() as bars:
        task = bars.add_task(words.WRITING, total=None)
        done = write(found, kits, words.kit_text, lambda so_far, total: bars.update(task, completed=so_far, total=total))
    for fault in done.faults:
        tell(fault)
    renew_schemas(kits)
    nothing = not (done.kits or done.renewed or done.faults)
    say(words.nothing_new(found.seen) if nothing else words.imported(done.kits, len(done.renewed)))
    ctx.exit(FINDINGS if done.faults else status)


def _asked(undated: Sequence[Undated], now: dt.date) -> Mapping[Path, dt.date]:
    """The months that she knows, one question each: less to type than a command for each."""
    answers: dict[Path, dt.date] = {}
    say(words.ask_months(len(undated)))
    for one in undated:
        while True:
            typed = str(click.prompt(words.ask_month(one.name, one.year), default="", show_default=False)).strip()
            if typed == ".":
                return answers
            try:
                if typed:
                    answers[one.file] = _month(f"{one.year}-{typed}" if one.year and typed.isdecimal() else typed, now)
                break
            except UserError:
                say(words.NO_MONTH)
    return answers


def _month(text: str, now: dt.date) -> dt.date:
    try:
        month = dt.datetime.strptime(text.strip(), "%Y-%m").date()
    except ValueError:
        raise UserError("past.no-month", place=Place(), text=text) from None
    if month > now or month.year < 1900:
        raise UserError("past.no-month", place=Place(), text=text)
    return month


def _bars() -> Progress:
    return Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), console=console(stderr=True), transient=True)
