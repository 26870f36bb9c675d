"""The cuts as hands make them: small pictures of the paper under the blade, a sentence or two each."""

from __future__ import annotations

from math import ceil

from reportlab.platypus.flowables import Flowable

from kitwright.cutting.desk import DeskStep
from kitwright.cutting.plan import Layout
from kitwright.printable import pictures
from kitwright.printable.blocks import Gap, Heading, PictureBlock, Prose, Side, high
from kitwright.printable.guide_page import ranges
from kitwright.printable.job import Job
from kitwright.printable.typeset import BODY, BOLD, NOTE, Style
from kitwright.telling.backs import backs_on
from kitwright.telling.instructions import step_text
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
    steps = job.once(("steps",), lambda: [(layout, step) for layout in job.worked.layouts for step in layout_steps(job.worked, layout)])
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


def _rows(job: Job, steps: list[tuple[Layout, DeskStep]], columns: int, gap: float, tall: float) -> list[Side]:
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


def _cell(job: Job, layout: Layout, step: DeskStep, width: float, tall: float) -> list[Flowable]:
    """One step: which cuts, how the paper lies, what to do."""
    one_way = has_up(job.worked, layout)
    numbers = ranges(sorted(cut.number for cut in step.cuts))
    cuts = f"{'cut' if len(step.cuts) == 1 else 'cuts'} {numbers}"
    name = f"{layout.name}, {cuts}" if step.number == 1 else led(cuts)
    scene = pictures.hand(job, layout, step, width, tall, one_way)
    return [
        Prose(name, NAME),
        PictureBlock(scene, job.level, after=3),
        Prose(step_text(step, job.unit, one_way and step.number == 1, backs_on(job.worked, layout)), NOTE),
    ]
