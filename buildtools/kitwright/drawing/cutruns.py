"""The numbers of the cuts where there is little room: one for each, or one mark for a run of like strokes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import groupby, pairwise

from kitwright.drawing.cutnumbers import CutNumbers, Stroke, home, run_text
from kitwright.drawing.labels import draw_tag, tag_box
from kitwright.drawing.scene import Box, Point, points

SINGLE, EACH, ALL = range(3)
"""How the strokes at one measure are numbered: one by one, one mark for each thing that takes them, one mark for all."""


@dataclass
class RunNumbers(CutNumbers):
    """Places the numbers of a guide, as closely joined as it is told, or more closely for want of room."""

    joined: dict[int, int] = field(default_factory=dict)
    """How closely, by the stretch of like strokes; what is joined more closely is noted here."""
    marks: list[tuple[int, Box]] = field(default_factory=list)
    """What was placed: the stretch, and where its mark stands."""

    def __post_init__(self) -> None:
        # Strokes that follow one another off the same edge at one measure.
        self.stretches = [list(group) for _, group in groupby(self.strokes, key=lambda s: (s[0].off, s[0].measure))]

    def place(self) -> None:
        """Set down every mark where its blade starts, or as near to that as there is room.

        What has none on its lines, however closely it is joined, waits for `lead_out`.
        """
        for index, stretch in enumerate(self.stretches):
            if self._tight(stretch) and index not in self.joined:
                self.join(index)
            found = self._places(index)
            while any(middle is None for _, middle in found) and self.join(index):
                found = self._places(index)
            for run, middle in found:
                if middle is None:
                    self.crowded.append(run)
                    continue
                box = tag_box(run_text(run), middle)
                self.board.take(box)
                self.marks.append((index, box))
                draw_tag(self.draft, run_text(run), middle)

    def join(self, index: int) -> bool:
        """Join the numbers of a stretch more closely; whether there is a way."""
        now = len(self._runs(index))
        while self.joined.get(index, SINGLE) < ALL:
            self.joined[index] = self.joined.get(index, SINGLE) + 1
            if len(self._runs(index)) < now:
                return True
        return False

    def near(self, rooms: list[Box]) -> set[int]:
        """The stretches whose marks stand in any of these rooms."""
        return {index for index, box in self.marks if any(box.meets(room) for room in rooms)}

    def _runs(self, index: int) -> list[list[Stroke]]:
        """What shares a mark."""
        stretch, joined = self.stretches[index], self.joined.get(index, SINGLE)
        if joined == SINGLE:
            return [[stroke] for stroke in stretch]
        if joined == ALL:
            return [stretch]
        return [list(group) for _, group in groupby(stretch, key=lambda s: home(s[0]))]

    def _tight(self, stretch: list[Stroke]) -> bool:
        """Whether marks of strokes that follow one another on one thing can't stand side by side."""
        cut, (start, _) = stretch[-1]
        tag = tag_box(str(cut.number), start).grown(1)
        apart = points(cut.measure, self.scale)
        neighbours = any(home(a) == home(b) for (a, _), (b, _) in pairwise(stretch))
        return neighbours and apart < (tag.width if cut.axis == "x" else tag.height)

    def _places(self, index: int) -> list[tuple[list[Stroke], Point | None]]:
        """Room for each mark of a stretch, clear of one another."""
        before, found = len(self.board.boxes), []
        for run in self._runs(index):
            middle = self._middle(run)
            if middle is not None:
                self.board.take(tag_box(run_text(run), middle))
            found.append((run, middle))
        del self.board.boxes[before:]
        return found

    def _middle(self, run: list[Stroke]) -> Point | None:
        """Room for a mark on one of its lines."""
        text, lines = run_text(run), [line for _, line in run]
        found = (self._tag_place(text, line, lines, 9) for line in lines)
        middle = next(filter(None, found), None)
        if middle is not None:
            return middle
        # Where there is no other room it may cover the ends of lines that meet its own.
        covered = [*lines, *self._meeting(lines)]
        return next(filter(None, (self._tag_place(text, line, covered, 9) for line in lines)), None)

    def _meeting(self, lines: Iterable[tuple[Point, Point]]) -> list[tuple[Point, Point]]:
        """The lines of other strokes that begin or end on these."""
        around = [Box(*start, *end) for start, end in lines]
        return [other for _, other in self.strokes if any(box.holds(Box(*end, *end)) for box in around for end in other)]
