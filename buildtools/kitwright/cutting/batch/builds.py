"""Builds put in a natural order, laid on the sheet, and judged.

A build here is a row of parts side by side or one above the other, or a single piece
(`kitwright.cutting.solver.pieces.Build`). Its box may be larger than its parts: half a
sheet, for one. What its parts leave free lies at the right or at the bottom.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from kitwright.cutting import tree
from kitwright.cutting.batch.paper import Counts, Paper
from kitwright.cutting.solver.pieces import Axis, Build, Plate

OTHER: dict[Axis, Axis] = {"x": "y", "y": "x"}


def piece(kind: int, way: tuple[int, int, bool]) -> Build:
    """A single piece as it lies."""
    return Build(way[0], way[1], kind, way[2])


def flipped(build: Build) -> Build:
    """Across and down exchanged; pieces that were turned still are."""
    return Build(build.height, build.width, build.kind, build.turned,
                 OTHER[build.axis] if build.axis else None, tuple(flipped(part) for part in build.parts))


def boxed(build: Build, width: int, height: int) -> Build:
    """The same build with a box of its own, such as half a sheet."""
    if (build.width, build.height) == (width, height):
        return build
    if build.axis is None:
        return Build(width, height, axis="x" if build.width < width else "y", parts=(build,))
    return Build(width, height, axis=build.axis, parts=build.parts)


def from_plate(plate: Plate) -> Build | None:
    """The pieces of a solver's tree, without its leftovers."""
    if not plate.parts:
        return None if plate.kind is None else Build(plate.width, plate.height, plate.kind, plate.turned)
    parts = [build for build in map(from_plate, plate.parts) if build]
    return Build.join(plate.axis, parts) if parts else None


def _thickness(build: Build, axis: Axis) -> int:
    return build.width if axis == "x" else build.height


def ordered(build: Build) -> Build:
    """The same pieces in the order in which hands like to cut them: wide before narrow, like by like."""
    if build.axis is None:
        return build
    parts = sorted(map(ordered, build.parts), key=lambda p: (-_thickness(p, build.axis), -_size(p), _name(p)))
    return Build(build.width, build.height, axis=build.axis, parts=tuple(parts))


def _size(build: Build) -> int:
    """How far the pieces of a part reach at most: fuller parts come first."""
    return sum(map(_size, build.parts)) if build.parts else build.width * build.height


def _name(build: Build) -> tuple:
    if build.kind is not None:
        return (0, build.kind, build.turned)
    return (1, build.width, build.height, *(_name(part) for part in build.parts))


# --- on the sheet -------------------------------------------------------------------------

def layings(build: Build, width: int, height: int) -> Iterator[Plate]:
    """The ways to take a build out of a sheet: as it is, or with what is left at its side cut off first."""
    build = ordered(build)
    if build.axis is None:
        for axis in ("x", "y"):
            yield _lay(Build(width, height, axis=axis, parts=(build,)), width, height)
        return
    yield _lay(build, width, height)
    across = OTHER[build.axis]
    if _thickness(build, across) < (width if across == "x" else height):
        yield _lay(Build(width, height, axis=across, parts=(build,)), width, height)


def _lay(build: Build, width: int, height: int) -> Plate:
    if build.kind is not None:
        if (build.width, build.height) == (width, height):
            return Plate(width, height, build.kind, build.turned)
        right, below = width - build.width, height - build.height
        across = bool(right) and (not below or right * height >= width * below)
        return _lay(Build(width, height, axis="x" if across else "y", parts=(build,)), width, height)
    plates, room = [], width if build.axis == "x" else height
    for part in build.parts:
        thick = _thickness(part, build.axis)
        plates.append(_lay(part, thick, height) if build.axis == "x" else _lay(part, width, thick))
        room -= thick
    if room:
        plates.append(Plate(room, height) if build.axis == "x" else Plate(width, room))
    parts = tuple(p for plate in plates for p in (plate.parts if plate.axis == build.axis else (plate,)))
    if len(plates) == 1:
        return plates[0]
    return Plate(width, height, axis=build.axis, parts=parts)


def _spots(plate: Plate, x: int = 0, y: int = 0) -> Iterator[tuple[int, int, int, Plate]]:
    """Kind and place of every piece."""
    if plate.kind is not None:
        yield plate.kind, x, y, plate
    for part in plate.parts:
        yield from _spots(part, x, y)
        x, y = (x + part.width, y) if plate.axis == "x" else (x, y + part.height)


@dataclass(frozen=True)
class Layout:
    """A way of cutting one sheet, judged."""

    plate: Plate
    counts: Counts
    """Pieces it yields."""
    halves: tuple[Counts, ...]
    """Pieces that half of it yields, for each half: left, right, top, bottom."""
    strange: int
    """How far from a natural order: 0 for at most three stages that start with equal parts."""
    measures: frozenset[int]
    """Ruler marks."""
    cuts: int
    """Strokes."""
    turns: int
    """Changes of direction between one stroke and the next."""
    tight: int
    """Directions, 0 to 2, in which it needs the sheet to its last sixteenth."""
    beyond: int
    """Area of leftovers other than the largest."""

    @property
    def rank(self) -> tuple[int, ...]:
        """Less is better: the levels of a plan, for this sheet alone."""
        return (*self.order, self.tight, self.beyond)

    @property
    def order(self) -> tuple[int, int, int, int]:
        return self.strange, len(self.measures), self.cuts, self.turns

    def serves(self, needs: Counts, units: int) -> bool:
        """Whether so many half sheets, all cut alike, give what is needed."""
        whole, half = divmod(units, 2)
        missing = [n - whole * c for n, c in zip(needs, self.counts)]
        if not half:
            return all(m <= 0 for m in missing)
        return any(all(m <= c for m, c in zip(missing, half)) for half in self.halves)


def judged(paper: Paper, plate: Plate) -> Layout:
    """A laid plate, judged."""
    n, (mid_x, mid_y) = len(paper.kinds), (paper.width // 2, paper.height // 2)
    counts, sides = [0] * n, [[0] * n for _ in range(4)]
    for kind, x, y, at in _spots(plate):
        counts[kind] += 1
        for side, within in enumerate((x + at.width <= mid_x, x >= mid_x, y + at.height <= mid_y, y >= mid_y)):
            sides[side][kind] += within
    marks, cuts, waste, most = set(), 0, 0, 0
    for part in _all(plate):
        if part.parts:
            cuts += len(part.parts) - 1
            marks.update(p.width if part.axis == "x" else p.height for p in part.parts[:-1])
        elif part.kind is None:
            waste += part.width * part.height
            most = max(most, part.width * part.height)
    need = _needed(plate)
    tight = sum(side - least < paper.sixteenth for side, least in zip((plate.width, plate.height), need))
    return Layout(plate, tuple(counts), tuple(map(tuple, sides)), _strange(plate), frozenset(marks), cuts,
                  _turns(plate), tight, waste - most)


def _all(plate: Plate) -> Iterator[Plate]:
    yield plate
    for part in plate.parts:
        yield from _all(part)


def _needed(plate: Plate) -> tuple[int, int]:
    """The smallest sheet that still gives every piece whole, as `tree.needed` has it."""
    if not plate.parts:
        return (0, 0) if plate.kind is None else (plate.width, plate.height)
    across, down = zip(*map(_needed, plate.parts))
    return (sum(across), max(down)) if plate.axis == "x" else (max(across), sum(down))


def _depth(plate: Plate) -> int:
    return 1 + max(map(_depth, plate.parts)) if plate.parts else 0


def _strange(plate: Plate) -> int:
    """0 for strips, then pieces; or for halves, equal columns or rows first, then strips, then pieces."""
    depth = _depth(plate)
    if depth <= 2:
        return 0
    used = {p.width if plate.axis == "x" else p.height for p in plate.parts if p.parts or p.kind is not None}
    return depth - 3 + (len(used) > 1)


def _turns(plate: Plate) -> int:
    """Changes of direction: at least one less than the stages, and just that when every level is cut before the next."""
    return max(_depth(plate) - 1, 0)


def real_turns(paper: Paper, plate: Plate) -> int:
    """Changes of direction in the order in which the strokes are made."""
    strokes = tree.cuts(paper.node(plate))
    return sum(a.axis != b.axis for a, b in zip(strokes, strokes[1:]))
