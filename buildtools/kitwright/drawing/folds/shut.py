"""The closed card from its front, and its layers seen from the end, drawn apart."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property

from kitwright.drawing import fonts
from kitwright.drawing.caption import CaptionNote
from kitwright.drawing.dimensions import FIGURE, Span, along_room, chain_across, chain_along, figure_height
from kitwright.drawing.folds.part import Room, wide_enough
from kitwright.drawing.folds.plate import Plate
from kitwright.drawing.placing import edges
from kitwright.drawing.scene import Box, Contour, Frame, Point, points, quarter
from kitwright.exact import Exact
from kitwright.folding import Closed, Side
from kitwright.telling import panels as words
from kitwright.units import ZERO, Length, figure

LAYER = Exact(11, 2)
"""From one layer to the next, points."""
_AWAY = Exact(12)
"""From the card to its layers, points."""
_BESIDE = Exact(4)
"""From a fold to the dashes that say so, points."""


class Shut:
    """The closed card as one of the drawings of a fold."""

    def __init__(self, plate: Plate) -> None:
        self.plate, self.closed = plate, plate.closed
        self.stack = Stack(plate.closed)

    @property
    def heading(self) -> str:
        return words.closed_text(self.closed, self.plate.breadth, self.plate.unit)

    def room(self, scale: Fraction) -> Room:
        """What it takes around the card’s top left corner."""
        size = words.closed_size(self.closed, self.plate.breadth)
        wide, high = points(size.width, scale), points(size.height, scale)
        said = fonts.width(words.layers_text(self.closed), FIGURE)
        if self.plate.down:
            before, after = self.stack.past
            below = (36 if self._narrow(scale) else 22) if self._parted else 0
            return wide_enough(
                Room(max(before, Exact(6)), Exact(2), max(wide + max(after, Exact(8)), said), high + below + _AWAY + self.stack.high + 16),
                self.heading,
            )
        chain = along_room([figure(end - start, self.plate.unit) for start, end, _, _ in self.closed.seen()]) if self._parted else Exact(0)
        across = wide + chain + _AWAY + self.stack.high + 2
        return wide_enough(Room(Exact(2), Exact(8), max(across, said), self._under(high) + 16), self.heading)

    def draw(self, corner: Point, scale: Fraction) -> list[CaptionNote]:
        """Draw it from its top left corner."""
        plate, frame = self.plate, Frame(*corner, scale)
        hidden = self._faces(frame)
        self._names(frame, hidden)
        self._folds(frame)
        right, low = plate.at(frame, self.closed.length, plate.breadth)
        if self._parted:
            low, right = self._sizes(frame, low, right)
        self._layers(frame, low, right)
        return []

    # --- the card ---------------------------------------------------------------------------------

    def _contour(self, frame: Frame, start: Length, end: Length) -> Contour:
        return Box(*self.plate.at(frame, start, ZERO), *self.plate.at(frame, end, self.plate.breadth)).corners

    def seen(self) -> list[tuple[Length, Length, str, Side]]:
        """What of which face shows, stretch by stretch; what one panel shows is one stretch."""
        found: list[tuple[Length, Length, str, Side]] = []
        for start, end, panel, side in self.closed.seen():
            if found and found[-1][2:] == (panel, side) and found[-1][1] == start:
                start = found.pop()[0]
            found.append((start, end, panel, side))
        return found

    def on_picture(self, frame: Frame, panel: str, side: Side):
        """Carries a place on a face, as it is read, to where it lies on the closed card."""

        def to(x: Length, y: Length) -> Point:
            along, across = (x, y) if self.plate.down else (y, x)
            return self.plate.at(frame, self.closed.on_closed(panel, side, along, along)[0], across)

        return to

    def _faces(self, frame: Frame) -> list[tuple[Point, Point]]:
        """Papers, visible ends, and what lies on the faces; returns the ends that lie hidden."""
        plate, base = self.plate, self.closed.base
        seen = {panel for _, _, panel, _ in self.seen()}
        for level in sorted(set(self.stack.levels)):
            # Panels beside one another first, then what lies on them: it may reach from one onto the other.
            panels = [i for i, each in enumerate(self.stack.levels) if each == level and base.panels[i] in seen]
            sides = {base.panels[i]: base.shown(self.closed.lying[i].turned) for i in panels}
            for i in panels:
                lying = self.closed.lying[i]
                plate.paper(self._contour(frame, lying.start, lying.end), sides[base.panels[i]], frame.scale)
            for on in plate.lies:
                if sides.get(on.panel) == on.side:
                    plate.lay(on, self.on_picture(frame, on.panel, on.side), frame.scale)
        tops = {start for start, *_ in self.seen()} | {self.closed.length}
        ends = {at for panel in self.closed.lying for at in (panel.start, panel.end)} - tops
        hidden = [(plate.at(frame, at, ZERO), plate.at(frame, at, plate.breadth)) for at in sorted(ends)]
        plate.draft.lines("hidden", hidden)
        plate.hides |= bool(hidden)
        return hidden

    def _names(self, frame: Frame, hidden: list[tuple[Point, Point]]) -> None:
        plate = self.plate
        for line in hidden:
            plate.board.rule(*line)
        for start, end, panel, side in self.seen():
            name, contour = words.face_name(self.closed, panel, side), self._contour(frame, start, end)
            plate.name(contour, name, side, patched=bool(plate.lies))

    def _folds(self, frame: Frame) -> None:
        """Long dashes beside the edges that are folds."""
        plate, last = self.plate, self.closed.length
        creases = {self.closed.lying[self.closed.base.beside(score)[0]].at(score.at) for score in self.closed.base.scores}
        for at, away in ((ZERO, -_BESIDE), (last, _BESIDE)):
            if at in creases:
                ends = [plate.at(frame, at, end) for end in (ZERO, plate.breadth)]
                plate.folds = True
                plate.draft.line("fold", *((x + away, y) if plate.down else (x, y + away) for x, y in ends))

    def _under(self, high: Fraction) -> Fraction:
        """How far below its upper edge a card of this height that is folded across is clear of bends, dashes and figures, points."""
        figures = len(self.closed.seen()) * (figure_height() + 4) if self._parted else Exact(0)
        return max(high + max(self.stack.past[1], Exact(12 if self._parted else 6)), figures)

    @property
    def _parted(self) -> bool:
        """Whether something shows in part: how much then stands beside the card."""
        spans = {panel: last - first for panel, (first, last) in zip(self.closed.base.panels, self.closed.base.spans())}
        return any(end - start != spans[panel] for start, end, panel, _ in self.seen())

    def _narrow(self, scale: Fraction) -> bool:
        semibold = fonts.Font("sans", "semibold")
        return any(
            fonts.width(figure(end - start, self.plate.unit), FIGURE, semibold) + 5 > points(end - start, scale)
            for start, end, _, _ in self.seen()
        )

    def _sizes(self, frame: Frame, low: Fraction, right: Fraction) -> tuple[Fraction, Fraction]:
        plate, across = self.plate, 0 if self.plate.down else 1
        spans = [
            Span(plate.at(frame, start, ZERO)[across], plate.at(frame, end, ZERO)[across], figure(end - start, plate.unit))
            for start, end, _, _ in self.seen()
        ]
        if plate.down:
            return chain_across(plate.draft, plate.board, spans, low, low + 15, (frame.x - 4, right + 8)), right
        return low, chain_along(plate.draft, plate.board, spans, right, right + 9, (frame.y - 4, low + 4))

    # --- the layers -------------------------------------------------------------------------------

    def _layers(self, frame: Frame, low: Fraction, right: Fraction) -> None:
        plate, stack = self.plate, self.stack
        if plate.down:
            foot = low + _AWAY + stack.high
            line = [(frame.x + along, foot - off) for along, off in stack.line(frame.scale)]
            said = (frame.x - (6 if stack.past[0] else 0), foot + 6 + figure_height() + 3)
        else:
            side = right + _AWAY + stack.high
            line = [(side - off, frame.y + along) for along, off in stack.line(frame.scale)]
            high = plate.at(frame, self.closed.length, ZERO)[1] - frame.y
            said = (frame.x, frame.y + self._under(high) + figure_height() + 3)
        plate.draft.line("sheet", *line)
        for a, b in edges(tuple(line), False):
            plate.board.rule(a, b)
        text = plate.draft.text(words.layers_text(self.closed), *said, FIGURE, "note")
        plate.board.take(text.box)


class Stack:
    """The layers of a closed card, seen from the end and drawn apart: one line from end to end of the base, round at its folds."""

    def __init__(self, closed: Closed) -> None:
        self.closed = closed
        self.levels = _levels(closed)

    @property
    def high(self) -> Fraction:
        """How high it is, points."""
        return max(self.levels) * LAYER

    @cached_property
    def past(self) -> tuple[Fraction, Fraction]:
        """How far its bends reach past the card’s first and last edge, points; more than they do."""
        bends = [self._bulge(i) for i in range(len(self.closed.base.panels) - 1)]
        return (
            max((-bulge for bulge in bends if bulge < 0), default=Exact(0)) + 2,
            max((bulge for bulge in bends if bulge > 0), default=Exact(0)) + 2,
        )

    def line(self, scale: Fraction) -> list[Point]:
        """Its stops: along the card, and how far off the lowest layer, points."""
        closed = self.closed
        edges_flat = closed.base.edges

        def stop(panel: int, x: Length) -> Point:
            return points(closed.lying[panel].at(x), scale), self.levels[panel] * LAYER

        found = [stop(0, edges_flat[0])]
        for i in range(len(closed.base.panels) - 1):
            found += _bend(stop(i, edges_flat[i + 1]), stop(i + 1, edges_flat[i + 1]), self._bulge(i))
        return [*found, stop(len(closed.base.panels) - 1, edges_flat[-1])]

    def _crease(self, i: int) -> tuple[Length, bool, int, int]:
        """The fold after a panel: where it lies, whether it bulges towards the end, its lower and its higher layer."""
        lying = self.closed.lying
        at = lying[i].at(self.closed.base.edges[i + 1])
        low, high = sorted((self.levels[i], self.levels[i + 1]))
        return at, lying[i].start < at, low, high

    def _bulge(self, i: int) -> Fraction:
        """How far a fold reaches out: further the more folds it holds."""
        return (1 if self._crease(i)[1] else -1) * LAYER * Exact(self._nested(i) + 1, 2)

    def _nested(self, i: int) -> int:
        at, forth, low, high = self._crease(i)
        within = [
            j
            for j in range(len(self.closed.base.panels) - 1)
            for place, way, least, most in (self._crease(j),)
            if j != i and way == forth and low < least and most < high and ((place > at - _NEAR) if forth else (place < at + _NEAR))
        ]
        ends = high - low > 1
        return max((self._nested(j) + 1 for j in within), default=1 if ends else 0)


_NEAR = Length(Exact(1, 2))
"""Bends nearer than this to one another are kept apart."""


def _levels(closed: Closed) -> list[int]:
    """Which layer each panel is drawn in, 0 the lowest: over all that it lies on."""
    count = len(closed.lying)
    under = {i: [q for p, q in closed.above if p == i] for i in range(count)}
    levels: dict[int, int] = {}

    def level(i: int) -> int:
        if i not in levels:
            levels[i] = max((level(q) + 1 for q in under[i]), default=0)
        return levels[i]

    return [level(i) for i in range(count)]


def _bend(start: Point, end: Point, bulge: Fraction) -> list[Point]:
    """A round bend from one layer to another, from the first stop to the last."""
    (x, a), (_, b) = start, end
    rise = min(abs(b - a) / 2, abs(bulge)) * (1 if b > a else -1)
    turn = [(x + bulge * s, rise - rise * c) for s, c in quarter(6)]
    return [*((p, a + q) for p, q in turn), *((p, b - q) for p, q in reversed(turn))]
