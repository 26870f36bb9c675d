"""What a picture of an archive is: its drawings for a wide page and a phone, in one unit or both, and the files that they are written to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import Literal

from kitwright import cache
from kitwright.drawing.display.ratios import PIXELS
from kitwright.drawing.png import SCREEN, jpeg, png
from kitwright.drawing.scene import Scene
from kitwright.drawing.svg import svg
from kitwright.labels import anchor
from kitwright.schemes import Palette
from kitwright.units import rounded
from kitwright.work.worked import Worked

WIDE, ROW, NARROW = 340, 500, 245
"""Points: a picture beside its words, one as wide as the page, and one on a phone, or of two beside
one another. They are shown at about 520, 780 and 330 pixels, so that 8 points are never under 11 pixels."""
BESIDE = 124
"""Points: how wide a picture is that words run round on a phone."""


@dataclass(frozen=True)
class Places:
    """Where a page finds a picture that lies on a board with others (`archive/boards.py`)."""

    wide: str
    """On a wide page."""
    middle: str
    """Where the page is too narrow for two columns, and wider than a phone's; empty: as on a phone."""
    narrow: str
    """On a phone."""
    redrawn: bool = False
    """Whether that in the middle is the phone's redraw."""


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
    caption: str = ""
    """Where the papers are from whose scans it shows."""
    unit: str = ""
    """In which its figures are, where it has any."""
    other: Image | None = None
    """The same in the other unit, of the same shape; None where no figures are on it."""
    places: Places | None = None
    """Where the kit's own page shows it from; None: from its own files, which everybody else asks for."""

    @property
    def place(self) -> str:
        """Where the kit's own page shows it from, where one drawing does for every width."""
        return self.places.wide if self.places else self.src


@dataclass(frozen=True)
class Shown:
    """A picture, drawn."""

    image: Image
    files: dict[str, bytes]
    """Its files by name, beside the kit's page."""


@dataclass(frozen=True)
class Picture:
    """One picture as its page shows it; it is drawn when it is asked for, and not where its files are kept from before."""

    name: str
    """File name without an ending."""
    made_from: tuple[object, ...]
    """All that is drawn in it: of the same there is the same picture."""
    draw: Callable[[], tuple[Scene, Scene]]
    """Draws it for a wide page, and for a phone; where one does for both, that one twice."""
    pixels: bool = True
    """Whether it is offered as PNG too."""
    caption: str = ""
    """Told beside it."""
    narrow_end: str = "-narrow"
    """What follows its name in that of the phone's redraw."""
    posted: Literal["", "png", "jpg"] = ""
    """How it is written where it is one file of pixels, for places that take no drawing."""
    unit: str = ""
    """In which its figures are; empty where it has none, so that one drawing does for both units."""
    beside: Picture | None = None
    """The same in the other unit."""

    @cached_property
    def scenes(self) -> tuple[Scene, Scene]:
        return self.draw()

    @property
    def wide(self) -> Scene:
        return self.scenes[0]

    @property
    def narrow(self) -> Scene:
        return self.scenes[1]

    @property
    def alt(self) -> str:
        return self.wide.alt

    def shown(self, palette: Palette) -> Shown:
        """It in a club's colours: an SVG for each width, and the wide one as PNG at twice screen size."""
        return cache.value("picture", cache.digest(self.said, self.beside and self.beside.said, palette), lambda: self.drawn(palette))

    @property
    def said(self) -> tuple[object, ...]:
        """All that its files follow from."""
        return self.name, self.narrow_end, self.made_from, self.pixels, self.caption, self.posted, self.unit

    def files(self, palette: Palette) -> dict[str, bytes]:
        """Its files by name."""
        return self.shown(palette).files

    @cached_property
    def in_both(self) -> tuple[tuple[Scene, Scene], tuple[Scene, Scene]]:
        """Its scenes as a page shows them, and those in the other unit, in the same shapes; the same again where no figures are on it."""
        if self.beside is None:
            return self.scenes, self.scenes
        (wide, other), (narrow, smaller) = (on_like_canvases(*pair) for pair in zip(self.scenes, self.beside.scenes))
        one = self.wide is self.narrow
        return (wide, wide if one else narrow), (other, other if one else smaller)

    def drawn(self, palette: Palette) -> Shown:
        """The same, drawn now."""
        if self.beside is None:
            return self._drawn(palette, self.scenes)
        shown = self._drawn(palette, self.in_both[0])
        beside = self.beside._drawn(palette, self.in_both[1])
        # Where a page keeps room for the one, the other finds the very same.
        shape = {name: getattr(shown.image, name) for name in ("width", "height", "narrow_width", "narrow_height")}
        return Shown(replace(shown.image, other=replace(beside.image, **shape)), {**shown.files, **beside.files})

    def _drawn(self, palette: Palette, scenes: tuple[Scene, Scene]) -> Shown:
        name, (wide, narrow) = self.name, scenes
        if self.posted:
            file = f"{name}.{self.posted}"
            across, along = (int(-(-edge * PIXELS // 1)) for edge in (wide.width, wide.height))
            data = jpeg(wide, PIXELS, palette, light=True) if self.posted == "jpg" else png(wide, PIXELS, palette=palette)
            return Shown(Image(file, file, file, wide.alt, across, along, across, along, self.caption), {file: data})
        files = {f"{name}.svg": svg(wide, palette=palette).encode()}
        if self.pixels:
            files[f"{name}.png"] = png(wide, 2 * SCREEN, palette=palette)
        other = name
        if narrow is not wide:
            other = f"{name}{self.narrow_end}"
            files[f"{other}.svg"] = svg(narrow, palette=palette).encode()
        paths = f"{name}.svg", f"{other}.svg", f"{name}.png" if self.pixels else ""
        shown = Image(*paths, wide.alt, *pixels_of(wide), *pixels_of(narrow), self.caption, self.unit)
        return Shown(shown, files)


PIXEL = Fraction(3, 4)
"""Of a page, in points."""
_NEAR = Fraction(1, 25)
"""How far the width that a page is told may be from the true one, so that width and height together keep its shape; not at all of what is drawn at true size."""


def pixels_of(scene: Scene) -> tuple[int, int]:
    """Width and height in whole pixels that keep a picture's shape: a page leaves room by them before it is there."""
    width, shape = rounded(scene.width / PIXEL), scene.height / scene.width
    off = 0 if scene.scale == 1 else int(width * _NEAR)
    widths = sorted(range(int(width) - off, int(width) + off + 1), key=lambda each: abs(each - width))
    return min(((each, int(rounded(each * shape))) for each in widths), key=lambda pair: abs(Fraction(pair[1], pair[0]) - shape))


def on_like_canvases(own: Scene, other: Scene) -> tuple[Scene, Scene]:
    """The same picture in both units in one shape: room is added to the other below or at the right; at true size to either, so that both stay so."""
    if own.scale == 1:
        # In whole pixels, which are three quarters of a point.
        width, height = (-(-max(edges) // PIXEL) * PIXEL for edges in ((own.width, other.width), (own.height, other.height)))
        return replace(own, width=width, height=height), replace(other, width=width, height=height)
    if other.width * own.height < own.width * other.height:
        return own, replace(other, width=other.height * own.width / own.height)
    return own, replace(other, height=other.width * own.height / own.width)


def one_scene(
    name: str, made_from: tuple[object, ...], draw: Callable[[], Scene], pixels: bool = False, caption: str = "", unit: str = ""
) -> Picture:
    """One drawing for every width; in a `unit` where it has figures."""

    def drawn() -> tuple[Scene, Scene]:
        scene = draw()
        return scene, scene

    return Picture(name, made_from, drawn, pixels, caption, unit=unit)


def named(name: str, worked: Worked) -> str:
    """What a picture of one card is called; with the name of its design where a kit has several."""
    return f"{name}-{anchor(worked.kit.design)}" if worked.kit.design else name


def words_run_round(image: Image) -> bool:
    """Whether a picture is so small on a phone that words go beside it."""
    return image.narrow_width <= BESIDE / PIXEL * (1 + _NEAR)
