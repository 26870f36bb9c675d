"""From what a file of her theme was taken: the record beside it, and a table of what kitwright's own files once were.

The record keeps the program's file as it was, whole, so that after a renewal the difference can be
shown. For a theme that was copied before there was a record, there are two lists of what came with
earlier versions. By the digests a copy that she never changed is known; by the texts it is seen from
which of them one that she did change was made: the one that it has most lines of.
Ends of lines are no change.
"""

from __future__ import annotations

import hashlib
import json
import lzma
from collections import Counter
from collections.abc import Iterable, Mapping
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
TEXTS = Path(__file__).with_name("theme_before.xz")
"""The same files as they read, packed: a list of texts for each name, the newest first. `buildtools/theme_before.py` adds to it."""
LEAST_ALIKE = (3, 5)
"""Of the lines that say something, the share that a copy has in common with the file from which it was made; less is a file of her own making."""


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


@cache
def texts() -> Mapping[str, tuple[str, ...]]:
    """What each file of an earlier theme said, by name, the newest first."""
    return {name: tuple(said) for name, said in json.loads(lzma.decompress(TEXTS.read_bytes())).items()}


def packed(files: Mapping[str, Iterable[str]]) -> bytes:
    """Texts by name as `TEXTS` holds them; the same texts give the same bytes."""
    said = {name: list(files[name]) for name in sorted(files)}
    return lzma.compress(json.dumps(said, ensure_ascii=False).encode(), preset=9)


def likeliest(mine: str, known: Iterable[str]) -> str | None:
    """The one of some texts that a changed copy was made from, the first of several alike; None where it is like none of them."""
    lines = _lines(mine)
    best, least = None, -1
    for text in known:
        theirs = _lines(text)
        common = (lines & theirs).total()
        apart = lines.total() + theirs.total() - 2 * common
        if common * LEAST_ALIKE[1] >= theirs.total() * LEAST_ALIKE[0] and (best is None or apart < least):
            best, least = text, apart
    return best


def _lines(text: str) -> Counter[str]:
    """How often each line stands in a text, blanks around it and empty ones aside."""
    return Counter(line for typed in text.split("\n") if (line := typed.strip()))


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
