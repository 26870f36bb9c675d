"""What members get of a kit: files that are never in the public site."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from kitwright.archive.content import Content, lying, size_of
from kitwright.archive.downloads import Download
from kitwright.archive.offered import cut_files_given
from kitwright.archive.picture import Image
from kitwright.archive.pictures import thumbnail_of
from kitwright.kit.project import page_of, public_address
from kitwright.release.members import extras_of
from kitwright.release.record import Revision
from kitwright.telling.members import CUT_FILES
from kitwright.telling.words import led
from kitwright.work.worked import Worked

FILES = "files"
"""Folder of the files, beside a kit's page."""


@dataclass(frozen=True)
class Given:
    """What members get of a kit."""

    thumbnail: Image
    files: tuple[Download, ...]
    public: str | None
    """Its page for everybody, by its whole address; None where the club has none."""
    kit: Any = None
    """The kit, for its page."""
    data: Mapping[str, Content] = field(default_factory=dict)
    """Those files and the picture, by their path beside the page."""


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


def given_of(worked: Worked, revision: Revision | None) -> Given | None:
    """What members get of a kit, with the bytes of all; None where that is nothing.

    Raises:
        UserError: a file that is not there.
    """
    files: list[tuple[str, str, Content]] = [
        (name, path, lying(data) if isinstance(data, Path) else data) for name, path, data in files_for_members(worked, revision)
    ]
    if not files:
        return None
    kit = worked.kit
    picture = thumbnail_of(worked).shown(kit.club.palette)
    named = tuple(Download(led(name), path, size_of(data)) for name, path, data in files)
    data: dict[str, Content] = {path: each for _, path, each in files}
    data |= picture.files
    return Given(picture.image, named, public_address(kit.club, page_of(kit.id)), kit, data)
