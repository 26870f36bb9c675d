"""A kit as its folder says it, and a past kit of which only the printable is left."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from kitwright.errors import Place
from kitwright.kit.model import Club, KitSpec, Paper, PastSpec
from kitwright.kit.yamltext import Document

NOTES_FILE = "notes.md"


@dataclass(frozen=True)
class Kit:
    """A kit as its author wrote it."""

    id: str
    """The folder's name."""
    folder: Path
    """Where it lies."""
    spec: KitSpec
    papers: dict[str, Paper]
    """Its own papers and the club's usual ones that it uses, by key."""
    club: Club
    document: Document
    """The text behind the spec, for file and line."""
    notes: str
    """The text of notes.md, citations and all; empty when there is none."""
    typed: KitSpec | None = None
    """The spec with its citations as typed, once they are filled in, and without what follows; None before, and where there is neither."""
    films: Mapping[tuple[str | int, ...], str] = field(default_factory=dict)
    """The label of each shaker's film, by where the shaker stands in the spec; filled in by `kitwright.work.measured`."""

    @property
    def month(self) -> dt.date:
        """The first day of its month."""
        return month_of(self.id)

    @property
    def reveal(self) -> dt.datetime:
        """When it becomes public, in the club's own time; the first of its month unless said."""
        return self.spec.reveal or dt.datetime.combine(self.month, dt.time())

    def place(self, *path: str | int) -> Place:
        """File and line of an entry of the spec; of the club file for a paper that stands there."""
        if path[:1] == ("papers",) and len(path) > 1 and path[1] not in self.spec.papers:
            return self.club.place(*path)
        return self.document.place(path)

    @property
    def notes_file(self) -> Path:
        """The notes, as the user knows the file."""
        return self.document.file.with_name(NOTES_FILE)


@dataclass(frozen=True)
class PastKit:
    """A past kit of which only the old printable is left."""

    id: str
    folder: Path
    spec: PastSpec
    document: Document

    @property
    def month(self) -> dt.date:
        """The first day of its month."""
        return month_of(self.id)

    @property
    def reveal(self) -> dt.datetime:
        """When it became public, in the club's own time; the first of its month unless said."""
        return self.spec.reveal or dt.datetime.combine(self.month, dt.time())


def month_of(kit_id: str) -> dt.date:
    """The month that a kit's id names."""
    return dt.datetime.strptime(kit_id[:7], "%Y-%m").date()
