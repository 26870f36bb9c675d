"""The blocks that pages are made of: paragraphs, headings, pictures, rows of blocks.

Each is a reportlab flowable: it says how high it is at a width, may be split between
pages, and draws itself on a `TaggedCanvas`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName
from reportlab.platypus.flowables import Flowable

from kitwright.drawing.guide import EDGE
from kitwright.drawing.palette import Ink
from kitwright.drawing.pdf import colour, draw_scene
from kitwright.drawing.scene import Scene
from kitwright.drawing.styles import Level
from kitwright.printable.tags import FRACTION_BAR, TaggedCanvas
from kitwright.printable.typeset import BODY, BOLD, HEADING, SECTION, Line, Style, broken, draw_line, set_text, words

PAIR = 300
"""A list lower than this is not ended by a lone entry on the next page, points."""
GUTTER = 20
"""Between columns of a page, points."""
HAIR = 0.4
"""Width of hairlines, points."""


def hairline(canvas: TaggedCanvas, x0: float, x1: float, y: float, ink: str = "line", width: float = HAIR) -> None:
    """A thin level line, no part of the text."""
    with canvas.artifact():
        canvas.saveState()
        canvas.setStrokeColor(colour(canvas, Ink(ink)))
        canvas.setLineWidth(width)
        canvas.line(x0, y, x1, y)
        canvas.restoreState()


class Block(Flowable):
    """A flowable of ours."""

    canv: TaggedCanvas

    def __init__(self, before: float = 0, after: float = 0) -> None:
        super().__init__()
        self.before, self.after = before, after
        self.keepWithNext = False

    def getSpaceBefore(self) -> float:
        return self.before

    def getSpaceAfter(self) -> float:
        return self.after


def high(blocks: Sequence[Flowable], width: float) -> float:
    """Height of blocks set one under another, in points."""
    total, gap = 0.0, None
    for block in blocks:
        if gap is not None:
            total += max(gap, block.getSpaceBefore())
        total += block.wrap(width, 1e6)[1]
        gap = block.getSpaceAfter()
    return total


def stack(blocks: Sequence[Flowable], canvas: TaggedCanvas, x: float, top: float, width: float) -> None:
    """Draw blocks one under another from `top` down."""
    gap = None
    for block in blocks:
        if gap is not None:
            top -= max(gap, block.getSpaceBefore())
        top -= block.wrap(width, 1e6)[1]
        block.drawOn(canvas, x, top)
        gap = block.getSpaceAfter()


class Prose(Block):
    """A paragraph.

    Args:
        text: its words.
        style: how they are set.
        lead: words before the text, set bold.
        role: its structure type.
        most: the widest it may run, points.
    """

    def __init__(self, text: str, style: Style = BODY, lead: str = "", role: str = "P", most: float | None = None) -> None:
        super().__init__(style.before, style.after)
        self.style, self.role, self.most = style, role, most
        self._typed: tuple[str, str] | None
        self.text, self._typed = words(lead, BOLD) + words(text, style.font), (text, lead)
        self.lines: list[Line] = []

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        style, wide = self.style, min(room, self.most or room)
        if self._typed:
            self.lines = [*set_text(self._typed[0], style.font, style.size, wide, style.even, self._typed[1])]
        else:
            self.lines = broken(self.text, style.size, wide, style.even)
        self.height = len(self.lines) * self.style.leading
        return room, self.height

    def split(self, room: float, height: float) -> list[Flowable]:
        self.wrap(room, height)
        fit = int(height // self.style.leading)
        # Two lines at least stay, and two go over: no widows.
        fit = min(fit, len(self.lines) - 2)
        if fit < 2:
            return []
        return [self._part(self.lines[:fit]), self._part(self.lines[fit:])]

    def _part(self, lines: list[Line]) -> Prose:
        part = Prose("", self.style, "", self.role, self.most)
        part.text, part._typed = [word for line in lines for word in line], None
        return part

    def draw(self) -> None:
        with self.canv.element(self.role, text=self.plain):
            self.lines_on(self.canv, 0, self.height)

    @property
    def plain(self) -> str:
        """What it says, without fonts and lines."""
        return " ".join(word.text for word in self.text)

    def lines_on(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        """Draw the lines with their top left corner here, unmarked."""
        for i, line in enumerate(self.lines):
            draw_line(
                canvas,
                line,
                x,
                top - i * self.style.leading - self.style.rise,
                self.style.size,
                self.style.ink,
                goes_on=i < len(self.lines) - 1,
            )


class Heading(Prose):
    """A heading, with a bookmark when it is one of the outline."""

    def __init__(self, text: str, level: int, style: Style | None = None, bookmark: str | None = None) -> None:
        super().__init__(text, style or (SECTION if level == 2 else HEADING), role=f"H{level}")
        self.level, self.bookmark = level, bookmark
        self.keepWithNext = True

    def split(self, room: float, height: float) -> list[Flowable]:
        return []

    def draw(self) -> None:
        if self.bookmark:
            # What goes on over the page has the same heading there.
            key = f"{self.bookmark} {self.canv.getPageNumber()}"
            self.canv.bookmarkHorizontal(key, 0, self.height + 6)
            self.canv.addOutlineEntry(self.plain, key, max(self.level - 2, 0), closed=False)
        super().draw()


class Listed(Block):
    """A list; it may be split between its items.

    Args:
        items: its entries.
        marks: `numbers`, `dashes`, or `none` for paragraphs that only hang together.
        first: the number of the first entry.
        indent: of the entries' text, points.
    """

    def __init__(self, items: Sequence[Prose], marks: str = "dashes", first: int = 1, indent: float = 14) -> None:
        super().__init__(after=4)
        self.items, self.marks, self.first, self.indent = list(items), marks, first, indent
        self.together = False
        """Whether it is the last two entries of a list, which stay together."""

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        heights = [item.wrap(room - self.indent, height)[1] + item.style.after for item in self.items]
        self.height = sum(heights)
        return room, self.height

    def split(self, room: float, height: float) -> list[Flowable]:
        used, fit = 0.0, 0
        for item in self.items:
            used += item.wrap(room - self.indent, height)[1] + item.style.after
            if used > height:
                break
            fit += 1
        if not fit:
            # One item higher than the room: let it run on as a paragraph of its own.
            parts = self.items[0].split(room, height)
            return parts and [*parts, *([self._part(self.items[1:], 1)] if len(self.items) > 1 else [])]
        if fit == len(self.items):
            return [self]
        if self.together:
            return []
        if fit == len(self.items) - 1 >= 3:
            # The last does not go over alone.
            fit -= 1
        rest = self._part(self.items[fit:], fit)
        rest.together = len(rest.items) == 2 and self.height < PAIR
        return [self._part(self.items[:fit], 0), rest]

    def _part(self, items: list[Prose], skipped: int) -> Listed:
        return Listed(items, self.marks, self.first + skipped, self.indent)

    def draw(self) -> None:
        if self.marks == "none":
            self._items(lambda i, item, top: self._text("P", item, top))
            return
        with self.canv.group("L"):
            self._items(self._item)

    def _items(self, draw_item: Callable[[int, Prose, float], None]) -> None:
        top = self.height
        for i, item in enumerate(self.items, self.first):
            item.wrap(self.width - self.indent, 1e6)
            draw_item(i, item, top)
            top -= item.height + item.style.after

    def _item(self, i: int, item: Prose, top: float) -> None:
        style, canvas = item.style, self.canv
        with canvas.group("LI"):
            with canvas.element("Lbl"):
                if self.marks == "numbers":
                    draw_line(canvas, tuple(words(f"{i}", BOLD)), self.indent - 6, top - style.rise, style.size, "accent", "end")
                else:
                    draw_line(canvas, tuple(words("–", style.font)), 0, top - style.rise, style.size, "second")
            self._text("LBody", item, top)

    def _text(self, role: str, item: Prose, top: float) -> None:
        with self.canv.element(role, text=item.plain):
            item.lines_on(self.canv, self.indent, top)


class PictureBlock(Block):
    """A scene at its own stated scale, with alternate text.

    The clear margin that a scene carries hangs outside, so that its lines stand on the text's edges.

    Args:
        scene: the picture.
        level: how much ink.
        drop: how far it is set lower, so that its own heading lines up with one beside it; points.
    """

    def __init__(self, scene: Scene, level: Level, before: float = 0, after: float = 4, drop: float = 0) -> None:
        super().__init__(before, after)
        self.scene, self.level, self.drop = scene, level, drop

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width, self.height = room, float(self.scene.height - 2 * EDGE) + self.drop
        return room, self.height

    def draw(self) -> None:
        # The box is given in page coordinates, where assistive software looks for it.
        left, bottom = self.canv.absolutePosition(0, 0)
        box = [round(v, 2) for v in (left, bottom, left + float(self.scene.width - 2 * EDGE), bottom + self.height)]
        layout = PDFDictionary({"O": PDFName("Layout"), "BBox": PDFArray(box)})
        with self.canv.element("Figure", self.scene.alt.replace(FRACTION_BAR, "/"), layout):
            draw_scene(self.canv, self.scene, -EDGE, -EDGE, self.level, ground=False)


class Side(Block):
    """Stacks of blocks side by side.

    It moves to the next page as a whole; where even a whole page is too low for it, its
    stacks follow one another.

    Args:
        stacks: what stands in each column.
        widths: of the columns, points.
        gap: between columns, points.
        full: height of a whole page of text, points.
    """

    def __init__(
        self, stacks: Sequence[Sequence[Flowable]], widths: Sequence[float], gap: float, full: float, before: float = 0, after: float = 8
    ) -> None:
        super().__init__(before, after)
        self.stacks, self.widths, self.gap, self.full = stacks, widths, gap, full

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        self.height = max(high(blocks, width) for blocks, width in zip(self.stacks, self.widths))
        return room, self.height

    def split(self, room: float, height: float) -> list[Flowable]:
        if self.height <= self.full:
            return []
        return [block for blocks in self.stacks for block in blocks]

    def draw(self) -> None:
        x = 0.0
        for blocks, width in zip(self.stacks, self.widths):
            stack(blocks, self.canv, x, self.height, width)
            x += width + self.gap


class Gap(Block):
    """Clear space."""

    def __init__(self, height: float) -> None:
        super().__init__()
        self.height = height

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        return room, self.height

    def draw(self) -> None:
        pass
