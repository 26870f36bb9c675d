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
from kitwright.units import Length, total

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
    designs: Sequence[DesignFront], looks: Looks, *, unit: str = "in", width: Number, height: Number, ground: str = "", name: str = ""
) -> Scene:
    """A finished card of each design, at one scale, without labels and figures: side by side, or in rows where that makes them larger.

    Args:
        designs: what is shown, in its order.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`, for the alt text.
        width, height: of the picture, points.
        ground: a paper colour under them, if any; it is laid on at two fifths of its strength.
        name: what to call it.
    """
    width, height, draft = Exact(width), Exact(height), Draft()
    if ground:
        draft.box(Box(Exact(0), Exact(0), width, height), None, Ink(ground, Exact(2, 5)))
    margin, gap, faces = width / 16, width / 24, [design.face for design in designs]
    tried = []
    for columns in range(len(faces), 0, -1):
        rows = [faces[i : i + columns] for i in range(0, len(faces), columns)]
        across = min((width - 2 * margin - gap * (len(row) - 1)) / total(face.size.width for face in row).inches for row in rows)
        along = (height - 2 * margin - gap * (len(rows) - 1)) / total(_highest(row) for row in rows).inches
        tried.append((min(across / 72, along / 72, Exact(3, 2)), rows))
    scale, rows = max(tried, key=lambda one: one[0])
    y = (height - points(total(map(_highest, rows)), scale) - gap * (len(rows) - 1)) / 2
    for row in rows:
        x = (width - points(total(face.size.width for face in row), scale) - gap * (len(row) - 1)) / 2
        for face in row:
            picture(draft, face, looks, Frame(x, y + points(_highest(row) - face.size.height, scale) / 2, scale))
            x += points(face.size.width, scale) + gap
        y += points(_highest(row), scale) + gap
    return draft.scene(width, height, name, " ".join(f"{design.said}: {front_alt(design.face, unit)}" for design in designs))


def _highest(row: Sequence[Face]) -> Length:
    return max(face.size.height for face in row)
