"""Odd pictures, made from a seed: broken off, flipped, forged, and things that only pose as pictures.

    for name, data in odd_pictures(seed=1, count=3000): …

Same seed, same bytes. Each picture that was whole before carries `SECRET` among its notes, so
that whoever publishes one can look whether anything of them came along.
"""

from __future__ import annotations

import io
import random
import struct
import zlib
from collections.abc import Callable, Iterator

from PIL import Image, PngImagePlugin

SECRET = b"52.1234N-secret-place"
"""Stands among the notes of every whole picture."""


def odd_pictures(seed: int, count: int) -> Iterator[tuple[str, bytes]]:
    """Names and bytes, in turn from every family.

    Args:
        seed: chooses them.
        count: how many.
    """
    chance, whole = random.Random(seed), _whole(random.Random(seed))
    for n in range(count):
        name, make = FAMILIES[n % len(FAMILIES)]
        ending, data = chance.choice(whole)
        yield f"{n:05}-{name}.{ending}", make(chance, ending, bytes(data))


# --- whole ones -----------------------------------------------------------------------------------------


def _whole(chance: random.Random) -> list[tuple[str, bytes]]:
    """Small sound pictures of every kind that is read, with notes."""
    found = []
    for mode in ("RGB", "L", "RGBA", "P", "CMYK", "1", "LA", "I;16"):
        size = chance.randint(3, 60), chance.randint(3, 60)
        picture = Image.frombytes("L", size, chance.randbytes(size[0] * size[1]))
        picture = (
            picture.convert("I").convert("I;16")
            if mode == "I;16"
            else picture.convert("RGB").convert(mode)
            if mode in ("P", "CMYK")
            else picture.convert(mode)
        )
        if mode in ("RGB", "L", "CMYK"):
            found.append(("jpg", saved(picture, "JPEG", orientation=chance.randint(1, 8))))
            found.append(("jpg", saved(picture, "JPEG", progressive=True)))
        if mode != "CMYK":
            found.append(("png", saved(picture, "PNG", orientation=chance.randint(1, 8))))
        if mode in ("RGB", "RGBA"):
            found.append(("webp", saved(picture, "WEBP", lossless=True)))
            found.append(("webp", saved(picture, "WEBP", orientation=3)))
    return found


def saved(picture: Image.Image, format: str, orientation: int = 1, **how) -> bytes:
    """A picture's file, with notes of every kind that the format has."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010E], exif[0x013B] = orientation, SECRET.decode(), SECRET.decode()
    exif.get_ifd(0x8825)[1] = "N"
    more = dict(how, exif=exif.tobytes(), icc_profile=b"\0" * 36 + b"acsp" + SECRET + b"\0" * 100)
    if format == "JPEG":
        more["comment"] = SECRET
    if format == "PNG":
        more["pnginfo"] = PngImagePlugin.PngInfo()
        more["pnginfo"].add_text("Comment", SECRET.decode())
        more["pnginfo"].add_itxt("XML:com.adobe.xmp", SECRET.decode(), zip=True)
    if format == "WEBP":
        more["xmp"] = SECRET
    out = io.BytesIO()
    picture.save(out, format, **more)
    return out.getvalue()


def chunk(kind: bytes, body: bytes) -> bytes:
    """A block of a PNG, its checksum right."""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


# --- what is done to them ---------------------------------------------------------------------------------


def _cut(chance: random.Random, _ending: str, data: bytes) -> bytes:
    return data[: chance.randint(0, len(data) - 1)]


def _flipped(chance: random.Random, _ending: str, data: bytes) -> bytes:
    found = bytearray(data)
    for _ in range(chance.choice((1, 1, 3, 20, 200))):
        found[chance.randrange(len(found))] ^= 1 << chance.randrange(8)
    return bytes(found)


def _spliced(chance: random.Random, _ending: str, data: bytes) -> bytes:
    a, b, c = sorted(chance.randrange(len(data)) for _ in range(3))
    return data[:b] + data[a:c] * chance.choice((1, 2, 50)) + data[c:]


def _overwritten(chance: random.Random, _ending: str, data: bytes) -> bytes:
    at, many = chance.randrange(len(data)), chance.choice((1, 4, 16))
    return data[:at] + chance.choice((b"\0", b"\xff", b"\x7f", b"\x80")) * many + data[at + many :]


_EDGES = (0, 1, 2, 255, 16_383, 30_001, 65_535)


def _forged_size(chance: random.Random, ending: str, data: bytes) -> bytes:
    """Another size in the head than the picture has."""
    found, edges = bytearray(data), [chance.choice(_EDGES), chance.choice(_EDGES)]
    if ending == "png":
        big = [chance.choice((edge, edge * 65_537, 2**31 - 1)) for edge in edges]
        found[16:24] = struct.pack(">II", *big)
        found[29:33] = struct.pack(">I", zlib.crc32(bytes(found[12:29])))
    elif ending == "jpg":
        for mark in (b"\xff\xc0", b"\xff\xc2"):
            at = data.find(mark)
            if at > 0:
                found[at + 5 : at + 9] = struct.pack(">HH", *edges)
    else:
        for mark, body in ((b"VP8X", struct.pack("<I", edges[0] & 0xFFFFFF)[:3] + struct.pack("<I", edges[1] & 0xFFFFFF)[:3]),):
            at = data.find(mark)
            if at > 0:
                found[at + 12 : at + 18] = body
        at = data.find(b"\x9d\x01\x2a")
        if at > 0:
            found[at + 3 : at + 7] = struct.pack("<HH", *(edge & 0x3FFF for edge in edges))
    return bytes(found)


def _forged_length(chance: random.Random, ending: str, data: bytes) -> bytes:
    """A block that says another length than it has."""
    found, length = bytearray(data), chance.choice((0, 1, 2, 0x7FFF_FFFF, 0xFFFF_FFFF))
    if ending == "jpg":
        marks = [i for i in range(2, len(data) - 4) if data[i] == 0xFF and 0xC0 <= data[i + 1] <= 0xFE]
        at = chance.choice(marks)
        found[at + 2 : at + 4] = struct.pack(">H", length & 0xFFFF)
    else:
        kinds = (b"IHDR", b"IDAT", b"iCCP", b"eXIf", b"IEND", b"VP8X", b"VP8 ", b"VP8L", b"EXIF", b"ICCP")
        places = [data.find(kind) for kind in kinds if data.find(kind) > 0]
        at = chance.choice(places)
        if ending == "png":
            found[at - 4 : at] = struct.pack(">I", length)
        else:
            found[at + 4 : at + 8] = struct.pack("<I", length)
    return bytes(found)


def _many_blocks(chance: random.Random, ending: str, data: bytes) -> bytes:
    """Far more blocks than anybody writes."""
    many = chance.choice((50, 31_000, 200_000))
    if ending == "jpg":
        return (
            data[:2]
            + chance.choice((b"\xff\xfe\0\2", b"\xff", b"\xff\xe1\0\x08Exif\0\0", b"\xff\xe2\0\x10ICC_PROFILE\0\1\1")) * many
            + data[2:]
        )
    if ending == "png":
        return (
            data[:33]
            + chance.choice(
                (
                    chunk(b"tEXt", b"a\0b"),
                    chunk(b"IDAT", b""),
                    chunk(b"fcTL", bytes(26)),
                    chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(60_000)))[:200],
                )
            )
            * many
            + data[33:]
        )
    return data[:12] + b"JUNK\0\0\0\0" * many + data[12:]


def _many_scans(chance: random.Random, ending: str, data: bytes) -> bytes:
    """Passes over a picture of fifty million pixels, each a few bytes long."""
    if ending != "jpg":
        return _many_blocks(chance, ending, data)
    found = _forged_size(chance, ending, data)
    at = found.find(b"\xff\xda")
    return found[:at] + (b"\xff\xda\0\x08\1\1\0\1\1\0" + b"\x7f\xff") * chance.choice((20, 2_000, 50_000)) + found[at:]


def _bomb(chance: random.Random, _ending: str, _data: bytes) -> bytes:
    """A few thousand bytes that become very many."""
    edge = chance.choice((100, 4_900, 5_100, 20_000, 60_000))
    head = chunk(
        b"IHDR", struct.pack(">IIBBBBB", edge, edge, chance.choice((1, 8, 16)), chance.choice((0, 2, 3, 6)), 0, 0, chance.choice((0, 1)))
    )
    packed = zlib.compress(bytes(3_000_000), 9)
    noted = chunk(b"zTXt", b"a\0\0" + packed) + chunk(b"iCCP", b"a\0\0" + packed)
    return b"\x89PNG\r\n\x1a\n" + head + noted * chance.choice((0, 1, 30)) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def _moving(chance: random.Random, _ending: str, _data: bytes) -> bytes:
    """Some frames, or very many."""
    frames = [Image.new("L", (8, 8), n % 256) for n in range(chance.choice((2, 30)))]
    out = io.BytesIO()
    frames[0].save(out, chance.choice(("GIF", "WEBP", "PNG")), save_all=True, append_images=frames[1:])
    return out.getvalue()


def _posing(chance: random.Random, _ending: str, data: bytes) -> bytes:
    """Something else altogether, under a picture's name."""
    script = b"<script>alert(1)</script>"
    return chance.choice(
        (
            b"",
            b"\0",
            b"\xff\xd8\xff",
            b"\x89PNG\r\n\x1a\n",
            b"RIFF\0\0\0\0WEBP",
            b"GIF89a/*" + script + b"*/=1;",
            b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>alert(1)</script></svg>',
            b"<!doctype html>" + script,
            b"\xef\xbb\xbf<html>" + script,
            b"%PDF-1.7\n1 0 obj",
            b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n(/etc/passwd) run\n",
            b"8BPS\0\1" + bytes(22),
            b"II*\0\x08\0\0\0" + bytes(40),
            b"MM\0*" + bytes(40),
            b"BM" + bytes(60),
            b"\0\0\1\0\1\0" + bytes(40),
            b"PK\3\4" + bytes(40),
            b"P6 99999 99999 255\n" + bytes(60),
            b"\0\0\0\x0cjP  \r\n\x87\n" + bytes(40),
            b"\0\0\0 ftypavif" + bytes(40),
            b"FWS\6" + bytes(20),
            b"#!/bin/sh\necho x\n",
            data + script,
            data + b"PK\5\6" + bytes(18),
            data[:2] + b"\xff\xfe" + struct.pack(">H", len(script) + 2) + script + data[2:],
            bytes(chance.randrange(256) for _ in range(chance.choice((10, 3_000)))),
        )
    )


def _whole_one(_chance: random.Random, _ending: str, data: bytes) -> bytes:
    return data


FAMILIES: tuple[tuple[str, Callable[[random.Random, str, bytes], bytes]], ...] = (
    ("whole", _whole_one),
    ("cut", _cut),
    ("flipped", _flipped),
    ("spliced", _spliced),
    ("overwritten", _overwritten),
    ("forged-size", _forged_size),
    ("forged-length", _forged_length),
    ("many-blocks", _many_blocks),
    ("many-scans", _many_scans),
    ("bomb", _bomb),
    ("moving", _moving),
    ("posing", _posing),
)
"""What is done, by name."""
