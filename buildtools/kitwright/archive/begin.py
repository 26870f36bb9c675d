"""A new archive: the club file, a first kit, a folder for people, and what keeps them well."""

from __future__ import annotations

import datetime as dt
import os
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from kitwright import files
from kitwright.archive.starter import as_yaml, fill_starter
from kitwright.errors import Place, UserError
from kitwright.kit.clock import zone
from kitwright.kit.project import KITS, MARKER
from kitwright.kit.read import CLUB_FILE
from kitwright.release.people import PEOPLE
from kitwright.telling.begun import GITATTRIBUTES, GITIGNORE, GITKEEP, club_text, readme_text

FIRST = "hello-there"
"""The short name of the kit that an archive begins with."""
NO_MATTER = {".git", ".DS_Store", "Thumbs.db", "desktop.ini"}
"""What may lie in a folder that counts as empty."""


@dataclass(frozen=True)
class Beginning:
    """What a new archive needs to know of its club."""

    name: str
    zone: str
    """An IANA name."""
    region: str
    """`us` or `metric`."""
    address: str | None
    """Where the site will stand, if that is known."""


@dataclass(frozen=True)
class HowTyped:
    """How commands are typed on this machine, for the archive's README."""

    command: str
    """How any command begins."""
    once: str
    """When the line that shortens it is typed."""
    shorter: str
    """That line."""


def club_name(typed: str) -> str:
    """A club's name as it was typed, without the blanks around it.

    Raises:
        UserError: it is none.
    """
    name = typed.strip()
    kinds = {unicodedata.category(c) for c in name}
    # Letters, digits and pictures are names; marks and blanks alone are none, and lines, controls and half characters part of none.
    if not name or len(name) > 120 or "[[" in name or kinds & {"Cc", "Cs", "Cn", "Zl", "Zp"} or not any(k[0] in "LNS" for k in kinds):
        raise UserError("begin.no-name", text=typed)
    return name


def place_for(typed: str) -> Path:
    """The folder that an archive may begin in: a new one, or one with nothing in it.

    Raises:
        UserError: it holds something, lies inside another archive or a site, or can't be a folder.
    """
    if not typed.strip() or not typed.isprintable():
        raise UserError("begin.no-folder", text=" ".join(typed.split()))
    folder = files.real(Path(typed))
    try:
        _fit(folder)
    except OSError as error:
        # One that may not be looked into, or a name that no system takes.
        raise files.trouble(error, "disk.begun", folder) from None
    return folder


def _fit(folder: Path) -> None:
    """Refuse a folder in which no archive can begin."""
    place = Place(folder)
    if any(not f.is_dir() for f in (folder, *folder.parents) if os.path.lexists(f)):
        raise UserError("begin.a-file", place=place)
    if os.path.lexists(folder / KITS):
        raise UserError("begin.already", place=place)
    if folder.name.casefold() == KITS:
        # Whoever stood above it would take it for the kits themselves.
        raise UserError("begin.called-kits", place=place, beside=folder.with_name("my-club"))
    for above in folder.parents:
        if (above / KITS / CLUB_FILE).is_file():
            raise UserError("begin.inside-another", place=place, archive=above, beside=above.parent / folder.name)
    for site in (folder, *folder.parents):
        if (site / MARKER).is_file():
            raise UserError("begin.inside-a-site", place=place, site=site)
    others = sorted(f.name for f in folder.iterdir()) if folder.is_dir() else []
    others = [name for name in others if name not in NO_MATTER and not name.startswith(files.OURS)]
    if others:
        raise UserError("begin.other-files", place=place, file=others[0])


def write_archive(folder: Path, club: Beginning, typed: HowTyped, now: dt.datetime) -> str:
    """Write a new archive, whole or not at all.

    Its first kit is of the month that it is now in the club, so that the first build shows it.

    Args:
        folder: a place that `place_for` found good.
        club: whose archive it is.
        typed: how commands are typed, for its README.
        now: an aware moment.

    Returns:
        The id of its first kit.

    Raises:
        UserError: the folder can't be written, or another command began there meanwhile.
    """
    today = now.astimezone(zone(club.zone)).date()
    kit = f"{today:%Y-%m}-{FIRST}"
    following = f"{today.replace(day=1) + dt.timedelta(days=31):%Y-%m}"
    try:
        near = files.nearest(folder)
        with files.workshop(near) as shop:
            new = shop / "archive"
            people = new / KITS / PEOPLE
            people.mkdir(parents=True)
            fill_starter(new / KITS / kit, "Hello there", club.region)
            address = as_yaml(club.address) if club.address else None
            texts = {
                new / KITS / CLUB_FILE: club_text(as_yaml(club.name), club.zone, club.region, address),
                people / ".gitkeep": GITKEEP,
                new / ".gitignore": GITIGNORE,
                new / ".gitattributes": GITATTRIBUTES,
                new / "README.md": readme_text(club.name, kit, following, typed.command, typed.once, typed.shorter),
            }
            for file, text in texts.items():
                file.write_text(text, encoding="utf-8", newline="\n")
            files.sync_tree(new)
            _put(new, folder, into=near == folder)
    except OSError as error:
        if os.path.lexists(folder / KITS):
            raise UserError("begin.already", place=Place(folder)) from None
        raise files.trouble(error, "disk.begun", folder) from None
    return kit


def _put(new: Path, folder: Path, *, into: bool) -> None:
    """Put an archive where it belongs: as a new folder at one stroke, or into an empty one in a short one, the kits last."""
    if not into:
        folder.parent.mkdir(parents=True, exist_ok=True)
        # Not over what another put there meanwhile.
        os.rename(new, folder)
        files.sync_folder(folder.parent)
        return
    put: list[Path] = []
    with files.undisturbed():
        try:
            for each in sorted(new.iterdir(), key=lambda f: (f.name == KITS, f.name)):
                if os.path.lexists(folder / each.name):
                    raise FileExistsError
                os.rename(each, folder / each.name)
                put.append(folder / each.name)
        except BaseException:
            for each in put:
                files.clear(each)
            raise
    files.sync_folder(folder)
