"""Scans for tests: a picture that tells where on the sheet each of its places lies, and kits that show it."""

from __future__ import annotations

import io
from pathlib import Path

from kitwright.kit.kit import Kit
from kitwright.kit.read import read_club, read_kit
from kitwright.work.worked import Worked
from kitwright.work.working import work
from making import BATCH, CLUB, changed, make_archive
from PIL import Image

EDGE = 12
"""Inches of the sheet each way."""
RIVER = "front: {look: stripes, colours: [sky, white]}"
ORIENTATION = 0x0112
SECRET = "held at Nowhere 7"


def sheet(across: int = 240, along: int | None = None) -> Image.Image:
    """Red grows to the right, green downwards; blue is everywhere the same."""
    size = across, along or across
    red = Image.linear_gradient("L").rotate(90).resize(size, Image.Resampling.BILINEAR)
    green = Image.linear_gradient("L").resize(size, Image.Resampling.BILINEAR)
    return Image.merge("RGB", (red, green, Image.new("L", size, 90)))


def place(pixel: tuple[int, ...], edge: float = EDGE) -> tuple[float, float]:
    """Which place of such a sheet a pixel shows, inches."""
    return pixel[0] * edge / 255, pixel[1] * edge / 255


def saved(picture: Image.Image, form: str = "PNG", orientation: int = 1) -> bytes:
    """Its file, with a camera's notes."""
    out, exif = io.BytesIO(), Image.Exif()
    exif[ORIENTATION], exif[0x010E] = orientation, SECRET
    picture.save(out, form, exif=exif, **({"quality": 95} if form != "PNG" else {}))
    return out.getvalue()


def kit_with(root: Path, front: str = "front: {scan: river.png}", *more: tuple[str, str], files: dict[str, bytes] | None = None) -> Kit:
    """The batch of nine, its paper shown by a scan."""
    folder = make_archive(root, changed(BATCH, (RIVER, front), *more), club=CLUB)
    for name, data in (files or {"river.png": saved(sheet())}).items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(data)
    return read_kit(folder, read_club(root / "kits"))


def worked_with(
    root: Path, front: str = "front: {scan: river.png}", *more: tuple[str, str], files: dict[str, bytes] | None = None
) -> Worked:
    """The same, worked out."""
    return work(kit_with(root, front, *more, files=files))
