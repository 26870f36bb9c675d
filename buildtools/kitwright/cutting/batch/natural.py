"""Layouts as hands like to cut them, for the pieces that one sheet has to give.

Four families: strips, then pieces; equal columns, each cut into strips of its own; halves or
equal columns cut alike; and blocks of like pieces set beside one another. Each is tried in
both directions. Nothing here promises to find a layout whenever there is one: that is for
the exact search.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import islice, product

from kitwright.cutting.batch.builds import boxed, flipped, piece
from kitwright.cutting.batch.paper import Counts, Lattice, Lying
from kitwright.cutting.solver.pieces import Build
from kitwright.geometry import Axis

CHOICES = 240
"""At most so many ways to lie are tried together."""
MIXES = 6
"""At most so many ways to lay one label partly upright, partly turned."""
COLUMNS = 8
"""At most so many equal columns cut alike."""
BLOCK_LABELS = 4
"""Blocks are tried for at most so many labels."""
BLOCKS = 150
"""Rectangles for which blocks are tried."""
KEPT = 6
"""Ways to fill one of them that are kept."""
SIDE_LABELS = 4
"""Labels are shared out between two halves for at most so many."""

_Row = list[tuple[int, Lying, int]]
"""Pieces side by side: kind, how it lies, how many."""


def natural(paper: Lattice, wanted: Counts) -> Iterator[Build]:
    """Builds for a whole sheet that give at least what is wanted; all families but the blocks."""
    w, h = paper.width, paper.height
    if paper.area_of(wanted) > paper.area:
        return
    for seen in (_plain(paper, wanted, w, h), _alike(paper, wanted), _columns(paper, wanted), _shared(paper, wanted)):
        yield from seen


def in_half(paper: Lattice, wanted: Counts, kept: Counts, plain: bool = False) -> Iterator[Build]:
    """Builds that give `wanted` from one half of the sheet and `kept` from the other; if `plain`, in strips only."""
    fill = _plain if plain else _within
    if not any(wanted):
        return
    for w, h in paper.halves:
        if max(paper.area_of(wanted), paper.area_of(kept)) > w * h:
            continue
        for one in islice(fill(paper, wanted, w, h), 4):
            if not any(kept):
                yield _two(paper, one, None, w)
            for other in islice(fill(paper, kept, w, h), 3) if any(kept) else ():
                yield _two(paper, one, other, w)


def _two(paper: Lattice, one: Build, other: Build | None, width: int) -> Build:
    """A sheet of two halves."""
    axis: Axis = "x" if width < paper.width else "y"
    w, h = paper.halves[0] if axis == "x" else paper.halves[1]
    parts = tuple(boxed(b, w, h) for b in (one, other) if b)
    return Build(paper.width, paper.height, axis=axis, parts=parts)


def _within(paper: Lattice, wanted: Counts, w: int, h: int) -> Iterator[Build]:
    yield from _plain(paper, wanted, w, h)
    yield from blocks(paper, wanted, w, h)


# --- strips, then pieces ------------------------------------------------------------------


def _plain(paper: Lattice, wanted: Counts, w: int, h: int) -> Iterator[Build]:
    """Strips across, and columns down."""
    yield from _strips(_all_ways(paper, wanted, w, h), wanted, w, h)
    across = {k: [(b, a, t) for a, b, t in ways] for k, ways in _all_ways(paper, wanted, w, h).items()}
    for build in _strips(across, wanted, h, w):
        yield flipped(build)


def _all_ways(paper: Lattice, wanted: Counts, w: int, h: int) -> dict[int, list[Lying]]:
    return {k: paper.ways(k, w, h) for k, n in enumerate(wanted) if n}


def _strips(ways: dict[int, list[Lying]], wanted: Counts, length: int, depth: int) -> Iterator[Build]:
    """Strips of this length, one above the other."""
    options = [_laid(k, ways[k], wanted[k], length) for k in ways]
    if not all(options):
        return
    known: dict[tuple, list[list[_Row]]] = {}
    for chosen in islice(product(*options), CHOICES):
        groups: dict[int, _Row] = {}
        wide: dict[int, int] = {}
        for option in chosen:
            for kind, way, n in option:
                groups.setdefault(way[1], []).append((kind, way, n))
                wide[way[1]] = wide.get(way[1], 0) + way[0] * n
        if sum(-(-each // length) * high for high, each in wide.items()) > depth:
            # Even end to end they take more rows than there is room for.
            continue
        packed = []
        for high, group in groups.items():
            key = (high, *group)
            if key not in known:
                known[key] = _rows(group, length)
            packed.append([(rows, high * len(rows)) for rows in known[key]])
        for pick in range(max(map(len, packed))):
            picked = [each[min(pick, len(each) - 1)] for each in packed]
            if sum(high for _, high in picked) <= depth:
                yield Build.join("y", [_row(row) for rows, _ in picked for row in rows])


def _laid(kind: int, ways: Sequence[Lying], n: int, length: int) -> list[_Row]:
    """All one way or the other, then some strips of each."""
    found = [[(kind, way, n)] for way in ways]
    if len(ways) == 2:
        for first, second in (ways, ways[::-1]):
            per = length // first[0]
            found += [[(kind, first, rows * per), (kind, second, n - rows * per)] for rows in range(1, min(-(-n // per), MIXES))]
    return found


def _rows(group: _Row, length: int) -> list[list[_Row]]:
    """Pieces of one height in rows: each label in rows of its own; the ends of rows together; or all rows alike."""
    full, ends = [], []
    for kind, way, n in group:
        per = length // way[0]
        full += [[(kind, way, per)]] * (n // per)
        if n % per:
            ends.append((kind, way, n % per))
    rests: list[list] = []
    for kind, way, n in sorted(ends, key=lambda e: -e[1][0]):
        for _ in range(n):
            home = next((r for r in rests if r[0] >= way[0]), None)
            if home is None:
                home = [length, []]
                rests.append(home)
            home[0] -= way[0]
            home[1].append((kind, way, 1))
    packed = [full + [row for _, row in rests]]
    if len(group) > 1:
        packed.insert(0, full + [[end] for end in ends])
        most = max(n for _, _, n in group)
        for rows in range(1, min(most, len(packed[-1]) + 1) + 1):
            row = [(kind, way, -(-n // rows)) for kind, way, n in group]
            if sum(way[0] * n for _, way, n in row) <= length:
                packed.append([row] * rows)
                break
    return packed


def _row(row: _Row) -> Build:
    return Build.join("x", [piece(kind, way) for kind, way, n in row for _ in range(n)])


# --- equal columns ------------------------------------------------------------------------


def _alike(paper: Lattice, wanted: Counts) -> Iterator[Build]:
    """Halves, thirds … or equal columns, all cut alike."""
    for across in (True, False):
        w, h = (paper.width, paper.height) if across else (paper.height, paper.width)
        for k in range(2, min(COLUMNS, max(wanted)) + 1):
            each = tuple(-(-n // k) for n in wanted)
            if paper.area_of(each) > w * h // k:
                continue
            ways = _all_ways(paper, wanted, paper.width, paper.height)
            if not across:
                ways = {kind: [(b, a, t) for a, b, t in some] for kind, some in ways.items()}
            ways = {kind: [way for way in some if way[0] <= w // k] for kind, some in ways.items()}
            for build in islice(_strips(ways, each, w // k, h), 12):
                inside = build if build.axis == "y" else Build(build.width, build.height, axis="y", parts=(build,))
                wholes = [Build(inside.width * k, h, axis="x", parts=(inside,) * k)]
                if w % k == 0:
                    even = boxed(inside, w // k, h)
                    wholes.append(Build(w, h, axis="x", parts=(even,) * k))
                for whole in wholes:
                    yield whole if across else flipped(whole)


def _columns(paper: Lattice, wanted: Counts) -> Iterator[Build]:
    """Equal columns, each cut into strips of its own; and the same with rows."""
    for across in (True, False):
        w, h = (paper.width, paper.height) if across else (paper.height, paper.width)
        ways = {
            kind: [way if across else (way[1], way[0], way[2]) for way in some]
            for kind, some in _all_ways(paper, wanted, paper.width, paper.height).items()
        }
        single = {way[0] for some in ways.values() for way in some}
        double = {a + b for a in single for b in single if a + b <= w} if len(ways) > 1 else set()
        for c in sorted(single | double | {w // 2}, reverse=True):
            if c * 2 > w or len(single) > 12 and c in double - single:
                continue
            for build in _filled_columns(ways, wanted, c, w // c, h):
                yield build if across else flipped(build)


def _filled_columns(ways: dict[int, list[Lying]], wanted: Counts, c: int, most: int, h: int) -> Iterator[Build]:
    options = [[(kind, way) for way in some if way[0] <= c and way[1] <= h] for kind, some in ways.items()]
    if not all(options):
        return
    for chosen in islice(product(*options), 16):
        stacks: list[list] = []
        runs = []
        for kind, way in chosen:
            per = c // way[0]
            full, rest = divmod(wanted[kind], per)
            runs.append((-way[1] * (full + bool(rest)), kind, way, [per] * full + [rest] * bool(rest)))
        for _, kind, way, strips in sorted(runs):
            for n in strips:
                # Like strips stay in one column where they can; else the first with room.
                homes = [s for s in stacks if s[0] >= way[1]]
                home = next((s for s in reversed(homes) if s[2] == kind), None) or next(iter(homes), None)
                if home is None:
                    if len(stacks) == most:
                        break
                    home = [h, [], kind]
                    stacks.append(home)
                home[0] -= way[1]
                home[1].append(_row([(kind, way, n)]))
                home[2] = kind
            else:
                continue
            break
        else:
            if len(stacks) > 1:
                yield Build(
                    c * len(stacks),
                    h,
                    axis="x",
                    parts=tuple(Build(c, sum(b.height for b in s[1]), axis="y", parts=tuple(s[1])) for s in stacks),
                )


def _shared(paper: Lattice, wanted: Counts) -> Iterator[Build]:
    """Two halves, some labels from the one and some from the other."""
    some = [k for k, n in enumerate(wanted) if n]
    if not 1 < len(some) <= SIDE_LABELS:
        return
    for mask in range(1, 2 ** (len(some) - 1)):
        one = tuple(n if k in some and mask >> some.index(k) & 1 else 0 for k, n in enumerate(wanted))
        yield from in_half(paper, one, tuple(a - b for a, b in zip(wanted, one)), plain=True)


# --- blocks -------------------------------------------------------------------------------


def blocks(paper: Lattice, wanted: Counts, w: int, h: int) -> list[Build]:
    """Blocks of like pieces, each set in a corner of what is left."""
    if sum(map(bool, wanted)) > BLOCK_LABELS:
        return []
    budget = [BLOCKS]

    @cache
    def pack(counts: Counts, w: int, h: int) -> tuple[Build, ...]:
        if paper.area_of(counts) > w * h or budget[0] <= 0:
            return ()
        budget[0] -= 1
        found: list[Build] = []
        if counts != wanted and sum(map(bool, counts)) > 1:
            found += islice(_plain(paper, counts, w, h), KEPT)
        largest = sorted((k for k, n in enumerate(counts) if n), key=lambda k: -paper.kinds[k].width * paper.kinds[k].height)
        for kind in largest[:2]:
            for way in paper.ways(kind, w, h):
                for cols, rows in _grids(counts[kind], w // way[0], h // way[1]):
                    found += around(counts, kind, way, cols, rows, w, h)
        return tuple(sorted(dict.fromkeys(found), key=_rough)[: KEPT if counts != wanted else 4 * KEPT])

    def around(counts: Counts, kind: int, way: Lying, cols: int, rows: int, w: int, h: int) -> list[Build]:
        left = list(counts)
        here = min(counts[kind], cols * rows)
        left[kind] -= here
        block = _block(kind, way, cols, rows, here)
        if not any(left):
            return [block]
        wide, high, found = cols * way[0], rows * way[1], []
        for axis in ("y", "x"):
            beside = (w - wide, high if axis == "y" else h)
            below = (w if axis == "y" else wide, h - high)
            for one, other in _sharings(tuple(left)):
                firsts = pack(one, *beside) if any(one) else (None,)
                others = pack(other, *below) if firsts and any(other) else (None,)
                for first in firsts[:2]:
                    for second in others[:2]:
                        rests: list[tuple[Build | None, Axis]] = [(first, "x"), (second, "y")]
                        build = block
                        for part, along in rests if axis == "y" else reversed(rests):
                            build = Build.join(along, [build, part]) if part else build
                        found.append(build)
        return found

    return list(pack(wanted, w, h))


def _rough(build: Build) -> tuple[int, int]:
    """Ruler marks and cuts, about: enough to tell which blocks to keep."""
    marks: set[int] = set()
    cuts, waiting = 0, [build]
    while waiting:
        part = waiting.pop()
        cuts += len(part.parts)
        marks.update(p.width if part.axis == "x" else p.height for p in part.parts)
        waiting += part.parts
    return len(marks), cuts


def _grids(n: int, cols: int, rows: int) -> list[tuple[int, int]]:
    """Columns × rows for a block of n pieces, or as many as fit, in at most so many of each."""
    if cols * rows <= n:
        return [(cols, rows)]
    found = {(-(-n // r), r) for r in range(1, min(rows, n) + 1) if -(-n // r) <= cols}
    # Or a block of fewer, with the others elsewhere.
    found |= {(c, n // c) for c in range(1, min(cols, n) + 1) if n % c and n // c <= rows}
    return sorted(found, key=lambda g: (abs(g[0] * g[1] - n), max(g) - min(g)))[:5]


def _block(kind: int, way: Lying, cols: int, rows: int, n: int) -> Build:
    """So many like pieces in columns and rows; the last row may be short."""
    full, rest = divmod(n, cols)
    lines = [_row([(kind, way, cols)])] * full + ([_row([(kind, way, rest)])] if rest else [])
    return Build.join("y", lines)


def _sharings(counts: Counts) -> Iterator[tuple[Counts, Counts]]:
    """Each label wholly to the one or to the other."""
    some = [k for k, n in enumerate(counts) if n]
    for mask in range(2 ** len(some)):
        one = tuple(n if n and mask >> some.index(k) & 1 else 0 for k, n in enumerate(counts))
        yield one, tuple(a - b for a, b in zip(counts, one))
