"""`kitwright publish`: a finished site handed to its host, and read back."""

from __future__ import annotations

from pathlib import Path

import click

from kitwright.archive import addresses
from kitwright.archive.built import Built
from kitwright.archive.hosting import command as own
from kitwright.archive.hosting import ready
from kitwright.archive.hosting.plan import plan
from kitwright.archive.hosting.reread import reread
from kitwright.archive.hosting.rsync import Rsync
from kitwright.archive.hosting.sftp import Sftp
from kitwright.archive.hosting.target import Target, target_of
from kitwright.cli.asked import now, root_of, site_folder
from kitwright.cli.terminal import FINDINGS, at_a_terminal, say, tell_findings
from kitwright.cli.worded import Worded
from kitwright.errors import UserError
from kitwright.files import held, real, workshop
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.model import Club
from kitwright.kit.project import KITS
from kitwright.kit.read import read_club
from kitwright.telling import builds as words
from kitwright.telling.terminal import NOTHING_CHANGED

SHOWN = 5
"""Files that are named where there are many."""


@click.command("publish", cls=Worded)
@click.option("--from", "folder", type=click.Path(path_type=Path, file_okay=True), default=None)
@click.option("--dry-run", is_flag=True)
@click.option("--yes", is_flag=True)
@click.option("--adopt", is_flag=True)
@click.pass_context
def command(ctx: click.Context, folder: Path | None, dry_run: bool, yes: bool, adopt: bool) -> None:
    root = root_of(ctx)
    club = read_club(root / KITS)
    target = target_of(club, root)
    site = real(site_folder(root, folder))
    one = ready.ready(site, now(), zone(club.time_zone))
    lost = addresses.lost(addresses.read(root / KITS), one.files or {}, site, root / KITS, "error")
    if any(finding.level == "error" for finding in lost):
        tell_findings(lost)
        ctx.exit(FINDINGS)
    with held(site), workshop(root) as shop:
        (shop / "site").mkdir()
        whole = ready.copy(site, one, shop / "site")
        done = (
            _by_command(target, whole, root, dry_run, yes)
            if target.way == "command"
            else _sent(target, whole, one, shop, dry_run, yes, adopt)
        )
        if done is None:
            ctx.exit(FINDINGS if not dry_run else 0)
        wrong, sent, gone = done
        addresses.keep(root / KITS, whole, one.files or {})
    findings = [*wrong, *_public(club, one, sent, gone)]
    tell_findings(findings)
    if any(f.level == "error" for f in findings):
        ctx.exit(FINDINGS)


Done = tuple[list[Finding], tuple[str, ...], tuple[str, ...]]
"""What is wrong at the host, what was sent, and what was removed."""


def _sent(target: Target, site: Path, one: Built, shop: Path, dry_run: bool, yes: bool, adopt: bool) -> Done | None:
    host = Rsync(target, shop) if target.way == "rsync" else Sftp(target, shop)
    what = plan(one, host.look(site, one))
    for line in words.to_do(target.typed, what.new, what.changed, what.gone, len(what.files), what.size, every=dry_run):
        say(line)
    if what.taken and not adopt:
        raise UserError("hosting.others-files", place=target.place, to=target.typed, files=what.taken[:1], many=len(what.taken))
    if dry_run or not _agreed(yes or not (what.sent or what.gone)):
        return None
    try:
        host.send(site, what)
    except KeyboardInterrupt:
        say(words.STOPPED_ON_THE_WAY, err=True)
        raise
    odd = host.differing(site, one, what)
    say(words.sent(len(what.sent), len(what.gone), target.typed))
    wrong = (
        [Finding("error", target.place, "hosting.differs-there", to=target.typed, files=tuple(odd[:SHOWN]), many=len(odd))] if odd else []
    )
    return wrong, what.sent, what.gone


def _by_command(target: Target, site: Path, root: Path, dry_run: bool, yes: bool) -> Done | None:
    say(words.to_run(target.typed))
    if dry_run or not _agreed(yes):
        return None
    own.run_command(target, site, root)
    return [], (), ()


def _agreed(yes: bool) -> bool:
    if yes:
        return True
    if not at_a_terminal():
        raise UserError("hosting.not-asked")
    if click.confirm(words.SHALL_IT, default=False):
        return True
    say(NOTHING_CHANGED)
    return False


def _public(club: Club, one: Built, sent: tuple[str, ...], gone: tuple[str, ...]) -> list[Finding]:
    """What is wrong with what readers get."""
    if not club.address:
        say(words.NO_ADDRESS)
        return []
    found, place = reread(club.address, one.files or {}, sent, gone), club.place("address")
    if found.why:
        return [Finding("error", place, "hosting.not-public-yet", address=club.address, why=found.why)]
    say(words.read_back(found.read, found.of, club.address))

    def few(names: list[str]) -> dict[str, object]:
        return {"address": club.address, "files": tuple(names[:SHOWN]), "many": len(names)}

    return [
        *([Finding("error", place, "hosting.differs-in-public", **few(found.other))] if found.other else []),
        *([Finding("error", place, "hosting.still-public", **few(found.still))] if found.still else []),
        *([Finding("warning", place, "hosting.older-copies", **few(found.older))] if found.older else []),
    ]
