"""What a file is by its content: text in one encoding or another, or something else that a name may be buried in."""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterator

LEGACY = ("cp1252", "mac_roman", "cp850", "iso8859_2", "cp1251", "koi8_r", "shift_jis", "gb18030", "euc_kr", "big5")
"""Encodings to try where a text is not Unicode; in each of them plain English letters are the same bytes."""
MOST = 20_000_000
"""Bytes that are unpacked to look for a name."""
_CONTROLS = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")


def encodings(data: bytes) -> tuple[str, ...]:
    """The encodings in which bytes may be read as text and written back to the same bytes; none where they are no text."""
    for mark, name in (
        (b"\xff\xfe\x00\x00", "utf-32-le"),
        (b"\x00\x00\xfe\xff", "utf-32-be"),
        (b"\xff\xfe", "utf-16-le"),
        (b"\xfe\xff", "utf-16-be"),
    ):
        if data.startswith(mark):
            return (name,) if _comes_back(data, name) else ()
    if b"\x00" in data[:4000]:
        # Without a mark: every other byte of plain letters is nothing.
        even, odd = data[0:4000:2].count(0), data[1:4000:2].count(0)
        name = "utf-16-be" if even > odd else "utf-16-le"
        return (
            (name,)
            if max(even, odd) * 10 > min(len(data), 4000) and min(even, odd) * 10 <= max(even, odd) and _comes_back(data, name)
            else ()
        )
    if _CONTROLS.search(data):
        return ()
    if _comes_back(data, "utf-8"):
        return ("utf-8",)
    # Spoilt, or of another time: what is Unicode in it counts too.
    return ("utf-8", *(name for name in LEGACY if _comes_back(data, name, "strict") or name == "cp1252"))


def decoded(data: bytes, encoding: str) -> str:
    """The text; a byte that is no letter there is kept as it is."""
    return data.decode(encoding, "surrogateescape")


def encoded(text: str, encoding: str) -> bytes:
    """Its bytes again."""
    return text.encode(encoding, "surrogateescape")


def _comes_back(data: bytes, encoding: str, errors: str = "strict") -> bool:
    try:
        return data.decode(encoding, errors).encode(encoding, errors) == data
    except (UnicodeError, ValueError):
        return False


def buried(data: bytes) -> Iterator[bytes]:
    """What can be unpacked of a file that is no text: the parts of an archive, the streams of a PDF; at last the bytes themselves."""
    left = MOST
    if data.startswith(b"PK"):
        try:
            with zipfile.ZipFile(io.BytesIO(data)) as archive:
                for each in archive.infolist():
                    yield each.filename.encode()
                    if each.file_size <= left and not each.flag_bits & 1:
                        left -= each.file_size
                        with archive.open(each) as stream:
                            yield stream.read(each.file_size)
        except (zipfile.BadZipFile, OSError, NotImplementedError, RuntimeError, EOFError, zlib.error, ValueError):
            pass
    starts = (
        [m.end() for m in re.finditer(rb"stream\r?\n", data)]
        if data.startswith(b"%PDF")
        else [0]
        if data.startswith((b"\x1f\x8b", b"\x78"))
        else []
    )
    for start in starts[:2000]:
        try:
            part = zlib.decompressobj(47).decompress(data[start:], max(left, 1))
            left -= len(part)
            yield part
        except zlib.error:
            continue
        if left <= 0:
            break
    yield data
