"""The lines under a picture: a key, what the signs mean, the scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.drawing import fonts
from kitwright.drawing.dimensions import figure_height
from kitwright.drawing.fonts import Font
from kitwright.drawing.labels import DISC, draw_disc, draw_tag, tag_box
from kitwright.drawing.placing import hatched
from kitwright.drawing.scene import Box, Draft
from kitwright.exact import Exact

SIZE = Exact(17, 2)
LEADING = Exact(13)
_BOLD = Font("sans", "bold")


@dataclass(frozen=True, slots=True)
class CaptionNote:
    """One entry: a sign, if any, and words."""

    words: str
    head: str = ""
    """A word in bold before them."""
    tag: str = ""
    """Or a number tag."""
    disc: str = ""
    """Or a number on a disc."""
    line: str = ""
    """Or a sample of a line role."""
    hatch: str = ""
    """Or a patch hatched with a line role."""

    @property
    def lead(self) -> Fraction:
        """Room taken before the words."""
        if self.head:
            return fonts.width(self.head, 9, _BOLD) + 4
        if self.tag:
            return tag_box(self.tag, (Exact(0), Exact(0))).width + 4
        if self.disc:
            return 2 * DISC + 4
        return Exact(26) if self.line or self.hatch else Exact(0)


def notes(
    draft: Draft, rows: Sequence[Sequence[CaptionNote]], left: Fraction, right: Fraction, y: Fraction, role: str = "note"
) -> Fraction:
    """Set entries one after the other, each row of them on a new line, in the ink of a role; returns the y below."""
    for row in rows:
        x = left
        base = y + figure_height(9)
        for note in row:
            wide = note.lead + fonts.width(note.words, SIZE)
            if x > left and x + wide > right:
                x, base = left, base + LEADING
            _sign(draft, note, x, base)
            for i, part in enumerate(fonts.wrap(note.words, SIZE, right - x - note.lead)):
                base += LEADING if i else 0
                draft.text(part, x + note.lead, base, SIZE, role)
            x += wide + 14
        if row:
            y = base + LEADING - figure_height(9) + 2
    return y - LEADING + figure_height(9) + 3


def _sign(draft: Draft, note: CaptionNote, x: Fraction, base: Fraction) -> None:
    middle = base - figure_height(8) / 2
    if note.head:
        draft.text(note.head, x, base, 9, "label", weight="bold")
    elif note.tag:
        draw_tag(draft, note.tag, (x + tag_box(note.tag, (x, base)).width / 2, middle))
    elif note.disc:
        draw_disc(draft, note.disc, (x + DISC, middle))
    elif note.line:
        draft.line(note.line, (x, middle), (x + 21, middle))
    elif note.hatch:
        patch = Box(x, middle - 4, x + 21, middle + 4)
        draft.lines(note.hatch, hatched(patch))
        draft.box(patch, note.hatch)
