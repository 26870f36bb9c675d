"""The cuts as hands make them: small pictures of the paper under the blade, a sentence or two each."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.cutting.desk import DeskStep, desk_steps
from kitwright.cutting.instructions import step_text
from kitwright.cutting.plan import Layout
from kitwright.printable import pictures
from kitwright.printable.blocks import Heading, Picture, Prose, Side
from kitwright.printable.guide_page import ranges
from kitwright.printable.job import Job
from kitwright.printable.typeset import BODY, BOLD, NOTE, Style

AT_EASE, TIGHT = (3, 18, 84), (4, 14, 66)
"""Steps in a row, clear space between them, and height of a picture; points."""
NAME = Style(BOLD, 9, 12, "ink", after=2)


def desk_page(job: Job) -> list[Flowable]:
    """Blocks of the steps at the trimmer, guide after guide."""
    cells = [cell for layout in job.worked.layouts for cell in _cells(job, layout)]
    if not cells:
        return []
    columns, gap, _ = _grid(job)
    rows = [cells[i:i + columns] for i in range(0, len(cells), columns)]
    side = job.worked.kit.club.trimmer.ruler_side
    how = f"Under each name, the same cuts in the same order. The red line is the blade; the ruler lies {side} of it."
    found: list[Flowable] = [Heading("At the trimmer", 2, bookmark="trimmer"), Prose(how, BODY)]
    found[1].keepWithNext = True
    return found + [Side(row, [_width(job)] * len(row), gap, job.edition.height, before=6, after=8) for row in rows]


def _grid(job: Job) -> tuple[int, int, int]:
    return TIGHT if job.tight > 1 else AT_EASE


def _width(job: Job) -> float:
    columns, gap, _ = _grid(job)
    return (job.edition.width - gap * (columns - 1)) / columns


def _cells(job: Job, layout: Layout) -> list[list[Flowable]]:
    trimmer = job.worked.kit.club.trimmer
    one_way = any(job.paper(paper).front.up for paper in layout.papers)
    steps = desk_steps(layout, trimmer.least_hold, ruler_side=trimmer.ruler_side)
    return [_cell(job, layout, step, one_way) for step in steps]


def _cell(job: Job, layout: Layout, step: DeskStep, one_way: bool) -> list[Flowable]:
    numbers = ranges(sorted(cut.number for cut in step.cuts))
    cuts = f"{'cut' if len(step.cuts) == 1 else 'cuts'} {numbers}"
    name = f"{layout.name}, {cuts}" if step.number == 1 else cuts[:1].upper() + cuts[1:]
    scene = pictures.hand(job, layout, step, _width(job), _grid(job)[2], one_way)
    return [Prose(name, NAME), Picture(scene, job.level, after=3), Prose(step_text(step, job.unit, one_way and step.number == 1), NOTE)]
