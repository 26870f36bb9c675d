"""Everything that the team takes of a kit in one download: its printables and its pictures, as ZIP.

File names in it are our own, of plain letters, so that every system unpacks it; the same kit gives the same bytes.
Samples of others are not in it, nor what is for members alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from kitwright.archive.content import Content, data_of
from kitwright.archive.downloads import Download
from kitwright.archive.make import Made
from kitwright.archive.standing import IN_INK
from kitwright.cutfiles import zipped
from kitwright.kit.kit import Kit
from kitwright.telling.team import contents_text, printable_text, sheet_text, workbook_text

CONTENTS = "contents.txt"
PRINTABLES, PICTURES = "printables", "pictures"


@dataclass(frozen=True)
class Bundle:
    """The one download."""

    download: Download
    printables: int
    pictures: int
    """How many of each are in it."""
    data: bytes


def bundle_of(one: Made) -> Bundle | None:
    """A kit's printables and pictures as they are shown; None where there are none, and for a past kit."""
    if not isinstance(one.kit, Kit):
        return None
    found = {path: (words, data_of(content)) for path, words, content in _inside(one, one.kit)}
    if not found:
        return None
    kit, preview = one.kit, one.state.code if one.state and one.state.preview else ""
    listed = [(path, words) for path, (words, _) in sorted(found.items())]
    said = contents_text(kit.spec.title, kit.club.name, listed, preview)
    files = {CONTENTS: said.encode()} | {path: data for path, (_, data) in found.items()}
    name = f"{kit.id}-everything"
    data = zipped(files, name)
    printables, pictures = (sum(path.startswith(f"{folder}/") for path in found) for folder in (PRINTABLES, PICTURES))
    return Bundle(Download("ZIP", f"{name}.zip", len(data)), printables, pictures, data)


def _inside(one: Made, kit: Kit) -> Iterator[tuple[str, str, Content]]:
    """Path in the bundle, what it is, and what it holds."""
    for ink, row in one.printables.items():
        for each in row:
            if each.file in one.files:
                yield f"{PRINTABLES}/{each.file}", printable_text(each.name, IN_INK[ink]), one.files[each.file]
    for each in one.workbooks:
        if each.file in one.files:
            yield f"{PRINTABLES}/{each.file}", workbook_text(each.name), one.files[each.file]
    for gallery in one.galleries:
        for sheet in gallery.sheets:
            if sheet.file in one.files:
                yield f"{PRINTABLES}/{sheet.file}", sheet_text(sheet.name, gallery.design), one.files[sheet.file]
    for image in one.images.values():
        if image.png in one.files:
            yield f"{PICTURES}/{image.png}", image.alt, one.files[image.png]
    tiles = (tile for gallery in one.galleries if gallery.has_page for tile in gallery.tiles)
    for n, tile in enumerate(tiles, 1):
        if tile.image.png in one.files:
            yield f"{PICTURES}/arrangement-{n:02}.png", f"{tile.name}: {tile.image.alt}", one.files[tile.image.png]
    for n, shot in enumerate(kit.spec.photos, 1):
        if shot.file in one.files:
            yield f"{PICTURES}/photo-{n:02}{PurePosixPath(shot.file).suffix.lower()}", shot.alt or "", one.files[shot.file]
