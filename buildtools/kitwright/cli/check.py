"""`kitwright check`: kits looked over before anybody cuts paper."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from pathlib import Path

import click

from kitwright import cache
from kitwright.archive import vocabulary
from kitwright.archive.inputs import folder_digest
from kitwright.check.unsaid import typed_in
from kitwright.cli.asked import kits_of
from kitwright.cli.looked import Looked, Looks
from kitwright.cli.terminal import BAD_INPUT, FINDINGS, OK, Styled, say, tell, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import Slips, UserError
from kitwright.findings import LEVELS, Finding
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.loose import loose_in
from kitwright.kit.model import Club
from kitwright.kit.project import kit_folder
from kitwright.kit.read import CLUB_FILE, all_folders, check_folder, look_at_club, look_at_kit, shown
from kitwright.kit.theme import PROGRAM, THEME, read_theme
from kitwright.kit.yamltext import look_at
from kitwright.past.looking import look, loose
from kitwright.release import whole, zonemove
from kitwright.release.people import PEOPLE, Person, anniversaries, keys_on_file, read_people
from kitwright.telling import terminal as words


@click.command("check", cls=Worded, prints=True)
@click.argument("kits", nargs=-1, metavar="[KIT]...")
@click.option("--quiet", "-q", is_flag=True)
@click.pass_context
def command(ctx: click.Context, kits: tuple[str, ...], quiet: bool) -> None:
    home = kits_of(ctx)
    with cache.using(home.parent / cache.FOLDER) as kept:
        status = _checked(home, kits, quiet, kept)
    ctx.exit(status)


def _checked(home: Path, kits: tuple[str, ...], quiet: bool, kept: cache.Store) -> int:
    """Look over an archive, or some of its kits, and tell; the status that follows."""
    slips = Slips()
    club, people = look_at_club(home, slips), slips.trying(read_people, home)
    slips.trying(anniversaries, home)
    # What is wrong with the club hides nothing of the kits, but nothing can be worked out for it.
    sound = not slips.errors
    folders = slips.trying(_folders, home, kits) or []
    status = OK
    moved = zonemove.finding(home, club, dt.datetime.now(dt.UTC)) if club and sound else None
    if moved:
        tell_findings([moved], err=False)
        status = FINDINGS
    if club and sound and not kits and not quiet:
        tell_findings(_colours(club), err=False)
    if club and sound and not kits and (odd := [*vocabulary.of_club(club), *_unsaid(home, people or {})]):
        tell_findings(odd, err=False)
        status = FINDINGS
    beside = [] if kits else [*_published_beside(home, [folder.name for folder in folders]), *loose(loose_in(home), home)]
    for finding in beside:
        tell_findings([finding], err=False)
        status = FINDINGS
    looks = Looks(home, club, people) if club and sound and people is not None else None
    told = _portraits(home, people) if sound and people and not kits else []
    tell_findings(told, err=False)
    status = FINDINGS if told else status
    if not kits:
        status = max(status, _theme(home.parent, quiet))
    twins: set[str] = set()
    # Years of them would push what is found off the screen.
    old = 0
    tagged: list[vocabulary.Tagged] = []
    for folder in folders:
        before = len(slips.errors)
        if not kits and folder.name.casefold() not in twins:
            slips.trying(check_folder, folder, folders)
            twins |= {folder.name.casefold()} if len(slips.errors) > before else set()
        if folder.name.casefold() in twins:
            continue
        looked = looks.known(folder) if looks else None
        if looked is None:
            kit = look_at_kit(folder, club, slips, keys_on_file(home))
            if kit is None or looks is None or len(slips.errors) > before:
                continue
            new = slips.trying(_found, kit, people, club)
            if new is None:
                continue
            looked = Looked(isinstance(kit, PastKit), tuple(new), vocabulary.tags_of(kit))
            looks.note(folder, looked)
        tagged += looked.tags
        found = [f for f in looked.found if f not in told]
        tell_findings([f for f in found if not (quiet and f.level == "hint")], err=False)
        serious = [f for f in found if f.level != "hint"]
        status = max(status, FINDINGS if serious else OK)
        if not kits and not found and looked.past:
            old += 1
            continue
        counts = {level: sum(f.level == level for f in found) for level in LEVELS}
        say(Styled(folder.name), ": ", words.old_found(counts) if looked.past else words.found(counts))
    if old:
        say(words.old_sound(old))
    if club and not kits:
        status = max(status, _told([*vocabulary.in_use(tagged, club)], quiet))
    try:
        slips.stop()
    except UserError as error:
        tell(error)
        status = BAD_INPUT
    if status == BAD_INPUT or moved:
        # Refused, or not yet agreed to: nothing at all is written.
        kept.withdraw()
    return status


def _theme(root: Path, quiet: bool) -> int:
    """What is the matter with her own theme; the status that follows."""
    if not (root / THEME).exists():
        return OK

    def look() -> list[Finding]:
        from kitwright.archive.themed import look_over, refuse_faults

        theme = read_theme(root)
        refuse_faults(theme)
        return look_over(theme)

    try:
        key = cache.digest(folder_digest(root / THEME), folder_digest(PROGRAM), shown(root), root, Path.cwd())
        told = cache.value("theme findings", key, look)
    except UserError as error:
        tell(error)
        return BAD_INPUT
    found = [f for f in told if not (quiet and f.level == "hint")]
    tell_findings(found, err=False)
    return FINDINGS if any(f.level != "hint" for f in found) else OK


def _portraits(home: Path, people: Mapping[str, Person]) -> list[Finding]:
    """What is wrong with the pictures of people."""

    def look() -> list[Finding]:
        from kitwright.release.lookover import portraits

        return portraits(people)

    return cache.value("portraits", cache.digest(dict(people), folder_digest(home / PEOPLE)), look)


def _unsaid(home: Path, people: Mapping[str, Person]) -> list[Finding]:
    """What says nothing in the files of the club and of people."""
    files = [look_at(home / CLUB_FILE, shown(home / CLUB_FILE)), *(person.document for person in people.values())]
    return [one for file in files for one in typed_in(file)]


def _colours(club: Club) -> list[Finding]:
    """What is hard to read in the club's colours."""

    def look() -> list[Finding]:

        from kitwright.check.colours import of_club

        return list(of_club(club))

    return cache.value("colours", cache.digest(club), look)


def _told(found: list[Finding], quiet: bool) -> int:
    """Tell what is found in no kit alone; the status that follows."""
    tell_findings([one for one in found if not (quiet and one.level == "hint")], err=False)
    return FINDINGS if any(one.level != "hint" for one in found) else OK


def _folders(kits: Path, named: tuple[str, ...]) -> list[Path]:
    return [kit_folder(kits.parent, name) for name in named] or all_folders(kits)


def _found(kit: Kit | PastKit, people: Mapping[str, Person], club: Club) -> list[Finding]:
    """What is found of a kit; of a past one, whether anybody can open its printable."""
    if isinstance(kit, PastKit):
        return [
            *whole.of_kit(kit.folder.parent, kit.id),
            *typed_in(kit.document),
            *look([kit])[1],
            *vocabulary.of_kit(vocabulary.tags_of(kit), club),
        ]
    # Loaded late: whoever saves one kit of many waits for that one alone.
    from kitwright.api import check

    return check(kit, people)


def _published_beside(kits: Path, read: list[str]) -> list[Finding]:
    """What was published and vanished with its kit, or concerns the ledger itself: no kit that is read can tell."""
    return [f for name, told in whole.published(kits).items() if name not in read for f in told]
