"""The cuts as hands make them, stroke after stroke: small pictures of the paper under the blade, a sentence or two each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus.flowables import Flowable

from kitwright.cutting.desk import CornerStep, DeskStep, corner_steps
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Cut, Slant
from kitwright.printable import pictures
from kitwright.printable.blocks import Gap, Heading, PictureBlock, Prose, Side, hairline
from kitwright.printable.edition import Edition
from kitwright.printable.filling import Chunk
from kitwright.printable.job import Job
from kitwright.printable.typeset import BODY, SANS, Style
from kitwright.telling.backs import backs_on
from kitwright.telling.instructions import corner_text, step_text
from kitwright.telling.printed import desk_text
from kitwright.telling.words import led, runs, span_text
from kitwright.work.desk import has_up, layout_steps

COLUMNS, GAP, TALL = 3, 20, 92
"""Steps in a row, clear space between them, and height of a picture; points."""
OVER = 8
"""Clear space under the line over a guide's first row, points."""
NAME = Style(SANS, 9, 12, after=2)
TOLD = Style(SANS, 9, 12)


def strokes(job: Job) -> list[Chunk]:
    """The steps in rows, each kept whole; every guide begins on a row of its own."""
    rows = [row for layout in job.worked.layouts for row in _rows(job, layout)]
    if not rows:
        return []
    club = job.worked.kit.club
    head = [Heading("At the trimmer", 2, bookmark="trimmer"), Prose(desk_text(club.trimmer.ruler_side, club.palette.cut_line), BODY)]
    return [Chunk((*head, rows[0])), *(Chunk((row,)) for row in rows[1:])]


class StrokesRow(Side):
    """A row of steps, under a line where a guide begins with it; at the head of a page there is nothing to part it from."""

    def __init__(self, cells: Sequence[Sequence[Flowable]], widths: Sequence[float], edition: Edition, begins: bool) -> None:
        super().__init__(cells, widths, GAP, edition.height, before=10, after=6)
        self.over = OVER if begins else 0
        self.head = edition.page[1] - edition.top

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        super().wrap(room, height)
        self.inner = self.height
        self.height += self.over
        return room, self.height

    def draw(self) -> None:
        if self.over and self.canv.absolutePosition(0, self.height)[1] < self.head - 1:
            hairline(self.canv, 0, self.width, self.height)
        whole, self.height = self.height, self.inner
        super().draw()
        self.height = whole


def _rows(job: Job, layout: Layout) -> list[StrokesRow]:
    """The steps of one guide."""
    wide = (job.edition.width - GAP * (COLUMNS - 1)) / COLUMNS
    steps: tuple[DeskStep | CornerStep, ...] = (*layout_steps(job.worked, layout), *corner_steps(layout.tree))
    cells = [_cell(job, layout, step, wide) for step in steps]
    rows = [cells[i : i + COLUMNS] for i in range(0, len(cells), COLUMNS)]
    return [StrokesRow(*_row(row, wide), job.edition, begins=i == 0) for i, row in enumerate(rows)]


def _row(cells: list[_Cell], wide: float) -> tuple[list[list[Flowable]], list[float]]:
    """What stands in each column of a row, and how wide they are."""
    if len(cells) == 1:
        # Alone, its words stand beside the picture.
        (cell,) = cells
        return [[cell.picture], [cell.name, cell.told]], [wide, 2 * wide]
    # A name of two lines pushes no picture out of its row.
    tallest = max(cell.name.wrap(wide, 1e6)[1] for cell in cells)
    return [[cell.name, Gap(tallest - cell.name.height), cell.picture, cell.told] for cell in cells], [wide] * len(cells)


@dataclass(frozen=True)
class _Cell:
    """One step: which cuts of which guide, how the paper lies, what to do."""

    name: Prose
    picture: PictureBlock
    told: Prose


def _cell(job: Job, layout: Layout, step: DeskStep | CornerStep, wide: float) -> _Cell:
    backs = backs_on(job.worked, layout)
    if isinstance(step, CornerStep):
        made: Sequence[Cut | Slant] = step.slants
        scene, told = pictures.corners(job, layout, step, wide, TALL), corner_text(step, job.unit, backs)
    else:
        one_way = has_up(job.worked, layout)
        made, scene = step.cuts, pictures.hand(job, layout, step, wide, TALL, one_way)
        told = step_text(step, job.unit, one_way and step.number == 1, backs)
    numbers = ", ".join(span_text(first, last) for first, last in runs(sorted(stroke.number for stroke in made)))
    cuts = led(f"{'cut' if len(made) == 1 else 'cuts'} {numbers}")
    return _Cell(Prose(layout.name, NAME, lead=f"{cuts}  ·"), PictureBlock(scene, job.level, after=3), Prose(told, TOLD))
