"""Type: the scale of sizes, and lines broken so that they read well.

Sizes and their units stay on one line, a paragraph does not end in a lone short word, and
titles break into lines of even length. All text is measured with the fonts that draw it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from reportlab.pdfgen.canvas import Canvas

from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.drawing.palette import Ink
from kitwright.drawing.pdf import draw_text
from kitwright.telling.words import curly

SANS, BOLD = Font(), Font("sans", "semibold")
SERIF, SERIF_BOLD = Font("serif"), Font("serif", "semibold")


@dataclass(frozen=True, slots=True)
class Style:
    """How a paragraph is set; all measures in points."""

    font: Font
    size: float
    leading: float
    ink: str = "ink"
    before: float = 0
    """Clear space above; the larger of two neighbours counts."""
    after: float = 0
    even: bool = False
    """Whether its lines are to be of even length."""

    @property
    def rise(self) -> float:
        """From the top of a line's room down to its baseline."""
        return (self.leading - self.size) / 2 + self.size * 0.76


KICKER = Style(BOLD, 9, 12, "second", after=5)
TITLE = Style(SERIF_BOLD, 29, 34, after=5, even=True)
SUMMARY = Style(SERIF, 12, 17, "soft", after=8)
SECTION = Style(SERIF_BOLD, 17, 22, before=20, after=6, even=True)
HEADING = Style(BOLD, 11, 15, before=12, after=3, even=True)
BODY = Style(SANS, 10, 14, after=3)
NOTE = Style(SANS, 9, 12, "soft")
CELL = Style(SANS, 9.5, 13)
HEAD = Style(BOLD, 8.5, 11, "soft")
LABEL = Style(SERIF_BOLD, 12, 13)
NUMERAL = Style(SERIF, 24, 26, "accent")
FOOT = Style(SANS, 8, 10, "soft")
MARK = Style(BOLD, 11, 14, "accent")


# The two sides of the printable's sheet: everything there is read at the bench, and copied in black and white, so it is ink.
SHEET_TITLE = Style(SERIF_BOLD, 28, 33, even=True)
SHEET_LONG_TITLE = Style(SERIF_BOLD, 22, 26, even=True)
SHEET_SUMMARY = Style(SANS, 11, 15)
SHEET_TEXT = Style(SANS, 9, 11.6, after=3)
SHEET_CELL = Style(SANS, 9, 11.6)
SHEET_STRONG = Style(BOLD, 9, 11.6)
SHEET_NOTE = Style(SANS, 8, 10.2)
SHEET_HEAD = Style(BOLD, 8, 11)
SHEET_HEADING = Style(BOLD, 11, 14, after=3)
SHEET_LABEL = Style(SERIF_BOLD, 11, 11.6)
SHEET_NUMERAL = Style(SERIF_BOLD, 10, 11.6, "accent")


@dataclass(frozen=True, slots=True)
class Word:
    """What is never broken: a word, or a whole size."""

    text: str
    font: Font

    def width(self, size: float) -> float:
        return advance(self.text, self.font) * size


@lru_cache(maxsize=8192)
def advance(text: str, font: Font) -> float:
    """Width of a text at a size of 1."""
    return float(fonts.width(text, 1, font))


_TOGETHER = re.compile(
    r"(?<=\d) (?=\d+⁄)"  # 3 15⁄16
    r"| (?=×)|(?<=×) "  # 3¼ × 5½
    r"|(?<=[\d½¼¾⅛⅜⅝⅞]) (?=(?:in|mm|cm|pt|%|g/m²)(?![a-z]))"
    r"|(?<=≈) "
    r"|(?<=\b\d) (?=[A-Z][a-z]+ \d{4}\b)|(?<=\b\d\d) (?=[A-Z][a-z]+ \d{4}\b)|(?<=[a-z]) (?=20\d\d\b)"
)  # 3 June 2026
_GLUE = "\N{NO-BREAK SPACE}"


def words(text: str, font: Font = SANS) -> list[Word]:
    """Text as what may stand on different lines; blanks inside a size don't count."""
    return list(_words(text, font))


@lru_cache(maxsize=4096)
def _words(text: str, font: Font) -> Line:
    glued = _TOGETHER.sub(_GLUE, " ".join(curly(text).split()))
    return tuple(Word(part.replace(_GLUE, " "), font) for part in glued.split(" ") if part)


Line = tuple[Word, ...]


def line_width(line: Line, size: float) -> float:
    """Points, blanks between words included."""
    blanks = sum(advance(" ", word.font) * size for word in line[:-1])
    return sum(word.width(size) for word in line) + blanks


@lru_cache(maxsize=8192)
def set_text(text: str, font: Font, size: float, room: float, even: bool = False, lead: str = "") -> tuple[Line, ...]:
    """The same from a text and bold words before it; most are set many times, since pages are laid out many times."""
    return _broken(_words(lead, BOLD) + _words(text, font), size, room, even)


@lru_cache(maxsize=8192)
def text_width(text: str, font: Font, size: float) -> float:
    """Width of a text on one line, points."""
    return line_width(_words(text, font), size)


def broken(text: list[Word], size: float, room: float, even: bool = False) -> list[Line]:
    """Lines no wider than `room`, as few as can be."""
    return list(_broken(tuple(text), size, room, even))


@lru_cache(maxsize=4096)
def _broken(text: Line, size: float, room: float, even: bool) -> tuple[Line, ...]:
    # The pages are laid out several times to find the best, and most lines break the same each time.
    room += 0.01  # a text measured for its own column fits it, whatever floats make of that
    parts = [part for word in text for part in _fitting(word, size, room)]
    lines = _greedy(parts, size, room)
    if len(lines) < 2:
        return tuple(lines)
    for narrower in (room * (1 - i / 40) for i in range(1, 25)):
        if not even and not _lone(lines[-1], size, room):
            break
        again = _greedy(parts, size, narrower)
        if len(again) > len(lines):
            break
        lines = again
    return tuple(lines)


def _greedy(text: list[Word], size: float, room: float) -> list[Line]:
    lines: list[list[Word]] = []
    used = 0.0
    for word in text:
        more = (advance(" ", lines[-1][-1].font) * size if lines else 0) + word.width(size)
        if lines and used + more <= room:
            lines[-1].append(word)
            used += more
        else:
            lines.append([word])
            used = word.width(size)
    return [tuple(line) for line in lines]


def _lone(line: Line, size: float, room: float) -> bool:
    """Whether a last line is too short to stand by itself."""
    return line_width(line, size) < room / 6


def _fitting(word: Word, size: float, room: float) -> list[Word]:
    """A word, in pieces when it is wider than the room by itself."""
    if word.width(size) <= room:
        return [word]
    parts, start = [], 0
    for end in range(1, len(word.text) + 1):
        if Word(word.text[start:end], word.font).width(size) > room and end - 1 > start:
            parts.append(Word(word.text[start : end - 1], word.font))
            start = end - 1
    return [*parts, Word(word.text[start:], word.font)]


def draw_line(
    canvas: Canvas, line: Line, x: float, y: float, size: float, ink: str = "ink", anchor: str = "start", goes_on: bool = False
) -> None:
    """One line with its baseline at y; words of one font are drawn as one text.

    A line that `goes_on` ends in a blank, so that its last word is not read as one with the next line's first.
    """
    if anchor != "start":
        x -= {"middle": 0.5, "end": 1}[anchor] * line_width(line, size)
    runs = [(font, " ".join(word.text for word in group)) for font, group in groupby(line, key=lambda w: w.font)]
    for i, (font, text) in enumerate(runs):
        text += " " if goes_on or i < len(runs) - 1 else ""
        draw_text(canvas, x, y, text, font, size, ink=Ink(ink))
        x += advance(text, font) * size
