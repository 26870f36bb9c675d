"""Which pictures a kit's page shows, each drawn for a wide page and again for a phone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.card.face import runs_down
from kitwright.card.shapes import outline_of
from kitwright.cutting.plan import Layout
from kitwright.drawing.base import base_flat
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.hand import hand_picture
from kitwright.drawing.layers import layer_steps
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.png import SCREEN, png
from kitwright.drawing.scene import Box, Draft, Scene
from kitwright.drawing.sketch import card_sketch
from kitwright.drawing.svg import svg
from kitwright.drawing.template import piece_template
from kitwright.drawing.thumbnail import thumbnail
from kitwright.kit.model import PaperFace
from kitwright.schemes import Palette
from kitwright.telling.backs import backs_on
from kitwright.work.desk import has_up, layout_orders
from kitwright.work.worked import Worked

WIDE, ROW, NARROW = 340, 500, 245
"""Points: a picture beside its words, one as wide as the page, and one on a phone. They are
shown at about 520, 780 and 330 pixels, so that 8 points are never under 11 pixels."""
SMALL = 240
"""Points: the width of thumbnails and of the looks of a batch."""
SWATCH = 36
"""Points, each way."""
HAND_WIDE, HAND_TALL = 150, 112
"""Points: a picture of the sheet in hand. It is shown at that size or smaller by a tenth, so
that its figures of 10 points are never under 11 pixels."""


@dataclass(frozen=True)
class Picture:
    """One picture as its page shows it."""

    name: str
    """File name without an ending."""
    wide: Scene
    narrow: Scene
    pixels: bool = True
    """Whether it is offered as PNG too."""

    @property
    def alt(self) -> str:
        return self.wide.alt

    def files(self, palette: Palette) -> dict[str, bytes]:
        """File name → bytes, in a club's colours: an SVG for each width, and the wide one as PNG at twice screen size."""
        found = {f"{self.name}.svg": svg(self.wide, palette=palette).encode()}
        if self.pixels:
            found[f"{self.name}.png"] = png(self.wide, 2 * SCREEN, palette=palette)
        if self.narrow != self.wide:
            found[f"{self.name}-narrow.svg"] = svg(self.narrow, palette=palette).encode()
        return found


@dataclass(frozen=True)
class Image:
    """A picture as a page refers to it; its paths are those seen from the kit's page."""

    src: str
    narrow: str
    """The phone's redraw; the same as `src` when there is none."""
    png: str
    alt: str
    width: int
    """Pixels."""
    height: int
    narrow_width: int
    narrow_height: int


def image_of(picture: Picture) -> Image:
    """A drawn picture as a page refers to it."""
    pixels = [int(edge * 4 / 3) for scene in (picture.wide, picture.narrow) for edge in (scene.width, scene.height)]
    narrow = picture.name if picture.narrow == picture.wide else f"{picture.name}-narrow"
    return Image(f"{picture.name}.svg", f"{narrow}.svg", f"{picture.name}.png", picture.alt, *pixels)


def look_of(face: PaperFace) -> DrawnLook:
    """How a printed face is drawn."""
    return DrawnLook(face.look, face.colours, face.up)


def looks_of(worked: Worked) -> dict[tuple[str, str], DrawnLook]:
    """How every face of every paper is drawn, by paper and face."""
    faces = ((key, side, paper.face(side)) for key, paper in worked.kit.papers.items() for side in ("front", "back"))
    return {(key, side): look_of(face) for key, side, face in faces if face}


def pictures_of(worked: Worked) -> dict[str, Picture]:
    """Draw a kit's pictures as scenes, by name.

    `card` the finished card, `thumbnail`, `sketch` the front with labels and dimensions, `look-1` … the card in
    each look where there are several, `guide-1` … for each layout, `base` laid flat, `layers` how the front goes
    together, `paper-KEY` a patch of each paper, `hand-1-2` … the sheet in hand at each step of a guide, `shape-LABEL`
    a piece that is more than a rectangle.
    """
    looks, unit, title = looks_of(worked), worked.kit.spec.unit, worked.kit.spec.title
    face, base, stock = worked.face, worked.base, worked.kit.spec.card.base.paper

    def guide(layout: Layout) -> Callable[[int], Scene]:
        look, backs = looks.get((layout.papers[0], "front")), backs_on(worked, layout)
        return lambda width: cutting_guide(layout.tree, unit=unit, width=width, look=look, backs=backs)

    grain: Literal["up and down", "across"] = "up and down" if runs_down(base.fold) else "across"
    found = [
        _both("card", lambda width: card_sketch(face, looks, unit=unit, width=width, height=width, plain=True, name=title)),
        thumbnail_of(worked),
        _both("sketch", lambda width: card_sketch(face, looks, unit=unit, width=width, name=title, slim=width == NARROW)),
        *(_both(f"guide-{i}", guide(layout)) for i, layout in enumerate(worked.layouts, 1)),
        _both("base", lambda width: base_flat(base, unit=unit, width=width, look=looks.get((stock, "front")), grain=grain)),
        _both("layers", lambda width: layer_steps(face, looks, unit=unit, width=width, name=title), ROW),
        *(one_scene(f"paper-{key}", swatch(looks[key, "front"], worked.kit.papers[key].name)) for key in worked.kit.papers),
        *_hands(worked),
        *_shapes(worked),
    ]
    if len(worked.faces) > 1:
        drawn = [thumbnail([each], looks, unit=unit, width=SMALL, name=each.name) for each in worked.faces]
        found += [one_scene(f"look-{i}", scene) for i, scene in enumerate(drawn, 1)]
    return {picture.name: picture for picture in found}


def thumbnail_of(worked: Worked) -> Picture:
    """The card as other pages show it."""
    scene = thumbnail(worked.faces, looks_of(worked), unit=worked.kit.spec.unit, width=SMALL, name=worked.kit.spec.title)
    return Picture("thumbnail", scene, scene)


def _hands(worked: Worked) -> Iterator[Picture]:
    """The sheet in hand at each step of each guide."""
    unit, side = worked.kit.spec.unit, worked.kit.club.trimmer.ruler_side
    for i, layout in enumerate(worked.layouts, 1):
        one_way, backs = has_up(worked, layout), backs_on(worked, layout)
        for step in next(iter(layout_orders(worked, layout).values())):
            scene = hand_picture(step, unit=unit, width=HAND_WIDE, height=HAND_TALL, ruler_side=side, one_way=one_way, backs=backs)
            yield one_scene(f"hand-{i}-{step.number}", scene)


def _shapes(worked: Worked) -> Iterator[Picture]:
    """Pieces that are more than a rectangle, at true size."""
    for label, piece in worked.kit.spec.pieces.items():
        if piece.notch or piece.shape:
            scene = piece_template(label, outline_of(piece), piece.size, unit=worked.kit.spec.unit)
            yield one_scene(f"shape-{label.casefold()}", scene)


def _both(name: str, draw: Callable[[int], Scene], wide: int = WIDE) -> Picture:
    return Picture(name, draw(wide), draw(NARROW))


def one_scene(name: str, scene: Scene) -> Picture:
    """One drawing for every width, an SVG of this name alone."""
    return Picture(name, scene, scene, pixels=False)


def swatch(look: DrawnLook, name: str) -> Scene:
    """A patch of a paper."""
    draft, edge = Draft(), Fraction(SWATCH)
    patch = Box(Fraction(0), Fraction(0), edge, edge)
    draft.shapes.append(lay(look, patch.corners, (Fraction(0), Fraction(0)), Fraction(1, 2)))
    return draft.scene(edge, edge, name, f"{name}: {look.pattern} in {' and '.join(look.colours) or 'white'}")
