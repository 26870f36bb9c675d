"""One guide as it stands on the page: heading, drawing, strokes and figures, and what room they take."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cached_property
from typing import TypeVar

from reportlab.platypus.flowables import Flowable

from kitwright import cache
from kitwright.cutting.plan import Layout
from kitwright.drawing.guide import EDGE
from kitwright.drawing.sheetguide import GuideScales, SheetGuide, guide_scales, guide_size, sheet_guide
from kitwright.printable.blocks import PictureBlock, Prose, high
from kitwright.printable.guide_head import BESIDE, GuideHead, HeadItem, paper_item, up_item
from kitwright.printable.job import Job
from kitwright.printable.stroke_table import StrokeTable, stroke_rows
from kitwright.printable.typeset import SHEET_CELL
from kitwright.telling.backs import backs_on
from kitwright.telling.goes import goes_on
from kitwright.telling.guidetexts import (
    ALSO_LEFT,
    SLACK,
    TOO_SMALL,
    alike_text,
    drawn_at,
    gives_texts,
    left_text,
    missing_text,
    sheets_of,
    slack_told,
)
from kitwright.telling.words import sheets_text

NARROWEST = 112
"""No guide has less width, points."""
OVER_PICTURE, UNDER_PICTURE, UNDER_TABLE = 4, 5, 3
"""Clear space around the parts of a guide, points."""


T = TypeVar("T")
Key = tuple[int, int | None, int | None]
"""What tells a guide on a page from the others: its number, and which of its strokes it shows."""


class GuideCell:
    """One guide.

    Args:
        job: the printable.
        layout: the way of cutting.
        strokes: which rows of its table it shows; all, where these have room on a page.
    """

    def __init__(self, job: Job, layout: Layout, strokes: slice = slice(None)) -> None:
        self.job, self.layout, self.strokes = job, layout, strokes
        self.number = job.worked.layouts.index(layout)
        self.key: Key = self.number, strokes.start, strokes.stop
        papers = [job.paper(key) for key in layout.papers]
        self.printed = any(paper.material.printed for paper in papers)
        self.cardstock = all(paper.kind == "cardstock" for paper in papers)
        self._look, self._backs = job.look(layout.papers[0]), backs_on(job.worked, layout)
        self._goes = goes_on(job.worked, layout)

    # --- room ---------------------------------------------------------------------------------

    @property
    def least(self) -> int:
        """The smallest scale at which every label stands on its piece, per cent."""
        return int(self._scales.placed * 100)

    @property
    def floor(self) -> int:
        """The smallest scale at which all of it can be read, labels beside their pieces if need be; per cent."""
        return int(self._scales.least * 100)

    @property
    def _scales(self) -> GuideScales:
        def find() -> GuideScales:
            tree, unit = self.layout.tree, self.job.unit
            key = cache.digest(tree, unit, self._goes)
            return cache.value("guide scales", key, lambda: guide_scales(tree, unit=unit, goes=self._goes))

        # They hold for every edition, and for every run until the guide is another.
        return self.job.worked.once(("guide scales", self.number), find)

    def size(self, percent: int, whole: bool = False) -> tuple[float, float]:
        """Width and height of its drawing, the clear margin that hangs outside left out; points.

        Args:
            percent: its scale.
            whole: with all of a part that stays whole.
        """

        def find() -> tuple[float, float]:
            wide, tall = guide_size(self.layout.tree, Fraction(percent, 100), unit=self.job.unit, whole=whole)
            return float(wide - 2 * EDGE), float(tall - 2 * EDGE)

        return self._known(("size", percent, whole), find)

    def width(self, percent: int) -> float:
        """The least width that it takes with what stands over and under it, points."""
        return max(self.size(percent)[0], self.table.least if self.table else 0, self._heading, NARROWEST)

    @cached_property
    def _heading(self) -> float:
        """The width of the longest words over it that stay together, points."""
        return max((item.width for item in (*self._ups(), *self._papers())), default=0)

    def above(self, percent: int, width: float) -> float:
        """Height of its heading, points."""
        return self._known(("above", percent, width), lambda: self.head(percent).wrap(width, 1e6)[1])

    def below(self, percent: int, width: float) -> float:
        """Height of what is said of it, points."""
        return self._known(("below", percent, width), lambda: high(self.figures(percent), width))

    def _known(self, key: tuple, make: Callable[[], T]) -> T:
        return self.job.once(("guide", self.key, *key), make)

    # --- what it shows ------------------------------------------------------------------------

    def drawn(self, percent: int, bare: bool = True, whole: bool = False) -> SheetGuide:
        """Its drawing; `bare`: only what it says; `whole`: with all of a part that stays whole."""

        def draw() -> SheetGuide:
            return sheet_guide(
                self.layout.tree,
                unit=self.job.unit,
                scale=Fraction(percent, 100),
                look=self._look,
                name=self.layout.name,
                backs=self._backs,
                goes=self._goes,
                whole=whole,
                bare=bare,
            )

        # What a guide says at a scale holds for every edition.
        key = (percent, whole)
        return self.job.worked.once(("guide", self.number, *key), draw) if bare else self._known(("drawn", *key), draw)

    def picture(self, percent: int, width: float, higher: float) -> PictureBlock:
        """Its drawing as a block.

        Args:
            percent: its scale.
            width: the room that there is for it, points.
            higher: how much higher it may be than it is with a part cut short that stays whole.
        """
        (wide, tall), (_, cut_short) = self.size(percent, True), self.size(percent)
        roomy = wide <= width and tall - cut_short <= higher and _says(self.drawn(percent)) == _says(self.drawn(percent, whole=True))
        scene = self.drawn(percent, bare=False, whole=roomy).scene
        return PictureBlock(scene, self.job.level, before=OVER_PICTURE, after=UNDER_PICTURE)

    def head(self, percent: int) -> GuideHead:
        """Name, scale, which side is up, and which sheets are cut by it."""
        beside = [HeadItem(drawn_at(Fraction(percent, 100)), BESIDE)]
        return GuideHead(self.layout.name, beside + self._ups(), self._papers(), self.job.level)

    def _ups(self) -> list[HeadItem]:
        ups = dict.fromkeys(self.job.look(key).up for key in self.layout.papers)
        return [up_item(edge) for edge in ups if edge]

    def _papers(self) -> list[HeadItem]:
        """Each paper with its swatch, and how many sheets of it."""
        found = []
        for key in self.layout.papers:
            plan = self.job.worked.plan(key)
            sheets = sum((run.sheets for run in plan.runs if run.layout == self.layout), Fraction(0)) if plan else Fraction(0)
            if sheets:
                found.append((key, sheets))
        names = {key: self.job.paper(key).name for key, _ in found}
        if len(found) == 1:
            key, sheets = found[0]
            return [paper_item(self.job.look(key), sheets_of(self.layout, sheets, names[key]))]
        alike = len({sheets for _, sheets in found}) == 1
        items = [paper_item(self.job.look(key), names[key] if alike else f"{names[key]}, {sheets_text(sheets)}") for key, sheets in found]
        return [*items, HeadItem(alike_text([sheets for _, sheets in found]), SHEET_CELL)] if found else []

    @cached_property
    def table(self) -> StrokeTable | None:
        """Its strokes; None for a sheet that is not cut."""
        rows = stroke_rows(self.layout, self.job.unit)[self.strokes]
        return StrokeTable(rows, self.job.unit, after=UNDER_TABLE) if rows else None

    def halves(self) -> list[GuideCell]:
        """The same twice, each with half of its strokes, since a table may be longer than a page; empty where there is nothing to part."""
        rows = range(len(stroke_rows(self.layout, self.job.unit)))[self.strokes]
        middle = rows.start + len(rows) // 2
        ends = ((rows.start, middle), (middle, rows.stop)) if len(rows) > 1 else ()
        return [GuideCell(self.job, self.layout, slice(*each)) for each in ends]

    def figures(self, percent: int) -> list[Flowable]:
        """Its strokes, then yield, leftovers and slack in a line each."""
        told, unit = self.drawn(percent), self.job.unit
        unsaid = {label: goes for label, goes in self._goes.items() if label in told.unsaid}
        gives = gives_texts(self.layout, unit, told.unsized, self._backs, unsaid)
        said = [gives, (ALSO_LEFT, left_text(told.also_left, unit)), (SLACK, slack_told(self.layout, unit))]
        said.append((TOO_SMALL, missing_text(told.unlabelled, told.unmarked)))
        table = [StrokeTable(self.table.rows, unit, after=UNDER_TABLE)] if self.table else []
        return [*table, *(Prose(text, SHEET_CELL, lead=lead) for lead, text in said if text)]


def _says(guide: SheetGuide) -> tuple[object, ...]:
    """What is told beside a guide since it is not on it."""
    return {*guide.also_left}, guide.unsized, guide.unsaid, guide.unlabelled, guide.unmarked
