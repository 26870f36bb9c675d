"""Build the whole site, and put it in place only when it is whole."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

from kitwright.archive.audience import Audience
from kitwright.archive.gather import Archive, Refused, gather, kit_of
from kitwright.archive.make import Kept, Made, Progress, make_all
from kitwright.archive.members import write_members_tree
from kitwright.archive.pages import write, write_tree
from kitwright.archive.site import finish, run_mkdocs
from kitwright.archive.theme import theme_folder
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.project import KITS, SITE
from kitwright.release.revisions import PUBLISHED

__all__ = ["BuildReport", "Refused", "build_archive"]

MARKER = ".kitwright"
"""A file that marks a folder as a site made by kitwright, which may be replaced."""
MARKER_TEXTS: dict[Audience, str] = {
    "public": "Made by kitwright build. The next build replaces this whole folder.\n",
    "team": "Made by kitwright build --for team. Not public: keep it behind a password. The next such build replaces this whole folder.\n",
    "members": "Made by kitwright build --for members. Not public: keep it behind a password. The next such build replaces this whole folder.\n",
}
WHO: dict[Audience, str] = {"public": "everybody", "team": "the team", "members": "members"}
KEPT_FILES = (".gitignore", ".gitattributes")
"""Files of the folder that belong to its owner and outlive each build."""


@dataclass(frozen=True)
class BuildReport:
    """What was built."""

    kits: int
    """Kits in the archive, past ones included."""
    pages: int
    files: int
    size: int
    """Bytes in all."""
    seconds: Fraction
    """How long it took, to a tenth."""
    index: Path
    """The page to open."""
    warnings: tuple[Finding, ...] = ()
    """What is worth a look, though it did not stop the build."""


def build_archive(root: Path, out: Path, progress: Progress | None = None, *, address: str | None = None,
                  kept: Kept | None = None, as_of: dt.datetime | None = None, audience: Audience = "public") -> BuildReport:
    """Build the site of an archive.

    Everything is read and checked first; the site is made beside `out` and takes its
    place by renaming, so `out` holds either the old site or the whole new one.

    Args:
        root: the folder that holds `kits/`.
        out: where the site goes.
        progress: called with what is being done, how much of it is done, and how much there is.
        address: where the site will stand, instead of the club's own address.
        kept: what an earlier build made, to be used again for kits that have not changed.
        as_of: the moment to build for: only what is due then, as it was released; None: everything as it stands.
        audience: for whom the site is: everybody, or the team with upcoming kits too.

    Raises:
        UserError: something can't be read, or `out` can't be replaced.
        Refused: kits with errors; carries the findings.
    """
    started, told = time.monotonic(), progress or (lambda words, done, total: None)
    out = out.resolve()
    told("Reading the kits", 0, 1)
    check_target(out, root, audience)
    archive = gather(root, as_of, audience)
    theme = theme_folder(root)
    made = make_all(archive, told, kept) if audience != "members" else []
    told("Writing the pages", 0, 1)
    # What is not public tells no address: no feed, no map of the site, no canonical link.
    address = (address or archive.club.address) if audience == "public" else None
    out.parent.mkdir(parents=True, exist_ok=True)
    site = Path(tempfile.mkdtemp(prefix=f".{out.name}-new-", dir=out.parent))
    try:
        with tempfile.TemporaryDirectory(prefix="kitwright-") as tree_folder:
            if audience == "members":
                tree, beside = write_members_tree(Path(tree_folder), theme, archive)
            else:
                tree, beside = write_tree(Path(tree_folder), theme, archive, made, address), {}
            run_mkdocs(tree, site, moment(archive), root / KITS)
        finish(site, tree, address, root / KITS, audience)
        for name, data in beside.items():
            write(site / name, data)
        (site / MARKER).write_text(MARKER_TEXTS[audience], encoding="utf-8", newline="\n")
        files = [f for f in site.rglob("*") if f.is_file()]
        pages, size = sum(f.suffix == ".html" for f in files), sum(f.stat().st_size for f in files)
        swap(site, out)
    finally:
        shutil.rmtree(site, ignore_errors=True)
    told("Writing the pages", 1, 1)
    return BuildReport(len(made) or len(tree.sources), pages, len(files), size, Fraction(round((time.monotonic() - started) * 10), 10), out / "index.html",
                       (*archive.unreleased, *archive.left, *_redrawn(made, root / KITS)))


def _redrawn(made: list[Made], kits: Path) -> Iterator[Finding]:
    """A warning for each kit whose printables this kitwright draws otherwise than they were published."""
    for one in made:
        if one.redrawn:
            yield Finding("warning", Place(kits / one.card.id / PUBLISHED), f"printables of {one.card.id} are drawn otherwise than they were published: {', '.join(one.redrawn)}",
                          f"their numbers are the same; look at them, then note them anew with  kitwright release {one.card.id} --redraw")


def moment(archive: Archive) -> int:
    """The time that the site claims as its own, so that the same kits always give the same bytes: the newest reveal."""
    zone = ZoneInfo(archive.club.time_zone)
    newest: dt.datetime = kit_of(archive.entries[-1]).reveal
    return int(newest.replace(tzinfo=zone).timestamp())


def check_target(out: Path, root: Path, audience: Audience = "public") -> None:
    """Refuse a target that would cost somebody her files or tell what is not public, and mend a swap that was cut short.

    Raises:
        UserError: not a folder, a folder of other files, one inside the kits or inside a site,
            or one that holds a site for somebody else.
    """
    place = Place(out)
    _mend(out)
    if out.is_relative_to((root / KITS).resolve()):
        raise UserError("the site can't go into the folder of kits", "give another folder with --out", place)
    if out.exists() and not out.is_dir():
        raise UserError("the site can't go here: this is a file", "give a folder with --out", place)
    for folder in out.parents:
        if (folder / MARKER).is_file() or folder == (root / SITE).resolve():
            raise UserError(f"the site can't go here: {folder.name}/ is a site itself, and would publish it", "give a folder outside of it with --out", place)
    if audience != "public" and out == (root / SITE).resolve():
        raise UserError(f"{SITE}/ is for everybody, and this is for {WHO[audience]} alone", "leave --out away, or give another folder", place)
    for other, text in MARKER_TEXTS.items():
        if other != audience and (out / MARKER).is_file() and (out / MARKER).read_text(encoding="utf-8") == text:
            raise UserError(f"this folder holds what was built for {WHO[other]}, and this is for {WHO[audience]}", "give another folder with --out", place)
    if out.is_dir() and not (out / MARKER).is_file():
        others = [f.name for f in out.iterdir() if f.name not in KEPT_FILES]
        if others:
            raise UserError(f"this folder holds other files, {sorted(others)[0]} for one, and building would replace them",
                            "give an empty or a new folder with --out", place)


def swap(new: Path, out: Path) -> None:
    """Put a whole new site in the place of the old one.

    Raises:
        UserError: the old folder is in use, or nothing may be written here.
    """
    for name in KEPT_FILES:
        if (out / name).is_file():
            shutil.copy2(out / name, new / name)
    # mkdtemp makes a folder for its owner alone; a site is for everybody.
    new.chmod(0o755)
    old = out.parent / f".{out.name}-old"
    try:
        if out.exists():
            os.rename(out, old)
        try:
            os.rename(new, out)
        except BaseException:
            if old.exists() and not out.exists():
                os.rename(old, out)
            raise
    except OSError as error:
        raise UserError(f"the new site could not take the place of the old one: {error.strerror}",
                        "close what has the folder open and build again", Place(out)) from None
    shutil.rmtree(old, ignore_errors=True)


def _mend(out: Path) -> None:
    """If the machine stopped in the middle of a swap, put the old site back; clear what else was left."""
    old = out.parent / f".{out.name}-old"
    if not old.is_dir() or not ((old / MARKER).is_file() or all(f.name in KEPT_FILES for f in old.iterdir())):
        return
    if out.exists():
        shutil.rmtree(old, ignore_errors=True)
    else:
        os.rename(old, out)
