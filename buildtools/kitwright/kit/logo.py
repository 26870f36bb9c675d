"""The mark of a club, from a picture beside its club file: read once, written anew, and measured.

A drawing stays a drawing (`vector.py` reads its outlines and nothing else); any other picture
becomes a PNG of no more pixels than a page needs.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from kitwright.colours import RGB, contrast
from kitwright.errors import Place, UserError
from kitwright.kit.folder import MB, own_file, read_own
from kitwright.kit.picture import ENDINGS, NoPicture, bare, decoded, encoded
from kitwright.kit.vector import LARGEST as LARGEST_DRAWING
from kitwright.kit.vector import LONGEST_SIDE, Vector, vector, written

if TYPE_CHECKING:
    from PIL import Image

LOGO_ENDINGS = (".svg", *ENDINGS)
"""How a logo's file may end."""
LARGEST = 5 * MB
"""Bytes of its file."""
PIXELS, LEAST = 320, 24
"""Along its longer edge once it is read, and along its shorter one at least."""
VANISHES = 8
"""Five times the contrast at which a part of it can't be told from its ground: 1.6. Common practice, no source."""
SQUARE = 1.3
"""Longer than high by no more than this, it is fit for the corner of a tab."""


@dataclass(frozen=True)
class Logo:
    """A club's mark."""

    name: str
    """Its file in the site."""
    data: bytes
    width: float
    """In units of its own."""
    height: float
    drawing: Vector | None
    """Its outlines, where it is a drawing."""
    seen: tuple[tuple[RGB, int], ...]
    """Colours that are seen of it, and how much of each, where something shines through; empty where it covers its ground."""

    @property
    def square(self) -> bool:
        """Whether it is fit for the corner of a tab."""
        return max(self.width, self.height) <= SQUARE * min(self.width, self.height)

    def vanishes_on(self, ground: RGB) -> bool:
        """Whether more than half of it can't be told from what it lies on."""
        lost = sum(much for colour, much in self.seen if 5 * contrast(colour, ground) < VANISHES)
        return 2 * lost > sum(much for _, much in self.seen)


def read_logo(folder: Path, name: str, place: Place) -> Logo:
    """The logo that a club file names.

    Raises:
        UserError: it is no file of this folder, no picture, too large, or more than can be taken over.
    """
    ending = Path(name).suffix.lower()
    drawn = ending == ".svg"
    file = own_file(folder, name, place, LARGEST_DRAWING if drawn else LARGEST)
    if ending not in LOGO_ENDINGS:
        raise UserError("pictures.odd-ending", place=place, name=name, endings=LOGO_ENDINGS)
    try:
        data = read_own(file, LARGEST)
        return _drawn(data) if drawn else _pixels(data)
    except NoPicture as error:
        raise UserError(error.code, place=place, name=name, **error.values) from None
    except (OSError, OverflowError):
        raise UserError("pictures.unreadable", place=place, name=name) from None


def _drawn(data: bytes) -> Logo:
    drawing = vector(data)
    return Logo("club-logo.svg", written(drawing).encode(), drawing.width, drawing.height, drawing, _seen(_rough(drawing)))


def _pixels(data: bytes) -> Logo:
    made = decoded(bare(data), PIXELS, clear=True)
    if max(made.size) > LONGEST_SIDE * min(made.size):
        raise NoPicture("pictures.too-long", most=LONGEST_SIDE)
    if min(made.size) < LEAST:
        raise NoPicture("pictures.too-small", width=made.width, height=made.height, least=LEAST, best=(600, 600))
    return Logo("club-logo.png", encoded(made, "PNG"), made.width, made.height, None, _seen(made))


def _seen(picture: Image.Image) -> tuple[tuple[RGB, int], ...]:
    """What is seen of a picture, roughly; nothing where hardly anything of it is see-through."""
    from PIL import Image

    small = picture.convert("RGBA")
    small.thumbnail((48, 48), Image.Resampling.BOX)
    counted = Counter(zip(*[iter(small.tobytes())] * 4))
    shown = [((red, green, blue), much) for (red, green, blue, cover), much in counted.items() if cover >= 128]
    return tuple(shown) if 20 * sum(much for _, much in shown) < 19 * small.width * small.height else ()


def _rough(drawing: Vector) -> Image.Image:
    """A drawing in a few pixels, to see which colours it has."""
    from PIL import Image, ImageDraw

    scale = 96 / max(drawing.width, drawing.height)
    picture = Image.new("RGBA", (max(1, round(drawing.width * scale)), max(1, round(drawing.height * scale))))
    pen = ImageDraw.Draw(picture)
    for one in drawing.outlines:
        corners: list[list[tuple[float, float]]] = []
        for letter, points in one.steps:
            if letter == "M":
                corners.append([])
            if points and corners:
                corners[-1].append((points[-1][0] * scale, points[-1][1] * scale))
        for line in corners:
            if one.fill and len(line) > 2:
                pen.polygon(line, fill=(*one.fill, 255))
            if one.stroke and len(line) > 1:
                pen.line(
                    [*line, line[0]] if ("Z", ()) in one.steps else line, fill=(*one.stroke, 255), width=max(1, round(one.width * scale))
                )
    return picture
