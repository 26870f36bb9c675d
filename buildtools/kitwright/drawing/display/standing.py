"""A folded card standing open on its folds: papers, words and decoration on every panel that is seen."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from kitwright.card.base import Base
from kitwright.card.face import Face, Sentiment
from kitwright.drawing import front
from kitwright.drawing.display.turned import carried
from kitwright.drawing.folds.lies import lying_on, on_panels, under
from kitwright.drawing.folds.opened import Opened, from_behind
from kitwright.drawing.folds.plate import OnPanel, Plate
from kitwright.drawing.front import Looks
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.palette import Ink
from kitwright.drawing.placing import bounds
from kitwright.drawing.scene import Box, Contour, Draft, Frame, Point, SceneShape
from kitwright.drawing.sketch import LIFT
from kitwright.drawing.styles import SHADOW
from kitwright.exact import Exact
from kitwright.folding import Closed, Stood, standing
from kitwright.folding.faces import Part
from kitwright.units import ZERO, Length
from kitwright.work.worked import Worked

_SHARE = Exact(21, 25)
_VEIL = Exact(7, 50)
"""How much darker a panel is that is turned right away from the light, which falls from the left."""
_FALLS = tuple((Exact(i, 22), Exact(i, 60)) for i in range(1, 10))
"""How far each layer of the shadow falls on the ground, to the right and down, inches."""


def standing_open(worked: Worked, looks: Looks) -> StandingCard | None:
    """A card whose fold is more than once in the middle, opened; None of any other, and where no panel that is seen then has anything on it."""
    closed = worked.base.closed
    if worked.base.plain or closed is None:
        return None
    stock = worked.kit.spec.card.base.paper
    outside = looks.get((stock, "front"), DrawnLook())
    lies = tuple(on_panels(worked.base, lying_on(worked)))
    seen = {(closed.base.panels[stood.panel], stood.shown) for stood in standing(closed)}
    if not any((on.panel, on.side) in seen for on in lies):
        return None
    return StandingCard(worked.base, closed, worked.face, looks, outside, looks.get((stock, "back"), outside), lies)


@dataclass(frozen=True)
class StandingCard:
    """The open card, as one of the things that `display` shows."""

    base: Base
    closed: Closed
    face: Face
    looks: Looks
    outside: DrawnLook
    """The cardstock."""
    inside: DrawnLook
    """Its other face."""
    lies: tuple[OnPanel, ...]

    @cached_property
    def _opened(self) -> Opened:
        return Opened(Plate(self.closed, self.base.breadth, "in"))

    @cached_property
    def _around(self) -> Box:
        """The box around it, inches."""
        inch = Frame(Exact(0), Exact(0), Exact(1, 72))
        return bounds(tuple(point for panel in self._opened.stood for point in self._opened.panel(inch, panel)))

    @property
    def width(self) -> Fraction:
        return self._around.width

    @property
    def height(self) -> Fraction:
        return self._around.height

    @property
    def share(self) -> Fraction:
        """How much of the room it may take."""
        return _SHARE

    def worth(self, inch: Fraction) -> Fraction:
        """How good it is to look at: as it is large."""
        return inch

    def draw(self, draft: Draft, corner: Point, inch: Fraction) -> None:
        """Draw it, the corner of the box around it where it is told."""
        frame = Frame(corner[0] - self._around.left * inch, corner[1] - self._around.top * inch, inch / 72)
        order = from_behind(self._opened.stood)
        for panel in order:
            draft.shapes += self._shadow(self._opened.panel(frame, panel), inch)
        for panel in order:
            self._panel(draft, frame, panel)

    def _shadow(self, contour: Contour, inch: Fraction) -> list[SceneShape]:
        """What a panel shades of the ground: from its foot on where it stands on that, else all round it."""
        foot = contour[3], contour[2]
        found = []
        for x, y in _FALLS:
            if self.base.runs == "down":
                layer: Contour = (*foot, *((px + x * inch, py + y * inch) for px, py in reversed(foot)))
            else:
                layer = tuple((px + x * inch / 4, py + y * inch) for px, py in contour)
            found.append(SceneShape((layer,), None, SHADOW))
        return found

    def _panel(self, draft: Draft, frame: Frame, stood: Stood) -> None:
        """One panel with all that is on the side of it that is seen."""
        name, side = self.closed.base.panels[stood.panel], stood.shown
        contour, to = self._opened.panel(frame, stood), self._opened.on_picture(frame, stood)
        start, one = to(ZERO, ZERO), Length(Exact(1, 72) / frame.scale)
        right, down = to(one, ZERO), to(ZERO, one)
        carry = right[0] - start[0], right[1] - start[1], down[0] - start[0], down[1] - start[1]
        look = self.outside if side == "outside" else self.inside
        around = bounds(contour)
        draft.shapes += [lay(look, contour, (around.left, around.top), frame.scale), SceneShape((contour,), "paper-edge")]
        flat = Draft()
        for on in self.lies:
            if (on.panel, on.side) == (name, side):
                here = Frame(Exact(0), Exact(0), frame.scale)
                front.paper(flat, on.placed, here, self.looks, line="paper-edge", lift=LIFT * frame.scale)
        for face in self.face.every:
            parts = self.base.faces[face.on or self.base.leading].parts
            for words in face.sentiments:
                if (part := self._carries(face, parts, words)) and (part.panel, part.side) == (name, side):
                    front.greeting(flat, words, face, self._shifted(part, frame.scale), self.looks)
            for spot in face.spots:
                part = under(self.base, parts, spot.rect)
                if (part.panel, part.side) == (name, side):
                    front.ornament(flat, spot, self._shifted(part, frame.scale))
        draft.shapes += [carried(item, carry, start) for item in (*flat.shapes, *flat.texts)]
        # Of what leans, one side is in the light.
        if (way := stood.way[1]) < 0:
            draft.polygon(contour, None, Ink("ink", opacity=_VEIL * -way))

    def _carries(self, face: Face, parts: tuple[Part, ...], words: Sentiment) -> Part:
        """The panel that words stand on: that of the piece they are on, where it is glued to one of several."""
        held = next((placed.hold.panel for placed in face.stack if placed.label == words.on and placed.hold), "")
        return next((part for part in parts if part.panel == held), None) or under(self.base, parts, words.rect)

    def _shifted(self, part: Part, scale: Fraction) -> Frame:
        """A whole face so that a part of it begins at nothing."""
        back = -part.start.inches * 72 * scale
        return Frame(back, Exact(0), scale) if self.base.runs == "down" else Frame(Exact(0), back, scale)
