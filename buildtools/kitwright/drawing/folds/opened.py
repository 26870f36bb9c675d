"""The card opened so that it stands, in oblique projection: what faces the reader true, depth at two fifths."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from kitwright.drawing.caption import CaptionNote
from kitwright.drawing.folds.part import Room, wide_enough
from kitwright.drawing.folds.plate import Plate
from kitwright.drawing.placing import bounds
from kitwright.drawing.scene import Contour, Frame, Point
from kitwright.exact import Exact
from kitwright.folding import Stood, standing
from kitwright.telling import panels as words
from kitwright.units import ZERO, Length

DEPTH = Exact(2, 5)
"""How much of what comes towards the reader is shown, downwards, or to the right where score lines run across."""


class Opened:
    """The standing card as one of the drawings of a fold."""

    def __init__(self, plate: Plate) -> None:
        self.plate = plate
        self.stood = standing(plate.closed)

    @property
    def heading(self) -> str:
        return words.open_text(self.plate.closed.base.runs)

    def room(self, scale: Fraction) -> Room:
        """What it takes; its corner is that of the box around it."""
        around = bounds(tuple(p for panel in self.stood for p in self.panel(Frame(Exact(0), Exact(0), scale), panel)))
        return wide_enough(Room(Exact(2), Exact(2), around.width + 4, around.height + 4), self.heading)

    def draw(self, corner: Point, scale: Fraction) -> list[CaptionNote]:
        """Draw it, the corner of the box around it where it is told."""
        plate = self.plate
        first = bounds(tuple(p for panel in self.stood for p in self.panel(Frame(Exact(0), Exact(0), scale), panel)))
        frame = Frame(corner[0] - first.left, corner[1] - first.top, scale)
        order = from_behind(self.stood)
        contours = [self.panel(frame, panel) for panel in order]
        for panel, contour in zip(order, contours):
            plate.paper(contour, panel.shown, scale)
            name = plate.closed.base.panels[panel.panel]
            for on in plate.lies:
                if (on.panel, on.side) == (name, panel.shown):
                    plate.lay(on, self.on_picture(frame, panel), scale)
        for i, (panel, contour) in enumerate(zip(order, contours)):
            said = words.face_name(plate.closed, plate.closed.base.panels[panel.panel], panel.shown)
            plate.name(contour, said, panel.shown, contours[i + 1 :], bool(plate.lies))
        return []

    def panel(self, frame: Frame, stood: Stood) -> Contour:
        """A panel's four corners, in turn."""
        ends = [(stood.start, ZERO), (stood.end, ZERO), (stood.end, self.plate.breadth), (stood.start, self.plate.breadth)]
        return tuple(self._seen(frame, stop, across) for stop, across in ends)

    def on_picture(self, frame: Frame, stood: Stood) -> Callable[[Length, Length], Point]:
        """Carries a place on a panel's face, as it is read, to where it stands."""
        panel = self.plate.closed.base.panels[stood.panel]

        def to(x: Length, y: Length) -> Point:
            at, across = self.plate.on_base(panel, stood.shown, x, y)
            return self._seen(frame, stood.at(at), across)

        return to

    def _seen(self, frame: Frame, stop: tuple[Length, Length], across: Length) -> Point:
        along, towards = stop
        return self.plate.at(frame, along, across + towards * DEPTH)


def from_behind(stood: tuple[Stood, ...]) -> list[Stood]:
    """The panels in an order in which each is drawn over those that it hides."""
    left, found = list(stood), []
    while left:
        # Panels that meet at their ends only never go round in a circle: there is always one that hides none of the rest.
        hindmost = next((one for one in left if not any(hides(one, other) for other in left if other is not one)), left[0])
        left.remove(hindmost)
        found.append(hindmost)
    return found


def hides(one: Stood, other: Stood) -> bool:
    """Whether a panel stands before another one."""
    start, end = max(min(s.start[0], s.end[0]) for s in (one, other)), min(max(s.start[0], s.end[0]) for s in (one, other))
    if start >= end:
        return False
    middle = (start + end) / 2
    return _towards(one, middle) > _towards(other, middle)


def _towards(stood: Stood, along: Length) -> Length:
    return stood.start[1] + stood.way[1] / stood.way[0] * (along - stood.start[0])
