"""Labels set down on the pieces of a sheet: like ones alike, and what finds no room led out row by row."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import islice

from kitwright.cutting.tree import Leaf, Node, pieces
from kitwright.drawing.labels import LabelBlock, alone, dot, find_place, find_places, leader, led_out, middles
from kitwright.drawing.placing import Board, ClosedBoard
from kitwright.drawing.scene import Box, Draft, Frame, Number, Point
from kitwright.exact import Exact


@dataclass
class PieceLabels:
    """Sets labels down on a sheet."""

    draft: Draft
    board: Board
    frame: Frame
    sheet: Box
    patches: bool = False
    """Whether labels lie on patches of paper, since a pattern lies under them."""
    missing: list[str] = field(default_factory=list)
    """Labels for which there was no room at all."""
    led: list[str] = field(default_factory=list)
    """Labels that were led out."""
    aligned: bool = False
    """Whether a block stands at the same place in all rooms that are alike, where there is such a place."""
    closed: Sequence[Box] = ()
    """Where nothing that is led out may stand, such as on other pieces."""
    patience: int = 16
    """Failed searches for free room after which the rest is not looked for: the picture is full."""

    def set_down(self, block: LabelBlock, rooms: Sequence[Box], margin: Number = 3) -> bool:
        """Set a block down in every one of these rooms, or in none; whether there was room."""
        shared = find_places(self.board, block, rooms, margin) if self.aligned and len(rooms) > 1 else None
        placed = shared or self._each(block, rooms, margin)
        if placed is None:
            return False
        for middle in placed:
            self.board.take(block.box(middle))
        self.draw(block, rooms, placed)
        return True

    def _each(self, block: LabelBlock, rooms: Sequence[Box], margin: Number) -> list[Point] | None:
        """A place in every room, as near to its middle as can be."""
        before, placed = len(self.board.boxes), []
        for room in rooms:
            middle = find_place(self.board, block, room, margin)
            if middle is None:
                break
            placed.append(middle)
            self.board.take(block.box(middle))
        del self.board.boxes[before:]
        return placed if len(placed) == len(rooms) else None

    def draw(self, block: LabelBlock, rooms: Sequence[Box], placed: Sequence[Point]) -> None:
        """Draw a block at its place in each room."""
        for room, middle in zip(rooms, placed):
            block.draw(self.draft, middle, room if self.patches else None)

    def row_by_row(self, group: list[Leaf], label: str, sizes: Sequence[int] = (10, 8), least: int = 8) -> None:
        """Label row by row where all of a row fit; lead out a row that does not, as `20 × D`.

        Args:
            group: pieces alike.
            label: theirs.
            sizes: of type on the pieces, best first.
            least: the size of type of a label led out.
        """
        for row in _rows(group):
            rooms = [self.frame.box(leaf.rect) for leaf in row]
            parts = [part for leaf, room in zip(row, rooms) for part in (halves(room, leaf) if leaf.diagonal else (room,))]
            if not any(self.set_down(alone(label, size), parts, Exact(1)) for size in sizes):
                n = sum(leaf.gives for leaf in row)
                self._lead_out(rooms, alone(f"{n} × {label}" if n > 1 else label, least))

    def _lead_out(self, rooms: list[Box], block: LabelBlock) -> None:
        """A label in free room nearby, with a thin line to a line through its pieces."""
        board = ClosedBoard(None, self.board.boxes, self.board.lines, self.closed)
        upright = len(rooms) > 1 and rooms[0].left == rooms[1].left
        starts = (at for room in rooms[len(rooms) // 2 :] + rooms[: len(rooms) // 2] for at in islice(middles(room), 6))
        for start in islice(starts, 24):
            ends = [(start[0], r.centre[1]) if upright else (r.centre[0], start[1]) for r in (rooms[0], rooms[-1])]
            taken = any(b.grown(2).holds(Box(*at, *at)) for b in self.board.boxes for at in (start, *ends))
            if taken or not self.board.open_line(*ends):
                continue
            if not self.patience:
                break
            middle = led_out(self.draft, board, start, block.box, self.sheet, ended=not self.aligned or len(rooms) == 1)
            if middle is None:
                self.patience -= 1
                continue
            self.board.take(block.box(middle))
            block.draw(self.draft, middle, block.box(middle).grown(4))
            self.board.rule(*ends)
            leader(self.draft, *ends)
            for end in ends:
                dot(self.draft, end)
            self.led.append(block.words[0].text)
            return
        self.missing.append(block.words[0].text)


def alike(node: Node) -> list[tuple[str, list[Leaf]]]:
    """The pieces of a sheet by label and by how they lie, the label before each group."""
    found: dict[tuple, list[Leaf]] = defaultdict(list)
    for leaf in pieces(node):
        found[leaf.label, leaf.rect.size.width, leaf.rect.size.height].append(leaf)
    return [(key[0], group) for key, group in sorted(found.items(), key=lambda e: (e[0][0], e[1][0].rect.y, e[1][0].rect.x))]


def halves(room: Box, leaf: Leaf) -> tuple[Box, Box]:
    """The largest upright room in each of the two triangles of a rectangle: the quarters that its diagonal passes by."""
    x, y = room.centre
    if leaf.diagonal == "falling":
        return Box(x, room.top, room.right, y), Box(room.left, y, x, room.bottom)
    return Box(room.left, room.top, x, y), Box(x, y, room.right, room.bottom)


def _rows(group: list[Leaf]) -> list[list[Leaf]]:
    """Like pieces that lie side by side, or one below the other, in one row."""
    rows: list[list[Leaf]] = []
    for leaf in group:
        last = rows[-1][-1].rect if rows else None
        if last and (
            (last.y == leaf.rect.y and last.right == leaf.rect.x)
            or (last.x == leaf.rect.x and last.bottom == leaf.rect.y and len(rows[-1]) == 1)
            or (len(rows[-1]) > 1 and last.x == rows[-1][0].rect.x == leaf.rect.x and last.bottom == leaf.rect.y)
        ):
            rows[-1].append(leaf)
        else:
            rows.append([leaf])
    return rows
