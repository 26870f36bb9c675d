"""Photos of people and of their cards, made ready for a page: upright, not too large, and without what a camera notes."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageOps

from kitwright.errors import Place, UserError

LARGEST = 1100
"""Pixels along the longer edge: twice what the widest page shows."""
QUALITY = 84


@dataclass(frozen=True)
class Photo:
    """A photo as a page refers to it."""

    src: str
    width: int
    """Pixels."""
    height: int


def photo(file: Path, src: str, place: Place) -> tuple[Photo, bytes]:
    """A photo as JPEG.

    Where it was taken, when, and with what is left out: a maker who shows a card does not
    mean to tell where she lives.

    Args:
        file: the picture.
        src: its address as the page has it.
        place: who names it, for an error.

    Raises:
        UserError: it can't be read as a picture.
    """
    try:
        with Image.open(file) as opened:
            picture = ImageOps.exif_transpose(opened).convert("RGB")
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        raise UserError(f"{file.name} can't be read as a picture", "save it again as JPEG or PNG", place) from None
    picture.thumbnail((LARGEST, LARGEST), Image.Resampling.LANCZOS)
    made = io.BytesIO()
    bare = Image.new("RGB", picture.size)
    bare.paste(picture)
    bare.save(made, "JPEG", quality=QUALITY, optimize=True)
    return Photo(src, *picture.size), made.getvalue()
