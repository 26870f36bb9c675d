"""The cuts as hands make them: small pictures of the paper under the blade, a sentence or two each."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from reportlab.platypus.flowables import Flowable

from kitwright.cutting.desk import CornerStep, DeskStep, corner_steps
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Cut, Slant
from kitwright.printable import pictures
from kitwright.printable.blocks import Gap, Heading, PictureBlock, Prose, Side, high
from kitwright.printable.job import Job
from kitwright.printable.stroke_table import ranges
from kitwright.printable.typeset import BODY, BOLD, NOTE, Style
from kitwright.telling.backs import backs_on
from kitwright.telling.instructions import corner_text, step_text
from kitwright.telling.printed import desk_text
from kitwright.telling.words import led
from kitwright.work.desk import has_up, layout_steps

WIDE, NARROW = (3, 18, 88), (4, 14, 80)
"""Steps in a row, clear space between them, and height of a picture; points."""
LOWER = 20
"""How much lower the pictures may be; points."""
NAME = Style(BOLD, 9, 12, "ink", after=2)


def desk_page(job: Job) -> list[Flowable]:
    """Blocks of the steps at the trimmer, guide after guide."""
    steps = job.once(("steps",), lambda: [(layout, step) for layout in job.worked.layouts for step in _steps(job, layout)])
    if not steps:
        return []
    # Narrower steps where that saves a row, and lower pictures where that spares a page.
    columns, gap, tall = NARROW if -(-len(steps) // NARROW[0]) < -(-len(steps) // WIDE[0]) else WIDE
    club = job.worked.kit.club
    how = Prose(desk_text(club.trimmer.ruler_side, club.palette.cut_line), BODY)
    head: list[Flowable] = [Heading("At the trimmer", 2, bookmark="trimmer"), how]
    how.keepWithNext = True
    choices = [[*head, *_rows(job, steps, columns, gap, height)] for height in (tall, tall - LOWER)]
    pages = [ceil(high(blocks, job.edition.width) / job.edition.height) for blocks in choices]
    return choices[pages.index(min(pages))]


def _steps(job: Job, layout: Layout) -> tuple[DeskStep | CornerStep, ...]:
    return *layout_steps(job.worked, layout), *corner_steps(layout.tree)


def _rows(job: Job, steps: list[tuple[Layout, DeskStep | CornerStep]], columns: int, gap: float, tall: float) -> list[Side]:
    """The steps in rows."""
    width = (job.edition.width - gap * (columns - 1)) / columns
    cells = [_cell(job, layout, step, width, tall) for layout, step in steps]
    rows = [cells[i : i + columns] for i in range(0, len(cells), columns)]
    for row in rows:
        # A name of two lines pushes no picture out of its row.
        tallest = max(cell[0].wrap(width, 1e6)[1] for cell in row)
        for cell in row:
            cell.insert(1, Gap(tallest - cell[0].height))
    return [Side(row, [width] * len(row), gap, job.edition.height, before=6, after=8) for row in rows]


def _cell(job: Job, layout: Layout, step: DeskStep | CornerStep, width: float, tall: float) -> list[Flowable]:
    """One step: which cuts, how the paper lies, what to do."""
    backs = backs_on(job.worked, layout)
    if isinstance(step, CornerStep):
        strokes: Sequence[Cut | Slant] = step.slants
        scene, told = pictures.corners(job, layout, step, width, tall), corner_text(step, job.unit, backs)
    else:
        one_way = has_up(job.worked, layout)
        strokes, scene = step.cuts, pictures.hand(job, layout, step, width, tall, one_way)
        told = step_text(step, job.unit, one_way and step.number == 1, backs)
    cuts = f"{'cut' if len(strokes) == 1 else 'cuts'} {ranges(sorted(stroke.number for stroke in strokes))}"
    name = f"{layout.name}, {cuts}" if step.number == 1 else led(cuts)
    return [Prose(name, NAME), PictureBlock(scene, job.level, after=3), Prose(told, NOTE)]
