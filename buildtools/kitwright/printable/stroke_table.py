"""The strokes of a sheet as a narrow table: where its edge is lined up, which cuts, what falls off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName
from reportlab.platypus.flowables import Flowable

from kitwright.cutting.desk import corner_steps
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Cut, Node, Split
from kitwright.geometry import HALVES, Rect
from kitwright.printable.blocks import Block, hairline
from kitwright.printable.typeset import SHEET_CELL, SHEET_HEAD, SHEET_STRONG, Line, Style, draw_line, set_text, text_width, words
from kitwright.telling.guidetexts import named
from kitwright.telling.printed import BOTH_CORNERS
from kitwright.telling.shapes import blank_word
from kitwright.telling.words import listed, runs, span_text
from kitwright.units import Length, figure, other_unit

PAD = 1
"""Clear space over and under a row, points."""
BETWEEN = 6.0, 26.0
"""Clear space between two columns, at least and at most, points."""


@dataclass(frozen=True, slots=True)
class Measure:
    """All cuts made at one ruler mark from one side."""

    length: Length
    off: str
    numbers: tuple[int, ...]
    falls: tuple[str, ...]
    """What falls off: labels, `strip` for what is cut further, `scrap`."""


def measures(layout: Layout) -> list[Measure]:
    """Cuts at one mark from one side together, in the order in which the marks are first set."""
    groups: dict[tuple[Length, str], list[Cut]] = {}
    for cut in layout.cuts:
        groups.setdefault((cut.measure, cut.off), []).append(cut)
    return [
        Measure(length, off, tuple(c.number for c in cuts), tuple(dict.fromkeys(falls_off(layout.tree, c) for c in cuts)))
        for (length, off), cuts in groups.items()
    ]


def falls_off(tree: Node, cut: Cut) -> str:
    """What a stroke takes off: a label, a part that is cut further, or a leftover."""
    node = _node_at(tree, _off(cut))
    if isinstance(node, Split):
        return "strip"
    if node.diagonal:
        return f"{blank_word(node.rect.size)} for {node.label}"
    return "scrap" if node.label is None else named(node.label, 1)


def ranges(numbers: Sequence[int]) -> str:
    """`1–3, 7, 9–12`."""
    return ", ".join(span_text(first, last) for first, last in runs(numbers))


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
    while isinstance(node, Split) and node.rect != rect:
        node = next(part for part in node.parts if part.rect.contains(rect))
    return node


# --- the table --------------------------------------------------------------------------------

Row = tuple[str, str, str, str, str]
"""Line up, the same in the other unit, off the, cuts, falls off."""
Heads = tuple[tuple[str, ...], ...]
"""Line by line of each column."""


def stroke_rows(layout: Layout, unit: str) -> list[Row]:
    """A row for each ruler mark, in the order in which the marks are first set; then what needs no mark."""
    other = other_unit(unit)
    rows = [(figure(m.length, unit), figure(m.length, other), m.off, ranges(m.numbers), listed(m.falls)) for m in measures(layout)]
    return rows + [
        (BOTH_CORNERS, "", "", ranges([slant.number for slant in step.slants]), f"{HALVES} {named(step.label, HALVES)}")
        for step in corner_steps(layout.tree)
    ]


class StrokeTable(Block):
    """The rows under their heads; what falls off may run over several lines, and so may the cuts.

    Args:
        rows: as `stroke_rows` has them.
        unit: the kit's own, which comes first.
    """

    def __init__(self, rows: Sequence[Row], unit: str, before: float = 0, after: float = 0) -> None:
        super().__init__(before, after)
        self.rows = list(rows)
        other = other_unit(unit)
        self._heads = ((f"Line up, {unit}",), (other,), ("Off the",), ("Cuts",), ("Falls off",))
        self._narrow = (("Line up,", unit), ("", other), ("Off", "the"), ("", "Cuts"), ("Falls", "off"))
        self.heads: Heads = self._heads

    # --- measuring ----------------------------------------------------------------------------

    @property
    def least(self) -> float:
        """The narrowest it may be, points: its heads on two lines, no word broken."""
        return sum(self._widest(self._narrow, i, whole=i < _RUNNING) for i in range(_COLUMNS)) + _GAPS * BETWEEN[0]

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        # Heads on one line where that breaks no row.
        whole = sum(self._widest(self._heads, i, whole=True) for i in range(_COLUMNS)) + _GAPS * BETWEEN[0]
        self.heads = self._heads if whole <= room else self._narrow
        self.widths, self.gap = self._widths(room)
        self.lines = [[_lines(i, text, width) for i, (text, width) in enumerate(zip(row, self.widths))] for row in self.rows]
        self.heights = [max(len(lines) for lines in row) * SHEET_CELL.leading + 2 * PAD for row in self.lines]
        self.head_height = SHEET_HEAD.leading * max(map(len, self.heads)) + 2
        self.height = self.head_height + sum(self.heights)
        return room, self.height

    def split(self, room: float, height: float) -> list[Flowable]:
        return []

    def _widest(self, heads: Heads, i: int, whole: bool) -> float:
        """Of a column: its widest text, or its widest word."""
        # “both corners” stands over the two columns of figures.
        texts = [row[i] for row in self.rows if i or row[i] != BOTH_CORNERS]
        told = texts if whole else [word for text in texts for word in text.split(" ")]
        heading = (text_width(line, SHEET_HEAD.font, SHEET_HEAD.size) for line in heads[i])
        return max([*heading, *(text_width(text, _style(i).font, SHEET_CELL.size) for text in told)])

    def _widths(self, room: float) -> tuple[list[float], float]:
        widths = [self._widest(self.heads, i, whole=True) for i in range(_COLUMNS)]
        spare = room - sum(widths)
        if spare >= _GAPS * BETWEEN[0]:
            return widths, min(spare / _GAPS, BETWEEN[1])
        left = room - _GAPS * BETWEEN[0] - sum(widths[:_RUNNING])
        cuts, falls = (self._widest(self.heads, i, whole=False) for i in (_RUNNING, _RUNNING + 1))
        # Whichever needs less gets it; the other runs over.
        if widths[_RUNNING] <= left - falls:
            return [*widths[:_RUNNING], widths[_RUNNING], left - widths[_RUNNING]], BETWEEN[0]
        if widths[_RUNNING + 1] <= left - cuts:
            return [*widths[:_RUNNING], left - widths[_RUNNING + 1], widths[_RUNNING + 1]], BETWEEN[0]
        share = max(left, 1) / (cuts + falls)
        return [*widths[:_RUNNING], cuts * share, falls * share], BETWEEN[0]

    # --- drawing ------------------------------------------------------------------------------

    def draw(self) -> None:
        canvas, top = self.canv, self.height - self.head_height
        with canvas.group("Table"):
            with canvas.group("TR"):
                for x, head in zip(self._lefts(), self.heads):
                    with canvas.element("TH", None, _SCOPE):
                        for j, line in enumerate(head):
                            y = self.height - SHEET_HEAD.rise - j * SHEET_HEAD.leading
                            draw_line(
                                canvas,
                                tuple(words(line, SHEET_HEAD.font)),
                                x,
                                y,
                                SHEET_HEAD.size,
                                SHEET_HEAD.ink,
                                goes_on=j < len(head) - 1,
                            )
            hairline(canvas, 0, self.width, top, "ink", 0.7)
            for row, lines, height in zip(self.rows, self.lines, self.heights):
                with canvas.group("TR"):
                    self._row(row, lines, top - PAD)
                top -= height
                hairline(canvas, 0, self.width, top, "ink", 0.5)

    def _row(self, row: Row, lines: Sequence[Sequence[Line]], top: float) -> None:
        for x, text, its in zip(self._lefts(), row, lines):
            with self.canv.element("TD", text=text):
                for j, line in enumerate(its):
                    y = top - SHEET_CELL.rise - j * SHEET_CELL.leading
                    draw_line(self.canv, line, x, y, SHEET_CELL.size, SHEET_CELL.ink, goes_on=j < len(its) - 1)

    def _lefts(self) -> Iterator[float]:
        x = 0.0
        for width in self.widths:
            yield x
            x += width + self.gap


_COLUMNS, _GAPS = 5, 4
_RUNNING = 3
"""The first column that may run over."""
_SCOPE = PDFDictionary({"O": PDFName("Table"), "Scope": PDFName("Column")})


def _style(i: int) -> Style:
    return SHEET_CELL if i else SHEET_STRONG


def _lines(i: int, text: str, width: float) -> tuple[Line, ...]:
    if not text:
        return ()
    style, room = _style(i), width if i >= _RUNNING else 1e6
    return set_text(text, style.font, style.size, room)
