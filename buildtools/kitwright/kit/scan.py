"""A scan or photo of a paper: which part of it is paper, how large that is, and what it is drawn as where ink counts.

Reading looks at a scan as at any picture (`picture.py`): its blocks, never its pixels. Those are
decoded when they are first asked for, made no finer than a picture can show, and kept.
"""

from __future__ import annotations

import hashlib
import io
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from kitwright import cache
from kitwright.colours import RGB, contrast, hex_text, lab, tone
from kitwright.errors import Place, UserError
from kitwright.kit.picture import Bare, NoPicture, bare, decoded, encoded, own_picture, read
from kitwright.units import Length, Size

if TYPE_CHECKING:
    from PIL import Image

FINEST = 200
"""Pixels to an inch of paper that are kept of a scan: more than the largest picture shows."""
COARSE = 100
"""Pixels to an inch under which a scan looks soft."""
LEAST_SHOWN = Length(Fraction(1, 2))
"""The least that a scan may show of a paper, each way: a motif that repeats is seldom smaller."""
MOST_SHOWN = 4
"""How many times the sheet a scan may show; more is a slip of the unit."""
_QUARTERS = {None: 0, "right": 1, "upside down": 2, "left": 3}
_SIDEWAYS = (5, 6, 7, 8)
"""Ways in which a camera was held that swap width and height, as Exif counts them."""


@dataclass(frozen=True)
class Scan:
    """A scan of one face of a paper, as it is laid on the sheet."""

    digest: str
    """Of its file."""
    turned: int
    """Quarter turns to the right by which it is set upright."""
    part: tuple[Fraction, Fraction, Fraction, Fraction]
    """Left, top, right and bottom of what of it is paper, as shares of the upright picture."""
    size: Size
    """How much paper that part shows."""
    whole: Size
    """How much the whole picture shows."""
    corner: tuple[Fraction, Fraction]
    """Where on that part the sheet's own corner lies, inches: a part larger than the sheet is laid on from the middle."""
    density: Fraction
    """Pixels to an inch of paper, the coarser way."""
    stretched: Fraction
    """By how much more one way than the other it would have to be stretched, 1 for not at all."""
    public: bool = field(compare=False)
    """Whether it may be shown to everybody."""
    source: str = field(compare=False)
    """Where the paper is from; empty where nothing is said."""
    file: Path = field(compare=False, repr=False)
    place: Place = field(compare=False, repr=False)
    """Where it is named."""

    def digested(self) -> tuple[object, ...]:
        """What counts of it for what is drawn: wherever its file lies."""
        return self.digest, self.turned, self.part, self.size, self.corner

    def picture(self) -> Image.Image:
        """The part of it that is paper, upright, no finer than `FINEST`.

        Raises:
            UserError: its file was changed since it was read, or is broken off.
        """
        return _picture(self)

    @property
    def stand_in(self) -> tuple[str, tuple[str, ...]]:
        """What it is drawn as where ink counts: the name of a look, and its colours.

        Raises:
            UserError: as for `picture`.
        """
        return _stand_in(self)


@dataclass(frozen=True)
class LaidOn:
    """How a scan is said to lie."""

    shows: Size | None
    """How much paper the whole picture shows; the sheet, with what is left off around it, where nothing is said."""
    off: tuple[Length, Length, Length, Length]
    """What is left off at its left, top, right and bottom."""
    turned: str | None
    """How it is set upright first."""
    public: bool
    source: str


def read_scan(folder: Path, name: str, laid: LaidOn, sheet: Size, place: Place) -> Scan:
    """A scan that a face of a paper names.

    Args:
        folder: what its name is relative to.
        name: as it was typed.
        laid: how it lies.
        sheet: of that paper.
        place: where it is named, for an error.

    Raises:
        UserError: no picture of that folder, or it can't show what is said.
    """
    file = own_picture(folder, name, place)
    try:
        data = read(file)
        found = bare(data)
    except NoPicture as error:
        raise UserError(error.code, place=place, name=name, **error.values) from None
    turned = _QUARTERS[laid.turned]
    width, height = _upright(found, turned)
    left, top, right, bottom = laid.off
    shown, kept = _shown(laid.shows, Size(left + right, top + bottom), sheet, place)
    across, along = shown.width.inches, shown.height.inches
    part = left.inches / across, top.inches / along, 1 - right.inches / across, 1 - bottom.inches / along
    beyond = kept.width.inches - sheet.width.inches, kept.height.inches - sheet.height.inches
    corner = max(beyond[0], Fraction(0)) / 2, max(beyond[1], Fraction(0)) / 2
    fine = Fraction(width) / across, Fraction(height) / along
    digest = hashlib.sha256(data).hexdigest()
    return Scan(digest, turned, part, kept, shown, corner, min(fine), max(fine) / min(fine), laid.public, laid.source, file, place)


def _upright(found: Bare, turned: int) -> tuple[int, int]:
    sideways = (found.orientation in _SIDEWAYS) != (turned % 2 == 1)
    return (found.height, found.width) if sideways else (found.width, found.height)


def _shown(said: Size | None, off: Size, sheet: Size, place: Place) -> tuple[Size, Size]:
    """How much paper a scan shows from edge to edge, and without what is left off.

    Where it is not said, that is the sheet, with what is left off around it.
    """
    shown = said or Size(sheet.width + off.width, sheet.height + off.height)
    for edge, away, whole in ((shown.width, off.width, sheet.width), (shown.height, off.height, sheet.height)):
        if edge <= away:
            raise UserError("scans.cropped-away", place=place, shows=shown, off=off)
        if edge - away < LEAST_SHOWN:
            raise UserError("scans.shows-too-little", place=place, shows=shown, least=LEAST_SHOWN)
        if edge.inches > MOST_SHOWN * whole.inches:
            raise UserError("scans.shows-too-much", place=place, shows=shown, sheet=sheet)
    return shown, Size(shown.width - off.width, shown.height - off.height)


# --- pixels -----------------------------------------------------------------------------------------


@lru_cache(maxsize=4)
def _picture(scan: Scan) -> Image.Image:
    from PIL import Image

    data = cache.made("scan", cache.digest(scan, FINEST), lambda: _made(scan))
    with Image.open(io.BytesIO(data), formats=("JPEG",)) as kept:
        return kept.convert("RGB")


def _made(scan: Scan) -> bytes:
    """The part of a scan that is paper, as it is kept: a picture of its own, without camera notes."""
    from PIL import Image

    try:
        data = read(scan.file)
        if hashlib.sha256(data).hexdigest() != scan.digest:
            raise UserError("scans.changed", place=scan.place, name=scan.file.name)
        longer = max(scan.whole.width.inches, scan.whole.height.inches)
        picture = decoded(bare(data), max(1, -int(-(longer * FINEST) // 1)))
    except NoPicture as error:
        raise UserError(error.code, place=scan.place, name=scan.file.name, **error.values) from None
    turn = {1: Image.Transpose.ROTATE_270, 2: Image.Transpose.ROTATE_180, 3: Image.Transpose.ROTATE_90}.get(scan.turned)
    picture = picture.transpose(turn) if turn is not None else picture
    edges = [round(share * edge) for share, edge in zip(scan.part, (picture.width, picture.height) * 2)]
    across = min(edges[0], picture.width - 1), max(edges[2], edges[0] + 1)
    along = min(edges[1], picture.height - 1), max(edges[3], edges[1] + 1)
    return encoded(picture.crop((across[0], along[0], across[1], along[1])), "JPEG")


# --- the stand-in -----------------------------------------------------------------------------------

_LOOKED_AT, _FEW = 240, 96
"""Pixels each way in which the main colours are looked for, grain aside; and in which a pattern is, where fine lines melt into what they look like."""
_GROUPS = 24
_ALIKE = 6_000_000
"""Colours nearer to one another in OKLab than this, hundred-millionths, are one: median cut parts what there is much of."""
_SEEN = Fraction(1, 50)
"""The least share of a paper that a colour has which is drawn."""
_APART = Fraction(3, 2)
"""The least contrast of a pattern and its ground."""
_STEP = 2_000_000
"""Of lightness, hundred-millionths, by which a mark is moved away from its ground."""
_EVEN, _ONE_WAY = 3, 3
"""Steps of grey from one place to the next under which a paper looks plain; and how many times more of them across than along make stripes."""


@lru_cache(maxsize=64)
def _stand_in(scan: Scan) -> tuple[str, tuple[str, ...]]:
    look, *colours = cache.value("stand-in", cache.digest(scan, FINEST), lambda: _derived(scan.picture()))
    return look, tuple(colours)


def _derived(picture: Image.Image) -> tuple[str, ...]:
    """A look's name and its colours, ground first; in whole numbers, so that every machine finds the same."""
    from PIL import Image

    small = picture.resize((_LOOKED_AT, _LOOKED_AT), Image.Resampling.BOX)
    look = _pattern(small.resize((_FEW, _FEW), Image.Resampling.BOX))
    ground, *others = _main_colours(small)
    if look == "plain":
        return look, hex_text(ground)
    marks = [max(others, key=lambda colour: (_far(colour, ground) + lab(colour).chroma ** 2, colour), default=ground)]
    # A third colour as far from both as there is one.
    marks += sorted(others, key=lambda colour: (-min(_far(colour, ground), _far(colour, marks[0])), colour))[:1]
    return look, *dict.fromkeys(hex_text(colour) for colour in (ground, *(_apart(mark, ground) for mark in marks)))


def _main_colours(small: Image.Image) -> list[RGB]:
    """The colours that there is most of, the commonest first: by median cut, what is alike taken together."""
    from PIL import Image

    grouped = small.quantize(_GROUPS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    known = grouped.getpalette() or []
    counted = sorted(((many, i) for i, many in enumerate(grouped.histogram()[:_GROUPS]) if many), key=lambda pair: (-pair[0], pair[1]))
    found: dict[RGB, int] = {}
    for many, i in counted:
        colour = known[3 * i], known[3 * i + 1], known[3 * i + 2]
        near = min(found, key=lambda other: (_far(colour, other), other), default=None)
        near = near if near and _far(colour, near) < _ALIKE**2 else colour
        found[near] = found.get(near, 0) + many
    least = _SEEN * small.width * small.height
    seen = {colour: many for colour, many in sorted(found.items(), key=lambda pair: (-pair[1], pair[0])) if many >= least}
    # Of several that are about as common, the lightest is the ground: labels stand on it.
    ground = max((colour for colour in seen if 2 * seen[colour] >= max(seen.values())), key=lambda colour: (lab(colour).light, colour))
    return [ground, *(colour for colour in seen if colour != ground)]


def _far(one: RGB, other: RGB) -> int:
    """How far two colours are apart in OKLab, squared."""
    a, b = lab(one), lab(other)
    return (a.light - b.light) ** 2 + (a.green_red - b.green_red) ** 2 + (a.blue_yellow - b.blue_yellow) ** 2


def _apart(mark: RGB, ground: RGB) -> RGB:
    """A mark that is seen on its ground: the nearest lighter or darker tone of it where it is not."""
    known, up = lab(mark), lab(mark).light >= lab(ground).light
    way: Literal[1, -1] = 1 if up and lab(ground).light < 80_000_000 else -1
    light, found = known.light, mark
    while contrast(found, ground) < _APART and 0 < light + way * _STEP < 100_000_000:
        light += way * _STEP
        found = tone(mark, light)
    return found


def _pattern(small: Image.Image) -> str:
    """A plain name for what a paper looks like: even, striped, or with motifs strewn over it, small or large."""
    grey = small.convert("L")
    fine, coarse = _steps(grey), _steps(grey.reduce(4))
    if max(*fine, *coarse) < _EVEN:
        return "plain"
    if coarse[0] > _ONE_WAY * coarse[1]:
        return "stripes"
    return "blossoms" if sum(coarse) > sum(fine) * 2 else "sprigs"


def _steps(grey: Image.Image) -> tuple[Fraction, Fraction]:
    """How much a picture changes from one pixel to the next, across and along, at the mean."""
    pixels, wide = grey.tobytes(), grey.width
    across = sum(abs(pixels[i] - pixels[i + 1]) for i in range(len(pixels) - 1) if (i + 1) % wide)
    along = sum(abs(pixels[i] - pixels[i + wide]) for i in range(len(pixels) - wide))
    return Fraction(across, (wide - 1) * grey.height), Fraction(along, wide * (grey.height - 1))
