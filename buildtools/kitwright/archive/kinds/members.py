"""The members' folder: files that are never in the public site, with a page for each kit.

A static site can't keep a file from anybody, so these go to a folder of their own, for a
place that a password guards. Only kits that are public already are in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from kitwright.archive.downloads import Download
from kitwright.archive.offered import cut_files_given
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.pictures import Image, image_of, thumbnail_of
from kitwright.kit.kit import Kit
from kitwright.kit.project import ARCHIVE_PAGE, page_of, public_address
from kitwright.release.members import extras_of
from kitwright.release.record import Revision, revision_at
from kitwright.telling.members import CUT_FILES
from kitwright.telling.words import led
from kitwright.work.worked import Worked

FILES = "files"
"""Folder of the files, beside a kit's page."""


@dataclass(frozen=True)
class Given:
    """What members get of a kit."""

    kit: Kit
    thumbnail: Image
    files: tuple[Download, ...]
    public: str | None
    """Its page for everybody, by its whole address; None where the club has none."""
    data: dict[str, bytes | Path]
    """Those files and the picture, by their path beside the page: bytes, or where a file lies, to be copied."""


def files_for_members(worked: Worked, revision: Revision | None) -> list[tuple[str, str, bytes | Path]]:
    """Every file for members: what it is, its path beside the kit's page, and its bytes or where it lies, to be copied.

    Raises:
        UserError: a file that is not there.
    """
    kit = worked.kit
    found: list[tuple[str, str, bytes | Path]] = [
        (extra.name, f"{FILES}/{path.relative_to(kit.folder.resolve()).as_posix()}", path) for extra, path in extras_of(kit)
    ]
    if kit.spec.cut_files == "members":
        found += [(CUT_FILES, f"{FILES}/{name}", data) for name, data in cut_files_given(worked, revision).items()]
    return found


@lru_cache(maxsize=1)
def _given(site: Site) -> tuple[Given, ...]:
    """Of every kit that has any, oldest first; both kinds of page ask."""
    found = []
    for worked in (e for e in site.archive.entries if isinstance(e, Worked)):
        files = files_for_members(worked, revision_at(worked.kit, site.archive.at))
        if files:
            picture = thumbnail_of(worked)
            named = tuple(
                Download(led(name), path, data.stat().st_size if isinstance(data, Path) else len(data)) for name, path, data in files
            )
            data = {path: data for _, path, data in files} | picture.files(site.archive.club.palette)
            found.append(Given(worked.kit, image_of(picture), named, public_address(site.archive.club, page_of(worked.kit.id)), data))
    return tuple(found)


def _home(site: Site) -> Iterator[Page]:
    yield Page("index.md", "", {"kits": _given(site)[::-1], "public": public_address(site.archive.club, ARCHIVE_PAGE)})


def _of_kit(site: Site) -> Iterator[Page]:
    for one in _given(site):
        yield Page(f"kits/{one.kit.id}/index.md", one.kit.spec.title, {"one": one}, kit=one.kit.id, given=one.data)


HOME = Kind("members.md", _home, audiences=("members",), menu="For members")
OF_KIT = Kind("memberkit.md", _of_kit, audiences=("members",))
