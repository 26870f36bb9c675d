"""A folded base opened so that it stands: which way each panel goes, seen from above, exactly.

Two axes: along, that of the closed card, and towards the reader. Every panel keeps its length,
since it points along a direction of whole-numbered triangles (3-4-5, 7-24-25), and directions
turned by one another are such again. Where the score lines run across, the same is seen from the side.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from kitwright.exact import Exact
from kitwright.folding.closed import Closed
from kitwright.folding.scored import Side
from kitwright.units import ZERO, Length

Way = tuple[Fraction, Fraction]
"""A direction one long: how much of it goes along, and how much towards the reader."""
Stop = tuple[Length, Length]
"""A place seen from above: along, and towards the reader."""

_ALONG: Way = Exact(1), Exact(0)
_OPEN: Way = Exact(3, 5), Exact(4, 5)
"""How far a fold is turned as a rule: 53°."""
_ROLLED: Way = Exact(-7, 25), Exact(24, 25)
"""A panel that was rolled in stands past square, 106°, so that it is seen where it goes."""
_ZIGZAG: Way = Exact(4, 5), Exact(3, 5)
_FURTHER: tuple[Way, ...] = (_OPEN, _ZIGZAG, (Exact(24, 25), Exact(7, 25)), (Exact(63, 65), Exact(16, 65)), (Exact(40, 41), Exact(9, 41)))
"""What is tried where panels would stand in one another's way, ever less."""


@dataclass(frozen=True, slots=True)
class Stood:
    """One panel, as the card stands open."""

    panel: int
    """By its place on the flat base."""
    start: Stop
    """Its end at the reader's left, or at the top where score lines run across, were the base laid flat before her."""
    way: Way
    """From there on."""
    length: Length
    shown: Side
    """The face that the reader sees."""
    turned: bool
    """Whether the flat base was turned over for the reader, so that `start` is where the panel ends on it."""
    first: Length
    """Where the panel begins on the flat base."""

    @property
    def end(self) -> Stop:
        """Its other end."""
        return _on(self.start, self.way, self.length)

    def at(self, x: Length) -> Stop:
        """Where a point of the flat base stands."""
        return _on(self.start, self.way, self.first + self.length - x if self.turned else x - self.first)


def standing(closed: Closed) -> tuple[Stood, ...]:
    """The card opened part of the way, its panels from the reader's left, or from the top.

    The back faces the reader as it does in the closed card. Panels that go forth and back stand as a screen does.
    """
    flat, _ = closed.states[0]
    order = sorted(range(len(flat)), key=lambda i: flat[i].start)
    back = order.index(closed.base.panels.index(closed.base.back))
    turned = flat[0].turned
    forward = {closed.base.beside(score): score.direction == "forward" for score in closed.base.scores}
    towards = [forward[min(a, b), max(a, b)] != turned for a, b in zip(order, order[1:])]
    rolled = {closed.base.panels.index(enclosure.panel) for enclosure in closed.enclosures}
    found: tuple[Stood, ...] = ()
    for turn in _FURTHER:
        ways = _ways(towards, back, turn, [i in rolled for i in order])
        found = _stood(closed, order, back, turned, ways)
        if not _cross(found):
            break
    return found


def _ways(towards: list[bool], back: int, turn: Way, rolled: list[bool]) -> list[Way]:
    """Which way each panel goes: the back along, what hangs on it turned, fold by fold."""
    last = len(towards)
    if last > 1 and all(a != b for a, b in zip(towards, towards[1:])):
        first = _mirrored(_ZIGZAG) if towards[0] else _ZIGZAG
        return [first if i % 2 == 0 else _mirrored(first) for i in range(last + 1)]
    ways = [_ALONG] * (last + 1)
    for step, ends in ((1, range(back + 1, last + 1)), (-1, range(back - 1, -1, -1))):
        for i in ends:
            along, towards_reader = ways[i - step]
            more = towards[i - 1 if step > 0 else i] == (step > 0)
            if along > 0 and towards_reader and more == (towards_reader < 0):
                # Back by as much as it came, and as far again: what goes forth and back never turns in a circle.
                ways[i] = _mirrored(ways[i - step])
            else:
                alone = len(ends) == 1 and rolled[i] and turn == _OPEN
                ways[i] = _turned(ways[i - step], _ROLLED if alone else turn, more)
    return ways


def _stood(closed: Closed, order: list[int], back: int, turned: bool, ways: list[Way]) -> tuple[Stood, ...]:
    spans = closed.base.spans()
    found, at = [], (ZERO, ZERO)
    for i, way in zip(order, ways):
        first, last = spans[i]
        shown = closed.base.shown(turned != (way[0] < 0))
        found.append(Stood(i, at, way, last - first, shown, turned, first))
        at = found[-1].end
    return tuple(found)


def _on(start: Stop, way: Way, length: Length) -> Stop:
    return start[0] + length * way[0], start[1] + length * way[1]


def _mirrored(way: Way) -> Way:
    return way[0], -way[1]


def _turned(way: Way, by: Way, towards: bool) -> Way:
    (a, b), (c, d) = way, by if towards else _mirrored(by)
    return a * c - b * d, a * d + b * c


def _cross(stood: tuple[Stood, ...]) -> bool:
    """Whether any two panels that are no neighbours touch."""
    return any(_touch(one, other) for i, one in enumerate(stood) for other in stood[i + 2 :])


def _touch(one: Stood, other: Stood) -> bool:
    def beside(a: Stop, b: Stop) -> Callable[[Stop], Fraction]:
        return lambda p: (b[0] - a[0]).inches * (p[1] - a[1]).inches - (b[1] - a[1]).inches * (p[0] - a[0]).inches

    first, second = beside(one.start, one.end), beside(other.start, other.end)
    return first(other.start) * first(other.end) <= 0 and second(one.start) * second(one.end) <= 0
