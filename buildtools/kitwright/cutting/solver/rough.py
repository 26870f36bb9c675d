"""Quick good builds within the limits: a start for the exact search, often its end too."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from kitwright.cutting.solver.pieces import AXES, Build, PieceKind
from kitwright.cutting.solver.table import Grid
from kitwright.cutting.solver.work import Work
from kitwright.geometry import Axis


def worth(build: Build | None, kinds: Sequence[PieceKind]) -> int:
    """The value of all pieces of a build."""
    return sum(kinds[i].value for i in build.kinds()) if build else 0


def trim(build: Build | None, kinds: Sequence[PieceKind], left: Counter[int]) -> Build | None:
    """The build without the pieces beyond the limits, their room filled with others.

    Args:
        build: may use more of a kind than there is.
        left: how many of each kind there are; what is used is taken off.
    """
    if build is None:
        return None
    holes: list[Build] = []
    kept = _keep(build, left, holes)
    filled = {id(hole): fill(hole.width, hole.height, kinds, left) for hole in sorted(holes, key=lambda h: -h.width * h.height)}
    return _rebuild(kept, filled)


def _keep(build: Build, left: Counter[int], holes: list[Build]) -> Build:
    """Mark pieces beyond the limits as holes: parts with no kind and no parts of their own."""
    if build.kind is None:
        return Build(build.width, build.height, axis=build.axis, parts=tuple(_keep(part, left, holes) for part in build.parts))
    if left[build.kind] > 0:
        left[build.kind] -= 1
        return build
    holes.append(Build(build.width, build.height))
    return holes[-1]


def _rebuild(build: Build, filled: dict[int, Build | None]) -> Build | None:
    if id(build) in filled:
        return filled[id(build)]
    if build.axis is None:
        return build
    parts = [part for part in (_rebuild(part, filled) for part in build.parts) if part]
    return Build.join(build.axis, parts) if parts else None


def fill(width: int, height: int, kinds: Sequence[PieceKind], left: Counter[int], dense: bool = False) -> Build | None:
    """Fill a rectangle greedily with what is left, block by block, each in a corner.

    A block is as many whole rows of one kind as there is room and are pieces for.

    Args:
        dense: take the piece worth most per area first, not the piece worth most.
    """
    options = [
        (Fraction(kind.value, across * down) if dense else kind.value, across * down, -index, across, down, turned)
        for index, kind in enumerate(kinds)
        if left[index] > 0 and kind.value > 0
        for across, down, turned in kind.ways(width, height)
    ]
    if not options:
        return None
    _, _, index, across, down, turned = max(options)
    columns = min(width // across, left[-index])
    rows = min(height // down, left[-index] // columns)
    left[-index] -= columns * rows
    row = Build.join("x", [Build.piece(kinds, -index, turned)] * columns)
    return grow(Build.join("y", [row] * rows), width, height, kinds, left, dense)


def grow(build: Build, width: int, height: int, kinds: Sequence[PieceKind], left: Counter[int], dense: bool = False) -> Build:
    """Fill what a build leaves free of a rectangle greedily."""
    across, down = build.width, build.height
    right, below = width - across, height - down
    # The first cut runs so that the larger of the two rests is as large as can be.
    first, second = reversed(AXES) if right * height < width * below else AXES
    for axis in (second, first):
        room = (right, down if axis == second else height) if axis == "x" else (across if axis == second else width, below)
        rest = fill(*room, kinds, left, dense) if min(room) > 0 else None
        if rest:
            build = Build.join(axis, [build, rest])
    return build


def capped(grid: Grid, limits: Sequence[int], values: Sequence[int], work: Work) -> Build | None:
    """The table's recursion, but every size remembers one build and no piece beyond the limits counts.

    Not exact, since one size may need different builds in different places; close as a rule.
    The build may hold pieces beyond the limits, which were counted for nothing: trim it.
    Raises OutOfWork.
    """
    width, height, kinds = len(grid.x), len(grid.y), len(limits)
    most_of, worth_of = np.array(limits), np.array(values)
    has = np.zeros((width, height, kinds), np.int32)
    worth = np.zeros((width, height), np.int64)
    how: dict[tuple[int, int], tuple] = {}
    for way, (i, j) in zip(grid.ways, grid.spots):
        if most_of[way[0]] > 0 and worth_of[way[0]] > worth[i, j]:
            worth[i, j], how[i, j] = worth_of[way[0]], ("piece", way[0], way[3])
            has[i, j] = 0
            has[i, j, way[0]] = 1
    for i in range(1, width):
        a = np.arange(1, grid.x.down(grid.x.at[i] // 2) + 1)
        work.spend(40 + height * (40 + (len(a) + height // 2) * kinds // 200))
        rest = grid.x.rest(i, a)
        if len(a):
            sums = np.minimum(has[a] + has[rest], most_of)
            most = sums @ worth_of
            pick = most.argmax(axis=0)
        for j in range(1, height):
            best, new = worth[i, j], None
            for narrower in ((i - 1, j), (i, j - 1)):
                if worth[narrower] > best:
                    best, new, counts = worth[narrower], ("same", *narrower), has[narrower]
            if len(a) and most[pick[j], j] > best:
                k = pick[j]
                best, new, counts = most[k, j], ("x", a[k], rest[k]), sums[k, j]
            b = np.arange(1, grid.y.down(grid.y.at[j] // 2) + 1)
            if len(b):
                under = grid.y.rest(j, b)
                stacks = np.minimum(has[i, b] + has[i, under], most_of)
                high = stacks @ worth_of
                k = high.argmax()
                if high[k] > best:
                    best, new, counts = high[k], ("y", b[k], under[k]), stacks[k]
            if new:
                worth[i, j], has[i, j], how[i, j] = best, counts, new
    return _capped_build(grid, how, width - 1, height - 1)


def _capped_build(grid: Grid, how: dict, i: int, j: int) -> Build | None:
    parts: list[Build | None] = []
    axis: Axis | None = None
    while step := how.get((i, j)):
        what, first, second = step
        if what == "same":
            i, j = first, second
            continue
        if what == "piece":
            parts.append(Build.piece(grid.kinds, first, second))
            break
        axis = axis or what
        if what != axis:
            parts.append(_capped_build(grid, how, i, j))
            break
        parts.append(_capped_build(grid, how, first, j) if axis == "x" else _capped_build(grid, how, i, first))
        i, j = (second, j) if axis == "x" else (i, second)
    found = [part for part in parts if part]
    # More than one part were joined along something.
    return Build.join(axis, found) if axis and len(found) > 1 else found[0] if found else None
