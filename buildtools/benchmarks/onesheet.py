"""The best way to cut one sheet, proved: the planner's machinery asked for a single sheet.

The planner asks it through `batch.exact`, about many sheets and with its work shared out; this
is the plain question, for timings (`optima.py`) and for the tests against published values.

Edge-to-edge cuts in any number of stages, on a lattice of whole steps; pieces fixed or
free to turn; each kind limited or not; any whole values. The answer carries the cut tree
and an upper bound, and is proved when the bound equals the value. Planners scale lengths
and values to whole numbers first and come back exactly by `to_tree`.

How it works is told in `kitwright.cutting.solver`: `table` when no kind runs out,
`limited` when some do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitwright.cutting.solver.limited import LimitedSearch
from kitwright.cutting.solver.pieces import Build, PieceKind, Plate, lay
from kitwright.cutting.solver.rough import worth
from kitwright.cutting.solver.table import Grid, WorthTable, density_bound
from kitwright.cutting.solver.work import Work
from kitwright.cutting.tree import Leaf, Node, Split
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length

__all__ = ["LONGEST_SIDE", "OneSheet", "PieceKind", "Plate", "faults", "fits", "solve", "to_tree"]

LONGEST_SIDE = 10_000_000
"""Lattice steps; a longer side means that the lattice is too fine."""


@dataclass(frozen=True, slots=True)
class OneSheet:
    """The answer for one sheet."""

    value: int
    """What the pieces of the tree are worth."""
    bound: int
    """No cutting of this sheet is worth more than this (or than `above`, where that is more)."""
    proved: bool
    """Whether nothing better exists: the bound equals the value, or is not above `above`."""
    tree: Plate
    """How to cut it; a single leftover when nothing worth cutting was found."""


def solve(width: int, height: int, kinds: Sequence[PieceKind], *, steps: int | None = None, above: int = 0) -> OneSheet:
    """The most valuable set of pieces that one sheet yields.

    Args:
        width, height: the sheet in lattice steps.
        kinds: what may be cut; leaves of the tree name kinds by index.
        steps: stop after so much work (`solver.work`) with the best found and a true bound;
            None: go on until it is proved.
        above: only cuttings worth more than this matter. The search is shorter; when there
            is none, the value found may be less than the best, and `proved` says that none
            is worth more than `above`.

    Raises:
        TypeError: a number that is not an int.
        ValueError: a sheet without area, sides beyond `LONGEST_SIDE`, or, with limits, values so
            large (beyond about 10¹⁶ for the whole sheet) that sums might not be exact.
    """
    for side in (width, height):
        if type(side) is not int:
            raise TypeError(f"the side of a sheet is an int, not {side!r}")
        if not 1 <= side <= LONGEST_SIDE:
            raise ValueError(f"a sheet of {width} × {height} steps; a side is 1 to {LONGEST_SIDE}")
    wanted = [kind if kind.value > 0 else PieceKind(kind.width, kind.height, 0, 0) for kind in kinds]
    work = Work(steps)
    if _never_short(width, height, wanted):
        build, bound = _unlimited(width, height, wanted, work)
    else:
        search = LimitedSearch(width, height, wanted, above, work)
        search.run()
        build, bound = search.best, search.bound
    value = worth(build, wanted)
    answer = OneSheet(value, bound, bound <= max(value, above), lay(build, width, height))
    found = faults(answer.tree, width, height, kinds)
    if found:
        raise RuntimeError(f"the solver made an unsound tree: {found[0]}")
    return answer


def _never_short(width: int, height: int, kinds: Sequence[PieceKind]) -> bool:
    """Whether no limit can matter: there is as much of each kind as its area allows."""
    return all(
        k.value <= 0 or k.limit is None or not k.ways(width, height) or k.limit >= width * height // (k.width * k.height) for k in kinds
    )


def _unlimited(width: int, height: int, kinds: Sequence[PieceKind], work: Work) -> tuple[Build | None, int]:
    values = [k.value for k in kinds]
    table = WorthTable(Grid(width, height, kinds), values, work)
    return table.build(), table.best if table.whole else density_bound(width, height, kinds, values)


def fits(width: int, height: int, kinds: Sequence[PieceKind], counts: Sequence[int], *, steps: int | None = None) -> Plate | bool | None:
    """Whether one sheet yields so many pieces of each kind.

    Values and limits of the kinds are not looked at.

    Returns:
        A tree with exactly these pieces; False when proved impossible; None when the work
        allowed was done first.
    """
    asked = [PieceKind(k.width, k.height, k.width * k.height, n, k.may_turn) for k, n in zip(kinds, counts, strict=True)]
    total = sum(k.value * n for k, n in zip(asked, counts))
    if total > width * height:
        return False
    answer = solve(width, height, asked, steps=steps, above=total - 1)
    if answer.value == total:
        return answer.tree
    return False if answer.proved else None


# --- checking and converting --------------------------------------------------------------


def faults(plate: Plate, width: int, height: int, kinds: Sequence[PieceKind]) -> list[str]:
    """What is wrong with a cut tree on the lattice, in a word each; an empty list means that it is sound."""
    found = []
    if (plate.width, plate.height) != (width, height):
        found.append("start")
    _check(plate, kinds, found)
    for index, count in sorted(plate.counts().items()):
        limit = kinds[index].limit if index < len(kinds) else None
        if limit is not None and count > limit:
            found.append("limit")
    return found


def _check(plate: Plate, kinds: Sequence[PieceKind], found: list[str]) -> None:
    w, h = plate.width, plate.height
    if w < 1 or h < 1:
        found.append("area")
    if plate.parts:
        across = [part.width for part in plate.parts]
        down = [part.height for part in plate.parts]
        if plate.axis == "x":
            good = sum(across) == w and set(down) == {h}
        else:
            good = plate.axis == "y" and sum(down) == h and set(across) == {w}
        if not good or len(plate.parts) < 2 or plate.kind is not None:
            found.append("edge")
        for part in plate.parts:
            _check(part, kinds, found)
    elif plate.kind is not None:
        if not 0 <= plate.kind < len(kinds):
            found.append("kind")
            return
        kind = kinds[plate.kind]
        size = (kind.height, kind.width) if plate.turned else (kind.width, kind.height)
        if size != (w, h):
            found.append("size")
        if plate.turned and not kind.may_turn:
            found.append("turned")


def to_tree(plate: Plate, step: Length, labels: Sequence[str], x: Length = ZERO, y: Length = ZERO) -> Node:
    """A plate as a cut tree in lengths.

    Args:
        plate: on the lattice.
        step: the length of one lattice step.
        labels: the label for each kind.
        x, y: where its top left corner lies on the sheet.
    """
    rect = Rect(x, y, step * plate.width, step * plate.height)
    if plate.axis is None:
        label = None if plate.kind is None else labels[plate.kind]
        return Leaf(rect, label, plate.turned)
    parts = []
    for part in plate.parts:
        parts.append(to_tree(part, step, labels, x, y))
        if plate.axis == "x":
            x = x + step * part.width
        else:
            y = y + step * part.height
    return Split(rect, plate.axis, tuple(parts), "left" if plate.axis == "x" else "top")
