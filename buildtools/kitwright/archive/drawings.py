"""All drawings of a kit's pages and what takes long to work out for them, kept as one under a digest of what they are drawn from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import cast

from kitwright import cache
from kitwright.archive.content import Content, put_away, size_of
from kitwright.archive.downloads import CutFiles, cut_files_shown
from kitwright.archive.drawn_from import drawn_from
from kitwright.archive.gallery import Gallery, gallery_of, sheets_of
from kitwright.archive.pictures import Image, pictures_of
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
    gallery: Gallery
    yours: YourPaper
    files: Mapping[str, Content] = field(default_factory=dict)
    """Pictures and data, by their names beside the kit's page."""


def drawn(worked: Worked, offered: Mapping[str, Content]) -> Drawn:
    """The pictures of a kit, its gallery, its cut files' layouts, and the kit from other paper.

    Args:
        worked: the kit.
        offered: what readers can download, by name.

    Raises:
        UserError: a citation that names nothing, an arrangement that there is not, a shape that can't be cut.
    """
    if cache.handle().folder is None:
        return _drawn(worked, offered)
    kits = worked.kit.folder.parent
    key = cache.digest(drawn_from(worked), sorted(offered))
    found: Drawn | None = None

    def fresh() -> bytes:
        nonlocal found
        found = _drawn(worked, offered)
        found = replace(found, files=put_away(found.files))
        return packed(replace(found, gallery=replace(found.gallery, found=replace(found.gallery.found, worked=cast(Worked, None)))), kits)

    data = cache.value("drawn", key, fresh)
    if found is not None:
        return found
    found = _of_these(unpacked(data, kits), worked, offered)
    if not all(cache.relied(content) for content in found.files.values() if isinstance(content, Blob)):
        cache.note("drawn", key, fresh())
    return found


def _drawn(worked: Worked, offered: Mapping[str, Content]) -> Drawn:
    pictures = pictures_of(worked)
    cut_files, mats = cut_files_shown(worked, offered)
    pictures |= {mat.name: mat for mat in mats}
    gallery, files = gallery_of(worked, offered)
    yours, data = your_paper(worked)
    palette = worked.kit.club.palette
    shown = {name: picture.shown(palette) for name, picture in pictures.items()}
    for found in (data, *(each.files for each in shown.values())):
        files |= found
    return Drawn({name: each.image for name, each in shown.items()}, cut_files, gallery, yours, files)


def _of_these(found: Drawn, worked: Worked, offered: Mapping[str, Content]) -> Drawn:
    """What was drawn before, for the kit as it is now and its files as they are offered now."""
    cut_files, gallery = found.cut_files, found.gallery
    if cut_files is not None:
        download = replace(cut_files.download, size=size_of(offered[cut_files.download.file]))
        cut_files = replace(cut_files, download=download)
    sheets = sheets_of(worked, offered) if gallery.sheets else ()
    return replace(found, cut_files=cut_files, gallery=replace(gallery, found=replace(gallery.found, worked=worked), sheets=sheets))
