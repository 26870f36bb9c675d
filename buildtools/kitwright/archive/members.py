"""The members' folder: files that are never in the public site, with a page for each kit.

A static site can't keep a file from anybody, so these go to a folder of their own, for a
place that a password guards. Only kits that are public already are in it.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kitwright.archive.cutters import cut_files_of
from kitwright.archive.gather import Archive
from kitwright.archive.pages import DOCS, LOOK, Tree, settings, write, write_page
from kitwright.archive.pictures import pictures_of
from kitwright.archive.theme import OVERRIDES, SETTINGS, assets, environment
from kitwright.archive.views import Shown, bytes_text, shown
from kitwright.release.members import CUT_FILES, extras_of
from kitwright.telling.words import led, month_text
from kitwright.work.worked import Worked

FILES = "files"
"""Folder of the files, beside a kit's page."""


@dataclass(frozen=True)
class MemberFile:
    """One file for members."""

    name: str
    """What it is."""
    file: str
    """Its path beside the kit's page."""
    size: str


@dataclass(frozen=True)
class MemberKit:
    """A kit with files for members."""

    id: str
    title: str
    when: str
    summary: str
    thumbnail: Shown
    files: tuple[MemberFile, ...]

    @property
    def page(self) -> str:
        return f"kits/{self.id}/index.md"


def files_for_members(worked: Worked) -> list[tuple[str, str, bytes | Path]]:
    """Every file for members: what it is, its path beside the kit's page, and its bytes or where it lies, to be copied.

    Raises:
        UserError: a file that is not there.
    """
    kit = worked.kit
    found = [(extra.name, f"{FILES}/{path.relative_to(kit.folder.resolve()).as_posix()}", path) for extra, path in extras_of(kit)]
    if kit.spec.cut_files == "members":
        found += [(CUT_FILES, f"{FILES}/{name}", data) for name, data in cut_files_of(worked).items()]
    return found


def write_members_tree(folder: Path, theme: Path, archive: Archive) -> tuple[Tree, dict[str, bytes | Path]]:
    """Write the content tree of the members' folder.

    Returns:
        The tree, and the files to put into the built site as they are, by path from its top:
        they stay out of the tree, where a page generator would make a page of some.
    """
    docs, env, files = folder / DOCS, environment(theme), {}
    kits: list[MemberKit] = []
    for worked in (e for e in archive.entries if isinstance(e, Worked)):
        given = files_for_members(worked)
        if not given:
            continue
        kit, picture = worked.kit, pictures_of(worked).thumbnail
        home = f"kits/{kit.id}/"
        kits.append(
            MemberKit(
                kit.id,
                kit.spec.title,
                month_text(kit.month),
                kit.spec.summary,
                shown(picture, home),
                tuple(
                    MemberFile(led(name), path, bytes_text(data.stat().st_size if isinstance(data, Path) else len(data)))
                    for name, path, data in given
                ),
            )
        )
        files |= {home + path: data for _, path, data in given} | {home + name: data for name, data in picture.files().items()}
    shared: dict[str, Any] = {"club": archive.club, "audience": archive.audience}
    write_page(docs / "index.md", env, "members.md", "", shared, kits=kits[::-1])
    for kit in kits:
        write_page(docs / kit.page, env, "memberkit.md", kit.title, shared, kit=kit)
    for name, data in assets(theme).items():
        write(docs / LOOK / name, data)
    shutil.copytree(theme / OVERRIDES, folder / OVERRIDES)
    write(folder / SETTINGS, settings(theme, archive.club, None, archive.audience, nav=(("For members", "index.md"),)).encode())
    return Tree(folder / SETTINGS, {kit.page: kit.id for kit in kits}), files
