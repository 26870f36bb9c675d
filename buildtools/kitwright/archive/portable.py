"""What is kept of a kit names its files from the folder of kits on: an archive may be moved, or copied, and nothing is made again."""

from __future__ import annotations

import copyreg
import io
import pickle
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path
from typing import Any

from kitwright.errors import Place
from kitwright.kit.read import shown
from kitwright.kit.yamltext import Document

_kits: ContextVar[tuple[Path, Path | None]] = ContextVar("_kits")
"""The folder of kits that what is read now belongs to, and how it is typed."""


def packed(value: object, kits: Path) -> bytes:
    """A value as bytes, with whatever lies below a folder of kits named from there."""
    out, here = io.BytesIO(), Path.cwd()
    homes = _homes(kits, here)

    def below(file: Path) -> str | None:
        whole = here / file
        return next((whole.relative_to(home).as_posix() for home in homes if whole.is_relative_to(home)), None)

    def path(file: Path) -> tuple[Any, ...]:
        name = below(file)
        return (type(file), (str(file),)) if name is None else (_whole if file.is_absolute() else _typed, (name,))

    def told(place: Place) -> tuple[Any, ...]:
        name = below(place.file) if place.file else None
        return (Place, (place.file, place.line)) if name is None else (_place, (name, place.line))

    def text(document: Document) -> tuple[Any, ...]:
        name = below(document.file)
        rest = {key: each for key, each in vars(document).items() if key != "file"}
        return (_document, (document.file, rest)) if name is None else (_document, (name, rest))

    pickler = pickle.Pickler(out, pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = {**copyreg.dispatch_table, type(kits): path, Place: told, Document: text}
    pickler.dump(value)
    return out.getvalue()


def unpacked(data: bytes, kits: Path) -> Any:
    """The value again, below a folder of kits.

    Args:
        data: bytes of our own: reading others could run code.
        kits: the folder.
    """
    token = _kits.set((kits, _as_typed(kits, Path.cwd())))
    try:
        return pickle.loads(data)
    finally:
        _kits.reset(token)


@lru_cache(maxsize=8)
def _homes(kits: Path, here: Path) -> tuple[Path, ...]:
    """The folder of kits by every name that it has."""
    return tuple(dict.fromkeys((kits, here / kits, kits.resolve())))


@lru_cache(maxsize=8)
def _as_typed(kits: Path, here: Path) -> Path | None:
    """The folder of kits as a user types it; None where she stands in it, so that each file is typed otherwise."""
    return None if here.resolve().is_relative_to(kits.resolve()) else shown(kits)


def _whole(name: str) -> Path:
    return _kits.get()[0] / name


def _typed(name: str) -> Path:
    """As a user would type it where she stands."""
    kits, home = _kits.get()
    return shown(kits / name) if home is None else home / name


def _place(name: str, line: int | None) -> Place:
    return Place(_typed(name), line)


def _document(file: str | Path, rest: dict[str, Any]) -> Document:
    return Document(_typed(file) if isinstance(file, str) else file, **rest)
