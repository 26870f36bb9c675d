"""What stands over a guide: its name, its scale, which side is up, and which sheets are cut by it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from reportlab.platypus.flowables import Flowable

from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.pdf import draw_scene
from kitwright.drawing.scene import Draft, Scene
from kitwright.drawing.styles import Level
from kitwright.exact import Exact
from kitwright.printable.blocks import Block
from kitwright.printable.tables import swatch
from kitwright.printable.typeset import SHEET_CELL, SHEET_HEAD, SHEET_HEADING, SHEET_NOTE, Style, draw_line, set_text, text_width, words
from kitwright.telling.guidetexts import THIS_SIDE_UP

NAME = replace(SHEET_HEADING, after=0, even=True)
BESIDE, UP = SHEET_NOTE, SHEET_HEAD
SWATCH = (14, 9)
"""Width and height of a paper's swatch, points."""
APART = 9
"""Clear space between two things on a line, points."""
ARROW = 9
"""Width of the arrow and the space behind it, points."""


@dataclass(frozen=True)
class HeadItem:
    """A few words that stay together, and the little picture before them."""

    text: str
    style: Style
    sign: Scene | None = None
    before: float = 0
    """Room of the picture, points."""
    swatch: bool = False
    """Whether the picture is a piece of paper."""

    @property
    def width(self) -> float:
        return self.before + text_width(self.text, self.style.font, self.style.size)


def paper_item(look: DrawnLook, text: str) -> HeadItem:
    """A swatch with what is said of it."""
    return HeadItem(text, SHEET_CELL, swatch(look, SWATCH), SWATCH[0] + 4, True)


def up_item(edge: str) -> HeadItem:
    """An arrow to the edge that is up."""
    return HeadItem(THIS_SIDE_UP, UP, _arrow(edge), ARROW)


class GuideHead(Block):
    """The heading of one guide.

    Args:
        name: what it is called.
        beside: what stands beside its name, where there is room.
        sheets: what stands under it.
    """

    def __init__(self, name: str, beside: Sequence[HeadItem], sheets: Sequence[HeadItem], level: Level) -> None:
        super().__init__()
        self.name, self.beside, self.sheets, self.level = name, beside, sheets, level

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        self.lines = set_text(self.name, NAME.font, NAME.size, room, NAME.even)
        last = text_width(" ".join(word.text for word in self.lines[-1]), NAME.font, NAME.size)
        first = [*_flowed(self.beside, room, last + APART)]
        # What has no room beside the name goes under it.
        self.raised = bool(first) and bool(first[0])
        self.rows = [row for row in (*first, *_flowed(self.sheets, room, 0)) if row]
        self.height = len(self.lines) * NAME.leading + (len(self.rows) - self.raised) * SHEET_CELL.leading
        return room, self.height

    def split(self, room: float, height: float) -> list[Flowable]:
        return []

    def draw(self) -> None:
        canvas, y = self.canv, self.height - NAME.rise
        with canvas.element("H3", text=self.name):
            for i, line in enumerate(self.lines):
                draw_line(canvas, line, 0, y - i * NAME.leading, NAME.size, NAME.ink, goes_on=i < len(self.lines) - 1)
        y -= (len(self.lines) - 1) * NAME.leading
        for i, row in enumerate(self.rows):
            if i or not self.raised:
                y -= SHEET_CELL.leading
            left = 0.0
            for x, item in row:
                # Lines break alike in every ink; in outline a swatch is an empty box that tells nothing.
                spared = item.before if self.level == "outline" and item.swatch else 0
                self._item(item, x - left, y, bool(spared))
                left += spared

    def _item(self, item: HeadItem, x: float, y: float, bare: bool) -> None:
        if item.sign and not bare:
            with self.canv.artifact():
                draw_scene(self.canv, item.sign, Fraction(x), Fraction(y) - Exact(3, 2), self.level, ground=False)
        with self.canv.element("P", text=item.text):
            x += 0 if bare else item.before
            draw_line(self.canv, tuple(words(item.text, item.style.font)), x, y, item.style.size, item.style.ink)


def _flowed(items: Sequence[HeadItem], room: float, used: float) -> list[list[tuple[float, HeadItem]]]:
    """Items line by line, each with its left end; the first line may begin where something stands already."""
    rows: list[list[tuple[float, HeadItem]]] = [[]] if items else []
    x = used
    for item in items:
        if x and x + item.width > room and (rows[-1] or used):
            rows.append([])
            x = 0
        first, *more = _broken(item, room)
        rows[-1].append((x, first))
        x += first.width + APART
        for line in more:
            rows.append([(item.before, line)])
            x = room
    return rows


def _broken(item: HeadItem, room: float) -> list[HeadItem]:
    """An item wider than its room in several lines, the picture before the first."""
    lines = set_text(item.text, item.style.font, item.style.size, room - item.before)
    texts = [" ".join(word.text for word in line) for line in lines]
    return [replace(item, text=texts[0]), *(HeadItem(text, item.style) for text in texts[1:])]


def _arrow(edge: str) -> Scene:
    """A little arrow to an edge of its sheet."""
    turn = {"top": lambda a, b: (a, b), "right": lambda a, b: (-b, a), "bottom": lambda a, b: (-a, -b), "left": lambda a, b: (b, -a)}[edge]
    draft, half = Draft(), Exact(4)
    corners = [turn(Exact(a), Exact(b)) for a, b in ((-1, 4), (-1, 0), (-3, 0), (0, -4), (3, 0), (1, 0), (1, 4))]
    draft.polygon([(half + a, half + b) for a, b in corners], None, "ink")
    return draft.scene(2 * half, 2 * half, "", "")
