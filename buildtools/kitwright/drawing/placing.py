"""Finding room: what is taken on a picture, and where a figure can still stand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm

from kitwright.drawing.scene import Box, Contour, Number, Point
from kitwright.exact import Exact
from kitwright.units import less


def crosses(box: Box, start: Point, end: Point) -> bool:
    """Whether a straight line passes through the inside of a box.

    Clips the line against the four sides in turn (Liang and Barsky's method).
    """
    (ax, ay), (bx, by) = start, end
    left, right = (bx, ax) if less(bx, ax) else (ax, bx)
    if not less(box.left, right) or not less(left, box.right):
        return False
    top, bottom = (by, ay) if less(by, ay) else (ay, by)
    if not less(box.top, bottom) or not less(top, box.bottom):
        return False
    if ax == bx or ay == by:
        return True  # An upright or level line is a box as well, and these two share something each way.
    low, high = Exact(0), Exact(1)
    for near, far, a, b in ((box.left, box.right, ax, bx), (box.top, box.bottom, ay, by)):
        first, last = sorted((Exact(near - a) / (b - a), Exact(far - a) / (b - a)))
        low, high = max(low, first), min(high, last)
    return low < high


def edges(contour: Contour, closed: bool = True) -> Iterable[tuple[Point, Point]]:
    """The straight lines of a contour."""
    return zip(contour, contour[1:] + contour[:1] if closed else contour[1:])


def bounds(contour: Contour) -> Box:
    """The smallest box around a contour."""
    xs, ys = [x for x, _ in contour], [y for _, y in contour]
    return Box(min(xs), min(ys), max(xs), max(ys))


def fits(box: Box, contour: Contour) -> bool:
    """Whether a box lies within a polygon."""
    return not any(crosses(box, a, b) for a, b in edges(contour)) and holds(contour, box.centre)


def meets(box: Box, contour: Contour) -> bool:
    """Whether a box and a polygon share any area."""
    return any(crosses(box, a, b) for a, b in edges(contour)) or holds(contour, box.centre)


def holds(contour: Contour, point: Point) -> bool:
    """Whether a point is inside a polygon, by counting the sides to its right."""
    x, y = point
    within = False
    for (ax, ay), (bx, by) in edges(contour):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            within = not within
    return within


def outside(start: Point, end: Point, holes: Sequence[Box]) -> list[tuple[Point, Point]]:
    """The stretches of a straight line that lie in none of the boxes."""
    (ax, ay), (bx, by) = start, end
    in_the_way = [hole for hole in holes if crosses(hole, start, end)]
    if not in_the_way:
        return [(start, end)]
    stretches = [(Exact(0), Exact(1))]
    for hole in in_the_way:
        low, high = Exact(0), Exact(1)
        for near, far, a, b in ((hole.left, hole.right, ax, bx), (hole.top, hole.bottom, ay, by)):
            if a != b:
                first, last = sorted((Exact(near - a) / (b - a), Exact(far - a) / (b - a)))
                low, high = max(low, first), min(high, last)
        stretches = [(p, q) for lo, hi in stretches for p, q in ((lo, min(hi, low)), (max(lo, high), hi)) if p < q]

    def at(t: Fraction) -> Point:
        return ax + (bx - ax) * t, ay + (by - ay) * t

    return [(at(lo), at(hi)) for lo, hi in stretches]


def hatched(box: Box, holes: Sequence[Box] = (), step: Number = 6) -> list[tuple[Point, Point]]:
    """Diagonal lines across a box, rising to the right, left out where figures stand.

    All lines lie on one family x + y = n · step, so that neighbouring areas agree.
    """
    found = []
    first = int((box.left + box.top) / step) + 1
    for n in range(first, int((box.right + box.bottom) / step) + 1):
        total = Exact(n * step)
        start, end = max(box.left, total - box.bottom), min(box.right, total - box.top)
        if start < end:
            found += outside((start, total - start), (end, total - end), holes)
    return found


@dataclass
class Board:
    """What is taken so far."""

    bounds: Box | None = None
    """Nothing may reach outside these."""
    boxes: list[Box] = field(default_factory=list)
    lines: list[tuple[Point, Point]] = field(default_factory=list)

    def take(self, box: Box) -> None:
        """Nothing else may stand here."""
        self.boxes.append(box)

    def rule(self, start: Point, end: Point) -> None:
        """A line that no figure may touch."""
        self.lines.append((start, end))

    def frame(self, box: Box) -> None:
        """The four sides of a box as lines."""
        for start, end in edges(box.corners):
            self.rule(start, end)

    def free(self, box: Box, margin: Number = Exact(3, 2)) -> bool:
        """Whether a figure may stand here, clear of everything by the margin."""
        wide = box.grown(margin)
        return (
            (self.bounds is None or self.bounds.holds(box))
            and not any(wide.meets(other) for other in self.boxes)
            and not any(crosses(wide, a, b) for a, b in self.lines)
        )

    def near(self, area: Box) -> Board:
        """What there is of this board in an area: for a figure that stays inside, the same."""
        return Board(self.bounds, [b for b in self.boxes if b.meets(area)], [line for line in self.lines if crosses(area, *line)])

    def open_line(self, start: Point, end: Point) -> bool:
        """Whether a leader may run here without crossing a figure."""
        return not any(crosses(box.grown(1), start, end) for box in self.boxes)


@dataclass
class ClosedBoard(Board):
    """A board with rooms in which no figure may stand, though lines may cross them."""

    closed: Sequence[Box] = ()

    def free(self, box: Box, margin: Number = Exact(3, 2)) -> bool:
        return not any(box.meets(room) for room in self.closed) and super().free(box, margin)


STEP = 64
"""Parts of a point by which a box is moved while room is looked for."""


class Tried:
    """A box that is moved about on a board to where it touches no other box.

    Hundreds of places are tried for some: they are held against one another as whole numbers of
    one lattice, on which all places lie. What stands beside it is brought there by rounding away
    from the box, which decides nothing otherwise.
    """

    def __init__(self, board: Board, box: Box, margin: Number, room: Box) -> None:
        """
        Args:
            board: what is taken.
            box: where it stands first.
            margin: points between it and any other.
            room: what it stays in.
        """
        wide, most = box.grown(margin), room.grown(margin)
        sides = (wide.left, wide.top, wide.right, wide.bottom)
        self._fine = fine = lcm(STEP, *(side.denominator for side in sides))
        self._sides = tuple(_down(side, fine) for side in sides)
        self._most = _up(most.left, fine), _up(most.top, fine), _down(most.right, fine), _down(most.bottom, fine)
        self._taken = [(_down(b.left, fine), _down(b.top, fine), _up(b.right, fine), _up(b.bottom, fine)) for b in board.boxes]

    def free(self, across: int, along: int) -> bool:
        """Whether it has room where it is moved by so many steps."""
        x, y = (steps * self._fine // STEP for steps in (across, along))
        left, top, right, bottom = self._sides
        left, top, right, bottom = left + x, top + y, right + x, bottom + y
        least_x, least_y, most_x, most_y = self._most
        if left < least_x or top < least_y or right > most_x or bottom > most_y:
            return False
        for a, b, c, d in self._taken:
            if left < c and a < right and top < d and b < bottom:
                return False
        return True


def _down(number: Fraction, fine: int) -> int:
    return number.numerator * fine // number.denominator


def _up(number: Fraction, fine: int) -> int:
    return -(-number.numerator * fine // number.denominator)


def spread(
    wanted: Sequence[Fraction], sizes: Sequence[Fraction], low: Fraction | None = None, high: Fraction | None = None
) -> list[Fraction]:
    """Middles for things in a row so that none overlap, each as near as can be to where it is wanted.

    Args:
        wanted: the middles asked for, ascending.
        sizes: the room that each takes, with its clearance.
        low, high: the ends of the row; when it is too short for all, it runs over `high`.
    """
    groups: list[list] = []  # [where the first one starts, total size, sum of wished starts, count]
    for middle, size in zip(wanted, sizes):
        groups.append([middle - size / 2, size, middle - size / 2, 1])
        while len(groups) > 1 and groups[-2][0] + groups[-2][1] > groups[-1][0]:
            _, size_b, wish_b, n_b = groups.pop()
            _, size_a, wish_a, n_a = groups.pop()
            wish = wish_a + wish_b - n_b * size_a
            groups.append([wish / (n_a + n_b), size_a + size_b, wish, n_a + n_b])
    starts: list[Fraction] = []
    index = 0
    for start, _, _, count in groups:
        for _ in range(count):
            starts.append(start)
            start += sizes[index]
            index += 1
    if high is not None:
        limit = high
        for i in reversed(range(len(starts))):
            starts[i] = min(starts[i], limit - sizes[i])
            limit = starts[i]
    if low is not None:
        limit = low
        for i in range(len(starts)):
            starts[i] = max(starts[i], limit)
            limit = starts[i] + sizes[i]
    return [start + size / 2 for start, size in zip(starts, sizes)]
