"""The numbers of the cuts: little tags where the blade starts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from itertools import groupby

from kitwright.cutting.tree import Cut
from kitwright.drawing.labels import draw_tag, led_out, tag_box
from kitwright.drawing.placing import Board, crosses, edges
from kitwright.drawing.scene import Box, Draft, Point, points
from kitwright.exact import Exact
from kitwright.geometry import Rect
from kitwright.telling.words import span_text
from kitwright.units import Length

Stroke = tuple[Cut, tuple[Point, Point]]
"""A cut and its line on the picture; the blade starts at the first point."""
_PATIENCE = 8
"""Failed searches for free room after which the rest is not looked for: the picture is full."""
_OVERHANG = 6
"""How far a tag on a line may stand over the edge of its sheet, points: short of all dimensions and ruler numbers."""


@dataclass
class CutNumbers:
    """Places the tags of a guide."""

    draft: Draft
    board: Board
    sheet: Box
    scale: Fraction
    strokes: list[Stroke]
    crowded: list[list[Stroke]] = field(default_factory=list)
    """Runs of cuts that share a tag which has no room on their lines."""

    def place(self) -> None:
        """A number where each blade starts; neighbours that stand too close share one, such as `4–6`.

        Runs of cuts whose lines have no room for a tag at all wait for `lead_out`.
        """
        for _, alike in groupby(self.strokes, key=lambda s: (s[0].axis, s[0].off, home(s[0]))):
            placed: list[tuple[list[Stroke], Point]] = []
            waiting: list[Stroke] = []
            group = list(alike)
            if self._too_tight(group):
                self.crowded.append(group)
                continue
            for stroke in group:
                waiting.append(stroke)
                middle = self._run_place(waiting)
                if middle is not None:
                    placed.append((waiting, middle))
                    waiting = []
            while waiting and placed:
                before, middle = placed.pop()
                self.board.boxes.remove(tag_box(run_text(before), middle))
                waiting = before + waiting
                middle = self._run_place(waiting)
                if middle is not None:
                    placed.append((waiting, middle))
                    waiting = []
            if waiting:
                self.crowded.append(waiting)
            for run, middle in placed:
                draw_tag(self.draft, run_text(run), middle)

    def _too_tight(self, row: list[Stroke]) -> bool:
        """Whether what falls off is so small that a tag would leave no room for its label."""
        tight = []
        for cut, ((ax, ay), (bx, by)) in row:
            fallen, tag = points(cut.measure, self.scale), tag_box(str(cut.number), (ax, ay))
            wide, high = (fallen, by - ay) if cut.axis == "x" else (bx - ax, fallen)
            tight.append(wide < tag.width + 12 and high < tag.height + 12)
        return len(row) > 2 and all(tight)

    def _run_place(self, run: list[Stroke]) -> Point | None:
        """Room for the tag of a run of cuts on one of its lines; takes it."""
        for _, line in reversed(run):
            middle = self._tag_place(run_text(run), line)
            if middle is not None:
                self.board.take(tag_box(run_text(run), middle))
                return middle
        return None

    def lead_out(self) -> list[str]:
        """Lead out the tags that had no room on their lines; returns those for which there is no room at all."""
        unmarked: list[str] = []
        for run in self.crowded:
            text = run_text(run)
            for _, line in run[:4] if len(unmarked) < _PATIENCE else ():
                middle = led_out(self.draft, self.board, _point_on(line), partial(tag_box, text), self.sheet, slant=60)
                if middle is not None:
                    self.board.take(tag_box(text, middle))
                    draw_tag(self.draft, text, middle)
                    break
            else:
                unmarked.append(text)
        return unmarked

    def _tag_place(self, text: str, line: tuple[Point, Point], alike: Sequence[tuple[Point, Point]] = (), tries: int = 5) -> Point | None:
        """On the line, as near to its start as other tags and lines allow.

        Args:
            text: the number.
            line: of its cut.
            alike: lines that the tag may cover, since it stands for them as well.
            tries: how many tenths of the line are tried.
        """
        (ax, ay), (bx, by) = line
        box = tag_box(text, (Exact(0), Exact(0)))
        upright = ax == bx
        half = (box.height if upright else box.width) / 2 + 2
        length = (by - ay) if upright else (bx - ax)
        steps = [half + i * (length - 2 * half) / 10 for i in range(tries)]
        places = [(ax, ay + at) if upright else (ax + at, ay) for i, at in enumerate(steps) if not i or at + half <= length]
        first, last = (tag_box(text, middle) for middle in (places[0], places[-1]))
        clear = Exact(3, 2)
        around = Box(min(first.left, last.left), min(first.top, last.top), max(first.right, last.right), max(first.bottom, last.bottom))
        near = self.board.near(around.grown(clear))
        # A tag may stand on the sheet's own edge, and on what its line runs on in.
        own = list(edges(self.sheet.corners))
        others = [other for other in near.lines if other not in own and other not in alike and not _same(other, line)]
        room = self.sheet.grown(_OVERHANG)
        for middle in places:
            tag = tag_box(text, middle)
            wide = tag.grown(clear)
            if room.holds(tag) and not any(wide.meets(b) for b in near.boxes) and not any(crosses(tag, *other) for other in others):
                return middle
        return None


def home(cut: Cut) -> tuple[Length, Length]:
    """What tells the strokes of one split from those of the next: the far corner stays, the near one moves."""
    r: Rect = cut.part
    return (r.x, r.y) if cut.off in ("right", "bottom") else (r.right, r.bottom)


def run_text(run: list[Stroke]) -> str:
    """`4`, or `4–6` for several cuts in turn."""
    first, last = run[0][0].number, run[-1][0].number
    return span_text(first, last)


def _point_on(line: tuple[Point, Point]) -> Point:
    """The middle of a line."""
    (ax, ay), (bx, by) = line
    return (ax + bx) / 2, (ay + by) / 2


def _same(line: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two lines run on in one another: along one straight line, and touching."""
    for across, along in ((0, 1), (1, 0)):
        if line[0][across] == line[1][across] == other[0][across] == other[1][across]:
            return max(line[0][along], other[0][along]) <= min(line[1][along], other[1][along])
    return False
