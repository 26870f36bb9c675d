"""All proposals of an answer on one picture: plates in columns, each with its number and a few words under it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.drawing.proposals.plate import EDGE, WIDE, WIDER, Plate
from kitwright.drawing.scene import Draft, Scene
from kitwright.exact import Exact

_COLUMNS: dict[Fraction, int] = {WIDE: 3, WIDER: 2}
_MARGIN, _GUTTER, _UNDER = Exact(18), Exact(12), Exact(20)
"""Round the picture, between columns and between rows; points."""
_TITLE, _TEXT, _HEAD = Exact(20), Exact(10), Exact(12)
_LEADING = Exact(13, 10)
_SERIF, _BOLD, _SANS = Font("serif", "semibold"), Font("sans", "semibold"), Font()


@dataclass(frozen=True, slots=True)
class Caption:
    """What stands under a plate."""

    number: int
    what: str
    """What it is, in a few words."""
    lines: tuple[str, ...]
    """Its sizes, what is good about it."""


def overview(plates: Sequence[Plate], captions: Sequence[Caption], title: str, notes: Sequence[str], alt: str) -> Scene:
    """The sheet of pictures.

    Args:
        plates: of the proposals, all of them `WIDE` or `WIDER`.
        captions: what stands under each.
        title: what was asked, in a line; empty where the picture goes without words of its own.
        notes: what else is to be known of all of them: what was looked at, the scale.
        alt: what the picture shows.
    """
    wide = plates[0].wide if plates else WIDE
    columns = min(_COLUMNS[wide], max(1, len(plates)))
    width = 2 * _MARGIN + columns * wide + (columns - 1) * _GUTTER
    draft = Draft()
    y = _words(draft, title, _MARGIN, _MARGIN, width - 2 * _MARGIN, _TITLE, _SERIF, "title") if title else _MARGIN / 2
    for note in notes:
        y = _words(draft, note, _MARGIN, y + 3, width - 2 * _MARGIN, _TEXT, _SANS, "note")
    y += _UNDER / 2 if title else 0
    for start in range(0, len(plates), columns):
        row = range(start, min(start + columns, len(plates)))
        bottom = y
        for column, i in enumerate(row):
            x = _MARGIN + column * (wide + _GUTTER)
            plates[i].draw(draft, x, y)
            bottom = max(bottom, _caption(draft, captions[i], x + EDGE, y + plates[i].high + 2, wide - 2 * EDGE))
        y = bottom + _UNDER
    return draft.scene(width, y - _UNDER + _MARGIN, title, alt)


def _caption(draft: Draft, caption: Caption, x: Fraction, y: Fraction, wide: Fraction) -> Fraction:
    """Number, name and words; returns where they end."""
    number = draft.text(str(caption.number), x, y + _TITLE * fonts.CAP, _TITLE, "accent", family="serif", weight="semibold")
    left = x + max(number.width, Exact(12)) + 8
    room = wide - (left - x)
    y = _words(draft, caption.what, left, y + (_TITLE - _HEAD) * fonts.CAP - 1, room, _HEAD, _BOLD, "label")
    for line in caption.lines:
        y = _words(draft, line, left, y + 1, room, _TEXT, _SANS, "note")
    return y


def _words(draft: Draft, text: str, x: Fraction, top: Fraction, room: Fraction, size: Fraction, font: Font, role: str) -> Fraction:
    """Words in as many lines as they take, from `top` down; returns where they end."""
    for line in fonts.wrap(text, size, room, font):
        draft.text(line, x, top + size * fonts.CAP + 1, size, role, family=font.family, weight=font.weight)
        top += size * _LEADING
    return top
