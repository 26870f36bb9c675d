"""The `kitwright` command: parse, call the library, print."""

from __future__ import annotations

import datetime as dt
import errno
import io
import json
import os
import signal
import sys
from collections.abc import Mapping
from pathlib import Path

import click
from rich.console import Console
from rich.markup import escape
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn
from rich.table import Table as RichTable

import kitwright.telling  # noqa: F401 - opens the catalogue
from kitwright.archive.audience import FOLDERS, Audience
from kitwright.check import errors
from kitwright.cli import arrange as cli_arrange
from kitwright.cli import cutfiles as cli_cutfiles
from kitwright.cli import release as cli_release
from kitwright.errors import Place, Slips, UserError
from kitwright.files import STOPS, Stopped, real, trouble
from kitwright.findings import LEVELS, Finding
from kitwright.kit.project import KITS, find_root, kit_folder, read_one
from kitwright.kit.read import Kit, PastKit, kit_folders, read_club, read_kit
from kitwright.kit.schema import write_schemas
from kitwright.otherwise.checked import check
from kitwright.papers import sheet_named
from kitwright.release import atomic, whole
from kitwright.release.calendar import read_time
from kitwright.release.lookover import look_over
from kitwright.release.people import Person, read_people
from kitwright.telling.facts import tables
from kitwright.telling.words import number
from kitwright.work.worked import Worked, work

OK, FINDINGS, BAD_INPUT = 0, 1, 2
STYLES = {"error": "bold red", "warning": "yellow", "hint": "cyan"}
WIDE = 150
"""Columns when the output goes to a file or a pipe, where nothing needs to be folded."""


def console(stderr: bool = False) -> Console:
    """A console that uses colour on a terminal only."""
    stream = Console(stderr=stderr, highlight=False)
    return stream if stream.is_terminal else Console(stderr=stderr, highlight=False, width=WIDE, no_color=True)


class Examples(click.Group):
    """A command group whose user errors end in one clear message and status 2."""

    asked: str | None = None
    """The command that was typed."""

    def invoke(self, ctx: click.Context):
        try:
            return super().invoke(ctx)
        except UserError as error:
            tell(error)
            ctx.exit(BAD_INPUT)
        except KeyboardInterrupt as stop:
            click.echo("Stopped; nothing is half done.", err=True)
            ctx.exit(128 + (stop.number if isinstance(stop, Stopped) else signal.SIGINT))
        except UnicodeEncodeError:
            tell(UserError("what was typed holds bytes that are no letters", "type it in UTF-8; nothing was changed"))
            ctx.exit(BAD_INPUT)
        except OSError as error:
            # Whatever the machine refuses where nobody could do better.
            tell(trouble(error, "this can't be done"))
            ctx.exit(BAD_INPUT)
        finally:
            self.asked = ctx.invoked_subcommand


def tell(error: UserError) -> None:
    """Print a user error: place, problem, remedy, for each that it stands for."""
    out = console(stderr=True)
    for one in error.each:
        where = f"{one.place}: " if one.place and one.place.file else ""
        out.print(f"[bold red]{escape(where)}[/]{escape(one.problem)}", soft_wrap=True)
        if one.remedy:
            out.print(f"  {escape(one.remedy)}", soft_wrap=True)


def tell_findings(findings: list[Finding], out: Console) -> None:
    """Print findings, one paragraph each."""
    for finding in findings:
        style = STYLES[finding.level]
        out.print(
            f"{escape(str(finding.place))}: [{style}]{finding.level}[/]: {escape(finding.problem)}\n  {escape(finding.remedy)}",
            soft_wrap=True,
        )


@click.group(cls=Examples, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="kitwright", prog_name="kitwright")
@click.option(
    "--root",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="The folder that holds kits/; found from where you stand when left out.",
)
@click.pass_context
def cli(ctx: click.Context, root: Path | None) -> None:
    """Turn a folder of kits into a published archive of cutting guides.

    \b
    A month's work, by example:
      kitwright new 2027-03-river-stones     write a starter kit to change
      kitwright check 2027-03-river-stones   is everything in it right?
      kitwright show 2027-03-river-stones    what comes out: sizes, sheets, guides
      kitwright plan 2027-03-river-stones    how the sheets are cut, step by step
      kitwright arrange 2027-03-river-stones how else the same pieces can go
      kitwright preview                      look at the site while you write
      kitwright build                        make the site in site/

    A kit is named by its id or by the path to its folder.
    Exit status: 0 all well, 1 something was found, 2 something can't be read.
    """
    ctx.obj = root


def root_of(ctx: click.Context) -> Path:
    """The folder that holds `kits/`, after a change that was cut short has been finished."""
    root = real(ctx.obj) if ctx.obj else find_root(Path.cwd())
    atomic.finish(root / KITS)
    return root


@cli.command(
    name="check",
    epilog="\b\nExamples:\n  kitwright check\n  kitwright check 2027-03-river-stones\n  kitwright check kits/2027-03-river-stones --quiet",
)
@click.argument("kits", nargs=-1, metavar="[KIT]...")
@click.option("--quiet", "-q", is_flag=True, help="Leave hints out.")
@click.pass_context
def check_command(ctx: click.Context, kits: tuple[str, ...], quiet: bool) -> None:
    """Look kits over before anybody cuts paper: labels, counts, sums, cuts, envelope.

    Without a name, every kit is checked. Each finding says file and line, what is wrong,
    and what would be right. Errors stop a build; warnings and hints don't.
    """
    root, out = root_of(ctx), console()
    slips = Slips()
    club, people = slips.trying(read_club, root / KITS), slips.trying(read_people, root / KITS)
    slips.stop()
    folders = [kit_folder(root, name) for name in kits] or kit_folders(root / KITS)
    status = OK
    for finding in _published_beside(root / KITS, [folder.name for folder in folders]) if not kits else ():
        tell_findings([finding], out)
        status = FINDINGS
    for folder in folders:
        try:
            kit = read_kit(folder, club)
            found = _everything(kit, people) if isinstance(kit, Kit) else whole.of_kit(root / KITS, folder.name)
        except UserError as error:
            tell(error)
            status = BAD_INPUT
            continue
        tell_findings([f for f in found if not (quiet and f.level == "hint")], out)
        serious = [f for f in found if f.level != "hint"]
        status = max(status, FINDINGS if serious else OK)
        said = "a past kit, not computed" if isinstance(kit, PastKit) else _summary(found)
        out.print(f"[bold]{escape(kit.id)}[/]: {said}", soft_wrap=True)
    ctx.exit(status)


def _published_beside(kits: Path, read: list[str]) -> list[Finding]:
    """What was published and vanished with its kit, or concerns the ledger itself: no kit that is read can tell."""
    return [f for name, told in whole.published(kits).items() if name not in read for f in told]


def _everything(kit: Kit, people: Mapping[str, Person]) -> list[Finding]:
    """What is found in a kit, and in whatever of it may change after its release, errors first."""
    worked = work(kit)
    return sorted(dict.fromkeys([*check(worked), *look_over(worked, people)]), key=lambda f: LEVELS.index(f.level))


def _summary(found: list[Finding]) -> str:
    counts = {level: sum(f.level == level for f in found) for level in STYLES}
    said = [number(n, level, f"{level}s") for level, n in counts.items() if n]
    return ", ".join(said) if said else "nothing to mend"


@cli.command(name="show", epilog="\b\nExample:\n  kitwright show 2027-03-river-stones")
@click.argument("kit", metavar="KIT")
@click.pass_context
def show_command(ctx: click.Context, kit: str) -> None:
    """Print what follows from a kit: card, pieces, sheets, cutting guides, and how the front adds up."""
    out = console()
    read = read_one(root_of(ctx), kit)
    if isinstance(read, PastKit):
        out.print(f"[bold]{escape(read.spec.title)}[/]  {read.id}\nA past kit: only its old printable exists, so nothing is computed.")
        for name, value in read.spec.facts.items():
            out.print(f"  {escape(name)}: {escape(value)}")
        return
    worked = work(read)
    out.print(f"[bold]{escape(read.spec.title)}[/]  {read.id}", soft_wrap=True)
    out.print(escape(worked.kit.spec.summary), soft_wrap=True)
    print_tables(worked, out)
    stopping = errors(check(worked))
    if stopping:
        tell_findings(stopping, console(stderr=True))
        ctx.exit(FINDINGS)


def print_tables(worked: Worked, out: Console) -> None:
    """A kit's facts as tables."""
    for table in tables(worked):
        drawn = RichTable(title=table.title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
        for column in table.columns:
            drawn.add_column(column, header_style="dim", overflow="fold")
        for row in table.rows:
            drawn.add_row(*map(escape, row))
        out.print()
        out.print(drawn)


@cli.command(
    name="plan",
    epilog="""\b
Examples:
  kitwright plan 2027-03-river-stones
  kitwright plan 2027-03-river-stones --cards 20
  kitwright plan 2027-03-river-stones --paper white=A4 --one-way meadow
  kitwright plan 2027-03-river-stones --json""",
)
@click.argument("kit", metavar="KIT")
@click.option("--cards", type=click.IntRange(1, 100_000), help="Plan for this many cards.")
@click.option("--paper", "papers", multiple=True, metavar="NAME=SIZE", help="Plan a paper from another sheet: white=A4.")
@click.option("--one-way", "upright", multiple=True, metavar="NAME", help="Plan a paper as if its pattern had an up.")
@click.option("--json", "as_json", is_flag=True, help="Print plain data instead of text.")
@click.pass_context
def plan_command(ctx: click.Context, kit: str, cards: int | None, papers: tuple[str, ...], upright: tuple[str, ...], as_json: bool) -> None:
    """Print how the sheets are cut: sheets, what is proved, and the steps at the desk.

    Your own guides stay yours and are compared with the planner's. What you ask
    differently, another number of cards, another sheet, a one-way paper, is planned anew.
    """
    from kitwright.telling import cutplan

    read = read_one(root_of(ctx), kit)
    if isinstance(read, PastKit):
        raise UserError(f"{read.id} is a past kit: only its old printable exists, so nothing can be planned")
    worked = work(read)
    stopping = [f for f in worked.troubles if f.level == "error"]
    if stopping:
        tell_findings(stopping, console(stderr=True))
        ctx.exit(FINDINGS)
    for name in (*upright, *(p.partition("=")[0] for p in papers)):
        if worked.plan(name) is None:
            raise UserError(f"this kit does not use a paper {name}", f"its papers: {', '.join(p.paper for p in worked.plans)}")
    sizes = {}
    for given in papers:
        name, equals, sheet = given.partition("=")
        if not equals:
            raise UserError(f"“{given}” does not say which sheet", "write for example  --paper white=A4")
        if name in sizes:
            raise UserError(f"--paper gives two sheets for {name}", "keep one of the two")
        sizes[name] = sheet_named(sheet, read.spec.unit).size
    found = cutplan.reports(worked, cards, sizes, frozenset(upright))
    if as_json:
        click.echo(json.dumps(cutplan.as_json(worked, found), indent=1, ensure_ascii=False))
    else:
        click.echo("\n".join(cutplan.as_text(worked, found)).rstrip())
    ctx.exit(OK if all(report.plan for report in found) else FINDINGS)


@cli.command(
    name="new", epilog='\b\nExamples:\n  kitwright new 2027-03-river-stones\n  kitwright new 2027-03-river-stones --title "River stones"'
)
@click.argument("name", metavar="YYYY-MM-SHORT-NAME")
@click.option("--title", help="Its title; made from the name when left out.")
@click.pass_context
def new_command(ctx: click.Context, name: str, title: str | None) -> None:
    """Write a starter kit: a small, sound, commented kit.yaml and notes to change."""
    from kitwright.kit.starter import write_starter

    kits = root_of(ctx) / KITS
    folder = write_starter(kits, name, title)
    _renew_schemas(kits)
    console().print(f"Wrote {folder.name}. Open its kit.yaml, change it, then run  kitwright check {folder.name}", soft_wrap=True)


@cli.command(
    name="build",
    epilog='\b\nExamples:\n  kitwright build\n  kitwright build --as-of "2027-03-06 10:00" --out tomorrow\n  kitwright build --for team',
)
@click.option("--out", type=click.Path(path_type=Path, file_okay=True), default=None, help="Where the site goes; site/ when left out.")
@click.option("--as-of", metavar="TIME", help="Build the site as it will be, or was, at a moment: 2027-03-06 10:00. Now when left out.")
@click.option(
    "--for",
    "audience",
    type=click.Choice(["public", "team", "members"]),
    default="public",
    show_default=True,
    help="team: a preview with upcoming kits, in site-team/. members: the files for members, in site-members/. Keep both behind a password.",
)
@click.pass_context
def build_command(ctx: click.Context, out: Path | None, as_of: str | None, audience: Audience) -> None:
    """Make the whole site: pages, pictures and printables for every kit.

    Only what is due is published, released kits as they were released; a kit before its
    reveal leaves no trace. The new site is made elsewhere and put in place only when it is whole, so a build that
    fails leaves yesterday's site as it was.
    """
    from kitwright.archive.build import Refused, build_archive

    root = root_of(ctx)
    target = (out or root / FOLDERS[audience]).absolute()
    if out is None and not real(target).is_relative_to(root):
        raise UserError(
            f"{target.name} is a link that leads elsewhere", "if you mean the place that it leads to, name that with --out", Place(target)
        )
    moment = read_time(as_of, read_club(root / KITS)) if as_of is not None else dt.datetime.now(dt.UTC)
    bars = Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), console=console(stderr=True), transient=True)
    try:
        with bars:
            task = bars.add_task("Reading the kits", total=None)

            def progress(words: str, done: int, total: int) -> None:
                bars.update(task, description=words, completed=done, total=total)

            report = build_archive(root, target, progress, as_of=moment, audience=audience)
    except Refused as refused:
        tell_findings(refused.findings, console(stderr=True))
        tell(refused)
        ctx.exit(FINDINGS)
    _renew_schemas(root / KITS)
    tell_findings(list(report.warnings), console(stderr=True))
    if audience != "public":
        console().print("This is not public: put it only where a password guards it.", soft_wrap=True)
    console().print(
        f"Built {number(report.kits, 'kit', 'kits')} in {round(report.seconds)} s. Open {escape(str(report.index))}", soft_wrap=True
    )


def _renew_schemas(kits: Path) -> None:
    """Put the schemas for editors in place; what was asked for is done, with or without them."""
    try:
        write_schemas(kits)
    except UserError as error:
        tell_findings([Finding("warning", error.place or Place(kits), error.problem, error.remedy)], console(stderr=True))


@cli.command(name="preview", epilog="\b\nExample:\n  kitwright preview --port 8123")
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True, help="The port on this machine.")
@click.pass_context
def preview_command(ctx: click.Context, port: int) -> None:
    """Show the site in your browser, on this machine only, and rebuild it whenever you save."""
    from kitwright.archive.preview import preview

    preview(root_of(ctx), port=port)


for module in (cli_arrange, cli_cutfiles, cli_release):
    module.register(cli)


# --- the process ----------------------------------------------------------------------------------

PRINTS = ("check", "show", "plan", "arrange", "brief", "calendar")
"""Commands whose work is what they print."""


class _Patient(io.FileIO):
    """What a command prints to. A reader that went away, or a full disk, does not stop the command's work."""

    failed: OSError | None = None

    def write(self, data) -> int:
        if self.failed is None:
            try:
                return super().write(data)
            except OSError as error:
                self.failed = error
        return len(data)


def main() -> None:
    """The console command."""
    printed = _streams()
    for number in STOPS:
        if signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, _stop)
    try:
        cli(prog_name="kitwright")
    finally:
        for stream in (sys.stdout, sys.stderr):
            stream.flush()
        # `| head` is no failure; a disk that took only half of what was asked for is one.
        lost = printed.failed if printed else None
        if lost is not None and lost.errno != errno.EPIPE and cli.asked is not None:
            tell(UserError(f"what was printed could not all be written ({lost.strerror})", "make room, or print it elsewhere"))
            sys.stderr.flush()
            if cli.asked in PRINTS and "--ics" not in sys.argv:
                sys.exit(BAD_INPUT)


def _stop(number: int, frame: object) -> None:
    raise Stopped(number)


def _streams() -> _Patient | None:
    """Make what is printed UTF-8 and patient, whatever the terminal says, and open what was closed."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            # Else the next file that is opened would be taken for the terminal.
            os.open(os.devnull, os.O_RDWR)
    if sys.stdin is None:
        sys.stdin = open(0, encoding="utf-8", errors="replace", closefd=False)
    if os.name == "nt" and sys.stdout is not None and sys.stderr is not None:
        # A Windows console may default to a code page without ≈ and ×.
        sys.stdout.reconfigure(encoding="utf-8", errors="replace")
        sys.stderr.reconfigure(encoding="utf-8", errors="replace")
        return None
    raws = [_Patient(number, "w", closefd=False) for number in (1, 2)]
    sys.stdout, sys.stderr = (
        io.TextIOWrapper(
            io.BufferedWriter(raw), "utf-8", "replace", line_buffering=raw is raws[1] or raw.isatty(), write_through=raw is raws[1]
        )
        for raw in raws
    )
    return raws[0]
