"""The base laid flat: its panels with their sizes, its score lines in their order, and which way each folds."""

from __future__ import annotations

from fractions import Fraction

from kitwright.drawing import fonts
from kitwright.drawing.caption import CaptionNote
from kitwright.drawing.dimensions import FIGURE, Span, along_room, chain_across, chain_along, figure_height
from kitwright.drawing.folds.part import Room, wide_enough
from kitwright.drawing.folds.plate import Plate
from kitwright.drawing.labels import DISC, draw_disc, leader
from kitwright.drawing.placing import spread
from kitwright.drawing.scene import Box, Draft, Frame, Point, points
from kitwright.exact import Exact
from kitwright.folding import Direction, Score
from kitwright.telling import panels as words
from kitwright.units import ZERO, figure

_SIGN = Exact(10)
"""Width of a profile sign, points; it is half as high."""
_AWAY = Exact(14)
"""A sign stands no further than this from its score line, points; else all are told in the key."""
_LINE = Exact(13)
"""From one line of signs to the next, points."""


def signs_wide() -> Fraction:
    """The width of a disc with its sign and its words beside one another."""
    return 2 * DISC + 4 + _SIGN + 4 + _said()


def _said() -> Fraction:
    return max(fonts.width(said, FIGURE) for said in words.FOLDS.values())


class Flat:
    """The flat base as one of the drawings of a fold."""

    def __init__(self, plate: Plate) -> None:
        self.plate, self.base = plate, plate.closed.base

    @property
    def heading(self) -> str:
        return words.flat_text(self.plate.closed) if self.base.scores else ""

    def room(self, scale: Fraction) -> Room:
        """What it takes around the base’s top left corner."""
        size = words.flat_size(self.base, self.plate.breadth)
        wide, high = points(size.width, scale), points(size.height, scale)
        above = 0 if not self.base.scores else 27 if self._crowded(scale) else 32
        if self.plate.down and not self.plate.sized:
            return wide_enough(Room(Exact(2), Exact(above), wide + 2, high + 4), self.heading)
        if self.plate.down:
            right = wide + along_room([figure(self.plate.breadth, self.plate.unit)])
            return wide_enough(
                Room(Exact(2), Exact(above), right, high + (36 if self.base.scores else 22) + (12 if self._narrow(scale) else 0)),
                self.heading,
            )
        left = 2 * DISC + 14 + _SIGN if self._crowded(scale) else signs_wide() + 10
        sizes = [self._size(i) for i in range(len(self.base.panels))]
        right = wide + along_room(sizes) + 6 + along_room([figure(self.base.length, self.plate.unit)]) - 9
        right = right if self.plate.sized else wide + 2
        _, places = self._places(scale, Exact(0), _LINE)
        signs = [at + _LINE / 2 for at in (-places[0], places[-1])] if places else [Exact(0), Exact(0)]
        return wide_enough(Room(left, max(signs[0], Exact(6)), right, max(high + 22, signs[1])), self.heading)

    def draw(self, corner: Point, scale: Fraction) -> list[CaptionNote]:
        """Draw it from its top left corner; returns what the key says of its score lines."""
        plate, frame = self.plate, Frame(*corner, scale)
        side = self.base.shown(False)
        upright = [plate.closed.upright(panel, side) for panel in self.base.panels]
        for i, (first, last) in enumerate(self.base.spans()):
            contour = self._panel(frame, first, last)
            plate.paper(contour, side, scale, None)
            name = words.face_name(plate.closed, self.base.panels[i], side)
            under = words.up_text(upright[i]) if not all(upright) else ""
            plate.name(contour, name, side, under=under)
        plate.draft.polygon(self._panel(frame, ZERO, self.base.length), "sheet")
        plate.draft.lines("score", [(plate.at(frame, s.at, ZERO), plate.at(frame, s.at, plate.breadth)) for s in self.base.scores])
        if plate.sized:
            self._sizes(frame)
        return self._signs(frame)

    def _panel(self, frame: Frame, first, last) -> tuple[Point, ...]:
        box = Box(*self.plate.at(frame, first, ZERO), *self.plate.at(frame, last, self.plate.breadth))
        return box.corners

    # --- sizes ------------------------------------------------------------------------------------

    def _size(self, panel: int) -> str:
        first, last = self.base.spans()[panel]
        return figure(last - first, self.plate.unit)

    def _narrow(self, scale: Fraction) -> bool:
        """Whether a panel is too narrow for its figure between the ends of its dimension."""
        semibold = fonts.Font("sans", "semibold")
        return any(
            fonts.width(self._size(i), FIGURE, semibold) + 5 > points(last - first, scale)
            for i, (first, last) in enumerate(self.base.spans())
        )

    def _sizes(self, frame: Frame) -> None:
        """Every panel, the whole, and the side that no score line parts."""
        plate, unit = self.plate, self.plate.unit
        (left, top), (right, low) = plate.at(frame, ZERO, ZERO), plate.at(frame, self.base.length, plate.breadth)
        across = 0 if plate.down else 1
        ends = [plate.at(frame, at, ZERO)[across] for at in self.base.edges]
        spans = [Span(a, b, self._size(i)) for i, (a, b) in enumerate(zip(ends, ends[1:]))]
        whole = [Span(ends[0], ends[-1], figure(self.base.length, unit))]
        if plate.down:
            bottom = chain_across(plate.draft, plate.board, spans, low, low + 15, (left - 2, right + 30))
            if self.base.scores:
                chain_across(plate.draft, plate.board, whole, bottom - 2, bottom + 12, (left, right))
            chain_along(plate.draft, plate.board, [Span(top, low, figure(plate.breadth, unit))], right, right + 9, (top, low))
        else:
            chain_across(plate.draft, plate.board, [Span(left, right, figure(plate.breadth, unit))], low, low + 15, (left, right))
            edge = chain_along(plate.draft, plate.board, spans, right, right + 9, (top - 4, low + 4))
            chain_along(plate.draft, plate.board, whole, edge + 3, edge + 10, (top, low))

    # --- score lines --------------------------------------------------------------------------------

    def _crowded(self, scale: Fraction) -> bool:
        """Whether score lines lie too near one another for sign and words beside each."""
        wanted, places = self._places(scale, ZERO.inches, self._step(True))
        return any(abs(a - b) > _AWAY for a, b in zip(wanted, places))

    def _step(self, said: bool) -> Fraction:
        """What one sign takes along the edge beside which they stand."""
        if not self.plate.down:
            return _LINE
        return max(_said(), 2 * DISC + 4 + _SIGN) + 6 if said else 2 * DISC + 3

    def _places(self, scale: Fraction, start: Fraction, step: Fraction) -> tuple[list[Fraction], list[Fraction]]:
        """Where the score lines are, and where their signs stand, from the first to the last."""
        wanted = [start + points(at, scale) for at in self.base.edges[1:-1]]
        long = points(self.base.length, scale)
        slack = Exact(28) if self.plate.down else Exact(4)
        return wanted, spread(wanted, [step] * len(wanted), start - (Exact(0) if self.plate.down else slack), start + long + slack)

    def _signs(self, frame: Frame) -> list[CaptionNote]:
        crowded = self._crowded(frame.scale)
        start = frame.x if self.plate.down else frame.y
        wanted, places = self._places(frame.scale, start, self._step(not crowded))
        key = []
        for number, score in enumerate(self.base.scores, 1):
            i = self.base.edges.index(score.at) - 1
            draw = self._above if self.plate.down else self._beside
            draw(frame, wanted[i], places[i], number, score, crowded)
            told = words.mark_text(self.base, score.at, self.plate.unit)
            key.append(CaptionNote(f"{told}, {words.FOLDS[score.direction]}" if crowded else told, disc=str(number)))
        return key

    def _above(self, frame: Frame, line: Fraction, at: Fraction, number: int, score: Score, crowded: bool) -> None:
        draft, top = self.plate.draft, frame.y
        if crowded:
            self._led(draft, (line, top), (at, top - 5))
            draw_disc(draft, str(number), (at, top - 5 - DISC))
            profile(draft, (at, top - 10 - 2 * DISC), score.direction)
            return
        self._led(draft, (line, top), (at, top - 4))
        text = draft.text(words.FOLDS[score.direction], at, top - 7, FIGURE, "accent", "middle")
        self.plate.board.take(text.box)
        half = (2 * DISC + 4 + _SIGN) / 2
        y = top - 17 - DISC
        draw_disc(draft, str(number), (at - half + DISC, y))
        profile(draft, (at + half - _SIGN / 2, y), score.direction)

    def _beside(self, frame: Frame, line: Fraction, at: Fraction, number: int, score: Score, crowded: bool) -> None:
        draft, left = self.plate.draft, frame.x
        self._led(draft, (left, line), (left - 6, at))
        if crowded:
            draw_disc(draft, str(number), (left - 7 - DISC, at))
            profile(draft, (left - 12 - 2 * DISC - _SIGN / 2, at), score.direction)
            return
        text = draft.text(words.FOLDS[score.direction], left - 8, at + figure_height() / 2, FIGURE, "accent", "end")
        profile(draft, (text.box.left - 4 - _SIGN / 2, at), score.direction)
        draw_disc(draft, str(number), (text.box.left - 8 - _SIGN - DISC, at))

    @staticmethod
    def _led(draft: Draft, line: Point, end: Point) -> None:
        """A thin line from a score line to its sign, where that had to give way."""
        if min(abs(line[0] - end[0]), abs(line[1] - end[1])) > 1:
            leader(draft, line, end)


def profile(draft: Draft, middle: Point, direction: Direction) -> None:
    """The base seen from its edge once it is folded a little: a ridge where it folds back, a valley where it folds forward."""
    x, y = middle
    rise = _SIGN / 4 if direction == "back" else -_SIGN / 4
    draft.line("profile", (x - _SIGN / 2, y + rise), (x, y - rise), (x + _SIGN / 2, y + rise))
