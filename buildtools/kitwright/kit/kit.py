"""A kit as its folder says it, and a past kit of which only the printable is left."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from kitwright.errors import Place
from kitwright.kit.faces import moved
from kitwright.kit.model import DESIGNED, Club, DesignSpec, KitSpec, Paper, PastSpec, Piece
from kitwright.kit.yamltext import Document, Path_
from kitwright.labels import base_label

NOTES_FILE = "notes.md"


@dataclass(frozen=True)
class Kit:
    """A kit as its author wrote it; or one of its designs, as if it stood alone."""

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
    """The spec as typed, once citations, counts and sizes that follow are filled in; None before, and where there are none."""
    films: Mapping[tuple[str | int, ...], str] = field(default_factory=dict)
    """The label of each shaker's film, by where the shaker stands in the file; filled in by `kitwright.work.measured`."""
    design: str = ""
    """The name of the design that is seen alone here; empty for a whole kit."""

    @property
    def designs(self) -> tuple[Kit, ...]:
        """Each design seen alone, with the papers, pieces and guides of the whole; itself where there is one."""
        return self.views or (self,)

    @cached_property
    def views(self) -> tuple[Kit, ...]:
        """The same; empty in a kit of one. `kitwright.work.counted` puts those in whose pieces are counted."""
        return tuple(map(self._alone, self.spec.designs))

    def _alone(self, name: str) -> Kit:
        design, spec = self.spec.designs[name], self.spec
        whole = {field: getattr(spec, field) for field in KitSpec.model_fields if field not in (*DESIGNED, "designs")}
        own = {field: getattr(design, field) for field in DESIGNED}
        said = (spec.model_fields_set - {*DESIGNED, "designs"}) | (design.model_fields_set & {*DESIGNED})
        here, first = ("designs", name), next(iter(spec.designs))
        whole["pieces"] = {label: piece for label, piece in spec.pieces.items() if _goes_with(piece, design, name, first)}
        alone = KitSpec.model_construct(_fields_set=said, **whole, **own)
        films = {path[2:]: label for path, label in self.films.items() if path[:2] == here}
        return Kit(self.id, self.folder, alone, self.papers, self.club, self.document, self.notes, films=films, design=name)

    @property
    def leading(self) -> str:
        """The design that is seen here, or the first; empty in a kit of one."""
        return self.design or next(iter(self.spec.designs), "")

    @property
    def base(self) -> str:
        """The label of the card base; with the name of its design where a kit has several."""
        return base_label(self.leading)

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
        return self.document.place(self.in_file(path))

    @cached_property
    def moved(self) -> Mapping[Path_, Path_]:
        """Entries that stand elsewhere in the file than in the spec, by where the spec has them."""
        here: Path_ = ("designs", self.leading) if self.leading else ()
        own = {(field,): (*here, field) for field in DESIGNED} if here else {}
        return own | moved(self.spec, here, self.document)

    def in_file(self, path: Path_) -> Path_:
        """Where an entry of the spec stands in the file."""
        path = tuple(path)
        before = max((moved for moved in self.moved if path[: len(moved)] == moved), key=len, default=())
        return (*self.moved[before], *path[len(before) :]) if before else path

    def stands(self, *path: str | int) -> bool:
        """Whether an entry of the spec is there in the file."""
        return self.in_file(path) in self.document.lines

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


def _goes_with(piece: Piece, design: DesignSpec, name: str, first: str) -> bool:
    """Whether a piece may be of a design: a band goes round one card, a liner into one kind of envelope."""
    if piece.band:
        return (piece.band.design or first) == name
    if piece.liner and design.card.envelope:
        return piece.liner.envelope.size in (design.card.envelope.size, design.card.envelope.size.turned)
    return True


def month_of(kit_id: str) -> dt.date:
    """The month that a kit's id names."""
    return dt.datetime.strptime(kit_id[:7], "%Y-%m").date()
