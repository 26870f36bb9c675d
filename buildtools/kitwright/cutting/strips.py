"""`auto`: a plain strip plan for one paper.

Each strip runs right across the sheet and holds pieces of one height, then is cut into
pieces; strips are stacked on sheets by first fit, tallest first; both directions are
tried. It promises pieces of the right size from edge-to-edge cuts, never more than two
stages, and a one-way paper never turned. It does not promise the fewest sheets.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby

from kitwright.cutting.plan import Demand, Layout, PaperPlan, Run, made_by, sheets_for
from kitwright.cutting.stock import misfits, too_large
from kitwright.cutting.tree import Leaf, Node, Side, Split
from kitwright.geometry import Axis, Rect
from kitwright.units import ZERO, Length, Size, total


@dataclass(frozen=True)
class _Strip:
    """Pieces of one height side by side."""

    height: Length
    pieces: tuple[tuple[str, Length, bool], ...]
    """Label, width and whether turned, left to right."""


@dataclass
class _Sheet:
    room: Length
    strips: list[_Strip] = field(default_factory=list)


def plan_paper(demand: Demand, name: str) -> PaperPlan:
    """Cut one paper in strips.

    Raises:
        UserError: a piece that no sheet of this paper can give.
    """
    options = [plan for flipped in (False, True) for plan in [_one_way(demand, name, flipped)] if plan]
    if not options:
        raise too_large(demand, misfits(demand)[0])
    return min(options, key=lambda p: (p.sheets, len(p.runs), sum(len(r.layout.cuts) for r in p.runs)))


def _ways(demand: Demand, label: str, sheet: Size, flipped: bool) -> Iterator[tuple[Length, Length, bool]]:
    """Width, height and turned for each way a piece may lie on the (flipped) sheet."""
    for turned in (False, True):
        if label in demand.lies and turned != demand.lies[label]:
            continue
        size = demand.sizes[label].turned if turned else demand.sizes[label]
        size = size.turned if flipped else size
        if size.fits(sheet):
            yield size.width, size.height, turned


def _one_way(demand: Demand, name: str, flipped: bool) -> PaperPlan | None:
    """Strips across the sheet, or, flipped, along it."""
    sheet = demand.sheet.turned if flipped else demand.sheet
    chosen: list[tuple[Length, Length, bool, str]] = []
    for label, n in demand.needs.items():
        ways = list(_ways(demand, label, sheet, flipped))
        if not ways:
            return None
        # The way that takes least height of sheet for all pieces of the label.
        width, height, turned = min(ways, key=lambda w: (w[1] * -(-n // (sheet.width // w[0])), w[2]))
        chosen += [(height, width, turned, label)] * n
    sheets: list[_Sheet] = []
    for strip in _strips(chosen, sheet.width):
        home = next((s for s in sheets if s.room >= strip.height), None)
        if home is None:
            home = _Sheet(sheet.height)
            sheets.append(home)
        home.strips.append(strip)
        home.room -= strip.height
    return _runs(demand, name, [_tree(s, sheet, flipped) for s in sheets])


def _strips(chosen: list[tuple[Length, Length, bool, str]], width: Length) -> list[_Strip]:
    strips: list[_Strip] = []
    ordered = sorted(chosen, key=lambda c: (-c[0].inches, -c[1].inches, c[3]))
    for height, alike in groupby(ordered, key=lambda c: c[0]):
        rows: list[list[tuple[str, Length, bool]]] = []
        for _, piece_width, turned, label in alike:
            row = next((r for r in rows if total(w for _, w, _ in r) + piece_width <= width), None)
            if row is None:
                row = []
                rows.append(row)
            row.append((label, piece_width, turned))
        strips += [_Strip(height, tuple(row)) for row in rows]
    return strips


def _tree(sheet: _Sheet, size: Size, flipped: bool) -> Node:
    """The strips of one sheet as a cut tree."""

    def rect(x: Length, y: Length, width: Length, height: Length) -> Rect:
        return Rect(y, x, height, width) if flipped else Rect(x, y, width, height)

    stacked: tuple[Axis, Side] = ("x", "left") if flipped else ("y", "top")
    across: tuple[Axis, Side] = ("y", "top") if flipped else ("x", "left")
    parts: list[Node] = []
    y = ZERO
    for strip in sheet.strips:
        x, row = ZERO, []
        for label, width, turned in strip.pieces:
            row.append(Leaf(rect(x, y, width, strip.height), label, turned))
            x += width
        if x < size.width:
            row.append(Leaf(rect(x, y, size.width - x, strip.height)))
        whole = rect(ZERO, y, size.width, strip.height)
        parts.append(row[0] if len(row) == 1 else Split(whole, across[0], tuple(row), across[1]))
        y += strip.height
    if y < size.height:
        parts.append(Leaf(rect(ZERO, y, size.width, size.height - y)))
    return parts[0] if len(parts) == 1 else Split(rect(ZERO, ZERO, size.width, size.height), stacked[0], tuple(parts), stacked[1])


def _runs(demand: Demand, name: str, trees: list[Node]) -> PaperPlan:
    """Sheets cut alike as one run; one sheet that asks for half a sheet is half."""
    # A sheet cut like the one before but not filled is cut the same way: one guide serves both.
    if trees and (alike := sheets_for(trees[0], demand.needs)) is not None and alike <= len(trees):
        layout = Layout(name, (demand.paper,), trees[0], "auto")
        return PaperPlan(demand, (Run(layout, alike, made_by(trees[0], alike, demand.needs)),))
    runs: list[Run] = []
    missing = dict(demand.needs)
    groups = [(node, Fraction(len(list(group)))) for node, group in groupby(trees)]
    halved = [sheets_for(node, made_by(node, sheets, {})) or sheets for node, sheets in groups]
    # Two halves need not be halves of one sheet: one may be cut up and down, the other across. So only one is counted as half.
    last = max((i for i, (_, sheets) in enumerate(groups) if halved[i] < sheets), default=None)
    for i, (node, sheets) in enumerate(groups):
        used = halved[i] if i == last else sheets
        detail = f", sheet {i + 1}"
        layout = Layout(name + detail, (demand.paper,), node, "auto", detail=detail)
        made = made_by(node, used, missing)
        runs.append(Run(layout, used, made))
        missing = {label: max(n - made.get(label, 0), 0) for label, n in missing.items()}
    return PaperPlan(demand, tuple(runs))
