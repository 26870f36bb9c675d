"""The numbers of the cuts where there is little room: one for each, or one mark for a run of like strokes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import groupby, pairwise

from kitwright.drawing.cutnumbers import CutNumbers, Stroke, home, run_text
from kitwright.drawing.labels import draw_tag, tag_box
from kitwright.drawing.scene import Box, Point, points

SINGLE, EACH, ALL = range(3)
"""How the strokes at one measure are numbered: one by one, one mark for each thing that takes them, one mark for all."""


@dataclass
class RunNumbers(CutNumbers):
    """Places the numbers of a guide, as closely joined as it is told."""

    joined: Mapping[int, int] = field(default_factory=dict)
    """How closely, by the stretch of like strokes."""
    marks: list[tuple[int, Box]] = field(default_factory=list)
    """What was placed: the stretch, and where its mark stands."""
    failed: set[int] = field(default_factory=set)
    """Stretches for which a mark had no room on its line."""

    def place(self) -> None:
        """Set down every mark where its blade starts, or as near to that as there is room."""
        for index, stretch in enumerate(stretches(self.strokes)):
            joined = self.joined.get(index, SINGLE)
            if joined == SINGLE and self._tight(stretch):
                self.failed.add(index)
            for run in _runs(stretch, joined):
                self._set_down(index, run)

    def _tight(self, stretch: list[Stroke]) -> bool:
        """Whether marks of strokes that follow one another on one thing can't stand side by side."""
        cut, (start, _) = stretch[-1]
        tag = tag_box(str(cut.number), start).grown(1)
        apart = points(cut.measure, self.scale)
        neighbours = any(home(a) == home(b) for (a, _), (b, _) in pairwise(stretch))
        return neighbours and apart < (tag.width if cut.axis == "x" else tag.height)

    def _set_down(self, index: int, run: list[Stroke]) -> None:
        text, lines = run_text(run), [line for _, line in run]
        # Where there is no other room it may cover the last of lines that end on its own.
        for covered in (lines, [*lines, *self._ending_on(lines)]):
            for line in lines:
                middle = self._tag_place(text, line, covered, 9)
                if middle is not None:
                    box = tag_box(text, middle)
                    self.board.take(box)
                    self.marks.append((index, box))
                    draw_tag(self.draft, text, middle)
                    return
        self.failed.add(index)
        self.crowded.append(run)

    def _ending_on(self, lines: list[tuple[Point, Point]]) -> list[tuple[Point, Point]]:
        """The lines of other strokes that begin or end somewhere on these."""
        around = [Box(*start, *end) for start, end in lines]
        return [other for _, other in self.strokes if any(box.holds(Box(*end, *end)) for box in around for end in other)]

    def near(self, rooms: list[Box]) -> set[int]:
        """The stretches whose marks stand in any of these rooms."""
        return {index for index, box in self.marks if any(box.meets(room) for room in rooms)}


def stretches(strokes: list[Stroke]) -> list[list[Stroke]]:
    """Strokes that follow one another off the same edge at one measure."""
    return [list(group) for _, group in groupby(strokes, key=lambda s: (s[0].off, s[0].measure))]


def closer(stretch: list[Stroke], joined: int) -> int | None:
    """The next way of joining a stretch that gives fewer marks; None where there is none."""
    fewer = (way for way in range(joined + 1, ALL + 1) if len(_runs(stretch, way)) < len(_runs(stretch, joined)))
    return next(fewer, None)


def _runs(stretch: list[Stroke], joined: int) -> list[list[Stroke]]:
    if joined == SINGLE:
        return [[stroke] for stroke in stretch]
    if joined == ALL:
        return [stretch]
    return [list(group) for _, group in groupby(stretch, key=lambda s: home(s[0]))]
