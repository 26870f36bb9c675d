"""The very files that readers could download of a revision, packed into one: `files.tar.xz`.

Much in them is the same (fonts, pictures, one page in three inks; cut files are stored
bare), so packed as one they take a third of what each takes by itself. Any system unpacks
it, without kitwright too.
"""

from __future__ import annotations

import io
import lzma
import tarfile
from collections.abc import Mapping

from kitwright.kit.folder import MB

LARGEST = 200 * MB
"""Bytes of the files of a revision, unpacked."""
_MEMORY = 100 * MB
"""What unpacking may take."""


class Unpackable(Exception):
    """Not what was packed here, or far too much."""


def packed(files: Mapping[str, bytes], filters: list[dict[str, int]] | None = None) -> bytes:
    """Files as one, in the order of their names, without owner or time.

    Args:
        files: by name.
        filters: how they are compressed, as `lzma` takes it; as small as is usual when left out.
    """
    stream = io.BytesIO()
    with tarfile.open(fileobj=stream, mode="w", format=tarfile.PAX_FORMAT) as archive:
        for name in sorted(files):
            entry = tarfile.TarInfo(name)
            entry.size, entry.mode = len(files[name]), 0o644
            archive.addfile(entry, io.BytesIO(files[name]))
    return lzma.compress(stream.getvalue(), filters=filters)


def unpacked(data: bytes) -> dict[str, bytes]:
    """The files again, by name.

    Raises:
        Unpackable: there is anything else in it than files side by side.
    """
    try:
        unpacker = lzma.LZMADecompressor(lzma.FORMAT_XZ, memlimit=_MEMORY)
        plain = unpacker.decompress(data, LARGEST)
        if not unpacker.eof:
            raise Unpackable
        with tarfile.open(fileobj=io.BytesIO(plain), mode="r:") as archive:
            files: dict[str, bytes] = {}
            for entry in archive:
                stream = archive.extractfile(entry) if entry.isreg() else None
                if stream is None or "/" in entry.name or entry.name in files:
                    raise Unpackable
                files[entry.name] = stream.read()
            return files
    except (lzma.LZMAError, tarfile.TarError, EOFError, ValueError, OverflowError) as error:
        raise Unpackable from error
