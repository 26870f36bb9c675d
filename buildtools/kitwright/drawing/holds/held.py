"""Everything of a kit that a picture of this folder shows: its pockets, its shakers, its belly bands."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from kitwright.card.enclosed import Wrapped, foam_of, stocks_of
from kitwright.card.face import Face, Placed
from kitwright.drawing.front import Looks
from kitwright.drawing.holds.band import band_picture
from kitwright.drawing.holds.pocket import pocket_picture
from kitwright.drawing.holds.shaker import shaker_picture
from kitwright.drawing.scene import Number, Scene
from kitwright.telling import holds as words
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Held:
    """One picture, drawn when it is asked for."""

    name: str
    """`pocket-`, `shaker-` or `band-`, and the label."""
    label: str
    """Of the piece that it is about."""
    made_from: tuple[object, ...]
    """All that is drawn in it."""
    draw: Callable[..., Scene]
    """Draws it at a `width`, and at most at a `height` where one is given, points."""


def held_of(worked: Worked, looks: Looks) -> Iterator[Held]:
    """The pictures of a kit, in the order in which things lie on the card; what is alike once."""
    seen: set[str] = set()
    for face in (worked.face, *worked.face.sides):
        for placed in face.stack:
            held = _held(worked, face, placed, looks)
            if held and held.name not in seen:
                seen.add(held.name)
                yield held
    for band in worked.enclosed.bands:
        yield _band(worked, band, looks)


def _held(worked: Worked, face: Face, placed: Placed, looks: Looks) -> Held | None:
    unit, hold, stack = worked.unit, placed.hold, face.stack
    if hold and hold.way == "pocket" and hold.pocket:

        def pocket(width: Number, height: Number | None) -> Scene:
            return pocket_picture(stack, placed, looks, unit=unit, width=width, height=height)

        return Held(f"pocket-{placed.label.casefold()}", placed.label, (stack, placed, looks, unit), pocket)
    if hold and hold.way == "shaker" and hold.shaker:
        said = worked.shaker_said(placed)
        inside = said.inside or "" if said else ""
        thick = {key: stock.calliper for key, stock in stocks_of(worked.kit).items()}
        foam, names = foam_of(worked.kit), {stack[0].label: words.panel(face.on)}

        def shaker(width: Number, height: Number | None) -> Scene:
            return shaker_picture(stack, placed, looks, thick, foam, inside=inside, names=names, unit=unit, width=width, height=height)

        return Held(f"shaker-{placed.label.casefold()}", placed.label, (stack, placed, looks, thick, foam, inside, unit), shaker)
    return None


def _band(worked: Worked, band: Wrapped, looks: Looks) -> Held:
    unit = worked.unit
    paper = next(iter(worked.kit.spec.pieces[band.label].share), "")
    look = looks.get((paper, "front"))

    def draw(width: Number, height: Number | None) -> Scene:
        return band_picture(band.band, band.height, band.label, look=look, unit=unit, width=width, high=height)

    return Held(f"band-{band.label.casefold()}", band.label, (band, look, unit), draw)
