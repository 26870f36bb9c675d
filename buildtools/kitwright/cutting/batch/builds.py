"""Builds put in a natural order, laid on the sheet, and judged.

A build here is a row of parts side by side or one above the other, or a single piece
(`kitwright.cutting.solver.pieces.Build`). Its box may be larger than its parts: half a
sheet, for one. What its parts leave free lies at the right or at the bottom.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from kitwright.cutting import tree
from kitwright.cutting.batch.paper import Counts, Lattice
from kitwright.cutting.solver.pieces import Build, Plate
from kitwright.geometry import Axis

OTHER: dict[Axis, Axis] = {"x": "y", "y": "x"}


def piece(kind: int, way: tuple[int, int, bool]) -> Build:
    """A single piece as it lies."""
    return Build(way[0], way[1], kind, way[2])


def flipped(build: Build) -> Build:
    """Across and down exchanged; pieces that were turned still are."""
    return Build(
        width=build.height,
        height=build.width,
        kind=build.kind,
        turned=build.turned,
        axis=OTHER[build.axis] if build.axis else None,
        parts=tuple(flipped(part) for part in build.parts),
    )


def boxed(build: Build, width: int, height: int) -> Build:
    """The same build with a box of its own, such as half a sheet."""
    if (build.width, build.height) == (width, height):
        return build
    if build.axis is None:
        return Build(width, height, axis="x" if build.width < width else "y", parts=(build,))
    return Build(width, height, axis=build.axis, parts=build.parts)


def from_plate(plate: Plate) -> Build | None:
    """The pieces of a solver's tree, without its leftovers."""
    if plate.axis is None:
        return None if plate.kind is None else Build(plate.width, plate.height, plate.kind, plate.turned)
    parts = [build for build in map(from_plate, plate.parts) if build]
    return Build.join(plate.axis, parts) if parts else None


def _thickness(build: Build, axis: Axis) -> int:
    return build.width if axis == "x" else build.height


def ordered(build: Build) -> Build:
    """The same pieces in the order in which hands like to cut them: wide before narrow, like by like."""
    axis = build.axis
    if axis is None:
        return build
    parts = sorted(map(ordered, build.parts), key=lambda p: (-_thickness(p, axis), -_size(p), _name(p)))
    return Build(build.width, build.height, axis=axis, parts=tuple(parts))


def gathered(build: Build) -> Build:
    """The same build, with like parts that are lower than their row taken together.

    What stands out beside them is then cut off once, not piece by piece.
    """
    if build.axis is None:
        return build
    across = OTHER[build.axis]
    parts: list[Build] = []
    for thick, alike in groupby(map(gathered, build.parts), key=lambda p: _thickness(p, across)):
        run = list(alike)
        if len(run) > 1 and thick < _thickness(build, across):
            inner = Build.join(build.axis, run)
            box = (inner.width, build.height) if build.axis == "x" else (build.width, inner.height)
            run = [Build(*box, axis=across, parts=(inner,))]
        parts += run
    return Build(build.width, build.height, axis=build.axis, parts=tuple(parts))


def resting(build: Build, width: int, height: int) -> Build:
    """The same build in so much room, with a part that is cut in several stages left for last.

    It takes what is left over along with it, which saves a stroke and its ruler mark.
    """
    if build.axis is None:
        return build
    room = (width if build.axis == "x" else height) - sum(_thickness(p, build.axis) for p in build.parts)
    thick = [_thickness(p, build.axis) for p in build.parts]
    alone = [p for p in build.parts if thick.count(_thickness(p, build.axis)) == 1 and any(part.axis for part in p.parts)]
    if not alone or not room:
        return build
    rest = alone[0]
    box = (_thickness(rest, "x") + room, height) if build.axis == "x" else (width, _thickness(rest, "y") + room)
    rest = resting(boxed(rest, *box), *box)
    return Build(width, height, axis=build.axis, parts=(*(p for p in build.parts if p is not alone[0]), rest))


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
    yield from _layings(build, width, height)
    together = gathered(build)
    ways = [build]
    if together != build:
        ways.append(together)
        yield from _layings(together, width, height)
    for one in ways:
        last = resting(one, width, height)
        if last != one:
            yield from _layings(last, width, height)


def _layings(build: Build, width: int, height: int) -> Iterator[Plate]:
    if build.axis is None:
        for axis in ("x", "y"):
            yield _lay(Build(width, height, axis=axis, parts=(build,)), width, height)
        return
    yield _lay(build, width, height)
    across = OTHER[build.axis]
    if _thickness(build, across) < (width if across == "x" else height):
        yield _lay(Build(width, height, axis=across, parts=(build,)), width, height)


def _lay(build: Build, width: int, height: int) -> Plate:
    if build.axis is None:
        if (build.width, build.height) == (width, height):
            return Plate(width, height, build.kind, build.turned)
        right, below = width - build.width, height - build.height
        across = bool(right) and (not below or right * height >= width * below)
        return _lay(Build(width, height, axis="x" if across else "y", parts=(build,)), width, height)
    plates, room = [], width if build.axis == "x" else height
    before = None
    for part in build.parts:
        thick = _thickness(part, build.axis)
        if part == before:  # pieces of a strip mostly are, and strips of a column
            plates.append(plates[-1])
        else:
            plates.append(_lay(part, thick, height) if build.axis == "x" else _lay(part, width, thick))
        before = part
        room -= thick
    if room:
        plates.append(Plate(room, height) if build.axis == "x" else Plate(width, room))
    parts = tuple(p for plate in plates for p in (plate.parts if plate.axis == build.axis else (plate,)))
    if len(plates) == 1:
        return plates[0]
    return Plate(width, height, axis=build.axis, parts=parts)


def _spots(plate: Plate) -> Iterator[tuple[int, int, int, Plate]]:
    """Kind and place of every piece, in no order that matters."""
    found = [(plate, 0, 0)]
    for at, x, y in found:  # grows on the way
        if at.kind is not None:
            yield at.kind, x, y, at
        for part in at.parts:
            found.append((part, x, y))
            x, y = (x + part.width, y) if at.axis == "x" else (x, y + part.height)


@dataclass(frozen=True)
class Candidate:
    """A way of cutting one sheet, judged."""

    plate: Plate
    counts: Counts
    """Pieces it yields."""
    halves: tuple[Counts, ...]
    """Pieces that half of it yields, for each half: left, right, top, bottom."""
    strange: int
    """How far from a natural order; see `_strange`."""
    measures: frozenset[int]
    """Ruler marks."""
    cuts: int
    """Strokes."""
    turns: int
    """Changes of direction between one stroke and the next."""
    tight: int
    """Directions, 0 to 2, in which it needs the sheet to its last sixteenth."""
    leftover: int
    """Area of the largest single leftover."""
    spares: bool
    """Whether half of the sheet, or more, stays whole."""

    @property
    def rank(self) -> tuple[int, ...]:
        """Less is better: the levels of a plan, for this sheet alone."""
        return (*self.order, self.tight, -self.leftover)

    @property
    def order(self) -> tuple[int, int, int, int]:
        return self.strange, len(self.measures), self.cuts, self.turns

    def serves(self, needs: Counts, units: int) -> bool:
        """Whether so many half sheets, all cut alike, give what is needed.

        Of half a sheet alone the other half stays whole; a half sheet after whole ones is
        halved before it is cut like them.
        """
        return _serves(self.counts, self.halves, self.spares, needs, units)


def _serves(counts: Counts, halves: Sequence[Counts], spares: bool, needs: Counts, units: int) -> bool:
    if units == 1 and not spares:
        return False
    whole, half = divmod(units, 2)
    missing = [n - whole * c for n, c in zip(needs, counts)]
    if not half:
        return all(m <= 0 for m in missing)
    return any(all(m <= c for m, c in zip(missing, side)) for side in halves)


def serves(paper: Lattice, plate: Plate, needs: Counts, units: int) -> bool:
    """Whether a laid plate does, with nothing judged besides; see `Candidate.serves`."""
    counts, halves = _yields(paper, plate)
    return _serves(counts, halves, units == 1 and any(map(partial(_spares, plate), _all(plate))), needs, units)


def _yields(paper: Lattice, plate: Plate) -> tuple[Counts, tuple[Counts, ...]]:
    """Pieces of a plate, and of its left, right, top and bottom half."""
    n, (mid_x, mid_y) = len(paper.kinds), (paper.width // 2, paper.height // 2)
    counts, sides = [0] * n, [[0] * n for _ in range(4)]
    for kind, x, y, at in _spots(plate):
        counts[kind] += 1
        for side, within in enumerate((x + at.width <= mid_x, x >= mid_x, y + at.height <= mid_y, y >= mid_y)):
            sides[side][kind] += within
    return tuple(counts), tuple(map(tuple, sides))


def _spares(plate: Plate, part: Plate) -> bool:
    """Whether a part is half of the plate, or more, that stays whole."""
    return (
        not part.parts
        and part.kind is None
        and (part.width == plate.width and 2 * part.height >= plate.height or part.height == plate.height and 2 * part.width >= plate.width)
    )


def judged(paper: Lattice, plate: Plate) -> Candidate:
    """A laid plate, judged."""
    counts, halves = _yields(paper, plate)
    marks: set[int] = set()
    cuts, most, spares = 0, 0, False
    for part in _all(plate):
        if part.parts:
            cuts += len(part.parts) - 1
            marks.update(p.width if part.axis == "x" else p.height for p in part.parts[:-1])
        elif part.kind is None:
            most = max(most, part.width * part.height)
            spares |= _spares(plate, part)
    tight = sum(_slack(plate, way) < paper.sixteenth for way in ("x", "y"))
    return Candidate(
        plate=plate,
        counts=counts,
        halves=halves,
        strange=_strange(plate),
        measures=frozenset(marks),
        cuts=cuts,
        turns=_turns(plate),
        tight=tight,
        leftover=most,
        spares=spares,
    )


def _all(plate: Plate) -> list[Plate]:
    """A plate with all its parts, and theirs, level by level."""
    found = [plate]
    for part in found:  # grows on the way
        found += part.parts
    return found


def _slack(plate: Plate, way: str) -> int:
    """How much smaller the sheet may be along an axis, as `tree.slack` has it: parts come off in their order."""
    width = plate.width if way == "x" else plate.height
    if not plate.parts:
        return width if plate.kind is None else 0
    if plate.axis != way:
        return min(_slack(part, way) for part in plate.parts)
    found = 0
    for part in reversed(plate.parts):
        gives = _slack(part, way)
        found += gives
        if gives < (part.width if way == "x" else part.height):
            break
    return found


def _used(plate: Plate) -> list[Plate]:
    """The parts that are not left over."""
    return [part for part in plate.parts if part.parts or part.kind is not None]


def _stages(plate: Plate) -> int:
    """How often the direction of the cuts changes on the way to a piece; cutting waste off before going on is not counted."""
    if not plate.parts:
        return 0
    used = _used(plate)
    trimmed = len(used) == 1 and bool(used[0].parts)
    return max(map(_stages, used)) + (not trimmed)


def _strange(plate: Plate) -> int:
    """How far from a natural order.

    Natural are strips, then pieces; or halves first, then strips, then pieces; or equal
    columns or rows, all cut alike, in place of the halves. One step away are equal columns
    that are not cut alike; two, others; and one more for each further stage, for each label
    that lies both ways, and for each that comes from strips of different labels.
    """
    kinds = {(at.kind, at.turned) for at in plate.leaves() if at.kind is not None}
    both = len(kinds) - len({kind for kind, _ in kinds}) + _scattered(plate)
    used = _used(plate)
    while len(used) == 1 and used[0].parts:
        plate = used[0]
        used = _used(plate)
    stages = _stages(plate)
    if stages <= 2:
        return both
    thick = [p.width if plate.axis == "x" else p.height for p in used]
    if all(2 * t == (plate.width if plate.axis == "x" else plate.height) for t in thick) or len(set(used)) == 1:
        return both + stages - 3
    return both + stages - 3 + (1 if len(set(thick)) == 1 else 2)


def _scattered(plate: Plate) -> int:
    """Labels that share a strip with others, and come from strips without those as well."""
    strips: dict[int, set[frozenset[int]]] = {}
    for part in _all(plate):
        mixed = frozenset(p.kind for p in part.parts if p.kind is not None)
        for kind in mixed:
            strips.setdefault(kind, set()).add(mixed)
    return sum(len(found) > 1 for found in strips.values())


def _turns(plate: Plate) -> int:
    """Changes of direction, at least: one less than the levels of the tree."""
    return max(_levels(plate) - 1, 0)


def _levels(plate: Plate) -> int:
    return 1 + max(map(_levels, plate.parts)) if plate.parts else 0


def real_turns(paper: Lattice, plate: Plate) -> int:
    """Changes of direction in the order in which the strokes are made."""
    strokes = tree.cuts(paper.node(plate))
    return sum(a.axis != b.axis for a, b in zip(strokes, strokes[1:]))
