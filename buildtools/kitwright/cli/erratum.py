"""`kitwright erratum`: a correction published."""

from __future__ import annotations

import click

from kitwright.archive import offered
from kitwright.cli.asked import AS_OF, kit_of, kits_of, moment
from kitwright.cli.future import tell_of_the_future
from kitwright.cli.terminal import FINDINGS, refuse, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.release import errata
from kitwright.release.people import read_people
from kitwright.release.publish import NotReady
from kitwright.telling import releasing as words
from kitwright.telling.changes import GRADE_WORDS
from kitwright.telling.errata import draft_lines, group_lines


@click.command("erratum", cls=Worded)
@click.argument("kit", metavar="KIT")
@click.option("--spotted-by", metavar="NAME")
@click.option("--thank/--no-thank", default=None)
@click.option("--advice", metavar="TEXT")
@AS_OF
@click.option("--yes", is_flag=True)
@click.pass_context
def command(
    ctx: click.Context, kit: str, spotted_by: str | None, thank: bool | None, advice: str | None, as_of: str | None, yes: bool
) -> None:
    kits = kits_of(ctx)
    read, people = kit_of(kits.parent, kit, "revised"), read_people(kits)
    try:
        made = errata.draft(read, people)
    except NotReady as error:
        refuse(ctx, error.findings, error)
    tell_findings(made.warnings)
    say(words.mends(read.id, made.number, made.revision.number))
    for line in draft_lines(made):
        say(f"  {line}")
    say(words.in_all(GRADE_WORDS[made.grade]))
    for line in group_lines(made):
        say(line)
    if not yes:
        if spotted_by is None:
            spotted_by = click.prompt(words.WHO_SPOTTED_IT, default="", show_default=False).strip() or None
        if spotted_by and thank is None:
            thank = click.confirm(words.thank(spotted_by), default=False)
        if advice is None:
            advice = click.prompt(words.WHAT_TO_DO, default="", show_default=False)
        if not click.confirm(words.publish(made.number), default=False):
            say(words.NOTHING_WRITTEN)
            ctx.exit(FINDINGS)
    new = errata.publish_erratum(made, moment(as_of, read.club), offered.offered, advice or "", spotted_by, bool(thank), kits, people)
    tell_of_the_future(new)
    say(words.published(read.id, new.number, new.code))
