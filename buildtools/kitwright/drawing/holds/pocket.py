"""A pocket where it lies: where it is glued, which edge stays open, what goes in and how it is pulled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from kitwright.card.face import Placed
from kitwright.card.hold import along
from kitwright.card.pocket import Pocket
from kitwright.drawing import front
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import figure_height, fitted, round_scale, scale_text
from kitwright.drawing.front import Looks
from kitwright.drawing.holds.callouts import Callout, column_width, set_beside
from kitwright.drawing.labels import find_place, label_blocks
from kitwright.drawing.placing import Board, hatched
from kitwright.drawing.scene import Box, Draft, Frame, Number, Point, Scene, points
from kitwright.exact import Exact
from kitwright.kit.model.text import Edge
from kitwright.telling import holds as words
from kitwright.units import size_text

EDGE = Exact(6)
PALE = Exact(1, 3)
"""How strong papers are shown, so that what lies hidden shows on them."""
_PULL = Exact(30)
"""Length of the arrow that says where to something is pulled, points."""
_WAYS: dict[Edge, tuple[int, int]] = {"top": (0, -1), "right": (1, 0), "bottom": (0, 1), "left": (-1, 0)}
_GAP, _SMALL = Exact(16), Exact(1, 4)


def pocket_picture(
    stack: Sequence[Placed], pocket: Placed, looks: Looks, *, unit: str = "in", width: Number = 340, height: Number | None = None
) -> Scene:
    """A pocket on its face.

    Args:
        stack: what lies on that face, the panel of the card base first.
        pocket: the one of these that is a pocket.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points.
    """
    drawing = _Drawing(stack, pocket, looks, unit, Exact(width))
    card = stack[0].rect
    return fitted(lambda scale: _Drawing(stack, pocket, looks, unit, Exact(width)).drawn(scale), drawing.widest(), card.height, height)


@dataclass
class _Drawing:
    stack: Sequence[Placed]
    placed: Placed
    looks: Looks
    unit: str
    width: Fraction
    draft: Draft = field(default_factory=Draft)
    board: Board = field(default_factory=Board)

    @property
    def pocket(self) -> Pocket:
        assert self.placed.hold and self.placed.hold.pocket, f"{self.placed.label} is a pocket"
        return self.placed.hold.pocket

    @property
    def tags(self) -> list[Placed]:
        """What is pushed into it."""
        home = [p for p in self.stack if p.hold and p.hold.into == self.placed.label]
        return [p for p in home if p.rect.overlaps(self.placed.rect)]

    # --- room -------------------------------------------------------------------------------------

    def _said(self) -> list[list[str]]:
        said = [words.open_edge(self.pocket), words.glue(self.pocket, self.unit)]
        return said + [words.spare(tag.label, self.pocket, tag.rect.size, self.unit) for tag in self.tags]

    @property
    def _column(self) -> Fraction:
        return column_width(self._said(), (self.width - 2 * EDGE) * Exact(2, 5))

    def _beside(self, edge: Edge, scale: Fraction) -> Fraction:
        """How far the arrow reaches past an edge of the card."""
        if not self.tags or self.pocket.open != edge:
            return Exact(0)
        card, tag = self.stack[0].rect, self.tags[0].rect
        inside = {"top": tag.y - card.y, "bottom": card.bottom - tag.bottom, "left": tag.x - card.x, "right": card.right - tag.right}[edge]
        return max(_PULL + 6 - points(inside, scale), Exact(0))

    def widest(self) -> Fraction:
        # The smaller it is drawn, the further the arrow reaches past the card.
        past = self._beside("left", _SMALL) + self._beside("right", _SMALL)
        room = self.width - 2 * EDGE - self._column - _GAP - past
        return round_scale(min(room / (self.stack[0].rect.width.inches * 72), Exact(1)))

    # --- drawing ------------------------------------------------------------------------------------

    def drawn(self, scale: Fraction) -> Scene:
        draft, tags = self.draft, self.tags
        title = words.pocket_title(self.placed.label, ", ".join(tag.label for tag in tags))
        draft.text(title, EDGE, EDGE + figure_height(10), 10, "title", weight="semibold")
        top = EDGE + figure_height(10) + 10 + self._beside("top", scale)
        frame = Frame(EDGE + self._beside("left", scale), top, scale)
        card = frame.box(self.stack[0].rect)
        for placed in self.stack[: self.stack.index(self.placed)]:
            bold = placed in tags or placed is self.stack[0]
            front.paper(draft, placed, frame, self.looks, strength=1 if bold else PALE, line="edge" if bold else "paper-edge")
        strips = self._glued(frame)
        for tag in tags:
            self._tag(frame, tag)
        box, right = frame.box(self.placed.rect), card.right + self._beside("right", scale) + _GAP
        side = min(strips, key=lambda strip: (-strip.right, strip.width))
        glued = (
            side.centre[0] if side.width < side.height else side.right - side.height * 2,
            side.top + side.height / (3 if side.width < side.height else 2),
        )
        callouts = [Callout(self._mouth(box), self._said()[0]), Callout(glued, self._said()[1])]
        callouts += [Callout(self._gap(frame, tag), said) for tag, said in zip(tags, self._said()[2:])]
        bottom = set_beside(draft, self.board, callouts, right, self._column, card.top + 4)
        self._labels(frame)
        low = max(bottom, card.bottom + self._beside("bottom", scale), draft.below()) + 8
        signs = [CaptionNote(words.GLUED, hatch="glue")]
        if tags:
            signs.append(CaptionNote(words.LIES_HIDDEN, line="hidden"))
        low = notes(draft, [[*signs, CaptionNote(scale_text(scale))]], EDGE, self.width - EDGE, low)
        first = tags[0] if tags else None
        alt = words.pocket_alt(self.placed.label, self.pocket, first.label if first else "", first.rect.size if first else None, self.unit)
        return draft.scene(self.width, low + EDGE, title, alt, scale)

    def _glued(self, frame: Frame) -> list[Box]:
        """The pocket, and the hatched strips along which it is glued."""
        front.paper(self.draft, self.placed, frame, self.looks, strength=PALE)
        closed, *sides = self.pocket.glued
        end = frame.box(along(self.placed.rect, closed, self.pocket.glue))
        strips = [end]
        for edge in sides:
            box = frame.box(along(self.placed.rect, edge, self.pocket.glue))
            strips.append(_without(box, end, closed))
        for strip in strips:
            self.draft.lines("glue", hatched(strip, step=5))
        self.draft.box(self._inner(frame), "hidden")
        front_edges = front.edges(self.placed, frame)
        for contour in front_edges:
            self.draft.polygon(contour, "edge")
        return strips

    def _inner(self, frame: Frame) -> Box:
        """The room inside, as wide and deep as the glue leaves it."""
        box, wide = frame.box(self.placed.rect), frame.scale * self.pocket.glue.inches * 72
        left, top, right, low = (box.left, box.top, box.right, box.bottom)
        glued = self.pocket.glued
        return Box(
            left + (wide if "left" in glued else 0),
            top + (wide if "top" in glued else 0),
            right - (wide if "right" in glued else 0),
            low - (wide if "bottom" in glued else 0),
        )

    def _tag(self, frame: Frame, tag: Placed) -> None:
        """What goes in: its edges dashed where the pocket hides them, and which way it is pulled."""
        cover = frame.box(self.placed.rect)
        hidden = [(a, b) for contour in front.edges(tag, frame) for a, b in zip(contour, contour[1:] + contour[:1])]
        self.draft.lines("hidden", [part for a, b in hidden for part in _clipped(a, b, cover)])
        for a, b in hidden:
            self.board.rule(a, b)
        self._arrow(frame.box(tag.rect))

    def _labels(self, frame: Frame) -> None:
        """The pocket's label, and that of what goes in where it shows; clear of the lines to the words."""
        self._label(self.placed, self._inner(frame))
        for tag in self.tags:
            shown = _shown(frame.box(tag.rect), frame.box(self.placed.rect), self.pocket.open)
            if shown:
                self._label(tag, shown)

    def _label(self, placed: Placed, room: Box) -> None:
        for block in label_blocks(placed.label, size_text(placed.rect.size, self.unit)):
            middle = find_place(self.board, block, room)
            if middle is not None:
                calm = front.look_of(placed, self.looks).calm
                block.draw(self.draft, middle, None if calm else room)
                self.board.take(block.box(middle))
                return

    def _arrow(self, whole: Box) -> None:
        """From the tag out of the pocket, with a word."""
        dx, dy = _WAYS[self.pocket.open]
        x, y = whole.centre
        ax, ay = {"top": (x, whole.top - 2), "bottom": (x, whole.bottom + 2), "left": (whole.left - 2, y), "right": (whole.right + 2, y)}[
            self.pocket.open
        ]
        bx, by = ax + _PULL * dx, ay + _PULL * dy
        self.draft.line("ring-ground", (ax, ay), (bx, by))
        self.draft.line("accent", (ax, ay), (bx - 5 * dx, by - 5 * dy))
        self.draft.polygon(
            ((bx, by), (bx - 7 * dx - 4 * dy, by - 7 * dy + 4 * dx), (bx - 7 * dx + 4 * dy, by - 7 * dy - 4 * dx)), None, "tag"
        )
        at = (bx + 8, by + 8 if dy < 0 else by - 6) if dy else (bx - 2 * dx, by - 8)
        said = self.draft.text(words.PULL, *at, 9, "accent", "end" if dx > 0 else "start", weight="semibold")
        self.draft.box(said.box.grown(3, 2), None, "patch", 3)
        self.board.take(said.box)

    def _mouth(self, box: Box) -> Point:
        """A place on the open edge, towards the words."""
        x, y = box.left + box.width * Exact(5, 6), box.top + box.height / 3
        return {"top": (x, box.top), "bottom": (x, box.bottom), "left": (box.left, y), "right": (box.right, y)}[self.pocket.open]

    def _gap(self, frame: Frame, tag: Placed) -> Point:
        """A place in the air beside what goes in, towards the words."""
        inner, whole = self._inner(frame), frame.box(tag.rect)
        if self.pocket.upright:
            return (whole.right + inner.right) / 2, inner.top + inner.height * Exact(3, 4)
        return inner.left + inner.width * Exact(7, 8), (whole.bottom + inner.bottom) / 2


def _without(box: Box, end: Box, closed: Edge) -> Box:
    """A strip along a side, short of the strip at the closed end."""
    if closed == "bottom":
        return Box(box.left, box.top, box.right, end.top)
    if closed == "top":
        return Box(box.left, end.bottom, box.right, box.bottom)
    if closed == "right":
        return Box(box.left, box.top, end.left, box.bottom)
    return Box(end.right, box.top, box.right, box.bottom)


def _shown(whole: Box, cover: Box, edge: Edge) -> Box | None:
    """What of a tag sticks out of the open edge."""
    if edge == "top":
        box = Box(whole.left, whole.top, whole.right, cover.top)
    elif edge == "bottom":
        box = Box(whole.left, cover.bottom, whole.right, whole.bottom)
    elif edge == "left":
        box = Box(whole.left, whole.top, cover.left, whole.bottom)
    else:
        box = Box(cover.right, whole.top, whole.right, whole.bottom)
    return box if box.width > 0 and box.height > 0 else None


def _clipped(start: Point, end: Point, box: Box) -> list[tuple[Point, Point]]:
    """The stretch of a straight line that lies in a box."""
    (ax, ay), (bx, by) = start, end
    low, high = Exact(0), Exact(1)
    for near, far, a, b in ((box.left, box.right, ax, bx), (box.top, box.bottom, ay, by)):
        if a == b:
            if not near < a < far:
                return []
            continue
        first, last = sorted((Exact(near - a) / (b - a), Exact(far - a) / (b - a)))
        low, high = max(low, first), min(high, last)
    return [((ax + (bx - ax) * low, ay + (by - ay) * low), (ax + (bx - ax) * high, ay + (by - ay) * high))] if low < high else []
