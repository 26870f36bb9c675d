"""A picture, described once for every pen.

The unit is a point (1/72 in) on the finished picture, an exact `Fraction`; x runs right,
y runs down. Sizes of things enter as `Length` × scale (see `points`); text is given in
points and is never under 8. Items carry a role (`cut`, `fold`, `hidden` …) instead of a
colour; `kitwright.drawing.styles` says how a role looks. All text lies above all shapes,
in reading order, so nothing is ever drawn over a figure.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.drawing.palette import Ink
from kitwright.exact import Exact
from kitwright.geometry import Rect
from kitwright.kit.scan import Scan
from kitwright.units import Length, less

Number = Fraction | int
Point = tuple[Fraction, Fraction]
Contour = tuple[Point, ...]
Places = tuple[tuple[Fraction | float, Fraction | float], ...]
"""Points of a pattern. A look is only worked out when a pen asks for it, so that these may be floats, each the one next to its exact value."""
Carry = tuple[Fraction, Fraction, Fraction, Fraction]
"""Where a step across and a step down go, `(a, b, c, d)`: one across to (a, b), one down to (c, d)."""
Fill = str | Ink | None
"""A fill role, a paper colour, or nothing."""

_BEFORE = {"start": Exact(0), "middle": Exact(1, 2), "end": Exact(1)}
"""How much of a text lies before its anchor."""
LEAST_TEXT = 8
"""Points; no text is smaller."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in points."""

    left: Fraction
    top: Fraction
    right: Fraction
    bottom: Fraction

    @property
    def width(self) -> Fraction:
        return self.right - self.left

    @property
    def height(self) -> Fraction:
        return self.bottom - self.top

    @property
    def centre(self) -> Point:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    @property
    def corners(self) -> Contour:
        """Clockwise from the top left."""
        return ((self.left, self.top), (self.right, self.top), (self.right, self.bottom), (self.left, self.bottom))

    def grown(self, across: Number, along: Number | None = None) -> Box:
        """Larger by `across` on the left and right and by `along` at top and bottom."""
        along = across if along is None else along
        return Box(self.left - across, self.top - along, self.right + across, self.bottom + along)

    def meets(self, other: Box) -> bool:
        """Whether the two share any area."""
        return (
            less(self.left, other.right) and less(other.left, self.right) and less(self.top, other.bottom) and less(other.top, self.bottom)
        )

    def holds(self, other: Box) -> bool:
        """Whether `other` lies within, edges included."""
        return not (
            less(other.left, self.left) or less(other.top, self.top) or less(self.right, other.right) or less(self.bottom, other.bottom)
        )


@dataclass(frozen=True, slots=True)
class SceneShape:
    """Lines and areas in one style."""

    contours: tuple[Contour, ...]
    """Polygons, or open lines."""
    stroke: str | None = None
    """Line role."""
    fill: Fill = None
    closed: bool = True
    """Whether the last point joins the first."""


@dataclass(frozen=True, slots=True)
class Stamps:
    """One small filled motif, repeated."""

    motif: tuple[Contour, ...]
    """The motif's polygons, around its own origin."""
    at: Places
    """Where its origin goes, again and again."""
    fill: Ink


@dataclass(frozen=True, slots=True)
class Marks:
    """Areas of a pattern."""

    outlines: tuple[Places, ...]
    fill: Ink


@dataclass(frozen=True, slots=True)
class PhotoShape:
    """A scan of a paper at its true scale; `photo.py` makes the pixels that a pen lays down."""

    scan: Scan
    box: Box
    """What it has to cover."""
    origin: Point
    """Where the corner of the sheet lies."""
    unit: Fraction
    """Points to an inch of the sheet."""
    turn: tuple[Number, Number]
    """Cosine and sine of its turn, clockwise."""
    strength: Fraction
    """1, or less for a tint."""
    opacity: Fraction
    """How much it covers of what lies below it."""
    ground: Ink
    """Drawn in its place where ink is saved."""

    @property
    def plain(self) -> SceneShape:
        """That."""
        return SceneShape((self.box.corners,), None, self.ground)


@dataclass(frozen=True, slots=True)
class Clip:
    """Shapes of which only what lies inside an outline shows: a paper look."""

    outline: Contour
    items: tuple[SceneShape | Stamps | Marks | PhotoShape, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text."""

    text: str
    x: Fraction
    """Of the anchor."""
    y: Fraction
    """Of the baseline at the anchor."""
    size: Fraction
    """Points, 8 or more."""
    role: str = "figure"
    anchor: str = "start"
    """`start`, `middle` or `end`."""
    font: Font = Font()
    upward: bool = False
    """Turned to read from the right: it runs from bottom to top."""
    carry: Carry | None = None
    """How its letters are carried about its anchor, where what they stand on is turned or leans; its width stays that of the line itself."""

    def __post_init__(self) -> None:
        if self.size < LEAST_TEXT:
            raise ValueError(f"text under {LEAST_TEXT} pt: {self.text!r} at {self.size}")

    @property
    def width(self) -> Fraction:
        return fonts.width(self.text, self.size, self.font)

    @property
    def box(self) -> Box:
        """What the text covers, from capital height (or ascenders) to descenders."""
        before = self.width * _BEFORE[self.anchor]
        up = self.size * (fonts.ASCENT if any(c.islower() for c in self.text) else fonts.CAP)
        down = self.size * fonts.drop(self.text)
        if self.upward:
            return Box(self.x - up, self.y + before - self.width, self.x + down, self.y + before)
        if self.carry:
            a, b, c, d = self.carry
            corners = [(x * a + y * c, x * b + y * d) for x in (-before, self.width - before) for y in (-up, down)]
            xs, ys = zip(*corners)
            return Box(self.x + min(xs), self.y + min(ys), self.x + max(xs), self.y + max(ys))
        return Box(self.x - before, self.y - up, self.x - before + self.width, self.y + down)


Item = SceneShape | Stamps | Marks | PhotoShape | Clip | Text
"""A part of a picture. A text among them belongs to what is shown, as the words on a card do, and is covered by what lies over it."""


@dataclass(frozen=True, slots=True)
class Scene:
    """A whole picture."""

    width: Fraction
    """Points."""
    height: Fraction
    """Points."""
    shapes: tuple[Item, ...]
    """Lowest first."""
    texts: tuple[Text, ...]
    """In reading order, above every shape."""
    title: str
    """A short name for the picture."""
    alt: str
    """What it shows, for those who can't see it."""
    scale: Fraction | None = None
    """The scale of what it shows, 1 being true size; None where none is stated."""
    crowded: bool = False
    """Whether something is too small here for its mark or label."""

    @property
    def every_text(self) -> tuple[Text, ...]:
        """All words on it, those that belong to what is shown first."""
        return *(item for item in self.shapes if isinstance(item, Text)), *self.texts

    @property
    def stated_scale(self) -> Fraction:
        """The scale of a picture that states one."""
        assert self.scale is not None, f"{self.title} states no scale"
        return self.scale


def points(length: Length, scale: Fraction) -> Fraction:
    """A length as points on the picture, at `scale` (1 is true size)."""
    return length.inches * 72 * scale


@dataclass
class Frame:
    """Carries true measures into the picture: an origin and a scale."""

    x: Fraction
    """Where the true origin lies, points."""
    y: Fraction
    scale: Fraction
    """1 is true size."""

    def point(self, x: Length, y: Length) -> Point:
        return self.x + points(x, self.scale), self.y + points(y, self.scale)

    def box(self, rect: Rect) -> Box:
        return Box(*self.point(rect.x, rect.y), *self.point(rect.right, rect.bottom))


@dataclass
class Draft:
    """A picture while it is being drawn."""

    shapes: list[Item] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    bare: bool = False
    """Whether it is only asked how much room its texts take: shapes are left out."""

    def line(self, role: str, *stops: Point) -> None:
        """An open line through the given points."""
        if not self.bare:
            self.shapes.append(SceneShape((_exact(stops),), role, None, False))

    def lines(self, role: str, contours: Iterable[Iterable[Point]]) -> None:
        """Several open lines of one role."""
        if self.bare:
            return
        found = tuple(_exact(c) for c in contours)
        if found:
            self.shapes.append(SceneShape(found, role, None, False))

    def polygon(self, contour: Iterable[Point], stroke: str | None = None, fill: Fill = None) -> None:
        """A closed outline."""
        if not self.bare:
            self.shapes.append(SceneShape((_exact(contour),), stroke, fill))

    def box(self, box: Box, stroke: str | None = None, fill: Fill = None, radius: Number = 0) -> None:
        """An upright rectangle, its corners rounded by `radius` points."""
        if not self.bare:
            self.polygon(rounded(box, radius) if radius else box.corners, stroke, fill)

    def text(
        self,
        text: str,
        x: Number,
        y: Number,
        size: Number = 9,
        role: str = "figure",
        anchor: str = "start",
        family: str = "sans",
        weight: str = "regular",
        upward: bool = False,
    ) -> Text:
        """A line of text with its baseline at y; returns it."""
        item = Text(text=text, x=Exact(x), y=Exact(y), size=Exact(size), role=role, anchor=anchor, font=Font(family, weight), upward=upward)
        self.texts.append(item)
        return item

    def below(self) -> Fraction:
        """The y under everything written so far."""
        return max((text.box.bottom for text in self.texts), default=Exact(0))

    def scene(self, width: Number, height: Number, title: str, alt: str, scale: Fraction | None = None) -> Scene:
        """The finished picture."""
        return Scene(
            width=Exact(width), height=Exact(height), shapes=tuple(self.shapes), texts=tuple(self.texts), title=title, alt=alt, scale=scale
        )


def _exact(stops: Iterable[Point]) -> Contour:
    return tuple([(x if type(x) is Exact else Exact(x), y if type(y) is Exact else Exact(y)) for x, y in stops])


@lru_cache
def quarter(steps: int) -> Contour:
    """Rational points on a quarter of the unit circle, from (0, 1) to (1, 0)."""
    return tuple((2 * t / (1 + t * t), (1 - t * t) / (1 + t * t)) for t in (Exact(i, steps) for i in range(steps + 1)))


def circle(radius: Number, x: Number = 0, y: Number = 0) -> Contour:
    """A circle as an exact polygon with its corners on it: 16 of them, or 48 on a large one."""
    return tuple((x + a, y + b) for a, b in _circle(Exact(radius)))


@lru_cache(maxsize=256)
def _circle(radius: Fraction) -> Contour:
    """A circle around the origin."""
    turn, found = list(quarter(4 if radius < 5 else 12)[:-1]), []
    for _ in range(4):
        found += [(a * radius, b * radius) for a, b in turn]
        turn = [(b, -a) for a, b in turn]
    return tuple(found)


def rounded(box: Box, radius: Number) -> Contour:
    """A rectangle with round corners."""
    r = min(Exact(radius), box.width / 2, box.height / 2)
    middles = ((box.right - r, box.top + r), (box.right - r, box.bottom - r), (box.left + r, box.bottom - r), (box.left + r, box.top + r))
    return tuple((x + a, y + b) for (x, y), corner in zip(middles, _corners(r)) for a, b in corner)


@lru_cache(maxsize=1024)
def _corners(radius: Fraction) -> tuple[Contour, ...]:
    """Four round corners, each around its own middle, clockwise from the top right."""
    scaled = [(a * radius, b * radius) for a, b in quarter(6)]
    return (
        tuple((a, -b) for a, b in scaled),
        tuple((b, a) for a, b in scaled),
        tuple((-a, b) for a, b in scaled),
        tuple((-b, -a) for a, b in scaled),
    )
