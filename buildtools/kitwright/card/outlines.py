"""Exact outlines: straight edges and quarters of circles and ellipses, with rational corners, centres and radii.

An outline is known exactly, and so is its area: a rational number plus a rational number
of π. Approximations begin where something is drawn (`rounded_off`, and the pens).
Coordinates: x right, y down; an outer contour runs clockwise as seen, an opening the
other way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import pairwise
from math import isqrt, pi

from kitwright.exact import Exact
from kitwright.geometry import Diagonal, Rect
from kitwright.units import ZERO, Length, Size, total

Point = tuple[Length, Length]

STEPS = 16
"""Chords for a quarter circle where one is drawn as a polygon: off by at most 1/500 of its radius."""


@dataclass(frozen=True, slots=True)
class Area:
    """Square inches: a rational number and a rational number of π."""

    plain: Fraction
    of_pi: Fraction = Fraction(0)

    def __add__(self, other: Area) -> Area:
        return Area(self.plain + other.plain, self.of_pi + other.of_pi)

    def __float__(self) -> float:
        return float(self.plain) + float(self.of_pi) * pi


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight edge, or a quarter circle about `centre`; a quarter of an ellipse where its spokes lie along the frame and differ."""

    start: Point
    end: Point
    centre: Point | None = None

    def __post_init__(self) -> None:
        if self.centre is None:
            return
        (ax, ay), (bx, by) = self._spokes
        along = not (ax and ay or bx and by)
        if ax * bx + ay * by or not (ax or ay) or not (bx or by) or (ax * ax + ay * ay != bx * bx + by * by and not along):
            raise ValueError("an arc is a quarter circle: its spokes are equal and at right angles; along the frame they may differ")

    @property
    def _spokes(self) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
        """From the centre to both ends, inches."""
        if self.centre is None:
            raise ValueError("a straight edge has no centre")
        (cx, cy), (ax, ay), (bx, by) = self.centre, self.start, self.end
        return ((ax - cx).inches, (ay - cy).inches), ((bx - cx).inches, (by - cy).inches)

    @property
    def clockwise(self) -> bool:
        """Whether an arc runs clockwise as seen."""
        (ax, ay), (bx, by) = self._spokes
        return ax * by - ay * bx > 0

    @property
    def radii(self) -> tuple[Length, Length]:
        """Across and down, of an arc whose spokes lie along the frame, as all of ours do; equal for a circle."""
        (ax, ay), (bx, by) = self._spokes
        if ax and ay:
            raise ValueError("an arc's spokes lie along the frame")
        return Length(abs(ax + bx)), Length(abs(ay + by))

    @property
    def round(self) -> bool:
        """Whether an arc is a quarter circle, not of an ellipse."""
        return self.radii[0] == self.radii[1]

    @property
    def bulge(self) -> Area:
        """The signed area between the edge and its chord: above zero where it lies outside a clockwise contour."""
        if self.centre is None:
            return Area(Fraction(0))
        (ax, ay), (bx, by) = self._spokes
        sign = 1 if self.clockwise else -1
        cross = ax * by - ay * bx
        return Area(-cross / 2, sign * abs(cross) / 4)

    def moved(self, change) -> Edge:
        """The same edge with every point changed."""
        return Edge(change(self.start), change(self.end), change(self.centre) if self.centre else None)

    def points(self, steps: int = STEPS) -> list[Point]:
        """From its start, without its end: rational points that lie exactly on it."""
        if self.centre is None:
            return [self.start]
        (ax, ay), (bx, by) = self._spokes
        cx, cy = self.centre
        return [(cx + Length(ax * cos + bx * sin), cy + Length(ay * cos + by * sin)) for cos, sin in _turns(steps)]


@lru_cache
def _turns(steps: int) -> tuple[tuple[Exact, Exact], ...]:
    """Cosine and sine of so many angles from 0 to a quarter turn, its end left out: the tangent t of half the angle gives both as rational numbers."""
    return tuple(((1 - t * t) / (1 + t * t), 2 * t / (1 + t * t)) for t in (Exact(i, steps) for i in range(steps)))


Contour = tuple[Edge, ...]


def contour_area(contour: Contour) -> Area:
    """The signed area inside a closed contour, above zero where it runs clockwise as seen."""
    twice = sum(e.start[0].inches * e.end[1].inches - e.end[0].inches * e.start[1].inches for e in contour)
    return sum((e.bulge for e in contour), Area(Fraction(twice) / 2))


@dataclass(frozen=True)
class Outline:
    """A piece as it is cut: its edge, and the openings in it."""

    edge: Contour
    """Clockwise as seen."""
    openings: tuple[Contour, ...] = ()
    """Each anticlockwise."""

    @property
    def contours(self) -> tuple[Contour, ...]:
        return (self.edge, *self.openings)

    @cached_property
    def area(self) -> Area:
        """Of the paper itself, openings taken out; exact."""
        return sum((contour_area(c) for c in self.contours), Area(Fraction(0)))

    @property
    def bounds(self) -> Rect:
        """The rectangle around it; exact, since quarter circles along the frame bulge no further than their ends."""
        xs = [e.start[0] for e in self.edge]
        ys = [e.start[1] for e in self.edge]
        return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))

    def moved(self, dx: Length, dy: Length) -> Outline:
        """The same outline, shifted."""
        return self._changed(lambda p: (p[0] + dx, p[1] + dy))

    def turned(self, height: Length) -> Outline:
        """A quarter turn to the right, about a piece of this height that had its top left corner at the origin."""
        return self._changed(lambda p: (height - p[1], p[0]))

    def mirrored(self) -> Outline:
        """Turned over from left to right, within the rectangle around it. Contours then run the other way."""
        r = self.bounds
        return self._changed(lambda p: (r.x + r.right - p[0], p[1]))

    def head_down(self) -> Outline:
        """Half a turn within the rectangle around it."""
        r = self.bounds
        return self._changed(lambda p: (r.x + r.right - p[0], r.y + r.bottom - p[1]))

    def covers(self, other: Outline) -> bool:
        """Whether both have the very same edges, wherever each begins and whichever way it runs."""
        return self.traced == other.traced

    @cached_property
    def traced(self) -> frozenset:
        """Its edges, wherever each begins and whichever way it runs: the same for two outlines that cover each other."""
        return frozenset((frozenset((e.start, e.end)), e.centre) for c in self.contours for e in c)

    def _changed(self, change: Callable[[Point], Point]) -> Outline:
        return Outline(_each((self.edge,), change)[0], _each(self.openings, change))

    def rounded_off(self, steps: int = STEPS) -> tuple[tuple[Point, ...], ...]:
        """Every contour as a polygon of rational points on it, the edge first."""
        return tuple(tuple(p for e in c for p in e.points(steps)) for c in self.contours)

    def one_polygon(self, steps: int = STEPS) -> tuple[Point, ...]:
        """All of it as one polygon: openings are joined to the edge by a slit of no width.

        For pens and sums that know a single ring; the slit is not an edge to be drawn.
        """
        ring, *openings = self.rounded_off(steps)
        for opening in openings:
            ring = _joined(ring, opening)
        return ring


def _each(contours: Iterable[Contour], change) -> tuple[Contour, ...]:
    return tuple(tuple(e.moved(change) for e in c) for c in contours)


def _joined(ring: Sequence[Point], opening: Sequence[Point]) -> tuple[Point, ...]:
    """A ring with a slit to an opening, between the two corners that lie nearest each other."""

    def apart(pair: tuple[int, int]) -> tuple[Fraction, int, int]:
        (ax, ay), (bx, by) = ring[pair[0]], opening[pair[1]]
        return (ax - bx).inches ** 2 + (ay - by).inches ** 2, *pair

    i, j = min(((i, j) for i in range(len(ring)) for j in range(len(opening))), key=apart)
    return (*ring[: i + 1], *opening[j:], *opening[: j + 1], *ring[i:])


# --- building ------------------------------------------------------------------------------


def box(edge: Edge) -> Rect:
    """The rectangle around an edge; exact, since quarter circles along the frame bulge no further than their ends."""
    (ax, ay), (bx, by) = edge.start, edge.end
    return Rect(min(ax, bx), min(ay, by), abs(bx - ax), abs(by - ay))


def polygon(*corners: Point) -> Contour:
    """Straight edges from corner to corner and back to the first."""
    return tuple(Edge(a, b) for a, b in pairwise([*corners, corners[0]]))


def triangle(rect: Rect, way: Diagonal) -> Contour:
    """The half of a rectangle below its diagonal, standing on the rectangle's lower edge; the other half is this one turned by half a turn."""
    up = (rect.x, rect.y) if way == "falling" else (rect.right, rect.y)
    foot, far = ((rect.x, rect.bottom), (rect.right, rect.bottom))
    return polygon(up, far, foot)


def trapezoid(rect: Rect, end: str, by: Length) -> Contour:
    """A rectangle with both corners of one end brought in; where they meet, that end is a point."""
    x, y, right, bottom = rect.x, rect.y, rect.right, rect.bottom
    corners = {
        "top": ((x + by, y), (right - by, y), (right, bottom), (x, bottom)),
        "right": ((x, y), (right, y + by), (right, bottom - by), (x, bottom)),
        "bottom": ((x, y), (right, y), (right - by, bottom), (x + by, bottom)),
        "left": ((x, y + by), (right, y), (right, bottom), (x, bottom - by)),
    }[end]
    return polygon(*dict.fromkeys(corners))


def parallelogram(rect: Rect, lean: str, by: Length) -> Contour:
    """A rectangle whose top is shifted to the right or left, or its right end up or down, as far as the rectangle has room."""
    x, y, right, bottom = rect.x, rect.y, rect.right, rect.bottom
    return polygon(
        *{
            "right": ((x + by, y), (right, y), (right - by, bottom), (x, bottom)),
            "left": ((x, y), (right - by, y), (right, bottom), (x + by, bottom)),
            "up": ((x, y + by), (right, y), (right, bottom - by), (x, bottom)),
            "down": ((x, y), (right, y + by), (right, bottom), (x, bottom - by)),
        }[lean]
    )


_WAYS = (("top", 1, 0), ("right", 0, 1), ("bottom", -1, 0), ("left", 0, -1))
"""Each side of a rectangle with the way it runs, clockwise; to its left lies outside."""


def scalloped(rect: Rect, sides: Iterable[str], width: Length) -> Contour:
    """A rectangle with rows of half circles of this width along some of its sides, which reach out to it.

    The half circles stand on the rectangle that is left within; its sides must be so many times as long.
    """
    sides, r = set(sides), width / 2
    inner = within_scallops(rect, sides, width)
    corners = ((inner.x, inner.y), (inner.right, inner.y), (inner.right, inner.bottom), (inner.x, inner.bottom))
    edges: list[Edge] = []
    for i, (side, dx, dy) in enumerate(_WAYS):
        (x, y), end = corners[i], corners[(i + 1) % 4]
        if side not in sides:
            edges.append(Edge((x, y), end))
            continue
        for n in range(((inner.width if dx else inner.height) / width).numerator):
            start = (x + width * (n * dx), y + width * (n * dy))
            middle = (start[0] + r * dx, start[1] + r * dy)
            crown = (middle[0] + r * dy, middle[1] - r * dx)
            edges += [Edge(start, crown, middle), Edge(crown, (middle[0] + r * dx, middle[1] + r * dy), middle)]
    return tuple(edges)


def within_scallops(rect: Rect, sides: Iterable[str], width: Length) -> Rect:
    """The rectangle that half circles of this width stand on, along some sides of the one around them."""
    sides, r = set(sides), width / 2
    left, right, top, bottom = (r if side in sides else ZERO for side in ("left", "right", "top", "bottom"))
    return Rect(rect.x + left, rect.y + top, rect.width - left - right, rect.height - top - bottom)


def bitten(rect: Rect, side: str, width: Length) -> Contour:
    """A rectangle with a half circle of this width taken out of the middle of one side."""
    corners = ((rect.x, rect.y), (rect.right, rect.y), (rect.right, rect.bottom), (rect.x, rect.bottom))
    edges: list[Edge] = []
    for i, (each, dx, dy) in enumerate(_WAYS):
        start, end, r = corners[i], corners[(i + 1) % 4], width / 2
        if each != side:
            edges.append(Edge(start, end))
            continue
        x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        near, far, deep = (x - r * dx, y - r * dy), (x + r * dx, y + r * dy), (x - r * dy, y + r * dx)
        edges += [Edge(start, near), Edge(near, deep, (x, y)), Edge(deep, far, (x, y)), Edge(far, end)]
    return tuple(edges)


def rectangle(rect: Rect) -> Contour:
    """A rectangle, clockwise from its top left corner."""
    return polygon((rect.x, rect.y), (rect.right, rect.y), (rect.right, rect.bottom), (rect.x, rect.bottom))


CORNERS = ("top left", "top right", "bottom right", "bottom left")
"""The corners of a rectangle, clockwise."""


def softened(rect: Rect, taken: dict[str, Length], rounded: bool) -> Contour:
    """A rectangle whose corners are rounded, or snipped straight.

    Args:
        rect: the rectangle.
        taken: by corner, how much of both edges is taken off: the radius, or the leg of the snip.
        rounded: a quarter circle; otherwise a straight snip.
    """
    around = ((rect.x, rect.y), (rect.right, rect.y), (rect.right, rect.bottom), (rect.x, rect.bottom))
    towards = ((1, 0), (0, 1), (-1, 0), (0, -1))
    """From each corner to the next one, clockwise."""
    edges: list[Edge] = []
    at: Point | None = None
    for i, name in enumerate(CORNERS):
        (x, y), off = around[i], taken.get(name, ZERO)
        (bx, by), (fx, fy) = towards[i - 1], towards[i]
        start, end = (x - off * bx, y - off * by), (x + off * fx, y + off * fy)
        if at is not None and at != start:
            edges.append(Edge(at, start))
        if off:
            edges.append(Edge(start, end, (x - off * bx + off * fx, y - off * by + off * fy) if rounded else None))
        at = end
    first = edges[0].start if taken.get(CORNERS[0]) else around[0]
    if at is not None and at != first:
        edges.append(Edge(at, first))
    return tuple(edges)


def circle(x: Length, y: Length, radius: Length) -> Contour:
    """A circle, clockwise: four quarters."""
    box = Rect(x - radius, y - radius, radius * 2, radius * 2)
    return softened(box, dict.fromkeys(CORNERS, radius), True)


def oval(rect: Rect) -> Contour:
    """An oval that touches all four sides of a rectangle, clockwise from its left: four quarters, those of a circle in a square."""
    x, y = centre = rect.centre
    ends = ((rect.x, y), (x, rect.y), (rect.right, y), (x, rect.bottom))
    return tuple(Edge(a, b, centre) for a, b in pairwise((*ends, ends[0])))


def lies_inside(contour: Contour, point: Point, on_it: bool = False) -> bool:
    """Whether a point lies inside a contour, or on it where that is asked: a level line from it to the right crosses the edges an odd number of times."""
    crossed = False
    for edge in contour:
        beside = _beside(edge, point)
        if beside is None:
            return on_it
        crossed ^= beside
    return crossed


def _beside(edge: Edge, point: Point) -> bool | None:
    """Whether an edge is crossed to the right of a point, its upper end counted, its lower not; None where the point lies on it."""
    (ax, ay), (bx, by), (px, py) = ((x.inches, y.inches) for x, y in (edge.start, edge.end, point))
    if py < min(ay, by) or py > max(ay, by) or px > max(ax, bx):
        return False
    if edge.centre is None:
        side = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
        if side == 0:
            return None if px >= min(ax, bx) else False
        left = (side > 0) == (by > ay)
    else:
        # A quarter circle along the frame runs one way all along: right of its centre it bulges to the right.
        cx, cy = edge.centre[0].inches, edge.centre[1].inches
        across, down = (radius.inches for radius in edge.radii)
        out = ((px - cx) / across) ** 2 + ((py - cy) / down) ** 2 - 1
        if out == 0 and min(ax, bx) <= px:
            return None
        left = px < cx or out < 0 if max(ax, bx) > cx else px < cx and out > 0
    return left and min(ay, by) <= py < max(ay, by)


def share_area(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two convex polygons lie over each other: no side of either has all of the other beyond it, or on it."""

    def apart(ring: Sequence[Point], others: Sequence[Point]) -> bool:
        sense = _sense(ring)
        return any(all(sense * _beyond(a, b, at) <= 0 for at in others) for a, b in pairwise((*ring, ring[0])))

    return not apart(one, other) and not apart(other, one)


def within(ring: Sequence[Point], at: Point) -> bool:
    """Whether a point lies in a convex polygon, its sides included."""
    sense = _sense(ring)
    return all(sense * _beyond(a, b, at) >= 0 for a, b in pairwise((*ring, ring[0])))


FINE = Fraction(1, 1000)
"""Inches: where a length that is no fraction is taken up to."""


def root(square: Fraction) -> Length:
    """The side of a square of so many square inches: exact where it is a fraction, otherwise up to the next `FINE`."""
    whole, over = isqrt(square.numerator), isqrt(square.denominator)
    if whole**2 == square.numerator and over**2 == square.denominator:
        return Length(Fraction(whole, over))
    steps = square / FINE**2
    return Length((isqrt(-(-steps.numerator // steps.denominator) - 1) + 1) * FINE)


def around(ring: Sequence[Point]) -> Length:
    """How far it is round a polygon, each side by Pythagoras."""
    return total(root((a[0] - b[0]).inches ** 2 + (a[1] - b[1]).inches ** 2) for a, b in pairwise((*ring, ring[0])))


def stretch_within(start: Point, end: Point, ring: Sequence[Point]) -> tuple[Point, Point] | None:
    """The stretch of a straight line that lies strictly inside a convex polygon; None where there is none, or it runs along a side."""
    low, high, sense = Fraction(0), Fraction(1), _sense(ring)
    for a, b in pairwise((*ring, ring[0])):
        first, last = sense * _beyond(a, b, start), sense * _beyond(a, b, end)
        if first <= 0 and last <= 0:
            return None
        if first < 0:
            low = max(low, first / (first - last))
        elif last < 0:
            high = min(high, first / (first - last))
    if low >= high:
        return None

    def at(share: Fraction) -> Point:
        return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share

    return at(low), at(high)


def _sense(ring: Sequence[Point]) -> int:
    """1 where a polygon runs clockwise as seen, otherwise -1."""
    twice = sum(a[0].inches * b[1].inches - b[0].inches * a[1].inches for a, b in pairwise((*ring, ring[0])))
    return 1 if twice > 0 else -1


def _beyond(a: Point, b: Point, at: Point) -> Fraction:
    """Twice the area of a triangle, above zero where it runs clockwise as seen: on which side of a line from a to b a point lies."""
    (ax, ay), (bx, by), (x, y) = a, b, at
    return (bx - ax).inches * (y - ay).inches - (by - ay).inches * (x - ax).inches


def opening(contour: Contour) -> Contour:
    """A contour the other way round, as an opening has it."""
    return tuple(Edge(e.end, e.start, e.centre) for e in reversed(contour))


def plain(size: Size) -> Outline:
    """A plain rectangle with its top left corner at the origin."""
    return Outline(rectangle(Rect.of(size)))
