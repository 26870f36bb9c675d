"""Rulers, dimension lines and their figures.

ISO 129-1: thin extension and dimension lines, oblique strokes as ends, the figure clear of
every line. All figures read upright (one direction), since a picture on a phone is not turned.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.drawing.placing import Board, spread
from kitwright.drawing.scene import Box, Draft, Frame, Number, Point, Scene
from kitwright.exact import Exact
from kitwright.units import MM, Length

RULER = Exact(19)
"""Depth of a ruler, points."""
FIGURE = Exact(17, 2)
"""Size of dimension figures, points."""


@dataclass(frozen=True, slots=True)
class FigureType:
    """How the figures of dimensions are set."""

    size: Fraction
    """Points."""
    main: Font
    quiet: Font
    """Those of second rank."""
    ink: str = "note"
    """The role of those."""

    def of(self, span: Span) -> Font:
        return self.quiet if span.quiet else self.main

    def role(self, span: Span) -> str:
        return self.ink if span.quiet else "figure"


ON_SCREEN = FigureType(FIGURE, Font("sans", "semibold"), Font())
ON_PAPER = FigureType(Exact(8), Font("sans", "semibold"), Font("sans", "semibold"), "figure")
"""Small, and dark enough for its fractions to stay whole in a copy of black and white alone."""


@dataclass(frozen=True, slots=True)
class Span:
    """One dimension along an edge."""

    start: Fraction
    """Points along the edge."""
    end: Fraction
    text: str
    """What it measures."""
    quiet: bool = False
    """Whether it is of second rank, such as a border."""


def figure_height(size: Number = FIGURE) -> Fraction:
    """Height of figures over their baseline."""
    return size * fonts.CAP


def scale_text(scale: Fraction) -> str:
    """The scale in words: `Scale 1:2`, `True size`, `Drawn at 43 %`."""
    if scale == 1:
        return "True size"
    if (1 / scale).denominator == 1:
        return f"Scale 1:{1 / scale}"
    return f"Drawn at {scale * 100} %"


def round_scale(most: Fraction) -> Fraction:
    """The largest whole percentage not above `most`, so that a stated scale is exact."""
    return Exact(int(most * 100), 100) if most * 100 >= 1 else most


def fitted(draw: Callable[[Fraction], Scene], scale: Fraction, drawn: Length, height: Number | None) -> Scene:
    """The picture at this scale, or at the largest whole percentage at which it is no higher than asked.

    Args:
        draw: makes the picture at a scale.
        scale: the scale to start from.
        drawn: the true height of what is drawn to scale; the rest of the picture keeps its size.
        height: the most that the picture may take, points.
    """
    scene = draw(scale)
    while height is not None and scene.height > height and scale > _LEAST_SCALE:
        less = round_scale(scale - (scene.height - height) / (drawn.inches * 72))
        # What moves into the key makes the picture higher again: step down until it fits.
        scale = max(min(less, scale - Exact(1, 100)), _LEAST_SCALE)
        scene = draw(scale)
    return scene


_LEAST_SCALE = Exact(4, 100)


# --- rulers ----------------------------------------------------------------------------------


def ruler(draft: Draft, frame: Frame, length: Length, unit: str, vertical: bool) -> None:
    """A ruler lying along the top edge (or the left one) of a sheet at the frame's origin.

    Ticks every ⅛ in or 1 mm, fewer when they would stand closer than 1½ points.
    """
    if draft.bare:
        return
    long = length.inches * 72 * frame.scale
    box = Box(frame.x - RULER, frame.y, frame.x, frame.y + long) if vertical else Box(frame.x, frame.y - RULER, frame.x + long, frame.y)
    draft.box(box, None, "surface")
    step, marks = ruler_steps(unit, frame.scale)
    fine: list[tuple[Point, Point]] = []
    bold: list[tuple[Point, Point]] = []
    count = int(length.inches / step)
    apart = step * 72 * frame.scale
    each = marks[-1][0] * apart
    # The last number may be pushed in by half its width; the one before must still stand clear.
    widest = fonts.width(str(count // marks[-1][0] * (1 if unit == "in" else 10)), 8)
    skip = next((k for k in (1, 2, 5, 10, 20) if k * each >= max(Exact(12), widest * Exact(3, 2) + 4)), 50)
    for i in range(count + 1):
        at = i * apart
        depth = next(d for every, d in reversed(marks) if i % every == 0)
        whole = i % marks[-1][0] == 0
        stop = (
            ((frame.x, frame.y + at), (frame.x - depth, frame.y + at))
            if vertical
            else ((frame.x + at, frame.y), (frame.x + at, frame.y - depth))
        )
        (bold if whole else fine).append(stop)
        number = i // marks[-1][0]
        if whole and number % skip == 0:
            _ruler_number(draft, frame, at, long, number if unit == "in" else number * 10, vertical)
    draft.lines("ruler-fine", fine)
    draft.lines("ruler", bold)


def _ruler_number(draft: Draft, frame: Frame, at: Fraction, long: Fraction, number: int, vertical: bool) -> None:
    """A whole number, in line with its mark but never past the ruler's ends."""
    text, high = str(number), figure_height(8)
    wide = fonts.width(text, 8)
    if vertical:
        y = min(max(frame.y + at + high / 2, frame.y + high + 1), frame.y + long - 1)
        draft.text(text, frame.x - Exact(17, 2), y, 8, "note", "end")
    else:
        x = min(max(frame.x + at, frame.x + wide / 2 + 1), frame.x + long - wide / 2 - 1)
        draft.text(text, x, frame.y - Exact(21, 2), 8, "note", "middle")


def ruler_steps(unit: str, scale: Fraction, clear: Fraction = Exact(3, 2)) -> tuple[Fraction, list[tuple[int, Number]]]:
    """The finest tick in inches, and how deep every so-many-th tick is; the last is the numbered one.

    Args:
        clear: points from one tick to the next, at least.
    """
    choices: list[tuple[Fraction, list[tuple[int, Number]]]] = (
        [
            (Exact(1, 8), [(1, 3), (2, 4), (4, Exact(11, 2)), (8, 8)]),
            (Exact(1, 4), [(1, 4), (2, Exact(11, 2)), (4, 8)]),
            (Exact(1, 2), [(1, Exact(11, 2)), (2, 8)]),
        ]
        if unit == "in"
        else [(MM, [(1, 3), (5, Exact(11, 2)), (10, 8)]), (5 * MM, [(1, Exact(11, 2)), (2, 8)]), (10 * MM, [(1, 8)])]
    )
    for step, marks in choices:
        if step * 72 * scale >= clear:
            return step, marks
    return choices[-1]


# --- chains of dimensions --------------------------------------------------------------------

_TICK = Exact(2)


def chain_across(
    draft: Draft,
    board: Board,
    spans: Sequence[Span],
    edge: Fraction,
    line: Fraction,
    limits: tuple[Fraction, Fraction],
    type_: FigureType = ON_SCREEN,
) -> Fraction:
    """Dimensions below a horizontal edge; figures between edge and line, or led out below.

    Args:
        edge: y of the edge measured.
        line: y of the dimension line, at least 12 points lower.
        limits: x between which figures must stay.
        type_: how they are set.

    Returns:
        The y below everything drawn.
    """
    stops = sorted({s.start for s in spans} | {s.end for s in spans})
    draft.lines("extension", [((x, edge + 2), (x, line + 3)) for x in stops])
    draft.line("dimension", (stops[0], line), (stops[-1], line))
    draft.lines("dimension", [((x - _TICK, line + _TICK), (x + _TICK, line - _TICK)) for x in stops])
    outside = []
    for span in spans:
        middle = (span.start + span.end) / 2
        if fonts.width(span.text, type_.size, type_.of(span)) + 5 <= span.end - span.start:
            draft.text(span.text, middle, line - 3, type_.size, type_.role(span), "middle", weight=type_.of(span).weight)
        else:
            outside.append((span, middle))
    bottom = line + 4
    if outside:
        wide = [fonts.width(s.text, type_.size, type_.of(s)) + 4 for s, _ in outside]
        while sum(wide) > limits[1] - limits[0]:
            # More than the picture is wide: the narrowest go without; their sizes stand on the pieces or in the key.
            least = min(range(len(outside)), key=lambda i: outside[i][0].end - outside[i][0].start)
            del outside[least], wide[least]
        base = line + 9 + figure_height(type_.size)
        for (span, middle), x in zip(outside, spread([m for _, m in outside], wide, *limits)):
            draft.text(span.text, x, base, type_.size, type_.role(span), "middle", weight=type_.of(span).weight)
            draft.line("leader", (middle, line + 1), (x, base - figure_height(type_.size) - 2))
        bottom = base + 3
    board.take(Box(stops[0], edge, stops[-1], bottom))
    return bottom


def chain_along(
    draft: Draft,
    board: Board,
    spans: Sequence[Span],
    edge: Fraction,
    line: Fraction,
    limits: tuple[Fraction, Fraction],
    type_: FigureType = ON_SCREEN,
) -> Fraction:
    """Dimensions to the right of a vertical edge; figures right of the line, spread where they would touch.

    Returns:
        The x right of everything drawn.
    """
    stops = sorted({s.start for s in spans} | {s.end for s in spans})
    draft.lines("extension", [((edge + 2, y), (line + 3, y)) for y in stops])
    draft.line("dimension", (line, stops[0]), (line, stops[-1]))
    draft.lines("dimension", [((line - _TICK, y + _TICK), (line + _TICK, y - _TICK)) for y in stops])
    high = figure_height(type_.size)
    wanted = [(s.start + s.end) / 2 for s in spans]
    places = spread(wanted, [high + 4] * len(spans), *limits)
    led = any(abs(a - b) > 1 for a, b in zip(wanted, places)) or any(s.end - s.start < high + 3 for s in spans)
    left = line + (12 if led else 5)
    right = left
    for span, middle, y in zip(spans, wanted, places):
        text = draft.text(span.text, left, y + high / 2, type_.size, type_.role(span), weight=type_.of(span).weight)
        right = max(right, text.box.right)
        if led:
            draft.line("leader", (line + 1, middle), (left - 2, y))
    board.take(Box(edge, stops[0], right, stops[-1]))
    return right


def along_room(texts: Sequence[str], type_: FigureType = ON_SCREEN) -> Fraction:
    """The width that a chain on the right can need, from the edge measured: line, leaders and figures."""
    return 9 + 12 + max(fonts.width(t, type_.size, type_.main) for t in texts) + 2
