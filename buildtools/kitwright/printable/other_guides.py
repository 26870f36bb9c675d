"""The guides for the sheets that readers ask for first, drawn small, where they are others than the kit's own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice

from reportlab.platypus.flowables import Flowable

from kitwright.cutting.plan import PaperPlan, Run
from kitwright.drawing.guide import EDGE
from kitwright.drawing.sheetguide import SheetGuide, guide_size, sheet_guide
from kitwright.otherwise.edition import by_the_same_cuts
from kitwright.otherwise.planned import from_stock
from kitwright.printable.blocks import PictureBlock, Prose, Side
from kitwright.printable.job import Job
from kitwright.printable.typeset import SANS, Style
from kitwright.telling.backs import backs_on
from kitwright.telling.goes import goes_on
from kitwright.telling.guidetexts import drawn_at
from kitwright.telling.printed import cut_from_text, sheet_text
from kitwright.work.batches import alike
from kitwright.work.worked import Worked

COLUMNS, GAP, TALL = 3, 20, 180
"""Guides in a row, clear space between them, and how high one may be; points."""
MOST = 6
"""Guides that are drawn."""
LARGEST, LEAST = 40, 18
"""Per cent of true size."""
NAME, SCALE = Style(SANS, 9, 12, after=2), Style(SANS, 8, 10.5, after=4)


@dataclass(frozen=True)
class _Guide:
    """One way of cutting another sheet."""

    names: tuple[str, ...]
    """The papers that it is for."""
    sheet: str
    run: Run
    drawn: SheetGuide


def other_guides(job: Job) -> list[Side]:
    """Rows of them, each kept whole; one that can't be read so small is left to the tables."""
    wide = (job.edition.width - GAP * (COLUMNS - 1)) / COLUMNS
    found = job.once(("other guides",), lambda: list(islice(_guides(job, wide), MOST)))
    cells = [_cell(job, each) for each in found]
    rows = [cells[i : i + COLUMNS] for i in range(0, len(cells), COLUMNS)]
    return [Side(row, [wide] * len(row), GAP, job.edition.height, before=10) for row in rows]


def _guides(job: Job, wide: float) -> Iterator[_Guide]:
    for plans in alike(job.worked):
        names = tuple(job.paper(plan.paper).name for plan in plans)
        for sheet, other in _planned(job.worked, plans[0]):
            drawn = [(run, _drawn(job, run, wide)) for run in other.runs]
            if all(guide for _, guide in drawn):
                yield from (_Guide(names, sheet, run, guide) for run, guide in drawn if guide)


def _planned(worked: Worked, plan: PaperPlan) -> Iterator[tuple[str, PaperPlan]]:
    """The first sheet asked for that is another and cut otherwise, and how."""
    material = worked.kit.papers[plan.paper].material
    stock = dict(material.sold)
    for name in material.asked:
        if stock[name] == plan.demand.sheet or by_the_same_cuts(plan, stock[name]):
            continue
        other = from_stock(worked, plan, name, stock[name])
        if other.plan:
            yield name, other.plan
            return


def _drawn(job: Job, run: Run, wide: float) -> SheetGuide | None:
    """As large as it fits its column; None where not all of it can be read then."""
    layout, worked, unit = run.layout, job.worked, job.unit
    for percent in range(LARGEST, LEAST - 1, -1):
        scale = Fraction(percent, 100)
        across, along = guide_size(layout.tree, scale, unit=unit)
        if across - 2 * EDGE <= wide and along - 2 * EDGE <= TALL:
            guide = sheet_guide(
                layout.tree, unit=unit, scale=scale, name=layout.name, backs=backs_on(worked, layout), goes=goes_on(worked, layout)
            )
            return guide if guide.sound else None
    return None


def _cell(job: Job, each: _Guide) -> list[Flowable]:
    scene = each.drawn.scene
    sheet, size = each.sheet, each.run.layout.sheet
    # Sheets sold by the inch have no millimetres in their name.
    named = sheet_text(sheet, size) if job.unit == "mm" else sheet
    return [
        Prose(cut_from_text(each.names, each.run.sheets), NAME, lead=f"{named}  ·"),
        Prose(drawn_at(scene.stated_scale), SCALE),
        PictureBlock(scene, job.level),
    ]
