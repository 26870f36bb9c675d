"""What is cut from each paper: layouts, sheets, yields, and what is left.

A layout is one distinct way of cutting a sheet. A paper's plan says how many sheets are
cut by which layout, whole and half, and whether the batch comes out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from kitwright.cutting import tree
from kitwright.cutting.tree import Cut, Leaf, Node, Slant, Split
from kitwright.geometry import HALVES, Axis, Diagonal, Rect
from kitwright.units import SIXTEENTH, Length, Size

if TYPE_CHECKING:
    from kitwright.cutting.batch.proof import Proof

HALF = Fraction(1, 2)
LITTLE = Length(SIXTEENTH)
"""A sheet that may lack less than this has hardly any slack."""


@dataclass(frozen=True, slots=True)
class Demand:
    """What one paper has to give."""

    paper: str
    """Key of the paper."""
    sheet: Size
    """Its sheet, as it lies."""
    needs: Mapping[str, int]
    """How many pieces of each label the batch takes."""
    sizes: Mapping[str, Size]
    """The size of each label, width × height on its own."""
    lies: Mapping[str, bool]
    """For a one-way paper: whether a label must lie turned on the sheet (True) or upright (False); free when absent."""
    given: Fraction | None = None
    """Sheets at hand, when the kit says so."""
    halves: Mapping[str, Diagonal] = field(default_factory=dict)
    """Labels that are triangles, two from one rectangle of their size, with the cut that makes them; needs count triangles."""

    def from_each(self, label: str) -> int:
        """How many pieces of a label come from one rectangle of its size."""
        return HALVES if label in self.halves else 1

    def rectangles(self, label: str, pieces: int) -> int:
        """How many rectangles so many pieces of a label take."""
        return -(-pieces // self.from_each(label))

    @property
    def in_rectangles(self) -> Demand:
        """The same counted in rectangles, as they are cut from the sheet."""
        if not self.halves:
            return self
        needs = {label: self.rectangles(label, n) for label, n in self.needs.items()}
        return replace(self, needs=needs, halves={})

    @property
    def area(self) -> Fraction:
        """Square inches of all the rectangles that it takes."""
        return sum((self.sizes[label].area * self.rectangles(label, n) for label, n in self.needs.items()), Fraction(0))


@dataclass(frozen=True, slots=True)
class Layout:
    """One distinct way of cutting a sheet."""

    name: str
    """What it is called: the author's name, or those of its papers and `detail`."""
    papers: tuple[str, ...]
    """The papers cut by it."""
    tree: Node
    """The cuts."""
    source: Literal["author", "auto"]
    """Whose cuts they are."""
    guide: int | None = None
    """Which of the spec's guides it is, counted from 0."""
    detail: str = ""
    """What tells it from the other layouts of its paper, at the end of its name: `: base and S`."""

    @property
    def sheet(self) -> Size:
        return self.tree.rect.size

    @property
    def cuts(self) -> list[Cut]:
        """Every stroke, numbered in order."""
        return tree.cuts(self.tree)

    @property
    def slants(self) -> list[Slant]:
        """The strokes from corner to corner that follow, numbered on."""
        return tree.slants(self.tree)

    @property
    def strokes(self) -> int:
        """How many strokes a sheet takes in all."""
        return len(self.cuts) + len(self.slants)

    @property
    def yields(self) -> dict[str, int]:
        """Pieces per sheet, by label."""
        return tree.yields(self.tree)

    @property
    def leftovers(self) -> list[Rect]:
        """What remains, largest first."""
        return tree.leftovers(self.tree)

    @property
    def slack(self) -> Size:
        """How much of the sheet it does not need, across and along."""
        return tree.slack(self.tree)

    @property
    def tight(self) -> bool:
        """Whether a sheet a sixteenth of an inch short fails it."""
        return min(self.slack.width, self.slack.height) < LITTLE

    @property
    def used(self) -> Fraction:
        """The share of the sheet's area that becomes pieces, 0 to 1."""
        return sum((leaf.rect.area for leaf in tree.pieces(self.tree)), Fraction(0)) / self.tree.rect.area

    @property
    def measures(self) -> list[Length]:
        """The distinct ruler marks, in the order in which they are first set."""
        return list(dict.fromkeys(cut.measure for cut in self.cuts))


def joined(names: Sequence[str]) -> str:
    """Several names as one: `A`, `A and B`, `A, B and C`."""
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


@dataclass(frozen=True, slots=True)
class Run:
    """So many sheets of a paper cut by one layout."""

    layout: Layout
    sheets: Fraction
    """Whole or half sheets."""
    made: Mapping[str, int]
    """What they give, by label."""


@dataclass(frozen=True, slots=True)
class PaperPlan:
    """All that is cut from one paper for the batch."""

    demand: Demand
    runs: tuple[Run, ...]
    proof: tuple[Proof, ...] = ()
    """How good it is at each level, and why; empty where nobody asked."""

    @property
    def paper(self) -> str:
        return self.demand.paper

    @property
    def fewest(self) -> Proof | None:
        """What is known of the number of sheets; None where nobody asked."""
        return next((proof for proof in self.proof if proof.level == "sheets"), None)

    @property
    def sheets(self) -> Fraction:
        """Sheets for the batch, whole and half."""
        return sum((run.sheets for run in self.runs), Fraction(0))

    @property
    def made(self) -> dict[str, int]:
        """Pieces that come out, by label."""
        counts: Counter[str] = Counter()
        for run in self.runs:
            counts.update(run.made)
        return dict(sorted(counts.items()))

    @property
    def spare(self) -> dict[str, int]:
        """Pieces beyond what the batch takes."""
        return {label: n - self.demand.needs.get(label, 0) for label, n in self.made.items() if n > self.demand.needs.get(label, 0)}

    @property
    def short(self) -> dict[str, int]:
        """Pieces that are missing; empty when the batch comes out."""
        return {label: n - self.made.get(label, 0) for label, n in self.demand.needs.items() if n > self.made.get(label, 0)}


def half_yields(node: Node) -> list[dict[str, int]]:
    """What half a sheet gives: for each way of halving it, the pieces on one side that the halving spares."""
    r = node.rect
    (mid_x, mid_y), found = r.centre, []
    for side in (lambda p: p.right <= mid_x, lambda p: p.x >= mid_x, lambda p: p.bottom <= mid_y, lambda p: p.y >= mid_y):
        found.append(dict(Counter(tree.labels(leaf for leaf in tree.pieces(node) if side(leaf.rect)))))
    return found


def half_tree(node: Node, needs: Mapping[str, int]) -> Node:
    """The cuts on a sheet of which only half is used: the other half stays whole.

    Halves at the middle of the first cuts where they allow it, and otherwise leaves the
    tree as it is.
    """
    if isinstance(node, Leaf):
        return node
    r, (mid_x, mid_y) = node.rect, node.rect.centre
    middle = mid_x if node.axis == "x" else mid_y
    sides = ([p for p in node.parts if _end(p, node.axis) <= middle], [p for p in node.parts if _start(p, node.axis) >= middle])
    for first, kept in enumerate(sides):
        made = Counter(label for part in kept for label in tree.labels(tree.pieces(part)))
        if not kept or any(made[label] < n for label, n in needs.items()):
            continue
        edge = _end(kept[-1], node.axis) if first == 0 else _start(kept[0], node.axis)
        if node.axis == "x":
            rest = Rect(edge, r.y, r.right - edge, r.height) if first == 0 else Rect(r.x, r.y, edge - r.x, r.height)
        else:
            rest = Rect(r.x, edge, r.width, r.bottom - edge) if first == 0 else Rect(r.x, r.y, r.width, edge - r.y)
        parts = (*kept, Leaf(rest)) if first == 0 else (Leaf(rest), *kept)
        return Split(
            r, node.axis, parts, ("left" if node.axis == "x" else "top") if first == 0 else ("right" if node.axis == "x" else "bottom")
        )
    return node


def _start(node: Node, axis: Axis) -> Length:
    return node.rect.x if axis == "x" else node.rect.y


def _end(node: Node, axis: Axis) -> Length:
    return node.rect.right if axis == "x" else node.rect.bottom


def sheets_for(node: Node, needs: Mapping[str, int]) -> Fraction | None:
    """The fewest whole and half sheets, all cut alike, that give what is needed.

    Returns None when a needed label is not on the layout at all.
    """
    return counting(node)(needs)


def counting(node: Node) -> Callable[[Mapping[str, int]], Fraction | None]:
    """The same for many needs: what the layout gives is looked at once."""
    per_sheet, halves = tree.yields(node), half_yields(node)

    def sheets(needs: Mapping[str, int]) -> Fraction | None:
        if any(n and not per_sheet.get(label) for label, n in needs.items()):
            return None
        whole = max((-(-n // per_sheet[label]) for label, n in needs.items() if n), default=0)
        if whole == 0:
            return Fraction(0)
        missing = {label: n - (whole - 1) * per_sheet[label] for label, n in needs.items() if n}
        if any(all(half.get(label, 0) >= n for label, n in missing.items()) for half in halves):
            return whole - HALF
        return Fraction(whole)

    return sheets


def made_by(node: Node, sheets: Fraction, needs: Mapping[str, int]) -> dict[str, int]:
    """What so many sheets give; of a half sheet, the half that helps most."""
    whole, half = divmod(sheets, 1)
    counts = Counter({label: n * int(whole) for label, n in tree.yields(node).items()})
    if half:

        def helps(extra: Mapping[str, int]) -> int:
            return sum(min(extra.get(label, 0), max(n - counts[label], 0)) for label, n in needs.items())

        counts.update(max(half_yields(node), key=helps))
    return {label: n for label, n in sorted(counts.items()) if n}


def turned_wrongly(layout: Layout, demand: Demand) -> list[Leaf]:
    """Pieces that a one-way paper forbids as they lie."""
    return [
        leaf
        for leaf in tree.pieces(layout.tree)
        if leaf.label is not None
        and leaf.label in demand.lies
        and leaf.rect.width != leaf.rect.height
        and leaf.turned != demand.lies[leaf.label]
    ]
