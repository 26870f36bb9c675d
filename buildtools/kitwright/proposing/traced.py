"""Cuts behind a candidate's table: of all trees that the table allows, one with few ruler marks, chosen alike on every machine.

Every part is as thick as its table says and what is left over comes off last, so that a sheet which is
smaller by the slack that was asked for gives the same pieces by the same strokes.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import gcd
from typing import Literal

import numpy as np

from kitwright.cutting.tree import Leaf, Node, Split, lying
from kitwright.geometry import Axis, Diagonal, Rect
from kitwright.proposing.lattice import Lattice
from kitwright.proposing.tables import ExactTables, Vector
from kitwright.units import Length, Size


@dataclass(frozen=True, slots=True)
class Whole:
    """A piece."""

    kind: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Across:
    """A part cut right across."""

    axis: Axis
    parts: tuple[tuple[int, Taken], ...]
    """The parts in the order in which they come off, with their thickness in steps."""
    rest: bool
    """Whether something is left over at the end."""
    held: bool = False
    """Whether the last part has to stay last, since what the sheet has to spare lies in it."""


Taken = Whole | Across
Way = tuple[Axis, Literal["kinds", "marks", "strips"], bool]
"""Which way is cut where nothing else tells, and what is asked first: few kinds in a part, few marks, or little left over."""
WAYS: tuple[Way, ...] = (("x", "marks", True), ("y", "kinds", True), ("x", "marks", False), ("y", "strips", True))
_FIELD = 20
"""Bits of a number that ways are compared by; areas and leftovers of a sheet stay below."""


@dataclass(frozen=True, slots=True)
class Trace:
    """The cuts of one sheet, in steps."""

    taken: Taken
    marks: frozenset[int]
    """Where the ruler stands, in steps."""
    strokes: int
    holds: bool = True
    """Whether at every stroke enough paper lies beside the blade."""


class Tracer:
    """The tables of one candidate, read for its cuts."""

    def __init__(self, tables: ExactTables, candidate: int, hold: int = 0) -> None:
        """Args:
        tables: of some candidates.
        candidate: which of them.
        hold: steps of paper that have to lie beside the blade, on one side of it.
        """
        self._hold = hold
        self._f = np.ascontiguousarray(tables.f[..., candidate, :]).astype(np.int32)
        self._g = np.ascontiguousarray(tables.g[..., candidate, :]).astype(np.int32)
        self._sizes = [(int(w), int(h)) for w, h in tables.sizes[candidate]]
        self._turns = tables.turns
        counts = np.indices(self._f.shape[:-1])
        self._area = np.zeros(self._f.shape[:-1], np.int64)
        for count, (across, down) in zip(counts, self._sizes):
            self._area += count * across * down
        self._kinds = (counts > 0).sum(axis=0)
        self._marks = np.zeros(max(self._f.shape[-1], self._g.shape[-1]) + 1, bool)
        self._way: Way = WAYS[0]

    def trace(self, vector: Vector, width: int, height: int, spare: tuple[bool, bool], sheet: tuple[int, int]) -> Trace:
        """The cuts that take a vector from so many steps across and down; such as her trimmer holds, where any of them are.

        Args:
            vector: pieces of each kind; it has to fit.
            width: what may be used of the sheet.
            height: the same.
            spare: whether the sheet is larger than that, across and down.
            sheet: the whole steps of the sheet itself.
        """
        found: list[Trace] = []
        for way in WAYS:
            self._way = way
            self._alike = way[2]
            self._marks[:] = False
            taken = self._part(vector, width, height, spare, way[0])
            for order in (_ends, _narrow_first):
                found.append(_told(order(taken), *sheet, self._hold))
                if found[-1].holds:
                    break
        return min(found, key=lambda trace: (not trace.holds, len(trace.marks), trace.strokes))

    def _part(self, vector: Vector, width: int, height: int, spare: tuple[bool, bool], within: Axis) -> Taken:
        if sum(vector) == 1:
            return self._piece(vector.index(1), width, height, spare, within)
        if self._alike and gcd(*vector) > 1:
            found = self._equal(vector, width, height, spare)
            if found:
                return found
        axis, part, thick = self._best(vector, width, height)
        self._marks[thick] = True
        rest = tuple(n - m for n, m in zip(vector, part))
        if axis == "x":
            first = self._part(part, thick, height, (False, spare[1]), axis)
            other = self._part(rest, width - thick, height, spare, axis)
            over = width - thick
        else:
            first = self._part(part, width, thick, (spare[0], False), axis)
            other = self._part(rest, width, height - thick, spare, axis)
            over = height - thick
        ahead = first.parts if isinstance(first, Across) and first.axis == axis and not first.rest else ((thick, first),)
        if isinstance(other, Across) and other.axis == axis:
            return Across(axis, (*ahead, *other.parts), other.rest, other.held)
        return Across(axis, (*ahead, (over, other)), False, spare[0] if axis == "x" else spare[1])

    def _equal(self, vector: Vector, width: int, height: int, spare: tuple[bool, bool]) -> Taken | None:
        """Some parts that are alike to the last piece: as few marks as can be."""
        common = gcd(*vector)
        for axis in ("x", "y") if self._way[0] == "x" else ("y", "x"):
            table, at, room, over = (self._g, height, width, spare[0]) if axis == "x" else (self._f, width, height, spare[1])
            for times in range(2, common + 1):
                part = tuple(n // times for n in vector)
                thick = int(table[(*part, at)])
                if common % times or thick * times > room:
                    continue
                self._marks[thick] = True
                inner = (False, spare[1]) if axis == "x" else (spare[0], False)
                one = self._part(part, thick if axis == "x" else width, height if axis == "x" else thick, inner, axis)
                ahead = one.parts if isinstance(one, Across) and one.axis == axis and not one.rest else ((thick, one),)
                return Across(axis, ahead * times, over or thick * times < room)
        return None

    def _piece(self, kind: int, width: int, height: int, spare: tuple[bool, bool], within: Axis) -> Taken:
        upright, turned = self._sizes[kind], self._sizes[kind][::-1]
        ways = [(size, size is turned) for size in (upright, turned)[: 1 + self._turns] if size[0] <= width and size[1] <= height]

        def strokes(way: tuple[tuple[int, int], bool]) -> tuple[int, int]:
            marks = [mark for mark, over in zip(way[0], self._over(way[0], width, height, spare)) if over]
            return sum(not self._marks[mark] for mark in marks), len(marks)

        (across, down), lies_turned = min(ways, key=strokes)
        over_across, over_down = self._over((across, down), width, height, spare)
        taken: Taken = Whole(kind, lies_turned)
        order: tuple[Axis, ...] = ("x", "y") if within == "y" else ("y", "x")
        for axis in order:
            if over_across if axis == "x" else over_down:
                thick = across if axis == "x" else down
                self._marks[thick] = True
                taken = Across(axis, ((thick, taken),), True)
        return taken

    @staticmethod
    def _over(size: tuple[int, int], width: int, height: int, spare: tuple[bool, bool]) -> tuple[bool, bool]:
        return size[0] < width or spare[0], size[1] < height or spare[1]

    def _best(self, vector: Vector, width: int, height: int) -> tuple[Axis, Vector, int]:
        """Which part comes off next, and along which side."""
        own = tuple(slice(0, n + 1) for n in vector)
        back = tuple(slice(n, None, -1) for n in vector)
        kinds = self._kinds[own] + self._kinds[back]
        area = self._area[own]
        found: list[tuple[int, int, Axis, Vector, int]] = []
        axes: tuple[Axis, ...] = ("x", "y") if self._way[0] == "x" else ("y", "x")
        for place, axis in enumerate(axes):
            table, at, room = (self._g, height, width) if axis == "x" else (self._f, width, height)
            thick, rest = table[..., at][own], table[..., at][back]
            good = thick + rest <= room
            good.flat[0] = good.flat[-1] = False
            if not good.any():
                continue
            fresh = ~self._marks[np.minimum(thick, len(self._marks) - 1)]
            left = thick.astype(np.int64) * at - area
            score = self._score(kinds, fresh, left, area)
            score[~good] = np.iinfo(np.int64).max
            spot = int(score.argmin())
            part = tuple(int(n) for n in np.unravel_index(spot, score.shape))
            found.append((int(score.flat[spot]), place, axis, part, int(thick.flat[spot])))
        _, _, axis, part, thickness = min(found)
        return axis, part, thickness

    def _score(self, kinds: np.ndarray, fresh: np.ndarray, left: np.ndarray, area: np.ndarray) -> np.ndarray:
        """What is asked first, second and third, as one number: the least is taken; of equals the larger part."""
        share = left * 32 // (area + 1)
        first, then, third = {"kinds": (kinds, fresh, share), "marks": (fresh, kinds, left), "strips": (share // 4, kinds, left)}[
            self._way[1]
        ]
        score: np.ndarray = ((first.astype(np.int64) * 16 + then) << 2 * _FIELD) + (third << _FIELD) - area
        return score


def _ends(taken: Taken) -> Taken:
    """The same, with the part that needs no mark of its own last in every split that nothing is left over of."""
    marks: Counter[int] = Counter()

    def count(node: Taken) -> None:
        if isinstance(node, Across):
            marks.update(dict.fromkeys((thick for thick, _ in node.parts), 1))
            for _, part in node.parts:
                count(part)

    count(taken)

    def ordered(node: Taken) -> Taken:
        if isinstance(node, Whole):
            return node
        parts = [(thick, ordered(part)) for thick, part in node.parts]
        within = Counter(thick for thick, _ in parts)
        stays = [] if node.rest or not node.held else [parts.pop()]
        parts.sort(key=lambda one: -one[0])
        if not node.rest and not stays:
            last = min(range(len(parts)), key=lambda i: (within[parts[i][0]] > 1, marks[parts[i][0]], -i))
            stays = [parts.pop(last)]
        return Across(node.axis, (*parts, *stays), node.rest, node.held)

    return ordered(taken)


def _narrow_first(taken: Taken) -> Taken:
    """The same, with the narrow parts of every split off first: what stays in hand is wide then, and a trimmer holds it."""
    if isinstance(taken, Whole):
        return taken
    parts = [(thick, _narrow_first(part)) for thick, part in taken.parts]
    stays = [parts.pop()] if taken.held and not taken.rest else []
    return Across(taken.axis, (*sorted(parts, key=lambda one: one[0]), *stays), taken.rest, taken.held)


def _told(taken: Taken, width: int, height: int, hold: int) -> Trace:
    """A trace of these cuts from a sheet of so many steps; on one side of the blade or the other, so many have to lie under the trimmer."""
    marks: set[int] = set()
    strokes, holds = 0, True

    def look(node: Taken, across: int, down: int) -> None:
        nonlocal strokes, holds
        if isinstance(node, Across):
            falling = node.parts if node.rest else node.parts[:-1]
            marks.update(thick for thick, _ in falling)
            strokes += len(falling)
            left = across if node.axis == "x" else down
            for i, (thick, part) in enumerate(node.parts):
                if i < len(falling):
                    holds = holds and max(thick, left - thick) >= hold
                else:
                    thick = left
                look(part, *((thick, down) if node.axis == "x" else (across, thick)))
                left -= thick

    look(taken, width, height)
    return Trace(taken, frozenset(marks), strokes, holds)


@dataclass(frozen=True, slots=True)
class Cuttable:
    """What a kind of the table is on the sheet."""

    label: str
    turned: bool = False
    """Whether the table has it turned beside the size of its label."""
    halved: Diagonal | None = None


def to_tree(taken: Taken, sheet: Size, lattice: Lattice, kinds: tuple[Cuttable, ...]) -> Node:
    """The same on the sheet itself, in lengths."""

    def node(part: Taken, rect: Rect) -> Node:
        if isinstance(part, Whole):
            kind = kinds[part.kind]
            turned = part.turned != kind.turned
            return Leaf(rect, kind.label, turned, lying(kind.halved, turned))
        found: list[Node] = []
        at, end = (rect.x, rect.right) if part.axis == "x" else (rect.y, rect.bottom)
        for i, (thick, inner) in enumerate(part.parts):
            last = i == len(part.parts) - 1 and not part.rest
            upto = end if last else at + lattice.length(thick)
            found.append(node(inner, _between(rect, part.axis, at, upto)))
            at = upto
        if part.rest:
            found.append(Leaf(_between(rect, part.axis, at, end)))
        return Split(rect, part.axis, tuple(found), "left" if part.axis == "x" else "top")

    return node(taken, Rect.of(sheet))


def _between(rect: Rect, axis: Axis, start: Length, end: Length) -> Rect:
    return Rect(start, rect.y, end - start, rect.height) if axis == "x" else Rect(rect.x, start, rect.width, end - start)
