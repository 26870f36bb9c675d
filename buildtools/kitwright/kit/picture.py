"""Pictures from a folder that may come from a stranger: known before they are decoded, and bare.

`bare` walks a file's own blocks by their lengths, in plain bytes. It knows the picture's size
before anything is decoded, and hands on the few blocks that make the picture: what a camera or
a program noted beside it never reaches a decoder, nor a page. `decoded` then opens that, with
one decoder and no guessing, and nothing that other formats could ask for ever runs.

Blocks and markers: ITU-T T.81 (JPEG), the W3C's PNG specification, Google's WebP container
specification. Orientation: tag 0x0112 of Exif, which follows TIFF 6.0.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from kitwright.errors import Place, UserError
from kitwright.kit.folder import MB, own_file, read_own

if TYPE_CHECKING:
    from PIL import Image

PictureFormat = Literal["JPEG", "PNG", "WEBP"]
ENDINGS: dict[str, PictureFormat] = {".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG", ".webp": "WEBP"}
"""How a picture that keeps its name may end."""
LARGEST = 40 * MB
"""Bytes of a picture's file."""
PIXELS: dict[PictureFormat, int] = {"JPEG": 50_000_000, "PNG": 25_000_000, "WEBP": 25_000_000}
"""As many as cameras take, and few enough to decode in half a gigabyte; JPEG alone can be decoded smaller than it is."""
EDGE = 30_000
"""Pixels along one edge."""
BLOCKS = 30_000
"""Blocks of one file; a picture is written in some thousands at most."""
SCANS = 100
"""Passes of one JPEG: each goes over every pixel, however short it is. A progressive one has ten or so."""


class NoPicture(UserError):
    """Why a file is no picture for a page; whoever knows its name tells it with that."""

    def __init__(self, code: str = "pictures.unreadable", **values: Any) -> None:
        super().__init__(code, **values)


@dataclass(frozen=True)
class Bare:
    """A picture without anything that was noted beside it, not decoded yet."""

    format: PictureFormat
    width: int
    """Pixels, as stored."""
    height: int
    orientation: int
    """1 to 8, as Exif counts them; 1 is upright."""
    data: bytes


def picture(file: Path, place: Place, most: int) -> Image.Image:
    """A picture, upright, on white, no longer than `most` pixels.

    Args:
        file: where it lies.
        place: who names it, for an error.
        most: pixels along its longer edge.

    Raises:
        UserError: it is none, broken off, or too large, at `place`.
    """
    try:
        return decoded(bare(read(file)), most)
    except NoPicture as error:
        raise UserError(error.code, place=place, name=file.name, **error.values) from None


def own_picture(folder: Path, name: str, place: Place) -> Path:
    """A picture that a spec names, in the spec's own folder, by its name alone.

    Raises:
        UserError: as for `own_file`, or its name is none of a picture.
    """
    file = own_file(folder, name, place, LARGEST)
    if Path(name).suffix.lower() not in ENDINGS:
        raise UserError("pictures.odd-ending", place=place, name=name, endings=tuple(ENDINGS))
    return file


def read(file: Path) -> bytes:
    """The bytes of a picture's file.

    Raises:
        NoPicture: they can't be read, or are too many.
    """
    try:
        return read_own(file, LARGEST)
    except OverflowError:
        raise NoPicture("pictures.too-large", most=LARGEST) from None
    except OSError:
        raise NoPicture() from None


# --- known before it is decoded ---------------------------------------------------------------------


def bare(data: bytes) -> Bare:
    """A picture's own blocks, its size and how it was held, from the bytes of its file.

    Raises:
        NoPicture: another format, broken, moving, or of far too many pixels.
    """
    try:
        if data.startswith(b"\xff\xd8\xff"):
            return _jpeg(data)
        if data.startswith(b"\x89PNG\r\n\x1a\n"):
            return _png(data)
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            return _webp(data)
    except IndexError:
        pass
    raise NoPicture()


def _size(format: PictureFormat, width: int, height: int) -> tuple[int, int]:
    """A size that may be decoded, looked at as soon as it is known.

    Raises:
        NoPicture: it is nothing, or has too many pixels.
    """
    if width < 1 or height < 1:
        raise NoPicture()
    if width * height > PIXELS[format] or max(width, height) > EDGE:
        raise NoPicture("pictures.too-many-pixels", width=width, height=height)
    return width, height


def _number(data: bytes, at: int, size: int, order: Literal["big", "little"] = "big") -> int:
    """A number in a file.

    Raises:
        IndexError: the file ends before it.
    """
    if at < 0 or at + size > len(data):
        raise IndexError(at)
    return int.from_bytes(data[at : at + size], order)


def _jpeg(data: bytes) -> Bare:
    size: tuple[int, int] | None = None
    kept, at, turned = [b"\xff\xd8"], 2, 1
    for _ in range(BLOCKS):
        if data[at] != 0xFF:
            raise NoPicture()
        mark = data[at + 1]
        if mark == 0xFF:  # fill bytes may stand before a marker
            at += 1
            continue
        length = _number(data, at + 2, 2)
        block = data[at : at + 2 + length]
        if length < 2 or len(block) < 2 + length:
            raise NoPicture()
        if mark == 0xDA:
            if size is None or data.count(b"\xff\xda", at) > SCANS:
                raise NoPicture()
            return Bare("JPEG", *size, turned, b"".join(kept) + data[at:])
        if 0xC0 <= mark <= 0xCF and mark not in (0xC4, 0xC8, 0xCC):
            if size is not None:
                raise NoPicture()
            size = _size("JPEG", _number(block, 7, 2), _number(block, 5, 2))
        if mark == 0xE1 and block[4:10] == b"Exif\0\0":
            turned = _orientation(block[10:])
        # Of what applications note, only what says how colours are stored.
        if not 0xE0 <= mark <= 0xEF and mark != 0xFE or mark == 0xEE and block[4:9] == b"Adobe":
            kept.append(block)
        at += 2 + length
    raise NoPicture()


_PNG_KEPT = (b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND")


def _png(data: bytes) -> Bare:
    size: tuple[int, int] | None = None
    kept, at, turned = [data[:8]], 8, 1
    for _ in range(BLOCKS):
        length, kind = _number(data, at, 4), data[at + 4 : at + 8]
        block = data[at : at + 12 + length]
        if len(block) < 12 + length:
            raise NoPicture()
        if (size is None) != (kind == b"IHDR"):
            raise NoPicture()
        if size is None:
            size = _size("PNG", _number(block, 8, 4), _number(block, 12, 4))
        if kind == b"eXIf":
            turned = _orientation(block[8:-4])
        if kind in _PNG_KEPT:
            kept.append(block)
        if kind == b"IEND":
            return Bare("PNG", *size, turned, b"".join(kept))
        at += 12 + length
    raise NoPicture()


def _webp(data: bytes) -> Bare:
    blocks = dict(_riff(data))
    if b"ANIM" in blocks or b"ANMF" in blocks:
        raise NoPicture("pictures.moving")
    kept, turned = [], _orientation(blocks.get(b"EXIF", b"").removeprefix(b"Exif\0\0"))
    if b"VP8L" in blocks:
        if _number(blocks[b"VP8L"], 0, 1) != 0x2F:
            raise NoPicture()
        bits = _number(blocks[b"VP8L"], 1, 4, "little")
        size, kept = _size("WEBP", (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1), [b"VP8L"]
    else:
        picture = blocks.get(b"VP8 ", b"")
        if picture[3:6] != b"\x9d\x01\x2a":
            raise NoPicture()
        size, kept = _size("WEBP", _number(picture, 6, 2, "little") & 0x3FFF, _number(picture, 8, 2, "little") & 0x3FFF), [b"VP8 "]
        if b"ALPH" in blocks:
            # Written anew, so that it says nothing but that the picture is see-through.
            blocks[b"VP8X"] = b"\x10\0\0\0" + b"".join((edge - 1 & 0xFFFFFF).to_bytes(3, "little") for edge in size)
            kept = [b"VP8X", b"ALPH", b"VP8 "]
    body = b"WEBP" + b"".join(
        kind + len(blocks[kind]).to_bytes(4, "little") + blocks[kind] + b"\0" * (len(blocks[kind]) % 2) for kind in kept
    )
    return Bare("WEBP", *size, turned, b"RIFF" + len(body).to_bytes(4, "little") + body)


def _riff(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 12
    for _ in range(BLOCKS):
        if at + 8 > len(data):
            return
        length = _number(data, at + 4, 4, "little")
        block = data[at + 8 : at + 8 + length]
        if len(block) < length:
            raise NoPicture()
        yield data[at : at + 4], block
        at += 8 + length + length % 2
    raise NoPicture()


def _orientation(exif: bytes) -> int:
    """How the camera was held, from the first directory of its notes; 1 where they say nothing that can be read."""
    order: dict[bytes, Literal["little", "big"]] = {b"II*\0": "little", b"MM\0*": "big"}
    try:
        ends = order[exif[:4]]
        at = _number(exif, 4, 4, ends)
        for entry in range(at + 2, at + 2 + 12 * min(_number(exif, at, 2, ends), 1000), 12):
            if _number(exif, entry, 2, ends) == 0x0112:
                said = _number(exif, entry + 8, 2, ends)
                return said if 1 <= said <= 8 else 1
    except (KeyError, IndexError):
        pass
    return 1


# --- decoded ------------------------------------------------------------------------------------------


def decoded(found: Bare, most: int, clear: bool = False) -> Image.Image:
    """A bare picture, made no longer than `most` pixels, upright; on white, unless it may stay `clear` where it is see-through.

    Raises:
        NoPicture: it is broken, or broken off.
    """
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(found.data), formats=(found.format,)) as opened:
                if opened.size != (found.width, found.height):
                    raise NoPicture()
                # Where the format allows it, only as large as it is needed.
                opened.draft("RGB", (most, most))
                small = _smaller(opened, most, clear)
    except NoPicture:
        raise
    except (Exception, MemoryError):
        # Decoders meet odd bytes with errors of many kinds; all of them mean one thing here.
        raise NoPicture() from None
    turns = Image.Transpose
    turn = {
        2: turns.FLIP_LEFT_RIGHT,
        3: turns.ROTATE_180,
        4: turns.FLIP_TOP_BOTTOM,
        5: turns.TRANSPOSE,
        6: turns.ROTATE_270,
        7: turns.TRANSVERSE,
        8: turns.ROTATE_90,
    }.get(found.orientation)
    return small if turn is None else small.transpose(turn)


def _smaller(opened: Image.Image, most: int, stays_clear: bool) -> Image.Image:
    """Made smaller, then laid on white: what is see-through shows neither black nor what lies hidden under it."""
    from PIL import Image

    if opened.mode.startswith("I"):
        # Sixteen bits of grey; plain conversion would cut them off instead of scaling them.
        opened = opened.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    clear = opened.mode in ("LA", "PA", "RGBA", "La", "RGBa") or "transparency" in opened.info
    mode = "RGBA" if clear else "RGB"
    whole = opened if opened.mode == mode else opened.convert(mode)
    whole.thumbnail((most, most), Image.Resampling.LANCZOS)
    if clear and stays_clear:
        hidden = Image.new("RGBA", whole.size, (255, 255, 255, 0))
        hidden.paste(whole, mask=whole.getchannel("A").point(lambda cover: 255 if cover else 0))
        return hidden
    paper = Image.new("RGB", whole.size, "white")
    paper.paste(whole, mask=whole.getchannel("A") if clear else None)
    return paper


_HOW: dict[PictureFormat, dict[str, Any]] = {
    "JPEG": {"quality": 84, "optimize": True},
    "PNG": {"optimize": True},
    "WEBP": {"quality": 84, "method": 4},
}


def encoded(made: Image.Image, format: PictureFormat) -> bytes:
    """A picture's file: nothing in it but the picture."""
    out = io.BytesIO()
    made.save(out, format, **_HOW[format])
    return out.getvalue()
