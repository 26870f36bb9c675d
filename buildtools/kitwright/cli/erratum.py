"""`kitwright erratum`: a correction published."""

from __future__ import annotations

import datetime as dt

import click

from kitwright.archive import offered
from kitwright.cli.asked import AS_OF, kit_of, kits_of, moment
from kitwright.cli.future import tell_of_the_future
from kitwright.cli.release import as_revision_one, tell_what_was_replaced
from kitwright.cli.terminal import FINDINGS, refuse, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit
from kitwright.release import errata, takeback
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
@click.option("--was-public", is_flag=True)
@AS_OF
@click.option("--yes", is_flag=True)
@click.pass_context
def command(
    ctx: click.Context,
    kit: str,
    spotted_by: str | None,
    thank: bool | None,
    advice: str | None,
    was_public: bool,
    as_of: str | None,
    yes: bool,
) -> None:
    kits = kits_of(ctx)
    read, people = kit_of(kits.parent, kit, "revised"), read_people(kits)
    at = moment(as_of, read.club)
    # A correction that is dated after the reveal is meant as one, and what is known to have been out is corrected.
    instead = takeback.NOTHING if was_public else takeback.unread(read, max(at, dt.datetime.now(dt.UTC)))
    if instead.revisions and instead.revisions[0].number == 1:
        _replaced(ctx, read, at, instead, yes)
        return
    try:
        made = errata.draft(read, people, instead)
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
    new = errata.publish_erratum(made, at, offered.offered, advice or "", spotted_by, bool(thank), kits, people, was_public)
    tell_of_the_future(new)
    say(words.published(read.id, new.number, new.code))
    tell_what_was_replaced(instead)


def _replaced(ctx: click.Context, kit: Kit, at: dt.datetime, instead: takeback.Instead, yes: bool) -> None:
    """Before a kit is public there is nobody to correct anything for: it is released anew."""
    public = takeback.public_from(kit, instead.revisions[0]).astimezone(zone(kit.club.time_zone))
    say(words.not_public_yet(kit.id, public))
    if not yes and not click.confirm(words.RELEASE_ANEW, default=False):
        say(words.NOTHING_WRITTEN)
        ctx.exit(FINDINGS)
    as_revision_one(ctx, kit, at, instead)
