"""Drawn stand-ins for patterned paper: our own, true in repeat, told apart in grey.

A look is laid out in the paper's own frame (hundredths of an inch, its up at the top),
then turned, scaled and clipped to an outline. Colours: the first is the ground, the
second the marks, the third further marks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, lru_cache
from math import lcm

from kitwright.colours import contrast, parts
from kitwright.drawing import motifs
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import Box, Clip, Contour, Marks, Number, PhotoShape, Places, Point, SceneShape, Stamps, circle
from kitwright.exact import Exact
from kitwright.kit.looks import LOOKS, PAPERS, known_colour, paper_colour
from kitwright.kit.model import Paper
from kitwright.kit.scan import Scan
from kitwright.materials import Shows
from kitwright.schemes import AT_EASE, BODY, GRAPHIC, LIGHT, WHITE
from kitwright.work.taken import Taken

UPS = ("top", "right", "bottom", "left")
"""Edges that can be a paper's up, by quarter turns clockwise."""


@dataclass(frozen=True, slots=True)
class DrawnLook:
    """How a paper is drawn."""

    pattern: str = "plain"
    """A name from `LOOKS`."""
    colours: tuple[str, ...] = ()
    """One to three names from `COLOURS`, or `#rrggbb`: ground, marks, further marks."""
    up: str | None = None
    """For a one-way paper: the edge that is its top."""
    shows: Shows = "nothing"
    """What is seen of what lies below: film is clear, vellum cloudy."""
    scan: Scan | None = None
    """What is shown in place of the pattern, which then stands in for it."""
    cut: Taken | None = None
    """Which place of the sheet a piece shows of its scan; None: the corner."""

    def __post_init__(self) -> None:
        if self.pattern not in LOOKS:
            raise ValueError(f"no look called {self.pattern}")
        for colour in self.colours:
            if not known_colour(colour):
                raise ValueError(f"no paper colour called {colour}")

    @property
    def inks(self) -> tuple[Ink, Ink, Ink]:
        """Ground, marks and further marks; what is not said is chosen to show up."""
        ground, *rest = self.colours or ("white",)
        first = rest[0] if rest else ("clay" if _with_ink(ground) >= BODY else "white")
        return Ink(ground), Ink(first), Ink(rest[1] if len(rest) > 1 else first)

    @property
    def dark(self) -> bool:
        """Whether light words read better on its ground."""
        ground = self.inks[0].name
        return contrast(WHITE, paper_colour(ground)) > _with_ink(ground)

    @property
    def middling(self) -> bool:
        """Whether words need black to be read on its ground: a club's own ink may be too light for it. Not asked of the named colours, which are ours."""
        ground = self.inks[0].name
        return not self.dark and ground not in PAPERS and contrast(WHITE, paper_colour(ground)) * GRAPHIC > BODY

    @property
    def calm(self) -> bool:
        """Whether a label can stand on it as it is: one pale colour, no pattern, nothing seen through it."""
        return self.scan is None and self.pattern == "plain" and self.shows == "nothing" and _with_ink(self.inks[0].name) >= AT_EASE


def look_of(paper: Paper, side: str = "front") -> DrawnLook:
    """How a face of a paper is drawn, by its scan where it has one; white where it has no face of that name."""
    face, material = paper.face(side), paper.material
    if face is None:
        return DrawnLook(shows=material.shows)
    natural = () if material.natural == "white" else (material.natural,)
    scan = face.picture if material.shows != "through" else None
    return DrawnLook(face.drawn_look, face.drawn_colours or natural, face.up, material.shows, scan)


def stand_in(look: DrawnLook) -> DrawnLook:
    """How a paper is drawn where its scan is not shown: on guides, on every printable, and where it may not be seen."""
    return replace(look, scan=None, cut=None) if look.scan else look


@lru_cache(maxsize=256)
def _with_ink(colour: str) -> Fraction:
    """Contrast of our ink with a colour of paper; no club's own ink is lighter than 10 : 1 on white allows."""
    return contrast(parts(LIGHT["ink"]), paper_colour(colour))


@dataclass(frozen=True, slots=True)
class TileArea:
    """What a pattern has to cover, in hundredths of an inch in the paper's own frame."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def corners(self) -> Contour:
        x0, y0, x1, y1 = map(Exact, (self.left, self.top, self.right, self.bottom))
        return (x0, y0), (x1, y0), (x1, y1), (x0, y1)

    def holds(self, other: TileArea) -> bool:
        return self.both(other) == self

    def both(self, other: TileArea) -> TileArea:
        """The area around both."""
        return TileArea(min(self.left, other.left), min(self.top, other.top), max(self.right, other.right), max(self.bottom, other.bottom))

    def columns(self, step: int) -> range:
        """Multiples of `step` that reach the area from left to right, and one over."""
        return range(self.left // step * step - step, self.right + 2 * step, step)

    def rows(self, step: int) -> range:
        """The same from top to bottom."""
        return range(self.top // step * step - step, self.bottom + 2 * step, step)

    def lattice(self, across: int, along: int) -> Iterator[tuple[int, int, int, int]]:
        """Points in staggered rows: x, y, and their column and row number."""
        for y in self.rows(along):
            row = y // along
            for x in self.columns(across):
                yield x + (across // 2 if row % 2 else 0), y, x // across, row


@dataclass(frozen=True, slots=True)
class Stamped:
    """A motif, again and again."""

    motif: motifs.Motif
    at: tuple[motifs.Spot, ...]
    ink: Ink


@dataclass(frozen=True, slots=True)
class Areas:
    """Areas of one ink."""

    outlines: tuple[motifs.Outline, ...]
    ink: Ink


Pattern = Iterable[Stamped | Areas]
"""Hundredths of an inch in the paper's own frame."""


def _stamps(motif: motifs.Motif, at: Iterable[motifs.Spot], ink: Ink) -> Stamped:
    return Stamped(motif, tuple(at), ink)


def _areas(outlines: Iterable[motifs.Outline], ink: Ink) -> Areas:
    return Areas(tuple(outlines), ink)


def _plain(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    return ()


def _stripes(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    yield _areas((motifs.bar(x, area.top, x + 22, area.bottom) for x in area.columns(44)), first)
    if second != first:
        yield _areas((motifs.bar(x + 30, area.top, x + 36, area.bottom) for x in area.columns(44)), second)


def _pinstripes(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for ink, odd in ((first, 0), (second, 1)):
        yield _areas((motifs.bar(x, area.top, x + 4, area.bottom) for x in area.columns(18) if x // 18 % 2 == odd), ink)


def _dots(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for ink, odd in ((first, 0), (second, 1)):
        yield _stamps((circle(8),), ((x, y) for x, y, _, row in area.lattice(40, 20) if row % 2 == odd), ink)


def _checks(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for ink, odd in ((first, 0), (second, 1)):
        yield _stamps((motifs.bar(0, 0, 20, 20),), ((x, y) for x, y, _, row in area.lattice(40, 20) if row % 2 == odd), ink)


def _sprigs(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for quarters in range(4):
        yield _stamps(
            motifs.turned(motifs.SPRIG, quarters),
            ((x, y) for x, y, column, row in area.lattice(64, 44) if (column + 2 * row) % 4 == quarters),
            second if quarters % 2 else first,
        )


def _blossoms(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    spots = [(x, y) for x, y, _, _ in area.lattice(52, 36)]
    yield _stamps(motifs.PETALS, spots, first)
    yield _stamps(motifs.HEART, spots, second if second != first else ground)


def _scatter(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    drift = (0, 7, -5, 9, -8, 3, -2)
    for kind, motif in enumerate(motifs.SCRAPS):
        yield _stamps(
            motif,
            (
                (x + drift[(2 * column + row) % 7], y + drift[(column + 3 * row) % 7])
                for x, y, column, row in area.lattice(34, 26)
                if (column + 3 * row) % 5 == kind
            ),
            second if kind % 2 else first,
        )


def _waves(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for ink, odd in ((first, 0), (second, 1)):
        yield _stamps(motifs.WAVE, ((x, y) for y in area.rows(24) if y // 24 % 2 == odd for x in area.columns(96)), ink)


def _diagonals(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    start = (area.left + area.top) // 36 * 36 - 36
    for ink, odd in ((first, 0), (second, 1)):
        yield _areas(
            (
                (
                    (s - area.top, area.top),
                    (s + 15 - area.top, area.top),
                    (s + 15 - area.bottom, area.bottom),
                    (s - area.bottom, area.bottom),
                )
                for s in range(start, area.right + area.bottom + 36, 36)
                if s // 36 % 2 == odd
            ),
            ink,
        )


def _chevrons(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for ink, odd in ((first, 0), (second, 1)):
        yield _stamps(
            (((0, 0), (20, 16), (40, 0), (40, 8), (20, 24), (0, 8)),),
            ((x, y) for y in area.rows(16) if y // 16 % 2 == odd for x in area.columns(40)),
            ink,
        )


def _herringbone(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    for ink, odd in ((first, 0), (second, 1)):
        rise = -18 if odd else 18
        yield _stamps(
            (((1, 0), (19, rise), (19, rise + 9), (1, 9)),),
            ((x, y + (9 if odd else 0)) for x in area.columns(20) if x // 20 % 2 == odd for y in area.rows(14)),
            ink,
        )


def _leaves(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    spots = [(x, y, row) for x, y, _, row in area.lattice(44, 36)]
    for ink, odd in ((first, 0), (second, 1)):
        yield _stamps(motifs.LEAF, ((x, y) for x, y, row in spots if row % 2 == odd), ink)
    yield _stamps(motifs.VEIN, ((x, y) for x, y, _ in spots), ground)


def _houses(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    spots = [(x, y) for x, y, _, _ in area.lattice(56, 54)]
    yield _stamps(motifs.WALLS, spots, first)
    yield _stamps(motifs.ROOF, spots, second)
    yield _stamps(motifs.DOOR, spots, ground)


def _bunting(area: TileArea, first: Ink, second: Ink, ground: Ink) -> Pattern:
    yield _areas((motifs.bar(area.left, y - 2, area.right, y) for y in area.rows(38)), second)
    for ink, odd in ((first, 0), (second, 1)):
        yield _stamps(
            motifs.FLAG, ((x + (11 if y // 38 % 2 else 0), y) for y in area.rows(38) for x in area.columns(22) if x // 22 % 2 == odd), ink
        )


PATTERNS: dict[str, Callable[[TileArea, Ink, Ink, Ink], Pattern]] = {
    "plain": _plain,
    "stripes": _stripes,
    "pinstripes": _pinstripes,
    "dots": _dots,
    "checks": _checks,
    "sprigs": _sprigs,
    "blossoms": _blossoms,
    "scatter": _scatter,
    "waves": _waves,
    "diagonals": _diagonals,
    "chevrons": _chevrons,
    "herringbone": _herringbone,
    "leaves": _leaves,
    "houses": _houses,
    "bunting": _bunting,
}
"""How each look is drawn, by its name."""


Up = str | Point
"""The edge of a picture that is a pattern's top; or, of a piece set on its point, cosine and sine of its turn to the right."""


def lay(look: DrawnLook, outline: Contour, origin: Point, scale: Fraction, up: Up | None = None, strength: Number = 1) -> Patch:
    """The look inside an outline.

    Args:
        outline: where it shows, points.
        origin: the corner of the sheet or piece from which the repeat is counted, points.
        scale: 1 is true size.
        up: the edge of the picture that is the pattern's top, or its turn; the look's own `up` when left out.
        strength: 1, or less for a tint under labels.
    """
    return _patch(look, outline, origin, scale, up or look.up or "top", Exact(strength))


def by_itself(look: DrawnLook, area: TileArea) -> Patch:
    """A pattern in its own frame: a point of the picture is a hundredth of an inch of the paper."""
    return _patch(look, area.corners, (Exact(0), Exact(0)), Exact(100, 72), "top", Exact(1))


@lru_cache(maxsize=512)
def _patch(look: DrawnLook, outline: Contour, origin: Point, scale: Fraction, up: Up, strength: Fraction) -> Patch:
    # The cards of a gallery share most of their patches: each is worked out once.
    return Patch(look, outline, origin, scale, up, strength)


class Patch(Clip):
    """A look inside an outline, worked out only when a pen asks for it.

    A picture is drawn at several scales until it fits; only the last one is ever shown. Two
    patches are alike that are made from the same.
    """

    made_from: tuple[DrawnLook, Contour, Point, Fraction, Up, Fraction]
    """What `lay` is given."""

    def __init__(self, *made_from: *tuple[DrawnLook, Contour, Point, Fraction, Up, Fraction]) -> None:
        object.__setattr__(self, "outline", made_from[1])
        object.__setattr__(self, "made_from", made_from)

    def __eq__(self, other: object) -> bool:
        return self is other or (self.made_from == other.made_from if isinstance(other, Patch) else NotImplemented)

    def __hash__(self) -> int:
        return hash(self.made_from)

    @property
    def tile(self) -> _Tile:
        """How its pattern's own frame lies in the picture."""
        _, _, origin, scale, up, _ = self.made_from
        return _Tile(origin, Exact(72 * scale / 100), turn_of_up(up))

    @property
    def patterned(self) -> bool:
        """Whether it shows a drawn pattern at full strength, with nothing seen through it."""
        look, *_, strength = self.made_from
        return look.pattern != "plain" and look.shows == "nothing" and look.scan is None and strength == 1

    @property
    def area(self) -> TileArea:
        """What it shows of its pattern."""
        return self.tile.area(self.outline)

    @cached_property
    def items(self) -> tuple[SceneShape | Stamps | Marks | PhotoShape, ...]:
        """The ground, and what lies on it."""
        look, outline, origin, scale, up, strength = self.made_from
        if look.scan:
            return (_scanned(look, look.scan, outline, scale, up, strength),)
        tile = self.tile
        ground, first, second = (ink.weaker(strength) for ink in look.inks)
        found: list[SceneShape | Stamps | Marks | PhotoShape] = []
        if look.shows == "through":
            found += _gleam(outline)
        else:
            found.append(SceneShape((outline,), None, replace(ground, opacity=_CLOUDY) if look.shows == "dimly" else ground))
        for mark in PATTERNS[look.pattern](tile.area(outline), first, second, ground):
            if isinstance(mark, Stamped):
                found.append(Stamps(tile.motif(mark.motif), tile.places(mark.at), mark.ink))
            else:
                found.append(Marks(tuple(tile.places(each) for each in mark.outlines), mark.ink))
        return tuple(found)


def _scanned(look: DrawnLook, scan: Scan, outline: Contour, scale: Fraction, up: Up, strength: Fraction) -> PhotoShape:
    """The scan of a paper inside an outline: the place that the piece is cut from, else from the corner on.

    The scan is the sheet as it lies. A piece stands upright when the edge that is the paper's up is its top; where
    nothing is its up, a piece that lies turned on the sheet is turned back to the left.
    """
    quarters, cut, unit = -UPS.index(look.up or "top"), look.cut, Exact(72 * scale)
    if cut and cut.turned != bool(quarters % 2):
        quarters -= 1
    first = _QUARTERS[UPS.index(up)] if isinstance(up, str) else up
    turn = _turn(first, _QUARTERS[quarters % 4])
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    box = Box(min(xs), min(ys), max(xs), max(ys))
    middle = _turn(_middle(cut, box, unit, up, quarters), turn)
    origin = box.centre[0] - middle[0] * unit, box.centre[1] - middle[1] * unit
    opacity = _CLOUDY if look.shows == "dimly" else Exact(1)
    ground = look.inks[0].weaker(strength)
    return PhotoShape(scan, box, origin, unit, (turn[0], turn[1]), strength, opacity, replace(ground, opacity=opacity))


def _middle(cut: Taken | None, box: Box, unit: Fraction, up: Up, quarters: int) -> tuple[Number, Number]:
    """Which place of the sheet lies in the middle of a piece, inches."""
    if cut:
        across, along = cut.rect.centre
        return Exact(across.inches), Exact(along.inches)
    wide, high = box.width / unit / 2, box.height / unit / 2
    if not isinstance(up, str):
        return max(wide, high), max(wide, high)
    return (high, wide) if (UPS.index(up) + quarters) % 2 else (wide, high)


_CLOUDY = Exact(13, 20)
"""How much vellum covers of what lies below it."""


def _gleam(outline: Contour) -> list[SceneShape]:
    """What shows of clear film: two streaks of light across a corner and a light rim, as glass is drawn."""
    left, top = min(x for x, _ in outline), min(y for _, y in outline)
    wide, high = max(x for x, _ in outline) - left, max(y for _, y in outline) - top
    step, ink = min(wide, high) / 12, Ink("line", Exact(1, 4), Exact(1, 2))
    middle = (left + wide / 2, top + high / 2)
    inner = [(x + (middle[0] - x) * _RIM, y + (middle[1] - y) * _RIM) for x, y in outline]
    rim = (*outline, outline[0], inner[0], *reversed(inner))
    return [SceneShape((rim,), None, Ink("white", opacity=Exact(2, 5))), *_streaks(left, top, step, ink)]


_RIM = Exact(1, 20)
"""How far the rim of film reaches from its edge towards its middle."""


def _streaks(left: Fraction, top: Fraction, step: Fraction, ink: Ink) -> list[SceneShape]:
    """Two streaks across the top left corner."""
    return [
        SceneShape((((left, top + far), (left + far, top), (left + far + broad, top), (left, top + far + broad)),), None, ink)
        for far, broad in ((3 * step, step), (5 * step, step / 2))
    ]


@dataclass(frozen=True, slots=True)
class _Tile:
    """Carries a pattern's own frame into the picture."""

    origin: Point
    """Where the repeat is counted from, points."""
    unit: Fraction
    """Points to a hundredth of an inch of the paper."""
    turn: tuple[Number, Number]
    """Cosine and sine of its turn, clockwise."""

    def area(self, outline: Contour) -> TileArea:
        """What the pattern has to cover."""
        back = [
            _turn(((x - self.origin[0]) / self.unit, (y - self.origin[1]) / self.unit), (self.turn[0], -self.turn[1])) for x, y in outline
        ]
        return TileArea(*(int(min(p[i] for p in back) // 1) for i in (0, 1)), *(int(-(-max(p[i] for p in back) // 1)) for i in (0, 1)))

    def motif(self, outlines: motifs.Motif) -> tuple[Contour, ...]:
        """A motif at its size, exactly, around its own origin."""
        return tuple(tuple((x * self.unit, y * self.unit) for x, y in (_turn(p, self.turn) for p in c)) for c in outlines)

    def places(self, spots: Iterable[motifs.Spot]) -> Places:
        """Where spots lie. Over one denominator whole numbers suffice, a hundred times as fast as fractions; Python divides them to the nearest float."""
        (left, top), unit, (cos, sin) = self.origin, self.unit, self.turn
        whole = lcm(cos.denominator, sin.denominator)
        c, s = int(cos * whole), int(sin * whole)
        over = lcm(left.denominator, top.denominator, unit.denominator)
        x0, y0, step = int(left * over) * whole, int(top * over) * whole, int(unit * over)
        over *= whole
        return tuple(
            ((x0 + (x * c - y * s) * step) / over, (y0 + (x * s + y * c) * step) / over)
            if type(x) is int and type(y) is int
            else (float(left + (x * cos - y * sin) * unit), float(top + (x * sin + y * cos) * unit))
            for x, y in spots
        )


_QUARTERS: tuple[tuple[Number, Number], ...] = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Cosine and sine of quarter turns to the right."""


def turn_of_up(up: Up) -> tuple[Number, Number]:
    """Cosine and sine of the turn to the right that a pattern has whose top is there."""
    return _QUARTERS[UPS.index(up)] if isinstance(up, str) else up


def _turn(spot: motifs.Spot, by: tuple[Number, Number]) -> motifs.Spot:
    (x, y), (cos, sin) = spot, by
    return x * cos - y * sin, x * sin + y * cos
