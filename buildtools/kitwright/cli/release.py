"""`kitwright release`, `erratum`, `calendar`, `brief` and `forget`: parse, call the library, print."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from kitwright.errors import Place, UserError
from kitwright.files import real
from kitwright.findings import Finding
from kitwright.kit.model import Club
from kitwright.kit.project import KITS, SITE, find_root, read_one
from kitwright.kit.read import Kit, PastKit, all_folders, check_folder, read_club, read_kit, shown
from kitwright.release.ledger import LEDGER, PUBLISHED, RECORD
from kitwright.release.record import Revision
from kitwright.telling.words import number
from kitwright.work.worked import said

FINDINGS = 1


def register(cli: click.Group) -> None:
    """Add the commands."""
    for command in (release_command, erratum_command, calendar_command, brief_command, forget_command):
        cli.add_command(command)


def _kits(ctx: click.Context) -> Path:
    """The folder of kits, after a change that was cut short has been finished."""
    from kitwright.release import atomic

    kits = (real(ctx.obj) if ctx.obj else find_root(Path.cwd())) / KITS
    if kits.is_dir():
        atomic.finish(kits)
    return kits


def _kit(kits: Path, name: str) -> Kit:
    read = read_one(kits.parent, name)
    if not isinstance(read, Kit):
        raise UserError(f"{read.id} is a past kit: only its old printable exists, so it has no revisions")
    return read


def _when(text: str | None, club: Club) -> dt.datetime:
    from kitwright.release.calendar import read_time

    # An empty text is no “now”: a script whose variable is empty would publish at once.
    return read_time(text, club) if text is not None else dt.datetime.now(dt.UTC)


def _tell(findings: list[Finding]) -> None:
    for finding in findings:
        click.echo(str(finding), err=True)


def _tell_of_the_future(made: Revision) -> None:
    """A revision dated ahead stays out of the site until then, which a slip of the pen would make years."""
    if made.at > dt.datetime.now(dt.UTC):
        _tell(
            [
                Finding(
                    "warning",
                    Place(shown(made.folder / RECORD)),
                    f"revision {made.number} is dated {made.at:%Y-%m-%d %H:%M} UTC, which is still to come: until then the site does not show it",
                    f"if that is not meant, delete {shown(made.folder)} and its line, the last, of {Path(KITS) / LEDGER} before anybody has it, and publish again with another --as-of",
                )
            ]
        )


AS_OF = click.option("--as-of", metavar="TIME", help="The moment that counts instead of now; without a zone it is the club's own time.")


@click.command(
    name="release",
    epilog='\b\nExamples:\n  kitwright release 2027-03-river-stones\n  kitwright release 2027-03-river-stones --as-of "2027-03-06 10:00"',
)
@click.argument("kit", metavar="KIT", required=False)
@AS_OF
@click.option("--redraw", is_flag=True, help="Note anew how a released kit's printables are drawn, after kitwright itself was renewed.")
@click.option(
    "--adopt",
    is_flag=True,
    help="Take releases into the ledger that are in none yet: all of an archive older than its ledger, or the named kit's.",
)
@click.pass_context
def release_command(ctx: click.Context, kit: str | None, as_of: str | None, redraw: bool, adopt: bool) -> None:
    """Publish a kit as revision 1: freeze its spec, its numbers and its printables.

    Refuses while check has errors; warns when nobody has test-cut this very state. After
    that, changes are published with  kitwright erratum.
    """
    from kitwright.release import publish, revisions
    from kitwright.release.people import findings, read_people

    kits = _kits(ctx)
    if adopt:
        _adopt(kits, kit)
        return
    if kit is None:
        raise click.UsageError("name the kit that is to be released", ctx)
    read = _kit(kits, kit)
    if redraw:
        renewed = revisions.redraw(read)
        click.echo(
            f"{read.id}: "
            + (f"noted anew for revision {', '.join(str(r.number) for r in renewed)}" if renewed else "drawn as it was published")
        )
        return
    people = read_people(kits)
    _tell([f for f in findings(read, people) if f.level != "hint"])
    try:
        made, warnings = publish.release(read, people, _when(as_of, read.club))
    except publish.NotReady as error:
        _tell(error.findings)
        click.echo(str(error), err=True)
        ctx.exit(FINDINGS)
    _tell(warnings)
    _tell_of_the_future(made)
    click.echo(
        f"Released {read.id} as revision 1, code {made.code}. Keep {Path(KITS) / read.id / PUBLISHED} with the kit, and never edit it."
    )


def _adopt(kits: Path, kit: str | None) -> None:
    from kitwright.kit.project import kit_folder
    from kitwright.release.adopt import adopt

    entries = adopt(kits, kit_folder(kits.parent, kit).name if kit is not None else None)
    for entry in entries:
        click.echo(f"  {entry.kit}, revision {entry.revision}, code {entry.code}, released {entry.released}")
    click.echo(
        f"Taken into {Path(KITS) / LEDGER}: {number(len(entries), 'release', 'releases')}. Keep it with the kits, and never edit it."
    )


@click.command(
    name="erratum",
    epilog="""\b
Examples:
  kitwright erratum 2027-03-river-stones
  kitwright erratum 2027-03-river-stones --spotted-by "Noor Hale" --thank --advice "Trim the strips you have." --yes""",
)
@click.argument("kit", metavar="KIT")
@click.option("--spotted-by", metavar="NAME", help="Who spotted it; asked for when left out.")
@click.option("--thank/--no-thank", default=None, help="Whether she agreed to be thanked by name.")
@click.option("--advice", metavar="TEXT", help="What to do with pieces already cut; asked for when left out.")
@AS_OF
@click.option("--yes", is_flag=True, help="Publish without asking.")
@click.pass_context
def erratum_command(
    ctx: click.Context, kit: str, spotted_by: str | None, thank: bool | None, advice: str | None, as_of: str | None, yes: bool
) -> None:
    """Publish a correction: the kit as it is now becomes the next revision.

    The erratum is drafted from the differences to the last revision. You are asked only
    for what can't be known: who spotted it, whether she agreed to be thanked, and what to
    do with pieces already cut.
    """
    from kitwright.release import errata, publish
    from kitwright.release.diff import GRADE_WORDS
    from kitwright.release.people import read_people

    kits = _kits(ctx)
    read, people = _kit(kits, kit), read_people(kits)
    try:
        made = errata.draft(read, people)
    except publish.NotReady as error:
        _tell(error.findings)
        click.echo(str(error), err=True)
        ctx.exit(FINDINGS)
    _tell(list(made.warnings))
    click.echo(f"{read.id}, revision {made.number} mends revision {made.revision.number}:")
    for line in made.lines():
        click.echo(f"  {line}")
    click.echo(f"In all: {GRADE_WORDS[made.grade]}.")
    if not yes:
        if spotted_by is None:
            spotted_by = click.prompt("Who spotted it? (empty: nobody to name)", default="", show_default=False).strip() or None
        if spotted_by and thank is None:
            thank = click.confirm(f"Did {spotted_by} agree to be thanked by name?", default=False)
        if advice is None:
            advice = click.prompt("What to do with pieces already cut? (empty: what the grade says)", default="", show_default=False)
        if not click.confirm(f"Publish this as revision {made.number}?", default=False):
            click.echo("Nothing was written.")
            ctx.exit(FINDINGS)
    new = errata.publish_erratum(made, _when(as_of, read.club), advice or "", spotted_by, bool(thank), kits, people)
    _tell_of_the_future(new)
    click.echo(f"Published revision {new.number} of {read.id}, code {new.code}.")


@click.command(name="calendar", epilog="\b\nExamples:\n  kitwright calendar\n  kitwright calendar --as-of 2027-03-01 --ics team.ics")
@AS_OF
@click.option(
    "--ics", type=click.Path(path_type=Path, dir_okay=False), default=None, metavar="FILE", help="Write an iCalendar file for the team."
)
@click.pass_context
def calendar_command(ctx: click.Context, as_of: str | None, ics: Path | None) -> None:
    """List what is due when, in the club's own time.

    The calendar file names upcoming kits, so it is for the team and not for the site.
    """
    from kitwright.release import calendar
    from kitwright.release.record import released
    from kitwright.release.upcoming import read_or_left

    kits = _kits(ctx)
    club = read_club(kits)
    now = _when(as_of, club)
    folders = all_folders(kits)

    def one(folder: Path) -> Kit | PastKit:
        check_folder(folder, folders)
        kit = read_kit(folder, club)
        return said(kit) if isinstance(kit, Kit) else kit

    # A kit that is half typed takes nothing away from the others while it is not due.
    found = [read_or_left(folder, club, now, lambda: one(folder)) for folder in folders]
    read = [kit for kit in found if not isinstance(kit, Finding)]
    _tell([left for left in found if isinstance(left, Finding)])
    if ics is not None:
        if real(ics).is_relative_to(real(kits.parent / SITE)):
            raise UserError("the calendar names upcoming kits and can't go into the site", "give another place with --ics", Place(ics))
        calendar.write_calendar(ics, calendar.calendar_text(club, read))
    _tell([f for kit in read if isinstance(kit, Kit) for f in calendar.findings(kit, club)])
    every = sorted((d for kit in read for d in calendar.moments(kit, club)), key=lambda d: (d.at, d.kit, d.name))
    done = {kit.id: bool(released(kit)) for kit in read if isinstance(kit, Kit)}
    for each in every:
        state = "past" if each.at <= now else "to come"
        missing = ", not released" if each.name == calendar.REVEAL and not done.get(each.kit, True) else ""
        click.echo(f"{each.local:%Y-%m-%d %H:%M}  {state:7}  {each.kit}  {each.name}{missing}")
    if ics is not None:
        click.echo(f"Wrote {ics}.")


@click.command(
    name="brief",
    epilog="\b\nExamples:\n  kitwright brief 2027-03-river-stones --for team\n  kitwright brief 2027-03-river-stones --for viewers --plain",
)
@click.argument("kit", metavar="KIT")
@click.option("--for", "whom", type=click.Choice(["team", "guest", "viewers", "members"]), required=True, help="Who reads it.")
@click.option("--plain", is_flag=True, help="Plain text instead of Markdown.")
@AS_OF
@click.pass_context
def brief_command(ctx: click.Context, kit: str, whom: str, plain: bool, as_of: str | None) -> None:
    """Print text that is ready to send: the team's brief, the guest's, the text under the video, the members' note.

    Sizes, counts and times come from the kit; the wording stands in theme/briefs.
    """
    from kitwright.release.people import anniversaries, read_people
    from kitwright.telling.brief import brief

    kits = _kits(ctx)
    read = _kit(kits, kit)
    click.echo(
        brief(read, whom, _theme(kits.parent), read_people(kits), anniversaries(kits), _when(as_of, read.club), plain=plain), nl=False
    )


def _theme(root: Path) -> Path:
    """The theme with the briefs: the archive's own, or the one that came with kitwright."""
    from kitwright.telling.brief import BRIEFS

    own = root / "theme"
    return own if (own / BRIEFS).is_dir() else Path(__file__).resolve().parents[3] / "theme"


@click.command(name="forget", epilog='\b\nExample:\n  kitwright forget "Noor Hale"')
@click.argument("name", metavar="NAME")
@click.option("--yes", is_flag=True, help="Don't ask.")
@click.pass_context
def forget_command(ctx: click.Context, name: str, yes: bool) -> None:
    """Take a person out of every file below kits/; revisions stay as they are.

    It happens whole or not at all. Build the site anew afterwards, the team's and the
    members' too.
    """
    from kitwright.release import forget

    kits = _kits(ctx)
    person = forget.find(kits, name)
    if not yes and not click.confirm(
        f"Forget {person.spec.name}? Her folder is deleted, and “a maker” stands in her place.", default=False
    ):
        click.echo("Nothing was changed.")
        ctx.exit(FINDINGS)
    done = forget.forget(kits, person.key)
    click.echo(f"Forgotten; {len(done.written)} more files changed. Now build the site, the team's and the members' anew.")
    for old, new in done.renamed:
        click.echo(f"  renamed {old.relative_to(kits)} to {new.relative_to(kits)}")
    for place in done.left:
        click.echo(f"{place}: a part of the name stands here; look whether it means the same person", err=True)
    for path, why in done.unchanged:
        click.echo(f"{shown(path)}: not changed: {why}", err=True)
