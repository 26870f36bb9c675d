"""The pixels of a scan of a paper: cut out, turned and repeated at true scale, as many as a picture needs."""

from __future__ import annotations

import io
from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from kitwright.colours import RGB
from kitwright.drawing.scene import Box, Number, PhotoShape, Point

if TYPE_CHECKING:
    from PIL import Image

Window = tuple[int, int, int, int]
"""Left, top, right and bottom in pixels of the whole picture."""
FINE = Fraction(2)
"""Pixels to a point of a scan in a file that may be shown at any size: an ordinary screen has 1⅓."""
QUALITY, ON_SCREENS = 80, 74
"""Of JPEG: in files that are printed, and in pictures for screens, which are fetched."""
_TURNS = {(1, 0): 0, (0, 1): 1, (-1, 0): 2, (0, -1): 3}


def window(box: Box, per_point: Fraction) -> Window:
    """The pixels that hold a box of a picture."""
    low = floor(box.left * per_point), floor(box.top * per_point)
    return (*low, max(ceil(box.right * per_point), low[0] + 1), max(ceil(box.bottom * per_point), low[1] + 1))


def pixels(photo: PhotoShape, of: Window, per_point: Fraction, paper: RGB) -> Image.Image:
    """What a scan shows in a window.

    Args:
        photo: the scan, laid.
        of: the window.
        per_point: pixels of the picture to a point.
        paper: the colour of the picture's paper, which a tint is mixed with.

    Raises:
        UserError: the scan's file was changed meanwhile, or is broken off.
    """
    from PIL import Image

    size = of[2] - of[0], of[3] - of[1]
    found = _level(photo, of, per_point, size) if photo.turn in _TURNS else _slanted(photo, of, per_point, size)
    return Image.blend(Image.new("RGB", size, paper), found, float(photo.strength)) if photo.strength < 1 else found


def jpeg(photo: PhotoShape, paper: RGB, fine: Fraction = FINE, quality: int = QUALITY) -> tuple[bytes, Box]:
    """A scan as a file of its own, so many pixels to a point, and the box in points that it fills.

    Raises:
        UserError: as for `pixels`.
    """
    out, of = io.BytesIO(), window(photo.box, fine)
    pixels(photo, of, fine, paper).save(out, "JPEG", quality=quality, optimize=True)
    left, top, right, bottom = (Fraction(edge) / fine for edge in of)
    return out.getvalue(), Box(left, top, right, bottom)


def _on_sheet(photo: PhotoShape, point: Point) -> Point:
    """A point of the picture as a place on the sheet, inches."""
    (cos, sin), x, y = photo.turn, (point[0] - photo.origin[0]) / photo.unit, (point[1] - photo.origin[1]) / photo.unit
    return x * cos + y * sin, y * cos - x * sin


def _around(photo: PhotoShape, of: Window, per_point: Fraction) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """The rectangle of the sheet that a window shows, or that holds what it shows."""
    corners = [_on_sheet(photo, (Fraction(x) / per_point, Fraction(y) / per_point)) for x in (of[0], of[2]) for y in (of[1], of[3])]
    xs, ys = zip(*corners)
    return min(xs), min(ys), max(xs), max(ys)


def _level(photo: PhotoShape, of: Window, per_point: Fraction, size: tuple[int, int]) -> Image.Image:
    from PIL import Image

    quarters = _TURNS[int(photo.turn[0]), int(photo.turn[1])]
    upright = _upright(photo, _around(photo, of, per_point), size[::-1] if quarters % 2 else size)
    turn = {1: Image.Transpose.ROTATE_270, 2: Image.Transpose.ROTATE_180, 3: Image.Transpose.ROTATE_90}.get(quarters)
    return upright.transpose(turn) if turn is not None else upright


def _slanted(photo: PhotoShape, of: Window, per_point: Fraction, size: tuple[int, int]) -> Image.Image:
    from PIL import Image

    around, fine = _around(photo, of, per_point), per_point * photo.unit
    wide, high = (max(1, ceil((around[i + 2] - around[i]) * fine)) for i in (0, 1))
    upright = _upright(photo, around, (wide, high))

    def at(x: Number, y: Number) -> Point:
        place = _on_sheet(photo, ((of[0] + x) / per_point, (of[1] + y) / per_point))
        return (place[0] - around[0]) * wide / (around[2] - around[0]), (place[1] - around[1]) * high / (around[3] - around[1])

    start, right, down = at(Fraction(0), Fraction(0)), at(Fraction(1), Fraction(0)), at(Fraction(0), Fraction(1))
    rows = [float(value) for i in (0, 1) for value in (right[i] - start[i], down[i] - start[i], start[i])]
    return upright.transform(size, Image.Transform.AFFINE, rows, Image.Resampling.BICUBIC)


def _upright(photo: PhotoShape, around: tuple[Fraction, Fraction, Fraction, Fraction], size: tuple[int, int]) -> Image.Image:
    """A rectangle of the sheet in so many pixels, put together of repeats where the scan shows less than that."""
    from PIL import Image

    scan, picture = photo.scan, photo.scan.picture()
    # From the sheet's corner to the scan's own.
    left, top, right, bottom = (edge + scan.corner[i % 2] for i, edge in enumerate(around))
    across = list(_repeats(left, right, scan.size.width.inches, size[0], picture.width))
    along = list(_repeats(top, bottom, scan.size.height.inches, size[1], picture.height))
    found = Image.new("RGB", size)
    for to_x, (from_left, from_right) in across:
        for to_y, (from_top, from_bottom) in along:
            part = picture.resize(
                (to_x[1] - to_x[0], to_y[1] - to_y[0]), Image.Resampling.BICUBIC, box=(from_left, from_top, from_right, from_bottom)
            )
            found.paste(part, (to_x[0], to_y[0]))
    return found


def _repeats(
    start: Fraction, end: Fraction, period: Fraction, pixels: int, source: int
) -> Iterator[tuple[tuple[int, int], tuple[float, float]]]:
    """Along one edge, each repeat that is seen: its pixels, and those of the scan that go there."""
    fine = pixels / (end - start)
    for n in range(floor(start / period), ceil(end / period)):
        low, high = max(start, n * period), min(end, (n + 1) * period)
        to = round((low - start) * fine), round((high - start) * fine)
        if to[0] < to[1]:
            yield to, (float((low - n * period) * source / period), float((high - n * period) * source / period))
