"""The guide page: every distinct way of cutting a sheet, with measures, leftovers and slack."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus.flowables import CondPageBreak, Flowable

from kitwright.cutting.desk import corner_steps
from kitwright.cutting.plan import Layout
from kitwright.drawing.scene import Scene
from kitwright.geometry import HALVES
from kitwright.printable import pictures
from kitwright.printable.blocks import Heading, PictureBlock, Prose, Side, anew, high
from kitwright.printable.job import Job
from kitwright.printable.sketch_page import GUTTER, fact_blocks
from kitwright.printable.stroke_table import Measure, measures, ranges
from kitwright.printable.tables import Cell, Column, Row, Table
from kitwright.printable.typeset import BODY, BOLD, CELL, NOTE, Style
from kitwright.telling.backs import backs_on, marked
from kitwright.telling.guidetexts import named
from kitwright.telling.printed import BOTH_CORNERS, SLACK_MEANS, guide_text
from kitwright.telling.slack import slack_text
from kitwright.telling.words import listed, sheets_text
from kitwright.units import length_text, size_text

DATA = 190
"""Width of the figures beside a guide, points."""
DROP = 4
"""Brings a picture's own heading down to the line of the heading beside it, points."""
ROW_BEFORE, ROW_AFTER = 10, 18
"""Clear space over and under a row of guides, points."""
MOST_ALONE, MOST_PAIR = 0.58, 0.44
"""How much of a page's height the picture of a guide takes at most."""
PLAIN, FEW_CUTS = 3, 8
"""A guide with no more measures and cuts than this may share its row with another."""
SHARES = ((1.0, 0.94, 0.88, 0.82), (1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64), (1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58, 0.52, 0.46))
"""How much smaller than it could be a sheet may be drawn to fill a page: at ease, and to save pages."""

LEAST_ALONE = 0.7
"""The same for a guide with a row of its own: those have more to show."""


def guide_page(job: Job, room: float) -> list[Flowable]:
    """Blocks of the cutting guides.

    Args:
        job: the printable.
        room: what is left of the page on which they start, points.
    """
    how = guide_text(any(layout.leftovers for layout in job.worked.layouts))
    head = [Heading("Cutting guide", 2, bookmark="guide"), Prose(how, BODY)]
    # The heading does not wait for the first guide as a whole: that may be drawn smaller to stay with it.
    head[0].keepWithNext = False
    above = head[0].before + high(head, job.edition.width) + ROW_BEFORE
    rows = [guides(job, layouts) for layouts in _rows(job)]
    least = above + rows[0].at(_shares(job)[-1]).tall
    room = room if least <= room else job.edition.height
    return [CondPageBreak(least), *head, *filled(rows, room - above, job.edition.height, _shares(job))]


def _shares(job: Job) -> tuple[float, ...]:
    return SHARES[job.tight]


def filled(rows: Sequence[Guides], room: float, full: float, shares: Sequence[float]) -> list[Guides]:
    """Rows of guides, drawn as much smaller as fills the pages well.

    Args:
        rows: as large as they may be.
        room: what the first page has for them.
        full: what every other page has.
        shares: of their own scales, largest first; all rows of a page share one.
    """
    found: list[Guides] = []
    waiting = list(rows)
    while waiting:
        page = [waiting.pop(0)]
        while waiting and _fit([*page, waiting[0]], shares[-1], room):
            page.append(waiting.pop(0))
        share = next((step for step in shares if _fit(page, step, room)), shares[-1])
        found += [row.at(share) for row in page]
        room = full
    return found


def _fit(rows: Sequence[Guides], share: float, room: float) -> bool:
    """Whether rows have room together."""
    room -= ROW_AFTER * (len(rows) - 1)
    return sum(row.least(share) for row in rows) <= room and sum(row.at(share).tall for row in rows) <= room


def _rows(job: Job) -> list[list[Layout]]:
    """The guides row by row: two plain ones side by side, any other by itself."""
    rows: list[list[Layout]] = []
    for layout in job.worked.layouts:
        if rows and len(rows[-1]) == 1 and _share_a_row(job, rows[-1][0], layout):
            rows[-1].append(layout)
        else:
            rows.append([layout])
    return rows


def _share_a_row(job: Job, a: Layout, b: Layout) -> bool:
    """Whether two guides are plain enough to stand side by side; of patterned paper only where pages are to be saved."""
    printed = any(job.paper(paper).material.printed for layout in (a, b) for paper in layout.papers)
    plain = all(len(_measured(job, layout)) <= PLAIN and layout.strokes <= FEW_CUTS for layout in (a, b))
    return plain and (not printed or (job.tight > 1 and a.sheet == b.sheet))


class Guides(Side):
    """A row of guides, which may be drawn smaller rather than leave a page half empty.

    Args:
        job: the printable.
        layouts: one, or two that share the row.
        share: of the largest scale that the row gives them.
    """

    def __init__(self, job: Job, layouts: Sequence[Layout], share: float = 1) -> None:
        self.job, self.layouts, self.share = job, layouts, share
        stacks, widths = (_pair if len(layouts) == 2 else _alone)(job, layouts, share)
        super().__init__(stacks, widths, GUTTER, job.edition.height, before=ROW_BEFORE, after=ROW_AFTER)
        self.talls = [high(blocks, width) for blocks, width in zip(stacks, widths)]
        self.tall = max(self.talls)

    def at(self, share: float) -> Guides:
        """The same at another share; where that is too small to mark and label every part, as it is."""
        share = self._sound(share)
        if share == self.share:
            return self
        other = guides(self.job, self.layouts, share)
        return self if other.crowded and not self.crowded else other

    def least(self, share: float) -> float:
        """How high it is at another share, at least: most of what finds no room need not be drawn to know that."""
        share = self._sound(share)
        if share == self.share:
            return self.tall
        whole = guides(self.job, self.layouts)
        return min(self.tall, self.job.once(_key(self.job, self.layouts, share, "least"), lambda: whole.lower(share)))

    def lower(self, share: float) -> float:
        """How high its stacks are with guides at this share that need no key; of a row at its largest scale."""

        def spared(block: Flowable) -> float:
            if not isinstance(block, GuideBlock):
                return 0
            return float(block.scene.height - pictures.least_guide(self.job, block.layout, block.for_width, block.scene, share))

        # Sums of floats may differ by a hair, in whichever order they are made.
        return max(tall - sum(map(spared, blocks)) for tall, blocks in zip(self.talls, self.stacks)) - 0.001

    def _sound(self, share: float) -> float:
        return max(share, LEAST_ALONE if len(self.layouts) == 1 else 0)

    @property
    def crowded(self) -> bool:
        """Whether a part is too small for its number or label."""
        return any(block.scene.crowded for blocks in self.stacks for block in blocks if isinstance(block, PictureBlock))

    def split(self, room: float, height: float) -> list[Flowable]:
        for share in _shares(self.job)[1:]:
            if self.least(share) <= height and self.at(share).tall <= height:
                return [self.at(share)]
        return super().split(room, height)


def guides(job: Job, layouts: Sequence[Layout], share: float = 1) -> Guides:
    """The row, once for every way in which the last parts are ordered."""
    row: Guides = job.once(_key(job, layouts, share), lambda: Guides(job, layouts, share))
    anew([row])
    return row


def _key(job: Job, layouts: Sequence[Layout], share: float, what: str = "guides") -> tuple[object, ...]:
    return what, *map(job.worked.layouts.index, layouts), share, job.tight, job.level


class GuideBlock(PictureBlock):
    """A cutting guide, drawn as a whole only where it is set down; most are measured and given up for another.

    Args:
        width: what it was drawn for, points.
        bare: its texts.
    """

    def __init__(self, job: Job, layout: Layout, width: float, bare: Scene, before: float = 0, drop: float = 0) -> None:
        super().__init__(bare, job.level, before, drop=drop)
        self.job, self.layout, self.for_width = job, layout, width

    def draw(self) -> None:
        self.scene = pictures.whole_guide(self.job, self.layout, self.for_width, self.scene)
        super().draw()


def _alone(job: Job, layouts: Sequence[Layout], share: float) -> tuple[list[list[Flowable]], list[float]]:
    """A guide with its figures beside it."""
    (layout,) = layouts
    width = job.edition.width - DATA - GUTTER
    scene = pictures.guide(job, layout, width, job.edition.height * MOST_ALONE, share)
    figures = job.once(("figures", job.worked.layouts.index(layout), job.level), lambda: _figures(job, layout))
    return [[GuideBlock(job, layout, width, scene, drop=DROP)], figures], [width, DATA]


def _figures(job: Job, layout: Layout) -> list[Flowable]:
    """What stands beside a guide, however large that is drawn."""
    data = [_title(layout), *_sheets(job, layout), *_measures(job, layout)]
    data += fact_blocks("A sheet gives", (_gives(job, layout),))
    data += fact_blocks("Left over", (_leftovers(layout, job.unit),))
    return [*data, *fact_blocks("Slack", (slack_text(layout.slack, job.unit), SLACK_MEANS))]


def _pair(job: Job, layouts: Sequence[Layout], share: float) -> tuple[list[list[Flowable]], list[float]]:
    """Two guides at one scale, with their figures under them."""
    width = (job.edition.width - GUTTER) / 2
    scenes = pictures.guides_alike(job, layouts, width, job.edition.height * MOST_PAIR, share)
    stacks = []
    for scene, layout in zip(scenes, layouts):
        head, figures = _briefly(job, layout)
        stacks.append([*head, GuideBlock(job, layout, width, scene, before=5), *figures])
    return stacks, [width, width]


def _briefly(job: Job, layout: Layout) -> tuple[list[Flowable], list[Flowable]]:
    """What stands over a guide and under it, however large that is drawn."""
    return job.once(
        ("brief figures", job.worked.layouts.index(layout), job.level),
        lambda: ([_title(layout), *_sheets(job, layout)], [*_measures(job, layout), *_brief(job, layout)]),
    )


def _brief(job: Job, layout: Layout) -> list[Flowable]:
    """Yield, leftovers and slack in a line each."""
    unit = job.unit
    said = [("A sheet gives", _gives(job, layout)), ("Left over:", _leftovers(layout, unit)), ("Slack:", slack_text(layout.slack, unit))]
    return [Prose(text, NOTE, lead=lead) for lead, text in said]


def _title(layout: Layout) -> Heading:
    return Heading(layout.name, 3)


def _sheets(job: Job, layout: Layout) -> list[Flowable]:
    """How many sheets of which papers are cut so."""
    cut = []
    for paper in layout.papers:
        plan = job.worked.plan(paper)
        sheets = sum(run.sheets for run in plan.runs if run.layout is layout) if plan else 0
        if sheets:
            cut.append(f"{sheets_text(sheets)} of {job.paper(paper).name}")
    return [Prose(f"Cut {listed(cut)}{', all alike' if len(cut) > 1 else ''}.", BODY)] if cut else []


def _measures(job: Job, layout: Layout) -> list[Flowable]:
    return [measure_table(job, layout)] if layout.strokes else []


def _gives(job: Job, layout: Layout) -> str:
    backs = backs_on(job.worked, layout)
    return listed([marked(f"{n} {named(label, n)}", backs.get(label, "")) for label, n in layout.yields.items()])


def _leftovers(layout: Layout, unit: str) -> str:
    """Sizes of what remains, like ones counted together."""
    sizes: dict[str, int] = {}
    for rect in layout.leftovers:
        text = size_text(rect.size, unit)
        sizes[text] = sizes.get(text, 0) + 1
    return listed([f"{n} of {text}" if n > 1 else text for text, n in sizes.items()]) or "nothing"


# --- measures ---------------------------------------------------------------------------------


def measure_table(job: Job, layout: Layout) -> Table:
    """The ruler marks in the order in which they are first set."""
    rows = [
        Row(
            (
                Cell(length_text(m.length, job.unit), Style(BOLD, CELL.size, CELL.leading)),
                Cell(m.off),
                Cell(ranges(m.numbers)),
                Cell(listed(m.falls)),
            )
        )
        for m in _measured(job, layout)
    ]
    rows += [
        Row(
            (
                Cell(BOTH_CORNERS, Style(BOLD, CELL.size, CELL.leading)),
                Cell(""),
                Cell(ranges([slant.number for slant in step.slants])),
                Cell(f"{HALVES} {named(step.label, HALVES)}"),
            )
        )
        for step in corner_steps(layout.tree)
    ]
    columns = [Column("Line up at", "plain"), Column("Off the", "plain"), Column("Cuts", weight=1.2), Column("Falls off")]
    return Table(columns, rows, job.level, gap=12)


def _measured(job: Job, layout: Layout) -> list[Measure]:
    return job.once(("measures", job.worked.layouts.index(layout)), lambda: measures(layout))
