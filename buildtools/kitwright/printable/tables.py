"""Tables: hairlines, columns as wide as what they hold, sizes lined up at their ×."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName
from reportlab.platypus.flowables import Flowable

from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.pdf import draw_scene
from kitwright.drawing.scene import Box as SceneBox
from kitwright.drawing.scene import Draft, Scene
from kitwright.drawing.styles import Level
from kitwright.printable.blocks import Block, hairline
from kitwright.printable.typeset import (
    CELL,
    HEAD,
    NOTE,
    SHEET_CELL,
    SHEET_HEAD,
    SHEET_HEADING,
    SHEET_NOTE,
    Line,
    Style,
    draw_line,
    line_width,
    set_text,
    text_width,
    words,
)
from kitwright.units import Size, figure

SWATCH = (18, 10)
"""Width and height of a paper's swatch, points."""
PAD = 2.6
"""Clear space over and under a row, points."""
UNDER = 1
"""Clear space over a line of sizes, points."""
BETWEEN = 3
"""Between swatches in one line, points."""
_TIMES = " × "


@dataclass(frozen=True, slots=True)
class TableType:
    """How a table is set."""

    cell: Style
    note: Style
    head: Style
    pad: float
    """Clear space over and under a row, points."""
    drop: float = 1.2
    """How far a swatch hangs below the line that it stands before, points."""


AT_EASE = TableType(CELL, NOTE, HEAD, PAD)
ON_SHEET = TableType(SHEET_CELL, SHEET_NOTE, SHEET_HEAD, 2, 2)
"""On the printable's sheet."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in one place of a table."""

    text: str = ""
    style: Style = CELL
    look: DrawnLook | None = None
    """A swatch of paper before the text."""
    notes: tuple[str, ...] = ()
    """Quiet lines under it."""
    sizes: tuple[str, str] | None = None
    """A line of its own under it: what is set bold, and what follows."""
    several: tuple[DrawnLook, ...] = ()
    """A line of swatches over the text."""

    def lines(self, room: float) -> list[Line]:
        return [*set_text(self.text, self.style.font, self.style.size, max(room - self.lead, 1))] if self.text else []

    @property
    def lead(self) -> float:
        """Room before the text."""
        return SWATCH[0] + 6 if self.look else 0

    def note_lines(self, room: float, note: Style = NOTE) -> list[Line]:
        room = max(room - self.lead, 1)
        strong = set_text(self.sizes[1], self.style.font, self.style.size, room, False, self.sizes[0]) if self.sizes else ()
        return [*strong, *(line for each in self.notes for line in set_text(each, note.font, note.size, room))]

    def width(self, note: Style = NOTE) -> float:
        """With nothing run over."""
        texts = [(self.text, self.style)] * bool(self.text) + [(each, note) for each in self.notes]
        wide = [text_width(t, s.font, s.size) for t, s in texts]
        if self.sizes:
            (line,) = set_text(self.sizes[1], self.style.font, self.style.size, 1e6, False, self.sizes[0])
            wide.append(line_width(line, self.style.size))
        swatches = len(self.several) * (SWATCH[0] + BETWEEN) - BETWEEN if self.several else 0
        return max(self.lead + max(wide, default=0.0), swatches)


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    head: str
    kind: str = "text"
    """`text` runs over several lines; `figure` is set flush right, `size` at its ×."""
    weight: float = 1
    """Its share of the room, among columns that run over."""


@dataclass(frozen=True)
class Row:
    """One row."""

    cells: tuple[Cell, ...]
    joined: bool = False
    """Whether it belongs to the row above: no line between, never parted."""


def size_cell(size: Size, unit: str) -> Cell:
    """A size without its unit, which the head of its column gives."""
    return Cell(f"{figure(size.width, unit)}{_TIMES}{figure(size.height, unit)}")


class Table(Block):
    """Rows under heads; it may be split between rows, and repeats its heads."""

    def __init__(
        self,
        columns: Sequence[Column],
        rows: Sequence[Row],
        level: Level,
        gap: float = 16,
        before: float = 4,
        after: float = 6,
        type_: TableType = AT_EASE,
        title: str = "",
        bookmark: str = "",
    ) -> None:
        """
        Args:
            type_: how it is set.
            title: a heading that stands in the line of its heads, over the columns that have none.
            bookmark: of that heading.
        """
        super().__init__(before, after)
        self.type_, self.title, self.bookmark = type_, title, bookmark
        # Without fills a swatch is an empty box that tells nothing.
        bare = (
            rows
            if level != "outline"
            else [replace(row, cells=tuple(replace(cell, look=None, several=()) for cell in row.cells)) for row in rows]
        )
        self.columns, self.rows, self.level, self.most_gap = list(columns), list(bare), level, gap

    # --- measuring ----------------------------------------------------------------------------

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        self.widths, self.gap = self._widths(room)
        self.heights = [self._row_height(row) for row in self.rows]
        self.head_height = (SHEET_HEADING if self.title else self.type_.head).leading + 4
        self.height = self.head_height + sum(self.heights) + self.type_.pad
        return room, self.height

    @property
    def runs_over(self) -> int:
        """Lines that its cells take beyond one for each of their texts, as it was measured last."""
        cells = [(cell, width) for row in self.rows for cell, width in zip(row.cells, self.widths)]
        lines = sum(len(cell.lines(width)) + len(cell.note_lines(width, self.type_.note)) for cell, width in cells)
        return lines - sum(bool(cell.text) + bool(cell.sizes) + len(cell.notes) for cell, _ in cells)

    @property
    def breaks_words(self) -> bool:
        """Whether a column is narrower than a word in it, as it was measured last."""
        cells = [(cell, width - cell.lead) for row in self.rows for cell, width in zip(row.cells, self.widths)]
        note = self.type_.note
        texts = [(cell.text, cell.style, room) for cell, room in cells] + [
            (each, note, room) for cell, room in cells for each in cell.notes
        ]
        return any(word.width(style.size) > room + 0.02 for text, style, room in texts for word in words(text, style.font))

    def _widths(self, room: float) -> tuple[list[float], float]:
        natural = [self._natural(i) for i in range(len(self.columns))]
        gaps, running = len(self.columns) - 1, [i for i, c in enumerate(self.columns) if c.kind == "text"]
        over = sum(natural) + gaps * self.most_gap - room
        if over <= 0:
            spare = -over
            gap = self.most_gap + (spare / gaps if gaps else 0)
            # Columns too far apart are hard to read across: what is more goes to the running texts.
            if gap > 40 and running:
                extra, gap = (gap - 40) * gaps, 40.0
                natural[running[0]] += extra
            return natural, gap
        gap = max(10.0, self.most_gap - over / gaps) if gaps else 0
        fixed = sum(w for i, w in enumerate(natural) if i not in running)
        left = room - fixed - gaps * gap
        return self._shared(natural, running, left), gap

    def _shared(self, natural: list[float], running: list[int], left: float) -> list[float]:
        """Give running columns what they need or their share, whichever is less."""
        widths, open_ = list(natural), list(running)
        while open_:
            weight = sum(self.columns[i].weight for i in open_)
            small = [i for i in open_ if natural[i] <= left * self.columns[i].weight / weight]
            if not small:
                for i in open_:
                    widths[i] = max(left * self.columns[i].weight / weight, 20)
                break
            for i in small:
                left -= natural[i]
                open_.remove(i)
        return widths

    def _natural(self, i: int) -> float:
        head = Cell(self.columns[i].head, self.type_.head).width()
        if self.columns[i].kind == "size":
            before, after = self._around(i)
            return max(head, before + after)
        return max([head, *(row.cells[i].width(self.type_.note) for row in self.rows)])

    def _around(self, i: int) -> tuple[float, float]:
        """The widest texts before a column's ×, and from it on."""
        before = after = 0.0
        for row in self.rows:
            first, times, second = row.cells[i].text.partition(_TIMES)
            style = row.cells[i].style
            before = max(before, Cell(first, style).width())
            after = max(after, Cell(f"×{second}", style).width() + Cell(" ", style).width() if times else 0)
        blank = float(self.type_.cell.size) * 0.2
        return before + blank, after + blank

    def _row_height(self, row: Row) -> float:
        tallest = 0.0
        for cell, width, column in zip(row.cells, self.widths, self.columns):
            count = len(cell.lines(width)) if column.kind == "text" else bool(cell.text)
            under = len(cell.note_lines(width, self.type_.note)) * self.type_.note.leading
            tallest = max(
                tallest, (count + bool(cell.several)) * self.type_.cell.leading + under + UNDER * (bool(cell.sizes) + bool(cell.several))
            )
        return tallest + (self.type_.pad if row.joined else 2 * self.type_.pad)

    # --- between pages ------------------------------------------------------------------------

    def split(self, room: float, height: float) -> list[Flowable]:
        self.wrap(room, height)
        used, best = self.head_height + self.type_.pad, 0
        for i, row_height in enumerate(self.heights):
            used += row_height
            if used > height:
                break
            if i + 1 < len(self.rows) and not self.rows[i + 1].joined:
                best = i + 1
        if not best:
            return []
        return [self._part(self.rows[:best]), self._part(self.rows[best:])]

    def _part(self, rows: list[Row]) -> Table:
        return Table(self.columns, rows, self.level, self.most_gap, self.before, self.after, self.type_, self.title, self.bookmark)

    # --- drawing ------------------------------------------------------------------------------

    def draw(self) -> None:
        canvas, pad = self.canv, self.type_.pad
        if self.title:
            with canvas.element("H2", text=self.title):
                draw_line(canvas, tuple(words(self.title, SHEET_HEADING.font)), 0, self.height - SHEET_HEADING.rise, SHEET_HEADING.size)
        if self.bookmark:
            canvas.bookmarkHorizontal(self.bookmark, 0, self.height + 6)
            canvas.addOutlineEntry(self.title, self.bookmark, 0, closed=False)
        with canvas.group("Table"):
            self._heads()
            top = self.height - self.head_height
            hairline(canvas, 0, self.width, top, "ink", 0.7)
            for i, (row, height) in enumerate(zip(self.rows, self.heights)):
                if i and not row.joined:
                    hairline(canvas, 0, self.width, top)
                with canvas.group("TR"):
                    x = 0.0
                    for j, (cell, width) in enumerate(zip(row.cells, self.widths)):
                        self._cell(j, cell, x, top - (0 if row.joined else pad), width)
                        x += width + self.gap
                top -= height
        hairline(canvas, 0, self.width, top)

    def _heads(self) -> None:
        head, base = self.type_.head, self.height - (SHEET_HEADING if self.title else self.type_.head).rise
        scope = PDFDictionary({"O": PDFName("Table"), "Scope": PDFName("Column")})
        with self.canv.group("TR"):
            x = 0.0
            for column, width in zip(self.columns, self.widths):
                with self.canv.element("TH", None, scope):
                    if column.head:
                        right = column.kind == "figure"
                        draw_line(
                            self.canv,
                            tuple(words(column.head, head.font)),
                            x + (width if right else 0),
                            base,
                            head.size,
                            head.ink,
                            "end" if right else "start",
                        )
                x += width + self.gap

    def _cell(self, j: int, cell: Cell, x: float, top: float, width: float) -> None:
        canvas, style, kind = self.canv, cell.style, self.columns[j].kind
        if cell.look and cell.text:
            with canvas.artifact():
                y = top - style.rise - self.type_.drop
                draw_scene(canvas, swatch(cell.look), Fraction(x), Fraction(y), self.level, ground=False)
        # Every baseline of a row is that of ordinary cells, so that labels set larger line up with them.
        cell_type, note = self.type_.cell, self.type_.note
        base = top - cell_type.rise
        if cell.several:
            base -= UNDER
            with canvas.artifact():
                for i, look in enumerate(cell.several):
                    left = Fraction(x) + i * (SWATCH[0] + BETWEEN)
                    draw_scene(canvas, swatch(look), left, Fraction(base - self.type_.drop), self.level, ground=False)
            base -= cell_type.leading
        with canvas.element("TD", text=" ".join((cell.text, *(cell.sizes or ()), *cell.notes)).strip()):
            if kind == "figure" and cell.text:
                for text, its in ((cell.text, style), *((each, note) for each in cell.notes)):
                    draw_line(canvas, tuple(words(text, its.font)), x + width, base, its.size, its.ink, "end")
                    base -= note.leading
            elif kind == "size" and _TIMES in cell.text:
                before, _ = self._around(j)
                first = cell.text.partition(_TIMES)[0]
                draw_line(
                    canvas, tuple(words(cell.text, style.font)), x + before - Cell(first, style).width() - 2, base, style.size, style.ink
                )
            else:
                lines = [(line, style, cell_type.leading) for line in cell.lines(width)]
                under = cell.note_lines(width, note)
                strong = len(under) - sum(len(set_text(n, note.font, note.size, max(width - cell.lead, 1))) for n in cell.notes)
                lines += [
                    (line, style if i < strong else note, note.leading + (UNDER if not i and strong else 0)) for i, line in enumerate(under)
                ]
                for i, (line, its, leading) in enumerate(lines):
                    base -= leading if i else 0
                    draw_line(canvas, line, x + cell.lead, base, its.size, its.ink, goes_on=i < len(lines) - 1)


def swatch(look: DrawnLook, size: tuple[int, int] = SWATCH) -> Scene:
    """A little piece of a paper, drawn at half scale so that its pattern shows."""
    draft = Draft()
    width, height = map(Fraction, size)
    box = SceneBox(Fraction(0), Fraction(0), width, height)
    draft.box(box, None, "white")
    draft.shapes.append(lay(look, box.corners, box.centre, Fraction(1, 2)))
    draft.box(box, "frame")
    return draft.scene(width, height, "", "")
