"""Which pictures a kit's page shows, each drawn for a wide page and again for a phone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.drawing.base import base_flat
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.layers import layer_steps
from kitwright.drawing.looks import Look, lay
from kitwright.drawing.png import SCREEN, png
from kitwright.drawing.scene import Box, Draft, Scene
from kitwright.drawing.sketch import card_sketch
from kitwright.drawing.svg import svg
from kitwright.drawing.thumbnail import thumbnail
from kitwright.kit.model import PaperFace
from kitwright.telling.backs import backs_on
from kitwright.work.worked import Worked

WIDE, ROW, NARROW = 340, 500, 245
"""Points: a picture beside its words, one as wide as the page, and one on a phone. They are
shown at about 520, 780 and 330 pixels, so that 8 points are never under 11 pixels."""
SMALL = 240
"""Points: the width of thumbnails and of the looks of a batch."""
SWATCH = 36
"""Points, each way."""


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

    def files(self) -> dict[str, bytes]:
        """File name → bytes: an SVG for each width, and the wide one as PNG at twice screen size."""
        found = {f"{self.name}.svg": svg(self.wide).encode()}
        if self.pixels:
            found[f"{self.name}.png"] = png(self.wide, 2 * SCREEN)
        if self.narrow != self.wide:
            found[f"{self.name}-narrow.svg"] = svg(self.narrow).encode()
        return found


@dataclass(frozen=True)
class Pictures:
    """All pictures of a kit."""

    card: Picture
    """The finished card."""
    thumbnail: Picture
    sketch: Picture
    """The front with labels and dimensions."""
    looks: tuple[Picture, ...]
    """The finished card in each look of the batch; empty when there is one."""
    guides: tuple[Picture, ...]
    """One for each layout, in the order of the layouts."""
    base: Picture
    """The card base laid flat."""
    layers: Picture
    """How the front goes together."""
    swatches: dict[str, Picture]
    """A patch of each paper, by its key."""

    @property
    def all(self) -> tuple[Picture, ...]:
        return (self.card, self.thumbnail, self.sketch, *self.looks, *self.guides, self.base, self.layers, *self.swatches.values())


def look_of(face: PaperFace) -> Look:
    """How a printed face is drawn."""
    return Look(face.look, face.colours, face.up)


def looks_of(worked: Worked) -> dict[tuple[str, str], Look]:
    """How every face of every paper is drawn, by paper and face."""
    return {
        (key, side): look_of(paper.face(side)) for key, paper in worked.kit.papers.items() for side in ("front", "back") if paper.face(side)
    }


def pictures_of(worked: Worked) -> Pictures:
    """Draw a kit's pictures as scenes."""
    looks, unit, title = looks_of(worked), worked.kit.spec.unit, worked.kit.spec.title
    face, base, stock = worked.face, worked.base, worked.kit.spec.card.base.paper
    return Pictures(
        _both("card", lambda width: card_sketch(face, looks, unit=unit, width=width, height=width, plain=True, name=title)),
        replace(_one("thumbnail", thumbnail(worked.faces, looks, unit=unit, width=SMALL, name=title)), pixels=True),
        _both("sketch", lambda width: card_sketch(face, looks, unit=unit, width=width, name=title, slim=width == NARROW)),
        tuple(_one(f"look-{i}", thumbnail([f], looks, unit=unit, width=SMALL, name=f.name)) for i, f in enumerate(worked.faces, 1))
        if len(worked.faces) > 1
        else (),
        tuple(
            _both(
                f"guide-{i}",
                lambda width, layout=layout: cutting_guide(
                    layout.tree, unit=unit, width=width, look=looks.get((layout.papers[0], "front")), backs=backs_on(worked, layout)
                ),
            )
            for i, layout in enumerate(worked.layouts, 1)
        ),
        _both(
            "base",
            lambda width: base_flat(
                base, unit=unit, width=width, look=looks.get((stock, "front")), grain="up and down" if base.fold == "side" else "across"
            ),
        ),
        _both("layers", lambda width: layer_steps(face, looks, unit=unit, width=width, name=title), ROW),
        {key: _one(f"paper-{key}", swatch(looks[key, "front"], worked.kit.papers[key].name)) for key in worked.kit.papers},
    )


def _both(name: str, draw: Callable[[int], Scene], wide: int = WIDE) -> Picture:
    return Picture(name, draw(wide), draw(NARROW))


def _one(name: str, scene: Scene) -> Picture:
    return Picture(name, scene, scene, pixels=False)


def swatch(look: Look, name: str) -> Scene:
    """A patch of a paper."""
    draft, edge = Draft(), Fraction(SWATCH)
    patch = Box(Fraction(0), Fraction(0), edge, edge)
    draft.shapes.append(lay(look, patch.corners, (Fraction(0), Fraction(0)), Fraction(1, 2)))
    return draft.scene(edge, edge, name, f"{name}: {look.pattern} in {' and '.join(look.colours) or 'white'}")
