"""The designs of a kit side by side: the sketch of each, all at one scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.face import Face
from kitwright.drawing.beside import beside
from kitwright.drawing.dimensions import fitted, round_scale
from kitwright.drawing.front import Looks
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene, points
from kitwright.drawing.sketch import card_sketch, picture, sketch_room
from kitwright.exact import Exact
from kitwright.telling.drawn import front_alt
from kitwright.units import total

_LEAST = Exact(22, 100)
"""Below this scale each stands on a row of its own, as large as that takes."""


@dataclass(frozen=True, slots=True)
class DesignFront:
    """One design."""

    said: str
    """What stands over it, its size apart."""
    face: Face
    """Its front."""


def designs_sketch(
    designs: Sequence[DesignFront],
    looks: Looks,
    *,
    unit: str = "in",
    width: Number = 500,
    height: Number | None = None,
    slim: bool = False,
    name: str = "",
) -> Scene:
    """The fronts of all designs with their pieces in place, at one scale.

    Args:
        designs: what is shown, in its order.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points; all are drawn smaller for it.
        slim: for a narrow screen.
        name: what to call the picture.
    """
    width = Exact(width)
    one_row = _shared(designs, unit, slim, lambda rooms: sum(rooms, Exact(0)) <= width)
    alone = _shared(designs, unit, slim, lambda rooms: max(rooms) <= width)
    scale = one_row if one_row >= _LEAST else alone

    def drawn(scale: Fraction) -> Scene:
        rooms = [sketch_room(each.face, scale, unit=unit, slim=slim) for each in designs]
        spare = max(width - sum(rooms, Exact(0)), Exact(0)) / len(rooms) if one_row >= _LEAST else Exact(0)
        sketches = [
            card_sketch(each.face, looks, unit=unit, width=min(room + spare, width), name=each.said, scale=scale, slim=slim)
            for each, room in zip(designs, rooms)
        ]
        return beside(sketches, width, name)

    highs = [each.face.size.height for each in designs]
    return fitted(drawn, scale, max(highs) if one_row >= _LEAST else total(highs), height)


def _shared(designs: Sequence[DesignFront], unit: str, slim: bool, fits: Callable[[list[Fraction]], bool]) -> Fraction:
    """The largest whole percentage at which what all of them take fits."""
    percent = 100
    while percent > 4 and not fits([sketch_room(each.face, Exact(percent, 100), unit=unit, slim=slim) for each in designs]):
        percent -= 1
    return round_scale(Exact(percent, 100))


def designs_card(
    faces: Sequence[Face], looks: Looks, *, unit: str = "in", width: Number, height: Number, ground: str = "", name: str = ""
) -> Scene:
    """A finished card of each design, side by side at one scale, without labels and figures.

    Args:
        faces: the front of each.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`, for the alt text.
        width, height: of the picture, points.
        ground: a paper colour under them, if any; it is laid on at two fifths of its strength.
        name: what to call it.
    """
    width, height, draft = Exact(width), Exact(height), Draft()
    if ground:
        draft.box(Box(Exact(0), Exact(0), width, height), None, Ink(ground, Exact(2, 5)))
    margin, gap = width / 16, width / 24
    across, along = total(face.size.width for face in faces), max(face.size.height for face in faces)
    room = width - 2 * margin - gap * (len(faces) - 1)
    scale = min(room / (across.inches * 72), (height - 2 * margin) / (along.inches * 72), Exact(3, 2))
    x = (width - points(across, scale) - gap * (len(faces) - 1)) / 2
    for face in faces:
        picture(draft, face, looks, Frame(x, (height - points(face.size.height, scale)) / 2, scale))
        x += points(face.size.width, scale) + gap
    return draft.scene(width, height, name, " ".join(front_alt(face, unit) for face in faces))
