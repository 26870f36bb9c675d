"""A finished PDF with its small parts packed together: a third of a printable is structure, and compresses to a tenth.

reportlab writes every part of a file plainly, one after another, with a table of where each begins. Object
streams and a compressed table of contents (ISO 32000-1, 7.5.7 and 7.5.8; PDF 1.5) say the same in less.
"""

from __future__ import annotations

import re
import zlib

_START = re.compile(rb"startxref\s+(\d+)\s+%%EOF\s*\Z")
_TABLE = re.compile(rb"xref\s+0 (\d+)\s")
_TRAILER = re.compile(rb"trailer\s*<<(.*)>>\s*startxref", re.S)
_BODY = re.compile(rb"\d+ 0 obj\s(.*?)\s*endobj\s*\Z", re.S)
_ENTRY = 20
"""Bytes of an entry of the plain table (7.5.4)."""


def packed(data: bytes) -> bytes:
    """The same file in fewer bytes.

    Args:
        data: a file as reportlab writes it: one table, whose entries are in the order of the parts.
    """
    table = int(_found(_START, data)[1])
    head = _found(_TABLE, data, table)
    size, first = int(head[1]), head.end()
    offsets = [int(data[first + i * _ENTRY : first + i * _ENTRY + 10]) for i in range(1, size)]
    ends = [*offsets[1:], table]
    parts = [_found(_BODY, data[start:end])[1] for start, end in zip(offsets, ends)]
    # The line under the first tells programs that bytes follow, no text.
    out = bytearray(b"%PDF-1.5\n" + data.split(b"\n", 2)[1] + b"\n")
    entries: list[tuple[int, int, int]] = [(0, 0, 255)]
    small: list[tuple[int, bytes]] = []
    for number, part in enumerate(parts, 1):
        if part.endswith(b"endstream"):
            entries.append((1, len(out), 0))
            out += b"%d 0 obj\n%s\nendobj\n" % (number, part)
        else:
            entries.append((2, size, len(small)))
            small.append((number, part))
    entries.append((1, len(out), 0))
    out += _stream(size, b"/Type /ObjStm /N %d /First %d", *_together(small))
    entries.append((1, len(out), 0))
    start = len(out)
    rows = b"".join(kind.to_bytes(1, "big") + where.to_bytes(4, "big") + index.to_bytes(2, "big") for kind, where, index in entries)
    said = re.sub(rb"/Size \d+", b"", _found(_TRAILER, data, table)[1]).strip()
    out += _stream(size + 1, b"/Type /XRef /W [1 4 2] /Size %d " + said.replace(b"%", b"%%"), rows, len(entries))
    return bytes(out + b"startxref\n%d\n%%%%EOF\n" % start)


def _found(pattern: re.Pattern[bytes], data: bytes, start: int = 0) -> re.Match[bytes]:
    match = pattern.search(data, start)
    assert match, "no file of reportlab's"
    return match


def _together(parts: list[tuple[int, bytes]]) -> tuple[bytes, int, int]:
    """Parts one after another, led by the number and the place of each; how many they are, and where the first begins."""
    places, at = [], 0
    for number, part in parts:
        places.append(b"%d %d" % (number, at))
        at += len(part) + 1
    lead = b" ".join(places) + b"\n"
    return lead + b"\n".join(part for _, part in parts), len(parts), len(lead)


def _stream(number: int, said: bytes, content: bytes, *values: int) -> bytes:
    """A compressed stream as a part of its own."""
    small = zlib.compress(content, 9)
    lead = said % values
    return b"%d 0 obj\n<< %s /Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream\nendobj\n" % (number, lead, len(small), small)
