"""Build the whole site, and put it in place only when it is whole."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import shutil
import stat
import tempfile
import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from kitwright import cache, files
from kitwright.archive import addresses, before, built, led
from kitwright.archive.audience import FOLDERS, Audience
from kitwright.archive.built import Built
from kitwright.archive.cluster import executor_at
from kitwright.archive.finder_tables import TABLES, tables_script
from kitwright.archive.gather import Archive, BuildRefused
from kitwright.archive.listing import Kits
from kitwright.archive.pages import write_tree
from kitwright.archive.placing import KEPT_FILES, Placing, Standing, note, noted
from kitwright.archive.report import BuildReport
from kitwright.archive.search.write import search_files
from kitwright.archive.site import make_pages
from kitwright.archive.themed import look_over, refuse_faults
from kitwright.archive.unchanged import Asked
from kitwright.archive.units import made_units
from kitwright.archive.watched import Watched
from kitwright.archive.workers import Progress
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.clock import zone
from kitwright.kit.project import KITS, MARKER, SITE
from kitwright.kit.read import read_club
from kitwright.kit.theme import Theme, read_theme
from kitwright.release import atomic
from kitwright.release.calendar import aware
from kitwright.telling.site import MARKS

__all__ = ["MARKER", "BuildReport", "BuildRefused", "build_archive"]


def build_archive(
    root: Path,
    out: Path,
    progress: Progress | None = None,
    *,
    address: str | None = None,
    as_of: dt.datetime | None = None,
    audience: Audience = "public",
    now: dt.datetime | None = None,
    keep: Path | None = None,
    on: str | None = None,
) -> BuildReport:
    """Build the site of an archive.

    Everything is read and checked first; the site is made beside `out` and takes its
    place by renaming, so `out` holds either the old site or the whole new one.

    Args:
        root: the folder that holds `kits/`.
        out: where the site goes.
        progress: called with what is being done, how much of it is done, and how much there is.
        address: where the site will stand, instead of the club's own address.
        as_of: the moment to build for: only what is due then, as it was released; None: everything as it stands.
        audience: for whom the site is: everybody, or the team with upcoming kits too.
        keep: the folder where what is made is kept; beside the kits when left out.
        on: the address of a cluster that makes the kits; processes of this machine when left out.
        now: when it is built; what is built for a later moment says so on every page. The clock's own time when left out.

    Raises:
        UserError: something can't be read, or `out` can't be replaced, or is for what is due by now.
        BuildRefused: kits with errors; carries the findings.
    """
    started, told = time.monotonic(), progress or (lambda words, done, total: None)
    now = now or dt.datetime.now(dt.UTC)
    asked = Asked(root, files.real(out), audience, as_of, now, address)
    ahead = as_of is not None and aware(as_of) > now
    try:
        out = files.real(out)
        told("Reading the kits", 0, 1)
        check_target(out, root, audience)
        if as_of is not None and ahead:
            _not_for_later(out, root, as_of)
        for place in (root, _temporary()):
            if place:
                files.sweep(place)
        atomic.finish(root / KITS)
        with contextlib.ExitStack() as until:
            until.enter_context(files.held(root / KITS, shared=True))
            theirs = asked.themes()
            theme = read_theme(root)
            refuse_faults(theme)
            # Made before the drawing, so that a place that can't be written is told at once.
            shop = until.enter_context(files.workshop(_beside(out, root)))
            notes = _keeping(keep or root / cache.FOLDER, shop)
            until.enter_context(cache.using(notes))
            cluster = until.enter_context(executor_at(on, root)) if on else None
            units = made_units(root, as_of, audience, told, cluster)
            archive, made, key = replace(units.archive, ahead=ahead), units.kits, asked.key(units.inputs, theirs)
            told("Writing the pages", 0, 1)
            # What is not public tells no address: no feed, no map of the site, no canonical link.
            address = (address or archive.club.address) if audience == "public" else None
            watched = Watched.of(as_of) if as_of is not None else None
            site, kits = _write_site(shop, replace(archive, as_of=watched), made, address, root, theme, out)
            # A site for a moment that is past has fewer pages, as it had then.
            kept = addresses.read(root / KITS) if audience == "public" and (as_of is None or aware(as_of) >= now) else {}
            astray = [
                *led.findings(site, f"{address.rstrip('/')}/" if address else ""),
                *addresses.lost(kept, site.files, site.folder, root / KITS),
            ]
            for name, data in addresses.leading_on(kept, site.files, theme).items():
                site.put(name, data)
            built.record(site, archive, {one.id: one.listing.revision for one in made}, now)
            html, size = sum(name.endswith(".html") for name in site.files), sum(one.size for one in site.files.values())
            # Put there and noted in one go: of two builds at once, what is noted is what stands there in the end.
            until.enter_context(files.held(notes))
            kept_before = swap(site.folder, out, root, audience, now)
            left = [] if files.clear(shop) else [_left(shop)]
            report = BuildReport(
                kits,
                html,
                len(site.files),
                size,
                Fraction(round((time.monotonic() - started) * 10), 10),
                out / "index.html",
                (*archive.unreleased, *archive.left, *look_over(theme), *astray, *left),
                archive.found,
                kept=before.home_of(out) if kept_before else None,
                kept_size=sum(one.size for one in (kept_before.files or {}).values()) if kept_before else 0,
            )
            # What was saved meanwhile may be in it half.
            if watched is not None:
                units.span.meet(watched.span)
            note(out, Standing(site.files, key if not left and asked.key() == key else "", units.span, report))
    except OSError as error:
        raise files.trouble(error, "disk.site", out, folder=out.name) from None
    told("Writing the pages", 1, 1)
    return report


def _write_site(shop: Path, archive: Archive, made: Kits, address: str | None, root: Path, theme: Theme, out: Path) -> tuple[Placing, int]:
    """Make the site in a folder of our own, beside the one that stands in `out`; and how many kits have a page.

    Raises:
        UserError: something of hers is at fault.
    """
    try:
        return _written(shop, archive, made, address, root, theme, out)
    except (UserError, OSError):
        raise
    except Exception as error:
        if not theme.standing_files:
            raise
        # Nothing of hers had a part in it that could be seen. Where the program's theme alone does better, it is hers all the same.
        if not _works_without(shop, archive, made, address, root, theme):
            raise
        why = str(error) or type(error).__name__
        raise UserError("theme.not-built", place=Place(theme.folder), why=why, mine=theme.standing_files) from None


def _works_without(shop: Path, archive: Archive, made: Kits, address: str | None, root: Path, theme: Theme) -> bool:
    """Whether the site can be made with the program's theme alone."""
    try:
        with files.workshop(shop) as other:
            _written(other, archive, made, address, root, Theme(theme.program))
    except OSError:
        raise
    except Exception:
        return False
    return True


def _written(
    shop: Path, archive: Archive, made: Kits, address: str | None, root: Path, theme: Theme, out: Path | None = None
) -> tuple[Placing, int]:
    stood = noted(out) if out else None
    site, content = Placing(shop / "site", out, stood.files if stood else None), shop / "pages"
    site.folder.mkdir()
    content.mkdir()
    # By where it is kept rather than by what it is made from, which for the preview is a copy somewhere else.
    key = cache.digest(cache.handle().folder, archive.audience, archive.as_of is None, address) if out else ""
    tree = write_tree(content, theme, archive, made, address, key)
    make_pages(tree, site, moment(made), root / KITS, theme, archive, key)
    facts = {one.id: one.listing.found for one in made if one.listing.found}
    for name, part in search_files(site, tree, facts).items():
        site.put(name, part)
    if any(one.listing.yields for one in made):
        site.put(TABLES, tables_script(made))
    for page in tree.pages:
        for name, data in page.given.items():
            full = f"{page.path.rpartition('/')[0]}/{name}".lstrip("/")
            try:
                site.put(full, data)
            except cache.Lost:
                site.put(full, tree.again(full))
    site.put(MARKER, MARKS[archive.audience].encode(), fresh=True)
    return site, len({page.kit for page in tree.pages if page.kit})


def _keeping(wanted: Path, shop: Path) -> Path:
    """Where what is made is kept: as is wanted, or only as long as it is needed where nothing can be written there."""
    return wanted if os.access(files.nearest(wanted), os.W_OK) else shop / cache.FOLDER


def _beside(out: Path, root: Path) -> Path:
    """Where a site is made: on the disk of its place, and beside the kits where that is the same, so that whatever is built next finds what a killed build left."""
    near, root = files.nearest(out.parent), files.real(root)
    same = near.is_relative_to(root) and near.stat().st_dev == root.stat().st_dev
    return root if same and os.access(root, os.W_OK) else near


def _temporary() -> Path | None:
    """Where killed previews left their sites."""
    with contextlib.suppress(OSError):
        return Path(tempfile.gettempdir())
    return None


def _left(shop: Path) -> Finding:
    return Finding("warning", Place(shop), "site.left-over")


def moment(kits: Kits) -> int:
    """The time that the site claims as its own, so that the same kits always give the same bytes: the newest reveal."""
    return int(kits[-1].listing.at.timestamp())


def check_target(out: Path, root: Path, audience: Audience = "public") -> None:
    """Refuse a target that would cost somebody her files or tell what is not public, and mend a swap that was cut short.

    Raises:
        UserError: not a folder, a folder of other files, one inside the kits or inside a site,
            or one that holds a site for somebody else.
    """
    place = Place(out)
    if out.is_symlink():
        raise UserError("site.place-is-a-lost-link", place=place)
    if any(not f.is_dir() for f in (out, *out.parents) if f.exists()):
        raise UserError("site.place-is-a-file", place=place)
    kits = files.real(root / KITS)
    if out.is_relative_to(kits) or kits.is_relative_to(out):
        raise UserError("site.place-in-the-kits" if out.is_relative_to(kits) else "site.place-over-the-kits", place=place)
    _mend(out)
    for folder in out.parents:
        if (folder / MARKER).is_file() or folder == files.real(root / SITE):
            raise UserError("site.place-in-a-site", place=place, folder=folder.name)
    if audience != "public" and out == files.real(root / SITE):
        raise UserError("site.place-of-the-public", place=place, folder=SITE, audience=audience)
    for other, text in MARKS.items():
        if other != audience and (out / MARKER).is_file() and (out / MARKER).read_bytes() == text.encode():
            raise UserError("site.place-of-others", place=place, theirs=other, audience=audience)
    _only_ours(out)


def _not_for_later(out: Path, root: Path, as_of: dt.datetime) -> None:
    """Refuse the folders that are uploaded, or looked at, as what is due by now."""
    for folder in FOLDERS.values():
        if out == files.real(root / folder):
            at = as_of.astimezone(zone(read_club(root / KITS).time_zone))
            raise UserError("site.place-of-now", place=Place(out), folder=folder, at=at)


def _only_ours(out: Path) -> None:
    """Refuse to replace a folder of other files."""
    if out.is_dir() and not (out / MARKER).is_file():
        others = [f.name for f in out.iterdir() if f.name not in KEPT_FILES]
        if others:
            raise UserError("site.place-of-other-files", place=Place(out), file=sorted(others)[0])


def swap(new: Path, out: Path, root: Path, audience: Audience, now: dt.datetime) -> Built | None:
    """Put a whole new site in the place of the old one; what is known of that, if it is kept.

    Raises:
        UserError: the old folder is in use, or nothing may be written here.
    """
    # Another may have put something there since.
    check_target(out, root, audience)
    for name in KEPT_FILES:
        if (out / name).is_file():
            shutil.copy2(out / name, new / name)
    if out.is_dir():
        new.chmod(stat.S_IMODE(out.stat().st_mode))
    try:
        return before.put(new, out, now)
    except OSError as error:
        raise files.trouble(error, "disk.exchange", out) from None


def _mend(out: Path) -> None:
    """If the machine stopped in the middle of a swap, put the old site back; clear what else was left."""
    left = files.mend(out)
    if left is not None and before.taken_up(left, out):
        return
    if left is not None and ((left / MARKER).is_file() or all(f.name in KEPT_FILES for f in left.iterdir())):
        files.clear(left)
