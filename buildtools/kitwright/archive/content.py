"""What a file of the site holds: bytes at hand, bytes that are kept, or those of a file that is copied from where it lies."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kitwright import cache
from kitwright.archive.inputs import AT_ONCE
from kitwright.cache import Blob, Lost
from kitwright.kit.folder import opened


@dataclass(frozen=True)
class Lying:
    """A file that goes to the site as it lies among the kits."""

    path: Path
    digest: str
    """SHA-256, as it was when its kit was read."""
    size: int


Content = bytes | Blob | Lying


def size_of(content: Content) -> int:
    """How many bytes it has."""
    return len(content) if isinstance(content, bytes) else content.size


def digest_of(content: Content) -> str:
    """Its SHA-256."""
    return hashlib.sha256(content).hexdigest() if isinstance(content, bytes) else content.digest


def data_of(content: Content) -> bytes:
    """Its bytes.

    Raises:
        Lost: they vanished, or are others by now.
    """
    if isinstance(content, bytes):
        return content
    if isinstance(content, Blob):
        return cache.read(content)
    try:
        with opened(content.path) as stream:
            data = stream.read()
    except OSError:
        raise Lost(content.digest) from None
    if digest_of(data) != content.digest:
        raise Lost(content.digest)
    return data


def put(content: Content, file: Path) -> None:
    """Write it to a file of a folder of our own.

    Raises:
        Lost: it vanished, or is another by now.
        OSError: nothing can be written there.
    """
    if not isinstance(content, Lying):
        file.write_bytes(data_of(content))
        return
    try:
        with opened(content.path) as stream, file.open("wb") as copy:
            shutil.copyfileobj(stream, copy)
    except FileNotFoundError:
        raise Lost(content.digest) from None
    with file.open("rb") as stream:
        if hashlib.file_digest(stream, "sha256").hexdigest() != content.digest:
            raise Lost(content.digest)


def lying(path: Path) -> Lying:
    """A file as it lies there now.

    Raises:
        OSError: it can't be read.
    """
    total, size = hashlib.sha256(), 0
    with opened(path) as stream:
        while part := stream.read(AT_ONCE):
            total.update(part)
            size += len(part)
    return Lying(path, total.hexdigest(), size)


def put_away(files: Mapping[str, Content]) -> dict[str, Blob | Lying]:
    """The same files, with nothing of them in memory.

    Raises:
        OSError: they can't be kept.
    """
    return {name: cache.keep(content) if isinstance(content, bytes) else content for name, content in files.items()}
