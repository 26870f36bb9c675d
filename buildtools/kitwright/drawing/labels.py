"""Labels on pieces: large in the middle with the size under it, or less where there is less room."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache
from itertools import product

from kitwright.drawing import fonts
from kitwright.drawing.dimensions import figure_height
from kitwright.drawing.fonts import Font
from kitwright.drawing.placing import STEP, Board, Tried
from kitwright.drawing.scene import Box, Draft, Number, Point, circle
from kitwright.exact import Exact

BOLD, SEMIBOLD, PLAIN = Font("sans", "bold"), Font("sans", "semibold"), Font()


@dataclass(frozen=True, slots=True)
class Words:
    """A few words in one style, placed from the middle of a block."""

    text: str
    size: Fraction
    font: Font
    role: str
    along: Fraction
    """Left end, from the block's middle, in reading direction."""
    down: Fraction
    """Baseline below the block's middle."""


@dataclass(frozen=True, slots=True)
class LabelBlock:
    """A label ready to be set down: its words and the room that they take."""

    words: tuple[Words, ...]
    width: Fraction
    height: Fraction
    upward: bool = False
    """Whether it reads from bottom to top."""
    shows_size: bool = True
    half: tuple[Fraction, Fraction] = field(init=False)
    """How far it reaches from its middle, across and along the picture."""

    def __post_init__(self) -> None:
        wide, high = _eighths(self.width), _eighths(self.height)
        object.__setattr__(self, "width", wide)
        object.__setattr__(self, "height", high)
        object.__setattr__(self, "half", (high / 2, wide / 2) if self.upward else (wide / 2, high / 2))

    def box(self, middle: Point) -> Box:
        """What it covers when set at `middle`."""
        (x, y), (across, along) = middle, self.half
        return Box(x - across, y - along, x + across, y + along)

    def draw(self, draft: Draft, middle: Point, room: Box | None = None) -> None:
        """Set it down; given the room it stands in, on a patch of paper that stays inside it."""
        if room is not None:
            draft.box(within(self.box(middle).grown(3, 2), room.grown(-1)), None, "patch", 3)
        for w in self.words:
            x, y = (middle[0] + w.down, middle[1] - w.along) if self.upward else (middle[0] + w.along, middle[1] + w.down)
            draft.text(w.text, x, y, w.size, w.role, "start", w.font.family, w.font.weight, self.upward)


def _eighths(length: Fraction) -> Fraction:
    """Rounded up to an eighth of a point."""
    return Exact(-int(-length * 8 // 1), 8)


def within(box: Box, room: Box) -> Box:
    """The part of a box that lies in a room."""
    return Box(max(box.left, room.left), max(box.top, room.top), min(box.right, room.right), min(box.bottom, room.bottom))


def stacked(label: str, size: str, big: Number = 15, small: Number = Exact(17, 2), font: Font = PLAIN) -> LabelBlock:
    """The label with the size under it."""
    tail = (fonts.drop(label) - Exact(2, 100)) * big
    top, gap, low = figure_height(big), Exact(7, 2) + tail, figure_height(small)
    high = top + gap + low
    a, b = fonts.width(label, big, BOLD), fonts.width(size, small, font)
    return LabelBlock(
        (
            Words(text=label, size=Exact(big), font=BOLD, role="label", along=-a / 2, down=top - high / 2),
            Words(text=size, size=Exact(small), font=font, role="figure", along=-b / 2, down=high / 2),
        ),
        max(a, b),
        high,
    )


def in_line(label: str, size: str, big: Number = 11, small: Number = Exact(17, 2), upward: bool = False, font: Font = PLAIN) -> LabelBlock:
    """The label with the size beside it."""
    a, b = fonts.width(label, big, BOLD), fonts.width(size, small, font)
    wide, high = a + 4 + b, figure_height(big)
    return LabelBlock(
        (
            Words(text=label, size=Exact(big), font=BOLD, role="label", along=-wide / 2, down=high / 2),
            Words(text=size, size=Exact(small), font=font, role="figure", along=-wide / 2 + a + 4, down=high / 2),
        ),
        wide,
        high,
        upward,
    )


def alone(
    label: str, big: Number = 11, role: str = "label", font: Font = BOLD, upward: bool = False, shows_size: bool = False
) -> LabelBlock:
    """One short text only."""
    wide, high = fonts.width(label, big, font), figure_height(big)
    return LabelBlock(
        (Words(text=label, size=Exact(big), font=font, role=role, along=-wide / 2, down=high / 2),), wide, high, upward, shows_size
    )


def label_blocks(label: str, size: str) -> list[LabelBlock]:
    """Ways to label a piece, best first."""
    return [
        stacked(label, size, 18, 9),
        stacked(label, size),
        stacked(label, size, 12, 8),
        in_line(label, size),
        in_line(label, size, 10, 8),
        in_line(label, size, 11, upward=True),
        in_line(label, size, 10, 8, upward=True),
        alone(label, 13),
        alone(label, 10),
        alone(label, 8),
    ]


SMALL = Exact(8)
"""Type of names and sizes on the printable's sketch, points."""


def named_blocks(label: str, name: str, size: str) -> list[LabelBlock]:
    """Ways to label a piece on the printable, best first; a `name`, of its paper, is in all of them but never the size alone."""
    strong = Font("sans", "semibold")

    def beside(text: str, big: int, upward: bool) -> LabelBlock:
        return in_line(label, text, big, SMALL, upward, strong if text == size else PLAIN)

    ways = [(big, upward) for upward in (False, True) for big in (12, 10)]
    if not name:
        whole = [stacked(label, size, big, SMALL, strong) for big in (16, 13)] + [beside(size, *way) for way in ways]
        return whole + [alone(label, big) for big in (13, 10, 8)]
    return [
        *(_three(label, name, size, big) for big in (15, 12)),
        *(_two(label, name, size, upward) for upward in (False, True)),
        *(stacked(label, name, big, SMALL) for big in (13, 10)),
        *(beside(name, *way) for way in ways),
    ]


def _three(label: str, name: str, size: str, big: Number) -> LabelBlock:
    """Label, name and size, one under another."""
    upper, strong = stacked(label, name, big, SMALL), Font("sans", "semibold")
    wide, more = fonts.width(size, SMALL, strong), SMALL * Exact(5, 4)
    high = upper.height + more
    moved = tuple(replace(w, down=w.down - more / 2) for w in upper.words)
    under = Words(text=size, size=SMALL, font=strong, role="figure", along=-wide / 2, down=moved[-1].down + more)
    return LabelBlock((*moved, under), max(upper.width, wide), high)


def _two(label: str, name: str, size: str, upward: bool) -> LabelBlock:
    """Label and name beside one another, the size under them."""
    upper, strong = in_line(label, name, 12, SMALL, upward), Font("sans", "semibold")
    wide, more = fonts.width(size, SMALL, strong), SMALL * Exact(5, 4)
    moved = tuple(replace(w, down=w.down - more / 2) for w in upper.words)
    under = Words(text=size, size=SMALL, font=strong, role="figure", along=-wide / 2, down=moved[0].down + more + 1)
    return LabelBlock((*moved, under), max(upper.width, wide), upper.height + more + 1, upward)


def scrap_blocks(size: str) -> list[LabelBlock]:
    """Ways to say a leftover's size on it."""
    return [
        alone(size, Exact(17, 2), "note", PLAIN, shows_size=True),
        alone(size, 8, "note", PLAIN, shows_size=True),
        alone(size, 8, "note", PLAIN, True, True),
    ]


def find_place(board: Board, block: LabelBlock, room: Box, margin: Number = 3, clear: Number = Exact(3, 2)) -> Point | None:
    """A middle for the block inside a room, nearest to its centre; None when there is none.

    Args:
        margin: points between the block and the sides of its room.
        clear: points between the block and anything else.
    """
    found = find_places(board, block, [room], margin, clear)
    return found[0] if found else None


def find_places(
    board: Board, block: LabelBlock, rooms: Sequence[Box], margin: Number = 3, clear: Number = Exact(3, 2)
) -> list[Point] | None:
    """A middle for the block in each of several rooms of one size, in all of them at the same place, nearest to the centre; None when there is none."""
    inner = rooms[0].grown(-margin)
    box = block.box(rooms[0].centre)
    reach = (inner.width - box.width) / 2, (inner.height - box.height) / 2
    if min(reach) < 0:
        return None
    boards = [board.near(room.grown(clear - margin)) for room in rooms]
    # Whole eighths of a point keep the fractions short, and the search fast.
    across, along = (int(r * 8) for r in reach)
    tried = [Tried(near, block.box(room.centre), clear, room.grown(-margin)) for near, room in zip(boards, rooms)]
    for i, j in _OUTWARDS:
        if all(each.free(across * i, along * j) for each in tried):
            middles = [(x + Exact(across * i, STEP), y + Exact(along * j, STEP)) for x, y in (room.centre for room in rooms)]
            if all(near.free(block.box(middle), clear) for near, middle in zip(boards, middles)):
                return middles
    return None


_STEPS = (0, 2, -2, 4, -4, 6, -6, 8, -8)
_OUTWARDS = sorted(
    ((a, b) for a in _STEPS for b in _STEPS), key=lambda at: (abs(at[0]) + abs(at[1]), _STEPS.index(at[0]), _STEPS.index(at[1]))
)
"""Eighths of the reach, each way, the nearest to the middle first."""


def middles(room: Box, reach: tuple[Fraction, Fraction] | None = None) -> Iterator[Point]:
    """The centre of a room, then points ever further from it, at most `reach` away each way."""
    x, y = room.centre
    across, along = reach or (room.width * Exact(3, 8), room.height * Exact(3, 8))
    for i, j in _OUTWARDS:
        yield (x + across * Exact(i, 8) if i else x), (y + along * Exact(j, 8) if j else y)


_STRAIGHT, _SLANTING = ((0, 1), (0, -1), (1, 0), (-1, 0)), ((1, 1), (-1, 1), (1, -1), (-1, -1))


def led_out(
    draft: Draft, board: Board, start: Point, box_at: Callable[[Point], Box], room: Box, slant: int = 160, ended: bool = True
) -> Point | None:
    """Free room near a point for a box, with a thin line drawn to it; its middle, or None.

    Args:
        start: where the line begins, with a dot.
        box_at: the box when set at a middle.
        room: what the box must stay in.
        slant: how far a slanting line may run, points.
        ended: whether a dot marks its beginning; there is none where it begins on a line.
    """
    x, y = start
    tried = Tried(board, box_at(start), 3, room)
    for ways, most in ((_STRAIGHT, 100), (_SLANTING, slant), (_STRAIGHT, 320)):
        for far, (dx, dy) in product([*range(10, min(most, 60), 5), *range(60, most, 10)], ways):
            if not tried.free(dx * far * STEP, dy * far * STEP):
                continue
            middle = (x + dx * far, y + dy * far)
            box = box_at(middle)
            end = (
                box.left - 1 if dx > 0 else box.right + 1 if dx < 0 else middle[0],
                box.top - 1 if dy > 0 else box.bottom + 1 if dy < 0 else middle[1],
            )
            if board.free(box, 3) and board.open_line(start, end):
                board.rule(start, end)
                leader(draft, start, end)
                if ended:
                    dot(draft, start)
                return middle
    return None


def leader(draft: Draft, *ends: Point) -> None:
    """A thin line on a pale ground, so that it shows on dark papers as well."""
    draft.line("leader-ground", *ends)
    draft.line("leader", *ends)


def dot(draft: Draft, at: Point) -> None:
    """The dot at the end of a leader."""
    if draft.bare:
        return
    draft.polygon(circle(Exact(9, 4), *at), None, "patch")
    draft.polygon(circle(Exact(5, 4), *at), None, "ink")


def tag_box(text: str, middle: Point) -> Box:
    """The little tag that carries the number of a cut."""
    half = _tag_half(text)
    return Box(middle[0] - half, middle[1] - _TAG_HALF, middle[0] + half, middle[1] + _TAG_HALF)


_TAG_HALF = Exact(19, 4)
"""Half the height of a tag, points."""


@lru_cache(maxsize=1024)
def _tag_half(text: str) -> Fraction:
    """Half the width of a tag, points; it is asked for at every place that is tried."""
    return _eighths(fonts.width(text, 8, BOLD) / 2) + Exact(5, 2)


def draw_tag(draft: Draft, text: str, middle: Point) -> None:
    """A number on an ink ground: the strong colour is for what to do now."""
    draft.box(tag_box(text, middle), None, "number", Exact(5, 2))
    draft.text(text, middle[0], middle[1] + figure_height(8) / 2, 8, "tag", "middle", weight="bold")


DISC = Exact(11, 2)
"""Radius of a disc that carries a number, points."""


def draw_disc(draft: Draft, text: str, middle: Point) -> None:
    """A number on a round ink ground, with a rim that parts it from dark paper: an order in which something is done, other than cuts."""
    draft.polygon(circle(DISC + 1, *middle), None, "paper")
    draft.polygon(circle(DISC, *middle), None, "number")
    draft.text(text, middle[0], middle[1] + figure_height(8) / 2, 8, "tag", "middle", weight="bold")
