"""The guide page: every distinct way of cutting a sheet, with measures, leftovers and slack."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus.flowables import CondPageBreak, Flowable

from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Cut, Leaf, Node, Split
from kitwright.geometry import Rect
from kitwright.kit.names import BASE
from kitwright.printable import pictures
from kitwright.printable.blocks import Heading, Picture, Prose, Side, high
from kitwright.printable.job import Job
from kitwright.printable.sketch_page import GUTTER, fact_blocks
from kitwright.printable.tables import Cell, Column, Row, Table
from kitwright.printable.typeset import BODY, BOLD, CELL, NOTE, Style
from kitwright.units import Length, length_text, size_text
from kitwright.words import listed, sheets_text

DATA = 190
"""Width of the figures beside a guide, points."""
DROP = 4
"""Brings a picture's own heading down to the line of the heading beside it, points."""
ROW_BEFORE, ROW_AFTER = 10, 18
"""Clear space over and under a row of guides, points."""
PLAIN, FEW_CUTS = 3, 8
"""A cardstock guide with no more measures and cuts than this shares its row with another."""
LEAST_SHRUNK = 0.78
"""How much smaller than it could be a sheet may be drawn to fill a page."""


@dataclass(frozen=True, slots=True)
class Measure:
    """All cuts made at one ruler mark from one side."""

    length: Length
    off: str
    numbers: tuple[int, ...]
    falls: tuple[str, ...]
    """What falls off: labels, `strip` for what is cut further, `scrap`."""


def guide_page(job: Job, room: float) -> list[Flowable]:
    """Blocks of the cutting guides.

    Args:
        job: the printable.
        room: what is left of the page on which they start, points.
    """
    how = "Make the cuts in the order of their numbers, each right across the piece in hand."
    if any(layout.leftovers for layout in job.worked.layouts):
        how += " What is hatched is left over."
    head = [Heading("Cutting guide", 2, bookmark="guide"), Prose(how, BODY)]
    # The heading does not wait for the first guide as a whole: that may be drawn smaller to stay with it.
    head[0].keepWithNext = False
    above = head[0].before + high(head, job.edition.width) + ROW_BEFORE
    rows = [Guides(job, layouts) for layouts in _rows(job)]
    least = above + rows[0].height_at(LEAST_SHRUNK)
    room = room if least <= room else job.edition.height
    return [CondPageBreak(least), *head, *filled(rows, room - above, job.edition.height)]


def filled(rows: Sequence["Guides"], room: float, full: float) -> list["Guides"]:
    """Rows of guides, drawn as much smaller as fills the pages well.

    Args:
        rows: as large as they may be.
        room: what the first page has for them.
        full: what every other page has.
    """
    found: list[Guides] = []
    waiting = list(rows)
    while waiting:
        page: list[Guides] = []
        while waiting and (not page or _together([*page, waiting[0]], LEAST_SHRUNK) <= room):
            page.append(waiting.pop(0))
        steps = [1 - i * (1 - LEAST_SHRUNK) / 20 for i in range(21)]
        share = next((step for step in steps if _together(page, step) <= room), LEAST_SHRUNK)
        found += [row if share == 1 else row.smaller(share) for row in page]
        room = full
    return found


def _together(rows: Sequence["Guides"], share: float) -> float:
    return sum(row.height_at(share) for row in rows) + ROW_AFTER * (len(rows) - 1)


def _rows(job: Job) -> list[list[Layout]]:
    """The guides row by row: two plain ones side by side, any other by itself."""
    rows: list[list[Layout]] = []
    for layout in job.worked.layouts:
        plain = is_plain(job, layout)
        if rows and plain and len(rows[-1]) == 1 and is_plain(job, rows[-1][0]):
            rows[-1].append(layout)
        else:
            rows.append([layout])
    return rows


def is_plain(job: Job, layout: Layout) -> bool:
    """Whether a guide is plain enough to share its row."""
    return len(measures(layout)) <= PLAIN and len(layout.cuts) <= FEW_CUTS and all(job.paper(p).kind == "cardstock" for p in layout.papers)


class Guides(Side):
    """A row of guides, which may be drawn smaller rather than leave a page half empty."""

    def __init__(self, job: Job, layouts: Sequence[Layout], most: float | None = None) -> None:
        make = _pair if len(layouts) == 2 else _alone
        most = most or job.edition.height * ((0.41 if job.tight else 0.44) if len(layouts) == 2 else 0.52 if job.tight else 0.58)
        self.job, self.layouts = job, layouts
        stacks, widths = make(job, layouts, most)
        super().__init__(stacks, widths, GUTTER, job.edition.height, before=ROW_BEFORE, after=ROW_AFTER)
        found = [[b for b in blocks if isinstance(b, Picture)] for blocks in stacks]
        self.drawn = [sum(b.wrap(room, 1e6)[1] for b in pictures) for pictures, room in zip(found, widths)]
        # What stands around a sheet keeps its size; only the sheet itself gives way.
        sheet = max(float(layout.sheet.height.inches * 72 * b.scene.scale) for layout, b in zip(layouts, sum(found, [])))
        self.least = 1 - (1 - LEAST_SHRUNK) * sheet / max(self.drawn)

    def height_at(self, share: float) -> float:
        """Its height with pictures at a share of theirs, points."""
        most = max(self.drawn) * max(share, self.least)
        return max(high(blocks, width) - max(drawn - most, 0) for blocks, width, drawn in zip(self.stacks, self.widths, self.drawn))

    def smaller(self, share: float) -> "Guides":
        """The same with smaller pictures."""
        return Guides(self.job, self.layouts, max(self.drawn) * max(share, self.least) - DROP)

    def split(self, room: float, height: float) -> list[Flowable]:
        for i in range(1, 11):
            share = 1 - i * (1 - LEAST_SHRUNK) / 10
            if self.height_at(share) <= height:
                return [self.smaller(share)]
        return super().split(room, height)


def _alone(job: Job, layouts: Sequence[Layout], most: float) -> tuple[list[list[Flowable]], list[float]]:
    """A guide with its figures beside it."""
    layout, = layouts
    width = job.edition.width - DATA - GUTTER
    scene = pictures.guide(job, layout, width, most)
    slack = layout.slack
    data = [_title(layout), *_sheets(job, layout), *_measures(job, layout)]
    data += fact_blocks("A sheet gives", (_gives(layout),))
    data += fact_blocks("Left over", (_leftovers(layout, job.unit),))
    data += fact_blocks("Slack", (f"{_length(slack.width, job.unit)} across, {_length(slack.height, job.unit)} along",
                                  "how much smaller the sheet could be"))
    return [[Picture(scene, job.level, drop=DROP)], data], [width, DATA]


def _pair(job: Job, layouts: Sequence[Layout], most: float) -> tuple[list[list[Flowable]], list[float]]:
    """Two guides at one scale, with their figures under them."""
    width = (job.edition.width - GUTTER) / 2
    scenes = pictures.guides_alike(job, layouts, width, most)
    stacks = [[_title(layout), *_sheets(job, layout), Picture(scene, job.level, before=5), *_measures(job, layout),
               *_brief(job, layout)] for scene, layout in zip(scenes, layouts)]
    return stacks, [width, width]


def _brief(job: Job, layout: Layout) -> list[Flowable]:
    """Yield, leftovers and slack in a line each."""
    slack, unit = layout.slack, job.unit
    said = [("A sheet gives", _gives(layout)), ("Left over:", _leftovers(layout, unit)),
            ("Slack:", f"{_length(slack.width, unit)} across, {_length(slack.height, unit)} along")]
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
    return [measure_table(job, layout)] if layout.cuts else []


def _gives(layout: Layout) -> str:
    return listed([f"{n} {named(label, n)}" for label, n in layout.yields.items()])


def _length(length: Length, unit: str) -> str:
    return length_text(length, unit) if length else "none"


def named(label: str, n: int) -> str:
    """A label as a thing that is counted."""
    return ("base" if n == 1 else "bases") if label == BASE else label


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
    rows = [Row((Cell(length_text(m.length, job.unit), Style(BOLD, CELL.size, CELL.leading)), Cell(m.off),
                 Cell(ranges(m.numbers)), Cell(listed(list(m.falls))))) for m in measures(layout)]
    columns = [Column("Line up at", "plain"), Column("Off the", "plain"), Column("Cuts", weight=1.2), Column("Falls off")]
    return Table(columns, rows, job.level, gap=12)


def measures(layout: Layout) -> list[Measure]:
    """Cuts at one mark from one side together, in the order in which the marks are first set."""
    groups: dict[tuple[Length, str], list[Cut]] = {}
    for cut in layout.cuts:
        groups.setdefault((cut.measure, cut.off), []).append(cut)
    return [Measure(length, off, tuple(c.number for c in cuts),
                    tuple(dict.fromkeys(falls_off(layout.tree, c) for c in cuts)))
            for (length, off), cuts in groups.items()]


def falls_off(tree: Node, cut: Cut) -> str:
    """What a stroke takes off: a label, a part that is cut further, or a leftover."""
    node = _node_at(tree, _off(cut))
    if isinstance(node, Split):
        return "strip"
    return "scrap" if node.label is None else named(node.label, 1)


def _off(cut: Cut) -> Rect:
    part = cut.part
    if cut.off == "left":
        return Rect(part.x, part.y, cut.measure, part.height)
    if cut.off == "right":
        return Rect(part.right - cut.measure, part.y, cut.measure, part.height)
    if cut.off == "top":
        return Rect(part.x, part.y, part.width, cut.measure)
    return Rect(part.x, part.bottom - cut.measure, part.width, cut.measure)


def _node_at(node: Node, rect: Rect) -> Node:
    while node.rect != rect:
        node = next(part for part in node.parts if part.rect.contains(rect))
    return node


def ranges(numbers: Sequence[int]) -> str:
    """`1–3, 7, 9–12`."""
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return ", ".join(f"{r[0]}–{r[-1]}" if len(r) > 1 else f"{r[0]}" for r in runs)
