"""All drawings of a kit's pages and what takes long to work out for them, kept as one under a digest of what they are drawn from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import cast

from kitwright import cache
from kitwright.archive.boards import boards_of
from kitwright.archive.content import Content, put_away, size_of
from kitwright.archive.downloads import CutFiles, cut_files_shown
from kitwright.archive.drawn_from import drawn_from
from kitwright.archive.gallery import Gallery, gallery_of, sheets_of
from kitwright.archive.picture import Image
from kitwright.archive.pictures import pictures_of
from kitwright.archive.portable import packed, unpacked
from kitwright.archive.your_paper import your_paper
from kitwright.cache import Blob
from kitwright.telling.your_paper import YourPaper
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Drawn:
    """What depends on no moment: the drawings of one state, and what takes long to work out."""

    images: Mapping[str, Image]
    cut_files: CutFiles | None
    galleries: tuple[Gallery, ...]
    """Of each design."""
    yours: YourPaper
    files: Mapping[str, Content] = field(default_factory=dict)
    """Pictures and data, by their names beside the kit's page."""


def drawn(worked: Worked, offered: Mapping[str, Content], team: bool = False) -> Drawn:
    """The pictures of a kit, its gallery, its cut files' layouts, and the kit from other paper.

    Args:
        worked: the kit.
        offered: what readers can download, by name.
        team: for the team's eyes, who see scans that stay off the public site.

    Raises:
        UserError: a citation that names nothing, an arrangement that there is not, a shape that can't be cut.
    """
    if cache.handle().folder is None:
        return _drawn(worked, offered, team)
    kits = worked.kit.folder.parent
    key = cache.digest(drawn_from(worked), sorted(offered), team)
    found: Drawn | None = None

    def fresh() -> bytes:
        nonlocal found
        found = _drawn(worked, offered, team)
        found = replace(found, files=put_away(found.files))
        bare = tuple(replace(one, found=replace(one.found, worked=cast(Worked, None))) for one in found.galleries)
        return packed(replace(found, galleries=bare), kits)

    data = cache.value("drawn", key, fresh)
    if found is not None:
        return found
    found = _of_these(unpacked(data, kits), worked, offered)
    if not all(cache.relied(content) for content in found.files.values() if isinstance(content, Blob)):
        cache.note("drawn", key, fresh())
    return found


def _drawn(worked: Worked, offered: Mapping[str, Content], team: bool) -> Drawn:
    pictures = pictures_of(worked, team)
    cut_files, mats = cut_files_shown(worked, offered)
    pictures |= {mat.name: mat for mat in mats}
    galleries, drawings = zip(*(gallery_of(design, offered, team) for design in worked.designs))
    yours, data = your_paper(worked)
    files: dict[str, bytes] = {}
    palette = worked.kit.club.palette
    shown = {name: picture.shown(palette) for name, picture in pictures.items()}
    boards = boards_of(pictures, shown, palette, several=len(worked.designs) > 1)
    for found in (*drawings, data, *(each.files for each in shown.values()), boards.files):
        files |= found
    return Drawn({name: boards.placed(name, each.image) for name, each in shown.items()}, cut_files, galleries, yours, files)


def _of_these(found: Drawn, worked: Worked, offered: Mapping[str, Content]) -> Drawn:
    """What was drawn before, for the kit as it is now and its files as they are offered now."""
    cut_files = found.cut_files
    if cut_files is not None:
        download = replace(cut_files.download, size=size_of(offered[cut_files.download.file]))
        cut_files = replace(cut_files, download=download)
    galleries = tuple(
        replace(one, found=replace(one.found, worked=design), sheets=sheets_of(design, offered) if one.sheets else ())
        for one, design in zip(found.galleries, worked.designs)
    )
    return replace(found, cut_files=cut_files, galleries=galleries)
