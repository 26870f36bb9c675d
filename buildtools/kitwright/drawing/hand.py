"""One desk step: the paper in hand under the blade, lined up at its mark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from kitwright.cutting.desk import CornerStep, DeskStep
from kitwright.cutting.tree import Side
from kitwright.drawing.fonts import Font
from kitwright.drawing.labels import draw_tag, tag_box
from kitwright.drawing.scene import Box, Draft, Number, Scene, Text, circle, points
from kitwright.exact import Exact
from kitwright.telling.drawn import corners_alt, hand_alt
from kitwright.units import figure

EDGE = Exact(6)
HEAD = Exact(30)
"""Room above the paper for the ruler and its figure, points."""
BARE = Exact(10)
"""The same where there is no figure."""
RULER = Exact(11), Exact(11, 2)
"""How far the ruler's line lies above the paper, with its figure and without."""
SHIFT = Exact(3)
"""How far each further thing peeps out behind the first, points."""
ARROW = Exact(16)
"""Room beside the paper for the arrow of a one-way paper, points."""
TURNS: dict[Side, int] = {"left": 0, "bottom": 1, "right": 2, "top": 3}
"""Quarter turns to the right that bring an edge to the left."""


def hand_picture(
    step: DeskStep,
    *,
    unit: str = "in",
    width: Number = 150,
    height: Number = 130,
    ruler_side: Side = "left",
    one_way: bool = False,
    backs: Mapping[str, str] | None = None,
    figures: bool = True,
) -> Scene:
    """The paper in hand as it lies on the trimmer.

    Args:
        step: the desk step.
        unit: `in` or `mm`.
        width, height: of the picture, points.
        ruler_side: the side of the blade on which the ruler lies, `left` or `right`.
        one_way: whether to show which way the paper's top points.
        backs: labels whose pieces lie on the card with their printed back up, and how that is said.
        figures: whether the measure, labels and numbers stand on it; without them it is of no unit, for a place beside words.
    """
    width, height = Exact(width), Exact(height)
    hand, draft = step.hand.size, Draft()
    across, along = (hand.width, hand.height) if step.axis == "x" else (hand.height, hand.width)
    peeps = min(step.things - 1, 2)
    beside = ARROW if one_way else 0
    head = HEAD if figures else BARE
    room = width - 2 * EDGE - peeps * SHIFT - beside, height - EDGE - head - peeps * SHIFT - 6
    scale = min(room[0] / (across.inches * 72), room[1] / (along.inches * 72))
    wide, tall, mark = points(across, scale), points(along, scale), points(step.measure, scale)
    left = EDGE + (room[0] - wide) / 2
    paper = Box(left, head, left + wide, head + tall)
    for i in range(peeps, 0, -1):
        draft.box(Box(paper.left + i * SHIFT, paper.top + i * SHIFT, paper.right + i * SHIFT, paper.bottom + i * SHIFT), "edge", "white")
    draft.box(paper, "edge", "white")
    near, way = (paper.left, 1) if ruler_side == "left" else (paper.right, -1)
    for k in range(2, step.strokes + 1):
        x = near + way * mark * k
        draft.line("hidden", (x, paper.top), (x, paper.bottom))
    blade = near + way * mark
    beyond = 7 if figures else 4
    draft.line("cut", (blade, paper.top - beyond), (blade, paper.bottom + min(beyond, 6)))
    _dimension(draft, near, blade, paper.top - RULER[not figures])
    if figures:
        said = _measured(draft, near, blade, paper.top, figure(step.measure, unit), width)
        _falling(draft, step, paper, near, blade, way, mark, said, width, backs or {})
    if one_way:
        _up(draft, paper.right + peeps * SHIFT + ARROW / 2 + 1, paper.centre[1], step, ruler_side)
    return draft.scene(width, height, f"Step {step.number}", hand_alt(step, unit if figures else "", backs))


def corner_picture(step: CornerStep, *, unit: str = "in", width: Number = 150, height: Number = 130, figures: bool = True) -> Scene:
    """A rectangle that is cut from corner to corner as it lies on the trimmer: both corners on the blade line.

    Turned so that its diagonal is upright, by a similarity that keeps every corner rational.

    Args:
        step: the desk step.
        unit: `in` or `mm`.
        width, height: of the picture, points.
        figures: whether labels stand on it.
    """
    width, height = Exact(width), Exact(height)
    draft, (w, h) = Draft(), (step.size.width.inches, step.size.height.inches)
    corners = [(Exact(0), Exact(0)), (w, Exact(0)), (w, h), (Exact(0), h)]
    (ax, ay), (bx, by) = (corners[0], corners[2]) if step.way == "falling" else (corners[1], corners[3])
    dx, dy = bx - ax, by - ay
    # Each corner times the diagonal turned back, as complex numbers: the diagonal comes to lie straight down.
    turned = [((x - ax) * dy - (y - ay) * dx, (x - ax) * dx + (y - ay) * dy) for x, y in corners]
    left, right = min(x for x, _ in turned), max(x for x, _ in turned)
    long = dx * dx + dy * dy
    clear, beyond, dot = (Exact(14), 10, Exact(9, 2)) if figures else (Exact(5), 5, Exact(5, 2))
    top, bottom = EDGE + clear, height - EDGE - clear
    scale = min((bottom - top) / long, (width - 2 * EDGE) / (right - left))
    up = (top + bottom - long * scale) / 2
    blade = width / 2 - (left + right) * scale / 2
    paper = [(blade + x * scale, up + y * scale) for x, y in turned]
    draft.polygon(paper, "edge", "white")
    ends = (blade, up), (blade, up + long * scale)
    draft.line("cut", (blade, ends[0][1] - beyond), (blade, ends[1][1] + beyond))
    for end in ends:
        draft.polygon(circle(dot, *end), "cut")
    size = Exact(11)
    for x in (left, right) if figures else ():
        # The middle of a triangle lies a third of the way from its long side to its corner.
        draft.text(
            step.label,
            blade + x * scale / 3,
            up + long * scale / 2 + size / 3 + _lower(turned, x, long) * scale,
            size,
            "label",
            "middle",
            weight="bold",
        )
    return draft.scene(width, height, f"Step {step.number}", corners_alt(step, unit if figures else ""))


def _lower(turned: Sequence[tuple[Fraction, Fraction]], x: Fraction, long: Fraction) -> Fraction:
    """How much lower than the middle of the diagonal the middle of the triangle lies whose corner is at x."""
    (y,) = (y for at, y in turned if at == x)
    return (y - long / 2) / 3


def _dimension(draft: Draft, near: Fraction, blade: Fraction, y: Fraction) -> None:
    """The distance from the edge to the blade, over the paper."""
    draft.line("dimension", (near, y), (blade, y))
    for x in (near, blade):
        draft.line("extension", (x, y - 3), (x, y + 3))


def _measured(draft: Draft, near: Fraction, blade: Fraction, top: Fraction, text: str, width: Fraction) -> Box:
    """The same as it is read on the ruler; returns where its figure stands."""
    y = top - RULER[0]
    middle = (near + blade) / 2
    said = draft.text(text, middle, y - 4, 10, "accent", "middle", weight="semibold")
    over = max(EDGE - said.box.left, Exact(0)) - max(said.box.right - (width - EDGE), Exact(0))
    if over:
        draft.texts[-1] = type(said)(text, middle + over, said.y, said.size, said.role, said.anchor, said.font)
    return draft.texts[-1].box


def _falling(
    draft: Draft,
    step: DeskStep,
    paper: Box,
    near: Fraction,
    blade: Fraction,
    way: int,
    mark: Fraction,
    said: Box,
    width: Fraction,
    backs: Mapping[str, str],
) -> None:
    """What falls off, named where there is room for it, and the number of strokes."""
    label = step.falls[0].label
    if label and len(step.falls) == 1:
        for k in range(step.strokes):
            x = near + way * mark * (Exact(2 * k + 1, 2))
            name = Text(text=label, x=x, y=paper.centre[1] + 4, size=Exact(11), role="label", anchor="middle", font=Font("sans", "bold"))
            if name.width + 4 <= mark and paper.holds(name.box.grown(0, 2)):
                draft.texts.append(name)
                back = Text(
                    text=backs.get(label, ""), x=x, y=paper.centre[1] + 15, size=Exact(8), role="note", anchor="middle", font=Font()
                )
                if back.text and back.width + 4 <= mark and paper.holds(back.box.grown(0, 2)):
                    draft.texts.append(back)
    if step.strokes > 1:
        text = f"×{step.strokes}"
        half = tag_box(text, (Exact(0), Exact(0))).width / 2
        # Beyond the blade, clear of the figure, which may be wider than its measure; else before the figure.
        ahead = max(blade, said.right) + half + 4 if way > 0 else min(blade, said.left) - half - 4
        fits = EDGE <= ahead - half and ahead + half <= width - EDGE
        behind = said.left - half - 4 if way > 0 else said.right + half + 4
        draw_tag(draft, text, (ahead if fits else behind, paper.top - 16))


def _up(draft: Draft, x: Fraction, y: Fraction, step: DeskStep, ruler_side: Side) -> None:
    """An arrow towards the top of the sheet's pattern, beside the paper, where no stroke passes."""
    turns = TURNS[step.side] + (0 if ruler_side == "left" else 2)
    dx, dy = ((0, -1), (1, 0), (0, 1), (-1, 0))[turns % 4]
    draft.line("accent", (x - 5 * dx, y - 5 * dy), (x + 5 * dx, y + 5 * dy))
    draft.polygon(
        ((x + 6 * dx, y + 6 * dy), (x + 2 * dx - 3 * dy, y + 2 * dy + 3 * dx), (x + 2 * dx + 3 * dy, y + 2 * dy - 3 * dx)), None, "tag"
    )
