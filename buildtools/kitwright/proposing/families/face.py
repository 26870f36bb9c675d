"""A front built again from a few whole numbers: rows in columns in rows, said as a kit's file says it, with the place of every piece.

What is said and where it lies are made by one walk, so that neither can be without the other;
`card/layout.py`, which reads the file, is what the tests hold it against.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Union

from kitwright.card.pointed import size as pointed_size
from kitwright.geometry import Rect
from kitwright.kit.model.text import Pointing
from kitwright.proposing.families.family import Batch, Field, labelled
from kitwright.proposing.records import Side, Spot
from kitwright.units import SIXTEENTH, ZERO, Length, Size, total

BAND = "band"
"""A free band, as the file says it."""


@dataclass(frozen=True, slots=True)
class InRow:
    """A piece in a row or column."""

    kind: int
    """Which of the batch."""
    point: Pointing | None = None
    """For a triangle on its point."""


Item = Union[InRow, str, "list[Item]"]
"""A piece, the free band, or a list that runs the other way."""
Entry = Union[str, "dict[str, Any]", "list[Any]"]


def sizes_of(field: Field, batch: Batch, i: int) -> list[Size]:
    """The sizes of one layout as its pieces stand on the card, in the order of the batch."""
    return [Size(field.step * int(width), field.step * int(height)) for width, height in batch.sizes[i]]


class Walk:
    """One layout while its face is built."""

    def __init__(self, field: Field, batch: Batch, i: int) -> None:
        self.field, self.kinds, self.sizes = field, labelled(field, batch, i), sizes_of(field, batch, i)
        self.spots: list[Spot] = []
        self.band: Rect | None = None

    def side(self, family: str, front: Mapping[str, Any]) -> Side:
        """The face, once everything lies."""
        field = self.field
        return Side(family, field.card, field.border, field.gap, tuple(self.spots), front, self.band)

    # Rows and columns

    def laid(self, items: Sequence[Item], down: bool = True) -> dict[str, Any]:
        """Fill the field with rows, or with columns where not `down`; what the file says of it."""
        entries = self._block(items, self.field.inner, down)
        return {"border": self.field.border, "gap": self.field.gap, "rows" if down else "columns": entries}

    def _block(self, items: Sequence[Item], rect: Rect, down: bool) -> list[Entry]:
        gap, along = self.field.gap, rect.height if down else rect.width
        lengths = [self._natural(item, down, down) for item in items]
        free = along - total(lengths) - gap * (len(items) - 1)
        if BAND in items:
            lengths = [free if item == BAND else length for item, length in zip(items, lengths)]
            free = ZERO
        # As `card/layout.py` has it: a hair that a row of triangles leaves goes into its gaps, more stands at both ends.
        hair = free / (len(items) - 1) if gap and len(items) > 1 and free.inches < SIXTEENTH else ZERO
        at = (rect.y if down else rect.x) + (ZERO if hair else free / 2)
        said: list[Entry] = []
        for item, length in zip(items, lengths):
            cell = Rect(rect.x, at, rect.width, length) if down else Rect(at, rect.y, length, rect.height)
            said.append(self._cell(item, cell, down))
            at += length + gap + hair
        return said

    def _cell(self, item: Item, cell: Rect, down: bool) -> Entry:
        if isinstance(item, InRow):
            size = self.taken(item)
            x = cell.x + (cell.width - size.width) / 2 if down else cell.x
            y = cell.y if down else cell.y + (cell.height - size.height) / 2
            return self.put(item, Rect(x, y, size.width, size.height))
        if isinstance(item, str):
            self.band = cell
            return BAND
        return self._block(item, cell, not down)

    def _natural(self, item: Item, axis_down: bool, down: bool) -> Length:
        """What an entry takes along an axis by itself."""
        if isinstance(item, InRow):
            size = self.taken(item)
            return size.height if axis_down else size.width
        if isinstance(item, str):
            return ZERO
        each = [self._natural(one, axis_down, not down) for one in item]
        return max(each, default=ZERO) if axis_down == down else total(each) + self.field.gap * (len(each) - 1)

    # One piece

    def taken(self, cell: InRow) -> Size:
        """The room that a piece takes on the card."""
        size = self.sizes[cell.kind]
        way = self.kinds[cell.kind].halved
        return pointed_size(size, way, cell.point) if way and cell.point else size

    def put(self, cell: InRow, rect: Rect, *, over: bool = False) -> dict[str, Any]:
        """Lay a piece down; what the file says of it, but where."""
        kind = self.kinds[cell.kind]
        turned = kind.halved is None and kind.size != self.sizes[cell.kind]
        self.spots.append(Spot(kind.label, rect, turned, cell.point, over=over))
        said: dict[str, Any] = {"piece": kind.label}
        if turned:
            said["turned"] = True
        if cell.point:
            said["point"] = cell.point
        return said

    def set_down(self, kind: int, left: int, top: int) -> dict[str, Any]:
        """A piece by position, so many whole steps from the left and the top edge of the field, or the far ends of it (-1)."""
        inner, border, size = self.field.inner, self.field.border, self.sizes[kind]
        x = inner.x + self.field.step * left if left >= 0 else inner.right - size.width
        y = inner.y + self.field.step * top if top >= 0 else inner.bottom - size.height
        said = self.put(InRow(kind), Rect(x, y, size.width, size.height))
        across = ("left", border + self.field.step * left) if left >= 0 else ("right", border)
        down = ("top", border + self.field.step * top) if top >= 0 else ("bottom", border)
        return said | dict((across, down))

    def centred(self, kind: int, rect: Rect) -> dict[str, Any]:
        """A piece in the middle of the field, where it takes just that place."""
        return self.put(InRow(kind), rect)


def mirrored(spots: Sequence[Spot], width: Length) -> tuple[Spot, ...]:
    """The same pieces on the other door of a gate so wide, the left of one the right of the other."""
    return tuple(replace(spot, rect=Rect(width - spot.rect.right, spot.rect.y, spot.rect.width, spot.rect.height)) for spot in spots)
