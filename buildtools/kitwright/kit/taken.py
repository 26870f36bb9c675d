"""From what a file of her theme was taken: the record beside it, and a table of what kitwright's own files once were.

The record keeps the program's file as it was, whole, so that after a renewal the difference can be
shown. The table holds digests alone: by it a copy that she never changed is known, even one of a
whole theme that was copied before there was a record. Ends of lines are no change.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.folder import own_file, read_own

RECORD = "taken.json"
BIGGEST = 5_000_000
"""Bytes of a record; the whole theme takes a thirtieth."""
BEFORE = Path(__file__).with_name("theme_before.txt")
"""A line for each file of each earlier theme: digest, name. `buildtools/theme_before.py` adds to it."""


@dataclass(frozen=True)
class Origin:
    """The program's file when she took it."""

    version: str
    """Of kitwright."""
    text: str
    """With plain ends of lines."""

    @property
    def digest(self) -> str:
        return digest(self.text.encode())


def plain(data: bytes) -> bytes:
    """A file's bytes without what an editor changes by itself: ends of lines, and a mark at the beginning. What is no text stays."""
    return data if b"\0" in data else data.removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n")


def digest(data: bytes) -> str:
    """By what a file is known again: half of its SHA-256, the ends of its lines aside."""
    return hashlib.sha256(plain(data)).hexdigest()[:32]


@cache
def before() -> Mapping[str, frozenset[str]]:
    """The digests of each file of every theme that came with an earlier kitwright, by name."""
    found: dict[str, set[str]] = {}
    for line in BEFORE.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            known, name = line.split(" ", 1)
            found.setdefault(name, set()).add(known)
    return {name: frozenset(known) for name, known in found.items()}


def read_record(folder: Path) -> dict[str, Origin]:
    """What was taken into a theme, by name; nothing where there is no record.

    Raises:
        UserError: it is not as kitwright writes it.
    """
    place = Place(folder / RECORD)
    if not (folder / RECORD).exists():
        return {}
    try:
        said = json.loads(read_own(own_file(folder, RECORD, place, BIGGEST), BIGGEST))
        return {_text(name): Origin(_text(one["from"]), "\n".join(map(_text, one["text"]))) for name, one in said["files"].items()}
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        raise UserError("theme.record-broken", place=place) from None


def record_text(taken: Mapping[str, Origin]) -> bytes:
    """A record as it is written: a line of the file a line, so that version control shows what changed."""
    files = {name: {"from": taken[name].version, "text": taken[name].text.split("\n")} for name in sorted(taken)}
    return (json.dumps({"files": files}, ensure_ascii=False, indent=1) + "\n").encode()


def _text(said: object) -> str:
    if not isinstance(said, str):
        raise TypeError(said)
    return said
