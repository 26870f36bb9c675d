"""The batch set out on a cutting mat, paper by paper.

One sheet of paper lies in the mat's top left corner, inside the rim; pieces may use it up
to its edges. Paper that reaches over the rim lies in the middle of the mat that way, and
pieces keep off the rim; paper larger than the mat is cut down to it first. Rectangles are nested by the planners of `cutting`, so pieces from
a one-way paper stay upright on their sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

from kitwright.cutfiles.mats import EDGE, GAP, RIM, Mat
from kitwright.cutfiles.parts import Part
from kitwright.cutting.batch.halves import halved
from kitwright.cutting.batch.plan import plan_batch
from kitwright.cutting.plan import Demand
from kitwright.cutting.stock import misfits
from kitwright.cutting.strips import plan_paper
from kitwright.cutting.tree import Leaf, Node, lying, pieces
from kitwright.geometry import Rect
from kitwright.units import HALF_MM, SIXTEENTH, ZERO, Length, Size


@dataclass(frozen=True)
class MatSetting:
    """Sheets of one paper that are cut alike."""

    sheets: int
    """How many."""
    parts: tuple[Part, ...]
    """Where they lie on the mat."""
    counts: tuple[tuple[str, int], ...]
    """Pieces on each sheet, by label."""


@dataclass(frozen=True)
class Nest:
    """One paper's share of the batch on a mat."""

    paper: str
    mat: Mat
    sheet: Size
    """What lies on the mat: the sheet, cut down where it is larger."""
    cut_down: bool
    """Whether the sheet as it is sold is larger than the mat."""
    over: tuple[bool, bool]
    """Whether it reaches over the mat's rim, from side to side and from top to bottom of the mat."""
    turned: bool
    """Whether the sheet lies a quarter turn to the right on the mat."""
    gap: Length
    """Between neighbours; none where they must touch to spare a sheet."""
    settings: tuple[MatSetting, ...]
    left_out: tuple[str, ...]
    """Labels too large for the mat."""

    @property
    def sheets(self) -> int:
        return sum(s.sheets for s in self.settings)


@dataclass(frozen=True)
class _Try:
    """One way to lay the sheet and to space the pieces."""

    turned: bool
    gap: Length
    paper: Size
    """What lies on the mat."""
    sheet: Size
    """As much of it as lies inside the rim."""
    trees: tuple[Node, ...]
    left_out: tuple[str, ...]


def nest(
    demand: Demand,
    parts: dict[str, Part],
    sizes: dict[str, Size],
    mat: Mat,
    margin: Length = RIM,
    gap: Length | None = None,
    unit: str = "in",
) -> Nest:
    """Set one paper's pieces out on a mat, on as few sheets as the planners find.

    Args:
        demand: what the paper has to give; sizes and sheets at hand are not looked at.
        parts: every piece at the origin, by label.
        sizes: the finished size of every label.
        mat: the cutting mat.
        margin: its rim, where nothing is cut.
        gap: between neighbours; left out, a sixteenth of an inch, or none where that spares a sheet.
        unit: on whose ruler a sheet is cut down, `in` or `mm`.
    """
    # Spaced pieces are nested in strips, touching ones by the exact planner too: it is fast on
    # the makers' own sizes, slow on what a gap makes of them.
    gaps = ((GAP, False), (ZERO, True)) if gap is None else ((gap, True),)
    ways = (False,) if mat.size.width == mat.size.height else (False, True)
    tries = [
        _tried(demand, sizes, mat.size.turned if turned else mat.size, margin, unit, turned, g, exact)
        for turned in ways
        for g, exact in gaps
    ]
    # `min` keeps the first of equals: upright before turned, spaced before touching.
    best = min(tries, key=lambda t: (sum(demand.needs[label] for label in t.left_out), len(t.trees)))
    frame = mat.size.turned if best.turned else mat.size
    laid = [
        _laid(tree, wanted, best, parts, sizes, margin, frame if best.turned else None)
        for tree, wanted in _shares(best.trees, demand.needs)
    ]
    settings = tuple(MatSetting(n, found, tuple(counts)) for (found, counts), n in _alike(laid))
    over = (best.paper.width > best.sheet.width, best.paper.height > best.sheet.height)
    return Nest(
        paper=demand.paper,
        mat=mat,
        sheet=best.paper,
        cut_down=best.paper != demand.sheet,
        over=over[::-1] if best.turned else over,
        turned=best.turned,
        gap=best.gap,
        settings=settings,
        left_out=best.left_out,
    )


def sheet_on_mat(one: Nest, margin: Length = RIM) -> Rect:
    """Where the sheet lies on its mat: inside the rim, or in the middle where it reaches over.

    Args:
        one: how the batch is set out.
        margin: the rim that it was set out with.
    """
    size, mat = one.sheet.turned if one.turned else one.sheet, one.mat.size

    def start(over: bool, room: Length, side: Length) -> Length:
        return (room - side) / 2 if over else margin

    return Rect(start(one.over[0], mat.width, size.width), start(one.over[1], mat.height, size.height), size.width, size.height)


def _on_ruler(length: Length, unit: str) -> Length:
    """The last mark of the ruler that is not beyond a length."""
    step = SIXTEENTH if unit == "in" else HALF_MM
    return Length(length.inches // step * step)


def _tried(demand: Demand, sizes: dict[str, Size], mat: Size, margin: Length, unit: str, turned: bool, gap: Length, exact: bool) -> _Try:
    paper = Size(
        *(
            whole if whole <= room else _on_ruler(room, unit)
            for whole, room in ((demand.sheet.width, mat.width), (demand.sheet.height, mat.height))
        )
    )
    sheet = Size(min(paper.width, mat.width - margin * 2), min(paper.height, mat.height - margin * 2))
    if sheet.width <= ZERO or sheet.height <= ZERO:
        return _Try(turned=turned, gap=gap, paper=paper, sheet=sheet, trees=(), left_out=tuple(demand.needs))
    # Every piece brings the gap to its right and below with it, and the sheet the last one's; two triangles have one between them too.
    needed = {label: _grown(sizes[label], gap * demand.from_each(label)) for label in demand.needs}
    spaced = replace(demand, sheet=_grown(sheet, gap), sizes=needed, given=None)
    out = tuple(wrong.label for wrong in misfits(spaced))
    needs = {label: n for label, n in demand.needs.items() if n and label not in out}
    return _Try(
        turned=turned, gap=gap, paper=paper, sheet=sheet, trees=_trees(replace(spaced, needs=needs), exact) if needs else (), left_out=out
    )


def _grown(size: Size, by: Length) -> Size:
    return Size(size.width + by, size.height + by)


def _trees(demand: Demand, exact: bool) -> tuple[Node, ...]:
    """A cut tree for every sheet, the rectangle of two triangles a leaf."""
    whole = demand.in_rectangles
    trees = _planned(whole.sheet, exact, *(tuple(sorted(d.items())) for d in (whole.needs, whole.sizes, whole.lies)))
    trees = tuple(_as_they_lie(tree, whole.lies) for tree in trees)
    return tuple(halved(tree, demand.halves) for tree in trees) if demand.halves else trees


def _as_they_lie(tree: Node, lies: Mapping[str, bool]) -> Node:
    """The same cuts with every piece turned as it has to be: a planner has no need to turn a square, its outline may."""
    if isinstance(tree, Leaf):
        return replace(tree, turned=lies.get(tree.label or "", tree.turned))
    return replace(tree, parts=tuple(_as_they_lie(part, lies) for part in tree.parts))


@lru_cache(maxsize=512)
def _planned(sheet: Size, exact: bool, needs: tuple, sizes: tuple, lies: tuple) -> tuple[Node, ...]:
    """The plain strip plan, or, if asked and where the area allows fewer sheets, the better of it and the exact planner's.

    Kept, since mats larger than the sheet ask for the same again.
    """
    labels = dict(needs)
    demand = Demand("", sheet, labels, {k: v for k, v in sizes if k in labels}, {k: v for k, v in lies if k in labels})
    plain = _sheets(plan_paper(demand, ""))
    if not exact or len(plain) <= ceil(sum(demand.sizes[label].area * n for label, n in needs) / sheet.area):
        return plain
    better = _sheets(plan_batch(demand, "", proved=False))
    return better if len(better) < len(plain) else plain


def _sheets(plan) -> tuple[Node, ...]:
    return tuple(run.layout.tree for run in plan.runs for _ in range(ceil(run.sheets)))


Wanted = tuple[str, Leaf, int]
"""A label, where it lies, and which of the two triangles of that rectangle it is."""


def _shares(trees: tuple[Node, ...], needs: Mapping[str, int]) -> list[tuple[Node, list[Wanted]]]:
    """Each sheet with the pieces that are still needed from it, so that the batch comes out exactly."""
    missing: Counter[str] = Counter(needs)
    found = []
    for tree in trees:
        wanted = []
        for leaf in pieces(tree):
            for half in range(leaf.gives):
                if leaf.label and missing[leaf.label] > 0:
                    missing[leaf.label] -= 1
                    wanted.append((leaf.label, leaf, half))
        if wanted:
            found.append((tree, wanted))
    return found


def _laid(
    tree: Node, wanted: list[Wanted], way: _Try, parts: dict[str, Part], sizes: dict[str, Size], margin: Length, frame: Size | None
) -> tuple[tuple[Part, ...], list[tuple[str, int]]]:
    """A sheet's parts on the mat; `frame` is the mat as the sheet sees it when the sheet lies turned."""
    whole = pieces(tree)
    right, bottom = max(leaf.rect.right for leaf in whole) - way.gap, max(leaf.rect.bottom for leaf in whole) - way.gap
    # Off the sheet's edge where there is room: a cut along the very edge of a sheet is hard to hold.
    dx, dy = margin + min((way.sheet.width - right) / 2, EDGE), margin + min((way.sheet.height - bottom) / 2, EDGE)
    counts: Counter[str] = Counter()
    found = []
    for label, leaf, half in wanted:
        counts[label] += 1
        name = f"{label}-{counts[label]}"
        part = parts[label].laid(name, leaf.rect.x + dx, leaf.rect.y + dy, sizes[label].height if leaf.turned else None)
        if leaf.diagonal:
            aside, down = _outward(leaf, half)
            lies = part.head_down() if half else part
            part = lies.laid(name, way.gap if aside else ZERO, way.gap if down else ZERO, None)
        found.append(part if frame is None else part.laid(name, ZERO, ZERO, frame.height))
    return tuple(found), sorted(counts.items())


def _outward(leaf: Leaf, half: int) -> tuple[bool, bool]:
    """Whether the right angle of a triangle lies at the right, and at the bottom: each moves out to its own, and the gap is between them."""
    right, bottom = lying(leaf.diagonal, leaf.turned) == "rising", True
    if leaf.turned:
        right, bottom = not bottom, right
    return (not right, not bottom) if half else (right, bottom)


def _alike(laid: list) -> list[tuple[tuple, int]]:
    """Sheets cut alike, counted, in the order of the first of each."""
    found: list[tuple[tuple, int]] = []
    for one in laid:
        known = next((i for i, (other, _) in enumerate(found) if other == one), None)
        if known is None:
            found.append((one, 1))
        else:
            found[known] = (found[known][0], found[known][1] + 1)
    return found
