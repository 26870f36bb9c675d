"""Templates at true size: a piece's outline to lay paper on, with the marks that a hand needs."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.card.outlines import Outline
from kitwright.drawing.dimensions import figure_height
from kitwright.drawing.scene import Box, Contour, Draft, Frame, Number, Point, Scene, circle
from kitwright.exact import Exact
from kitwright.geometry import Rect
from kitwright.telling.drawn import notch_alt, template_alt
from kitwright.units import ZERO, Length, Size, size_text

EDGE = Exact(6)
HEAD = Exact(16)
"""Room for the line over a template, points."""
TRUE = Exact(1)


def piece_template(label: str, shape: Outline, size: Size, *, unit: str = "in", printed: tuple[Rect, ...] = (), note: str = "") -> Scene:
    """A whole piece at true size.

    Args:
        label: its label.
        shape: its outline, top left corner at the origin.
        size: the rectangle around it, as it is written.
        unit: `in` or `mm`.
        printed: where words are printed on it.
        note: what else to say on the line above.
    """
    draft, frame = Draft(), Frame(EDGE, EDGE + HEAD, TRUE)
    said = f"{label} · {size_text(size, unit)}"
    draft.text(said, EDGE, EDGE + figure_height(10), 10, "title", weight="semibold")
    if note:
        draft.text(note, EDGE + draft.texts[-1].width + 8, EDGE + figure_height(10), 9, "note")
    rings = [tuple(frame.point(*corner) for corner in ring) for ring in shape.rounded_off()]
    for ring in rings:
        draft.polygon(ring, "edge")
    for words in printed:
        draft.box(frame.box(words), "print")
    _centre_marks(draft, frame.box(shape.bounds), rings)
    width = max(frame.box(Rect.of(size)).right, max(text.box.right for text in draft.texts)) + EDGE
    alt = template_alt(label, size, unit, bool(printed))
    return draft.scene(width, frame.point(ZERO, size.height)[1] + 6 + EDGE, f"Template: {label}", alt, TRUE)


def notched_end(label: str, cut: Size, depth: Length, trim: Length, *, unit: str = "in", shown: Number = 110, dot: bool = False) -> Scene:
    """One notched end of a strip, at true size, lying with that end at the left.

    Args:
        label: the strip's label.
        cut: the strip as it is cut, lying with its notched end left.
        depth: from the tips to the notch bottom.
        trim: what the tool takes off the end beyond the tips.
        unit: `in` or `mm`.
        shown: how much of the strip to show, points; the notch always shows whole.
        dot: whether the notch bottom is marked by a pencil dot first.
    """
    draft, frame = Draft(), Frame(EDGE, EDGE + 4, TRUE)
    top, bottom = frame.point(ZERO, ZERO)[1], frame.point(ZERO, cut.height)[1]
    middle = (top + bottom) / 2
    tip, deep = frame.point(trim, ZERO)[0], frame.point(trim + depth, ZERO)[0]
    far = max(min(EDGE + shown, frame.point(cut.width, ZERO)[0]), deep + 14)
    notch = [(tip, top), (deep, middle), (tip, bottom)]
    draft.polygon([(EDGE, top), *notch, (EDGE, bottom)], None, "surface")
    if trim:
        draft.lines("hidden", [[(EDGE, top), (tip, top)], [(EDGE, bottom), (tip, bottom)], [(EDGE, top), (EDGE, bottom)]])
    else:
        draft.line("hidden", (EDGE, top), (EDGE, bottom))
    draft.lines("edge", [[(tip, top), (far, top)], [(tip, bottom), (far, bottom)]])
    draft.line("cut", *notch)
    draft.line("extension", (deep, middle), (far, middle))
    if dot:
        draft.polygon(circle(Exact(3, 2), deep, middle), None, "tag")
    _torn(draft, far, top, bottom)
    draft.text(label, far - 8, middle - 5, 11, "label", "end", weight="bold")
    alt = notch_alt(label, Size(depth, cut.height), unit)
    return draft.scene(far + EDGE + 4, bottom + 6 + EDGE, f"Notch of {label}", alt, TRUE)


def _torn(draft: Draft, x: Fraction, top: Fraction, bottom: Fraction) -> None:
    """A break line: the strip goes on."""
    middle = (top + bottom) / 2
    draft.line("extension", (x, top - 3), (x, middle - 4), (x + 3, middle - 1), (x - 3, middle + 1), (x, middle + 4), (x, bottom + 3))


def _centre_marks(draft: Draft, box: Box, rings: Sequence[Contour]) -> None:
    """Short strokes inside the middles of all sides that lie on paper, to lay the piece even."""
    x, y = box.centre
    strokes: Sequence[tuple[Point, Point]] = (
        ((x, box.top), (x, box.top + 5)),
        ((x, box.bottom - 5), (x, box.bottom)),
        ((box.left, y), (box.left + 5, y)),
        ((box.right - 5, y), (box.right, y)),
    )
    draft.lines(
        "extension",
        [stroke for stroke in strokes if _on_paper((stroke[0][0] + stroke[1][0]) / 2, (stroke[0][1] + stroke[1][1]) / 2, rings)],
    )


def _on_paper(x: Fraction, y: Fraction, rings: Sequence[Contour]) -> bool:
    """Whether a point lies inside the piece: a level ray from it crosses the edges an odd number of times."""
    crossed = 0
    for ring in rings:
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0])):
            if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                crossed += 1
    return crossed % 2 == 1
