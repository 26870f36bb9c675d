"""Where a change shows on the drawings of a state, so that it can be circled; and which layouts of two states belong together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from kitwright.card.base import Base
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Cut, pieces
from kitwright.geometry import Rect
from kitwright.labels import is_base
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a change shows."""

    on: Literal["sheet", "front", "base"]
    index: int
    """Which of the state's layouts, or which of its fronts, counted from 0."""
    rects: tuple[Rect, ...]
    """On the sheet, on the finished front, or on the base laid flat; a line where a cut or a score is meant."""
    design: str = ""
    """Whose front or base, where the state has several designs."""


def marks_of(worked: Worked, label: str) -> tuple[Mark, ...]:
    """Where a label shows: on every sheet that gives it, and on the first front of each design."""
    found = [
        Mark("sheet", i, tuple(leaf.rect for leaf in pieces(layout.tree) if leaf.label == label)) for i, layout in enumerate(worked.layouts)
    ]
    for design in worked.designs:
        rects = tuple(p.rect for p in design.face.stack if p.label == label and not is_base(label))
        found.append(Mark("front", 0, rects, design.kit.design))
    return tuple(mark for mark in found if mark.rects)


def cut_marks(index: int, cuts: list[Cut]) -> tuple[Mark, ...]:
    """The lines of some cuts on a layout."""
    return (Mark("sheet", index, tuple(_line(cut) for cut in cuts)),)


def whole_sheet(index: int, layout: Layout) -> tuple[Mark, ...]:
    """A layout as a whole."""
    return (Mark("sheet", index, (Rect.of(layout.sheet),)),)


def score_marks(base: Base) -> tuple[Mark, ...]:
    """The score lines of a base."""
    return (Mark("base", 0, tuple(Rect(x1, y1, x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in base.score_lines)),)


def front_marks(index: int, rects: tuple[Rect, ...]) -> tuple[Mark, ...]:
    """Places on a front; none where there is no place."""
    return (Mark("front", index, rects),) if rects else ()


def _line(cut: Cut) -> Rect:
    (x1, y1), (x2, y2) = cut.line
    return Rect(x1, y1, x2 - x1, y2 - y1)


def strokes(layout: Layout) -> list[tuple[object, ...]]:
    """How a sheet is cut, whatever its pieces are called."""
    return [*((c.axis, c.at, c.measure, c.off) for c in layout.cuts), *((slant.line,) for slant in layout.slants)]


def paired_layouts(old: Worked, new: Worked) -> Iterator[tuple[int, Layout, int, Layout]]:
    """Layouts of the two states that belong together: cut from the same papers, in the order of the guide page."""
    left = list(enumerate(new.layouts))
    for i, layout in enumerate(old.layouts):
        same = [(j, other) for j, other in left if set(other.papers) == set(layout.papers)] or [
            (j, other) for j, other in left if set(other.papers) & set(layout.papers)
        ]
        if same:
            best = min(same, key=lambda one: (one[1].sheet != layout.sheet, strokes(one[1]) != strokes(layout), one[0]))
            left.remove(best)
            yield i, layout, *best
