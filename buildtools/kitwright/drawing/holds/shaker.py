"""A shaker: the frame with its foam and film from the front, and a cut through its window, thickness drawn larger."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from kitwright.card.face import Placed
from kitwright.card.shaker import Shaker
from kitwright.drawing import front
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import figure_height, fitted, round_scale, scale_text
from kitwright.drawing.front import Looks
from kitwright.drawing.holds.callouts import Callout, column_width, set_beside
from kitwright.drawing.holds.pocket import EDGE, PALE
from kitwright.drawing.labels import find_place, label_blocks
from kitwright.drawing.looks import lay
from kitwright.drawing.placing import Board, hatched
from kitwright.drawing.scene import Box, Draft, Frame, Number, Point, Scene, circle, points, rounded
from kitwright.exact import Exact
from kitwright.materials import Range
from kitwright.telling import holds as words
from kitwright.units import MM, Length, size_text

_GAP = Exact(16)
_TIMES = (1, 2, 4, 5, 8, 10, 15, 20, 30)
"""How many times thickness may be drawn larger."""
_CUT_HIGH = Exact(60)
"""The cut is no higher, points."""
_SCATTERED = ((1, 9), (3, 8), (5, 9), (7, 8), (9, 9), (11, 8))
"""Where what lies loose is drawn: twelfths of the window from its left, tenths from its top."""


def shaker_picture(
    stack: Sequence[Placed],
    frame: Placed,
    looks: Looks,
    thickness: Mapping[str, Range],
    foam: Range,
    *,
    inside: str = "",
    names: Mapping[str, str] | None = None,
    unit: str = "in",
    width: Number = 340,
    height: Number | None = None,
) -> Scene:
    """A shaker on its face.

    Args:
        stack: what lies on that face, the panel of the card base first.
        frame: the one of these that is its frame.
        looks: how each paper is drawn, by (paper, face).
        thickness: of each paper, millimetres.
        foam: how thick the foam is, millimetres.
        inside: what lies loose in it.
        names: what layers are called that go by other words than their labels.
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points.
    """

    def drawing() -> _Drawing:
        return _Drawing(stack, frame, looks, thickness, foam, inside, names or {}, unit, Exact(width))

    return fitted(lambda scale: drawing().drawn(scale), drawing().widest(), stack[0].rect.height, height)


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the cut."""

    said: str
    thick: Length
    """At most."""
    spans: tuple[tuple[Length, Length], ...]
    """From where to where it is cut, from the left of the face."""
    placed: Placed | None
    """The paper; None for foam."""


@dataclass
class _Drawing:
    stack: Sequence[Placed]
    placed: Placed
    looks: Looks
    thickness: Mapping[str, Range]
    foam: Range
    inside: str
    names: Mapping[str, str]
    unit: str
    width: Fraction
    draft: Draft = field(default_factory=Draft)
    board: Board = field(default_factory=Board)

    @property
    def shaker(self) -> Shaker:
        assert self.placed.hold and self.placed.hold.shaker, f"{self.placed.label} is a shaker"
        return self.placed.hold.shaker

    # --- room -------------------------------------------------------------------------------------

    def _said(self) -> list[list[str]]:
        return [words.strips(self.shaker, self.unit), words.film(self.shaker, self.unit), words.loose(self.inside)]

    @property
    def _column(self) -> Fraction:
        layers = [[layer.said] for layer in self.layers()]
        return column_width([*self._said(), *layers], (self.width - 2 * EDGE) * Exact(2, 5))

    def widest(self) -> Fraction:
        room = self.width - 2 * EDGE - self._column - _GAP
        return round_scale(min(room / (self.stack[0].rect.width.inches * 72), Exact(1)))

    # --- drawing ------------------------------------------------------------------------------------

    def drawn(self, scale: Fraction) -> Scene:
        draft = self.draft
        title = words.shaker_title(self.placed.label)
        draft.text(title, EDGE, EDGE + figure_height(10), 10, "title", weight="semibold")
        frame = Frame(EDGE, EDGE + figure_height(10) + 10, scale)
        card = frame.box(self.stack[0].rect)
        starts = self._front(frame)
        right = card.right + _GAP
        bottom = set_beside(
            draft, self.board, [Callout(at, said) for at, said in zip(starts, self._said())], right, self._column, card.top + 4
        )
        self._label(frame.box(self.shaker.window))
        times = self._times(scale)
        y = max(bottom, card.bottom) + 16 + figure_height(9)
        draft.text(words.cut_through(times), EDGE, y, 9, "title", weight="semibold")
        low = self._cut(frame, y + 10, times, right) + 10
        signs = [
            CaptionNote(words.FOAM, hatch="glue"),
            CaptionNote(words.LIES_HIDDEN, line="hidden"),
            CaptionNote(words.FILM_EDGE, line="film"),
        ]
        low = notes(draft, [[*signs, CaptionNote(scale_text(scale))]], EDGE, self.width - EDGE, max(low, draft.below() + 8))
        alt = words.shaker_alt(self.placed.label, self.shaker, [layer.said for layer in self.layers()], self.inside, self.unit)
        return draft.scene(self.width, low + EDGE, title, alt, scale)

    def _front(self, frame: Frame) -> list[Point]:
        """The face with the frame on it; returns places in the foam, on the film's edge, and on something loose."""
        draft, shaker = self.draft, self.shaker
        at = self.stack.index(self.placed)
        for placed in self.stack[:at]:
            if not (placed.hold and placed.hold.way == "film"):
                front.paper(draft, placed, frame, self.looks, strength=PALE)
        window = frame.box(shaker.window)
        grains = [(window.left + window.width * Exact(a, 12), window.top + window.height * Exact(b, 10)) for a, b in _SCATTERED]
        for grain in grains:
            draft.polygon(circle(min(window.width / 30, Exact(3)), *grain), "paper-edge", "mark")
        front.paper(draft, self.placed, frame, self.looks, strength=PALE)
        for strip in shaker.strips:
            box = frame.box(strip)
            draft.lines("glue", hatched(box, step=5))
            draft.box(box, "hidden")
        draft.box(frame.box(shaker.film), "film")
        for contour in front.edges(self.placed, frame):
            draft.polygon(contour, "edge")
        right, film = frame.box(shaker.strips[1]), frame.box(shaker.film)
        return [(right.centre[0], right.top + right.height / 5), (film.right, film.top + film.height / 2), grains[-1]]

    def _label(self, window: Box) -> None:
        """The frame's label, in its window above what is loose."""
        room = Box(window.left, window.top, window.right, window.top + window.height * Exact(11, 20))
        for block in label_blocks(self.placed.label, size_text(self.placed.rect.size, self.unit)):
            middle = find_place(self.board, block, room)
            if middle is not None:
                block.draw(self.draft, middle, room)
                return

    # --- the cut -------------------------------------------------------------------------------------

    def layers(self) -> list[Layer]:
        """What is cut halfway up the window, from below."""
        shaker, at = self.shaker, self.stack.index(self.placed)
        across = shaker.window.y + shaker.window.height / 2
        found: list[Layer] = []
        for placed in self.stack[: at + 1]:
            rect, film = placed.rect, bool(placed.hold and placed.hold.way == "film")
            if not rect.y < across < rect.bottom or not rect.overlaps(shaker.outer):
                continue
            if film and placed.hold and placed.hold.shaker != shaker:
                continue
            if film or placed is self.placed:
                found += self._foam(found)
            parted = ((rect.x, shaker.window.x), (shaker.window.right, rect.right))
            spans = parted if placed is self.placed else ((rect.x, rect.right),)
            found.append(self._layer(self.names.get(placed.label, placed.label), self.thickness[placed.paper], spans, placed))
        return found

    def _foam(self, before: Sequence[Layer]) -> list[Layer]:
        if any(layer.placed is None for layer in before):
            return []
        spans = tuple((strip.x, strip.right) for strip in (self.shaker.strips[3], self.shaker.strips[1]))
        return [self._layer(words.FOAM_NAME, self.foam, spans, None)]

    def _layer(self, name: str, thick: Range, spans: tuple[tuple[Length, Length], ...], placed: Placed | None) -> Layer:
        return Layer(words.layer(name, thick, self.unit), Length(thick.high * MM), spans, placed)

    def _times(self, scale: Fraction) -> int:
        """How many times thickness is drawn larger: as many as there is room for."""
        whole = points(sum((layer.thick for layer in self.layers()), Length(0)), scale)
        return max(times for times in _TIMES if times == 1 or whole * times <= _CUT_HIGH)

    def _cut(self, frame: Frame, top: Fraction, times: int, right: Fraction) -> Fraction:
        """The cut, its topmost layer at `top`; returns the y below it and its words."""
        draft, layers = self.draft, self.layers()
        highs = [points(layer.thick, frame.scale) * times for layer in layers]
        foot = top + sum(highs, Exact(0))
        y, callouts = foot, []
        for layer, high in zip(layers, highs):
            boxes = [Box(frame.point(a, a)[0], y - high, frame.point(b, b)[0], y) for a, b in layer.spans]
            if layer.placed is None:
                self._loose(frame, y, high)
            for box in boxes:
                self._slab(box, layer)
            callouts.append(Callout((boxes[-1].right - min(boxes[-1].width / 2, Exact(8)), y - high / 2), [layer.said]))
            y -= high
        return max(foot, set_beside(draft, self.board, callouts, right, self._column, top - 6))

    def _slab(self, box: Box, layer: Layer) -> None:
        draft = self.draft
        if layer.placed is None:
            draft.box(box, None, "white")
            draft.lines("glue", hatched(box, step=5))
            draft.box(box, "edge")
            return
        look = front.look_of(layer.placed, self.looks)
        draft.shapes.append(lay(type(look)("plain", look.colours[:1]), box.corners, (box.left, box.top), Exact(1), strength=PALE))
        draft.box(box, "edge")

    def _loose(self, frame: Frame, floor: Fraction, high: Fraction) -> None:
        """What lies loose, on the floor, lower than the foam."""
        window = frame.box(self.shaker.window)
        tall, half = min(high / 3, Exact(7)), min(window.width / 16, Exact(6))
        for a, _ in _SCATTERED[::2]:
            x = window.left + window.width * Exact(a + 1, 12)
            self.draft.polygon(rounded(Box(x - half, floor - tall, x + half, floor), tall / 2), "paper-edge", "mark")
