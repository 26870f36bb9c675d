"""Photos of kits, of people and of their cards, made ready for a page: upright, not too large, and without what a camera notes."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.folder import files_below
from kitwright.kit.kit import Kit
from kitwright.kit.picture import ENDINGS, encoded, picture
from kitwright.release.lookover import PHOTOS

LARGEST = 1100
"""Pixels along the longer edge: twice what the widest page shows."""
LARGE = 1600
"""Pixels of the picture that a photo opens: a screen full, and no more to carry than that."""
LARGE_FOLDER = "large"
"""Where those lie, beside the page."""


@dataclass(frozen=True)
class ReadyPhoto:
    """A photo as a page refers to it."""

    src: str
    width: int
    """Pixels."""
    height: int
    large: str
    """What it opens: a larger picture, or itself where it is all there is."""


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
    return ReadyPhoto(src, *made.size, src), encoded(made, ENDINGS[Path(src).suffix.lower()])


def photo_to_open(file: Path, src: str, place: Place) -> tuple[ReadyPhoto, dict[str, bytes]]:
    """The same, with the larger picture that it opens, where there is more to see; both by their addresses.

    Raises:
        UserError: it can't be read as a picture, or is too large.
    """
    from PIL.Image import Resampling

    whole, form, large = picture(file, place, LARGE), ENDINGS[Path(src).suffix.lower()], f"{LARGE_FOLDER}/{src}"
    made = whole.copy()
    made.thumbnail((LARGEST, LARGEST), Resampling.LANCZOS)
    if made.size == whole.size:
        return ReadyPhoto(src, *made.size, src), {src: encoded(made, form)}
    return ReadyPhoto(src, *made.size, large), {src: encoded(made, form), large: encoded(whole, form)}


def photos_of(kit: Kit) -> tuple[dict[str, ReadyPhoto], dict[str, bytes]]:
    """The photos that the kit's spec names, by that name, and all files by their path beside its page.

    The files are also those that only its notes show. Nothing else in the folder is published; `check` names it.

    Raises:
        UserError: a photo that the spec names can't be read.
    """
    named = {photo.file: kit.place("photos", i, "file") for i, photo in enumerate(kit.spec.photos)}
    shown: dict[str, ReadyPhoto] = {}
    files: dict[str, bytes] = {}
    for name, place in named.items():
        shown[name], made = photo_to_open(kit.folder / name, name, place)
        files |= made
    for file in pictures_in(kit):
        name = file.relative_to(kit.folder).as_posix()
        if name not in files:
            with suppress(UserError):
                files[name] = photo(file, name, Place(kit.notes_file))[1]
    return shown, files


def pictures_in(kit: Kit) -> Iterable[Path]:
    """Files in the kit's folder of photos that are named as pictures are."""
    return (file for file in files_below(kit.folder / PHOTOS) if not file.name.startswith(".") and file.suffix.lower() in ENDINGS)
