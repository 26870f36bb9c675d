"""Photos of kits, of people and of their cards, made ready for a page: upright, not too large, and without what a camera notes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.folder import files_below
from kitwright.kit.kit import Kit
from kitwright.kit.picture import ENDINGS, encoded, picture
from kitwright.release.lookover import PHOTOS

LARGEST = 1100
"""Pixels along the longer edge: twice what the widest page shows."""


@dataclass(frozen=True)
class ReadyPhoto:
    """A photo as a page refers to it."""

    src: str
    width: int
    """Pixels."""
    height: int


def photo(file: Path, src: str, place: Place) -> tuple[ReadyPhoto, bytes]:
    """A photo as its address says: JPEG, PNG or WebP.

    Where it was taken, when, and with what is left out: a maker who shows a card does not
    mean to tell where she lives.

    Args:
        file: the picture.
        src: its address as the page has it; its ending chooses the format.
        place: who names it, for an error.

    Raises:
        UserError: it can't be read as a picture, or is too large.
    """
    made = picture(file, place, LARGEST)
    return ReadyPhoto(src, *made.size), encoded(made, ENDINGS[Path(src).suffix.lower()])


def photos_of(kit: Kit) -> dict[str, bytes]:
    """The kit's photos by their path beside its page, those that only its notes show included.

    Nothing else in the folder is published; `check` names it.

    Raises:
        UserError: a photo that the spec names can't be read.
    """
    named = {kit.folder / photo.file: kit.place("photos", i, "file") for i, photo in enumerate(kit.spec.photos)}
    found = {}
    for file in sorted({*named, *pictures_in(kit)}):
        name = file.relative_to(kit.folder).as_posix()
        try:
            found[name] = photo(file, name, named.get(file, Place(kit.notes_file)))[1]
        except UserError:
            if file in named:
                raise
    return found


def pictures_in(kit: Kit) -> Iterable[Path]:
    """Files in the kit's folder of photos that are named as pictures are."""
    return (file for file in files_below(kit.folder / PHOTOS) if not file.name.startswith(".") and file.suffix.lower() in ENDINGS)
