"""The designs of a kit side by side: the sketch of each, all at one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.face import Face
from kitwright.drawing.beside import beside
from kitwright.drawing.dimensions import fitted, round_scale
from kitwright.drawing.front import Looks
from kitwright.drawing.scene import Draft, Frame, Number, Scene, points
from kitwright.drawing.sketch import Names, card_sketch, picture, sketch_room
from kitwright.exact import Exact
from kitwright.telling.drawn import front_alt
from kitwright.units import Length, total

_LEAST = Exact(30, 100)
"""Below this scale they stand in more rows."""
_MUCH = Exact(5, 4)
"""By how much cards must grow to be worth a row more."""
_AROUND = Exact(90)
"""About what a sketch takes over and under the card, points."""


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
    named: Names | None = None,
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
        named: for a printed page, as of one sketch.
    """
    width = Exact(width)
    rows, scale = _rows(designs, unit, slim, width, height, named)

    def drawn(scale: Fraction) -> Scene:
        sketches = []
        for row in rows:
            rooms = [sketch_room(each.face, scale, unit=unit, slim=slim, named=named) for each in row]
            # A row takes all of the width, so that the next one begins below it.
            spare = (width - sum(rooms, Exact(0))) / len(row)
            sketches += [
                card_sketch(each.face, looks, unit=unit, width=room + spare, name=each.said, scale=scale, slim=slim, named=named)
                for each, room in zip(row, rooms)
            ]
        return beside(sketches, width, name)

    return fitted(drawn, scale, total(_highest([each.face for each in row]) for row in rows), height)


Rows = list[Sequence[DesignFront]]


def _rows(
    designs: Sequence[DesignFront], unit: str, slim: bool, width: Fraction, height: Number | None, named: Names | None
) -> tuple[Rows, Fraction]:
    """In which rows they stand, and the scale that the width allows: in as few as are large enough, or as large as a height allows."""
    tried: list[tuple[Fraction, Rows, Fraction]] = []
    for columns in range(len(designs), 0, -1):
        rows = [designs[i : i + columns] for i in range(0, len(designs), columns)]
        scale = _shared(rows, unit, slim, width, named)
        low = scale
        if height is not None:
            highs = total(_highest([each.face for each in row]) for row in rows)
            low = min(scale, (Exact(height) - _AROUND * len(rows)) / (highs.inches * 72))
        elif scale >= _LEAST:
            return rows, scale
        tried.append((low, rows, scale))
    _, rows, scale = max(tried, key=lambda one: one[0])
    return rows, scale


def _shared(rows: Rows, unit: str, slim: bool, width: Fraction, named: Names | None) -> Fraction:
    """The largest whole percentage at which every row fits a width."""

    def fits(scale: Fraction) -> bool:
        return all(
            sum((sketch_room(each.face, scale, unit=unit, slim=slim, named=named) for each in row), Exact(0)) <= width for row in rows
        )

    percent = 100
    while percent > 4 and not fits(Exact(percent, 100)):
        percent -= 1
    return round_scale(Exact(percent, 100))


def designs_card(designs: Sequence[DesignFront], looks: Looks, *, unit: str = "in", width: Number, height: Number, name: str = "") -> Scene:
    """A finished card of each design, at one scale, without labels and figures: side by side, or in more rows where that makes them much larger.

    Args:
        designs: what is shown, in its order.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`, for the alt text.
        width: of the picture, points.
        height: at most this, points; no more than the cards take, so that they never lie in an empty field.
        name: what to call it.
    """
    width, height, draft = Exact(width), Exact(height), Draft()
    margin, gap, faces = width / 24, width / 24, [design.face for design in designs]
    tried = []
    for columns in range(len(faces), 0, -1):
        rows = [faces[i : i + columns] for i in range(0, len(faces), columns)]
        across = min((width - 2 * margin - gap * (len(row) - 1)) / total(face.size.width for face in row).inches for row in rows)
        along = (height - 2 * margin - gap * (len(rows) - 1)) / total(_highest(row) for row in rows).inches
        tried.append((min(across / 72, along / 72, Exact(3, 2)), rows))
    scale, rows = tried[0]
    for more in tried[1:]:
        if more[0] >= scale * _MUCH:
            scale, rows = more
    y = margin
    for row in rows:
        x = (width - points(total(face.size.width for face in row), scale) - gap * (len(row) - 1)) / 2
        for face in row:
            picture(draft, face, looks, Frame(x, y + points(_highest(row) - face.size.height, scale) / 2, scale))
            x += points(face.size.width, scale) + gap
        y += points(_highest(row), scale) + gap
    return draft.scene(width, y - gap + margin, name, " ".join(f"{design.said}: {front_alt(design.face, unit)}" for design in designs))


def _highest(row: Sequence[Face]) -> Length:
    return max(face.size.height for face in row)
