"""How the front goes together: the layers, lowest first, at one scale."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.face import Face, Placed, Sentiment
from kitwright.drawing import fonts, front
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import figure_height, round_scale, scale_text
from kitwright.drawing.fonts import Font
from kitwright.drawing.front import Looks
from kitwright.drawing.labels import draw_tag, tag_box
from kitwright.drawing.scene import Draft, Frame, Number, Scene
from kitwright.exact import Exact
from kitwright.telling.drawn import NEW_AND_PALE, layers_alt
from kitwright.telling.holding import held_words
from kitwright.telling.words import led
from kitwright.units import ZERO, Length, size_text

EDGE = Exact(6)
_GAP = Exact(14)
_LEAST = Exact(104)
"""Narrowest cell in which a small picture and its words are readable, points."""
_TALLEST = Exact(250)
"""A small picture is no taller, points, unless a height is asked for."""


@dataclass(frozen=True, slots=True)
class Stage:
    """One small picture: what is there already, and what is added."""

    words: str
    """What is added, in words."""
    before: tuple[Placed, ...]
    added: tuple[Placed, ...]
    greetings: tuple[Sentiment, ...] = ()
    """Words that show by now."""
    finish: bool = False
    """Whether decoration is added."""


def stages(face: Face, unit: str = "in") -> list[Stage]:
    """The layers in the order in which they go on, lowest first."""
    found: list[Stage] = []
    done: tuple[Placed, ...] = ()

    def add(words: str, added: tuple[Placed, ...], finish: bool = False) -> None:
        nonlocal done
        done_after = done + added
        found.append(Stage(words, done, added, _printed(face, done_after), finish))
        done = done_after

    for layer in face.layers:
        words = (led(face.on) or "Card base") if layer.layer == "base" else f"{layer.label}{_raised(layer)}"
        add(f"{words}, {size_text(layer.rect.size, unit)}", (layer,))
    if face.pieces:
        counted = Counter((p.label, p.back) for p in face.pieces)
        words = ", ".join((f"{label} × {n}" if n > 1 else label) + (f" ({back})" if back else "") for (label, back), n in counted.items())
        add(words, face.pieces)
    for piece in face.over:
        back = f" ({piece.back})" if piece.back else ""
        add(f"{piece.label}{back}{_raised(piece)}{held_words(piece)}, {size_text(piece.rect.size, unit)}", (piece,))
    if face.spots:
        counts = Counter(s.name + (" (optional)" if s.optional else "") for s in face.spots)
        names = [f"{name} × {n}" if n > 1 else name for name, n in counts.items()]
        words = ", ".join(names)
        add(led(words), (), True)
    return found


def _raised(placed: Placed) -> str:
    return " on foam" if placed.raised else ""


def _printed(face: Face, done: tuple[Placed, ...]) -> tuple[Sentiment, ...]:
    """The words whose carriers are there."""
    return tuple(words for words in face.sentiments if _carried(words, face, done))


def _carried(words: Sentiment, face: Face, done: tuple[Placed, ...]) -> bool:
    if any(p.label == words.on for p in face.stack):
        return any(p.label == words.on for p in done)
    return len(done) >= len(face.layers) + len(face.pieces)


def layer_steps(face: Face, looks: Looks, *, unit: str = "in", width: Number = 480, height: Number | None = None, name: str = "") -> Scene:
    """A row of small pictures at one scale, each adding to the last; rows break where they don't fit.

    Args:
        face: the worked-out front.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points.
        name: what to call the card.
    """
    steps, width = stages(face, unit), Exact(width)
    room = width - 2 * EDGE
    most = max(1, min(len(steps), int((room + _GAP) / (_LEAST + _GAP))))
    rows = -(-len(steps) // most)
    columns = -(-len(steps) // rows)
    cell = (room - _GAP * (columns - 1)) / columns
    extent = _extent(face)
    scale = min(cell / (extent[0].inches * 72), Exact(1, 2))
    words = [_lines(s.words, cell - 18) for s in steps]
    text_high = [max(len(w) for w in words[r * columns : (r + 1) * columns]) * Exact(12) + 7 for r in range(rows)]
    card_most = _TALLEST if height is None else (height - 2 * EDGE - 34 - sum(text_high) - rows * _GAP) / rows
    scale = round_scale(min(scale, card_most / (extent[1].inches * 72)))
    card_high = extent[1].inches * 72 * scale
    draft = Draft()
    top: Fraction = EDGE
    for row in range(rows):
        for column, i in enumerate(range(row * columns, min((row + 1) * columns, len(steps)))):
            left = EDGE + (cell + _GAP) * column
            _words(draft, str(i + 1), words[i], left, top)
            origin = (left + extent[2].inches * 72 * scale, top + text_high[row] + extent[3].inches * 72 * scale)
            _card(draft, steps[i], face, looks, Frame(*origin, scale))
        top += text_high[row] + card_high + _GAP
    bottom = top
    signs = [CaptionNote(scale_text(scale)), CaptionNote(NEW_AND_PALE)]
    bottom = notes(draft, [signs], EDGE, width - EDGE, bottom)
    alt = layers_alt(s.words for s in steps)
    return draft.scene(width, bottom + EDGE, f"Layers: {name}" if name else "The layers, lowest first", alt, scale)


def _lines(words: str, room: Fraction) -> list[str]:
    """Words broken into lines, a size never in two."""
    whole = re.sub(r" (?=× )|(?<=×) | (?=(?:in|mm)$)", "\N{NO-BREAK SPACE}", words)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in fonts.wrap(whole, 9, room, Font("sans", "semibold"))]


def _extent(face: Face) -> tuple[Length, Length, Length, Length]:
    """Width and height that all layers take, and how far they reach past the card's left and top."""
    rects = [p.rect for p in face.stack]
    left, top = min(r.x for r in rects), min(r.y for r in rects)
    return (max(r.right for r in rects) - left, max(r.bottom for r in rects) - top, max(-left, ZERO), max(-top, ZERO))


def _words(draft: Draft, number: str, lines: list[str], left: Fraction, top: Fraction) -> None:
    middle = top + figure_height(9) / 2 + 2
    box = tag_box(number, (left, middle))
    draw_tag(draft, number, (left + box.width / 2, middle))
    for i, line in enumerate(lines):
        draft.text(line, left + box.width + 5, middle + figure_height(9) / 2 + 12 * i, 9, "title", weight="semibold")


def _card(draft: Draft, stage: Stage, face: Face, looks: Looks, frame: Frame) -> None:
    for placed in stage.before:
        front.paper(draft, placed, frame, looks, strength=Exact(3, 10), line="paper-edge")
    for placed in stage.added:
        front.paper(draft, placed, frame, looks, line="new", lift=Exact(3, 2))
    for words in stage.greetings:
        front.greeting(draft, words, face, frame, looks, pale=not _carries(stage, words), lying=stage.before + stage.added)
    if stage.finish:
        for place in face.spots:
            front.ornament(draft, place, frame)


def _carries(stage: Stage, words: Sentiment) -> bool:
    """Whether what is new lies under these words."""
    return any(p.rect.overlaps(words.rect) for p in stage.added)
