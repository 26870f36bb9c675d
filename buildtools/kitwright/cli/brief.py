"""`kitwright brief`: text that is ready to send."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Literal, get_args

import click

from kitwright.archive import apart
from kitwright.cli.asked import AS_OF, folder_for, kit_of, kits_of, moment
from kitwright.cli.terminal import say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.kit import Kit
from kitwright.kit.theme import read_theme
from kitwright.release import zonemove
from kitwright.release.calendar import moments
from kitwright.release.people import anniversaries, read_people
from kitwright.release.public import published_at
from kitwright.release.upcoming import shown_before
from kitwright.telling import terminal as words
from kitwright.telling.brief import PUBLIC, WHOM, Texts, Whom, printed
from kitwright.telling.month.folder import files_of
from kitwright.telling.month.mail import message, sender_of
from kitwright.telling.month.said import ShareFile
from kitwright.work.worked import Worked

Form = Literal["markdown", "plain", "html", "eml"]
FORMS: tuple[Form, ...] = get_args(Form)
ANY: tuple[Form, ...] = ("markdown", "plain")
"""In which everything is told; a mail in the others too."""


@click.command("brief", cls=Worded, prints=True)
@click.argument("kit", metavar="KIT")
@click.option("--for", "whom", type=click.Choice(WHOM))
@click.option("--all", "every", is_flag=True)
@click.option("--plain", "form", flag_value="plain")
@click.option("--html", "form", flag_value="html")
@click.option("--eml", "form", flag_value="eml")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default=None)
@AS_OF
@click.pass_context
def command(ctx: click.Context, kit: str, whom: Whom | None, every: bool, form: Form | None, out: Path | None, as_of: str | None) -> None:
    if every == (whom is not None):
        raise UserError("briefs.one-or-all", whom=WHOM)
    if out is not None and not every:
        raise UserError("briefs.folder-of-all")
    kits = kits_of(ctx)
    read = kit_of(kits.parent, kit, "told")
    zonemove.stop_if_moved(kits, read.club, dt.datetime.now(dt.UTC))
    texts = Texts(
        read,
        read_theme(kits.parent),
        read_people(kits),
        anniversaries(kits),
        moment(as_of, read.club),
        shown_before(read, read.club),
        shared,
    )
    if whom is None:
        _write(kits.parent, texts, out)
    else:
        _print(texts, whom, form or "markdown")
    tell_findings(_worth_a_word(texts, whom))


def shared(worked: Worked) -> ShareFile:
    """The picture that goes with a link to a kit's page."""
    # Loaded late: the team's texts show none.
    from kitwright.archive.pictures import share_of, thumbnail_of

    picture = share_of(worked)
    # On both lie the same papers.
    return ShareFile(f"{picture.name}.{picture.posted}", picture.alt, thumbnail_of(worked).caption)


def _print(texts: Texts, whom: Whom, form: Form) -> None:
    if form not in ANY and whom != "mail":
        raise UserError("briefs.no-form", whom=whom, form=form)
    if form == "html":
        click.echo(texts.mail().html, nl=False)
    elif form == "eml":
        if not sender_of(texts.club):
            raise UserError("briefs.no-sender", place=texts.club.place("links"))
        click.echo(message(texts.mail(), texts.club, _shown(texts.kit)), nl=False)
    else:
        click.echo(printed(texts, whom, form == "plain"), nl=False)


def _write(root: Path, texts: Texts, out: Path | None) -> None:
    name = f"{texts.kit.id}-texts"
    folder = folder_for(root, out, name)
    apart.free(folder, apart.TEXTS)
    files = files_of(texts)
    if hers := apart.changed(folder, files, apart.TEXTS):
        files = {name: data for name, data in files.items() if name not in hers}
        say(words.hers_stay(hers))
    say(words.drawn(len(files), apart.write(folder, files, apart.TEXTS), folder))


def _worth_a_word(texts: Texts, whom: Whom | None) -> Iterator[Finding]:
    """What she should know before she sends it."""
    club, kit = texts.club, texts.kit
    if not club.address:
        yield Finding("hint", club.place(), "briefs.no-address")
    if whom is None and texts.released and not sender_of(club):
        yield Finding("hint", club.place("links"), "briefs.no-sender")
    if whom is None and not texts.released:
        yield Finding("hint", Place(kit.document.file), "briefs.no-revision", kit=kit.id)
    if texts.held and (whom is None or whom in PUBLIC):
        yield Finding("hint", kit.place("reveal"), "briefs.held", shown=_shown(kit))
    if texts.released and whom in (None, "posts"):
        for post in texts.posts():
            if post.too_long:
                yield Finding(
                    "warning",
                    kit.place("title"),
                    "briefs.too-long",
                    length=post.length.name,
                    characters=len(post.text),
                    most=post.length.most,
                )


def _shown(kit: Kit) -> dt.datetime:
    """When a released kit is public, by the club's clocks."""
    at = published_at(kit, kit.club)
    assert at is not None, "texts for the public of a kit that is not released"
    return at.astimezone(moments(kit, kit.club)[0].local.tzinfo)
