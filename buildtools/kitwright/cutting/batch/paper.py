"""One paper on a lattice of whole steps, and back again exactly.

The step is the largest length that divides both sides of half a sheet and of every piece,
so nothing is ever rounded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from math import gcd

from kitwright.cutting.plan import Demand
from kitwright.cutting.solver.pieces import PieceKind, Plate
from kitwright.cutting.stock import misfits, too_large
from kitwright.cutting.tree import Leaf, Node, Split
from kitwright.errors import UserError
from kitwright.geometry import Rect
from kitwright.units import SIXTEENTH, ZERO, Length, Size

Counts = tuple[int, ...]
"""Pieces by kind, in the order of the labels."""
Lying = tuple[int, int, bool]
"""How a piece can lie: steps across, steps down, whether turned."""


@dataclass(frozen=True)
class Lattice:
    """A sheet and the kinds of piece that it has to give; all sides in steps."""

    width: int
    height: int
    step: Length
    """The length of one step."""
    labels: tuple[str, ...]
    kinds: tuple[PieceKind, ...]
    """As they may lie: a label that must lie turned is given turned here."""
    turned: tuple[bool, ...]
    """Whether the kind is its label turned."""

    @classmethod
    def of(cls, sheet: Size, sizes: Mapping[str, Size], lies: Mapping[str, bool], labels: Iterable[str]) -> Lattice:
        """The paper of a demand, for these labels."""
        labels = tuple(labels)
        lengths = [sheet.width.inches / 2, sheet.height.inches / 2]
        lengths += [side.inches for label in labels for side in (sizes[label].width, sizes[label].height)]
        step = reduce(_common, lengths)
        kinds, turned = [], []
        for label in labels:
            size = sizes[label]
            turn = lies.get(label, False) and size.width != size.height
            lying = size.turned if turn else size
            kinds.append(
                PieceKind(
                    int(lying.width.inches / step),
                    int(lying.height.inches / step),
                    1,
                    None,
                    label not in lies and size.width != size.height,
                )
            )
            turned.append(turn)
        return cls(int(sheet.width.inches / step), int(sheet.height.inches / step), Length(step), labels, tuple(kinds), tuple(turned))

    @property
    def area(self) -> int:
        return self.width * self.height

    @property
    def halves(self) -> tuple[tuple[int, int], ...]:
        """Half a sheet, halved either way."""
        return (self.width // 2, self.height), (self.width, self.height // 2)

    @property
    def sixteenth(self) -> Fraction:
        """A sixteenth of an inch in steps."""
        return SIXTEENTH / self.step.inches

    def ways(self, kind: int, width: int, height: int) -> list[Lying]:
        """How a kind can lie within so much room."""
        return self.kinds[kind].ways(width, height)

    def area_of(self, counts: Counts) -> int:
        """What so many pieces cover, in square steps."""
        return sum(n * k.width * k.height for n, k in zip(counts, self.kinds))

    def counted(self, kinds: Iterable[int]) -> Counts:
        """How many there are of each kind."""
        counts = [0] * len(self.kinds)
        for kind in kinds:
            counts[kind] += 1
        return tuple(counts)

    def square_inches(self, area: int) -> Fraction:
        """Square steps in square inches."""
        return area * self.step.inches**2

    def node(self, plate: Plate, x: Length = ZERO, y: Length = ZERO) -> Node:
        """A plate as a cut tree in lengths."""
        rect = Rect(x, y, self.step * plate.width, self.step * plate.height)
        if plate.axis is None:
            if plate.kind is None:
                return Leaf(rect)
            return Leaf(rect, self.labels[plate.kind], plate.turned or self.turned[plate.kind])
        parts = []
        for part in plate.parts:
            node = self.node(part, x, y)
            parts.append(node)
            x, y = (node.rect.right, y) if plate.axis == "x" else (x, node.rect.bottom)
        return Split(rect, plate.axis, tuple(parts), "left" if plate.axis == "x" else "top")


def _common(a: Fraction, b: Fraction) -> Fraction:
    """The largest length that divides both."""
    return Fraction(gcd(a.numerator * b.denominator, b.numerator * a.denominator), a.denominator * b.denominator)


MOST = 200_000
"""Pieces of one kind from one sheet: far beyond any hand."""


def check(demand: Demand) -> None:
    """Refuse what no number of sheets can give.

    Raises:
        UserError: nothing is needed, or a piece is larger than the sheet as it may lie, or too small to be cut from it.
    """
    if not any(demand.needs.values()):
        raise UserError("sheets.nothing-to-cut")
    if any(n < 0 for n in demand.needs.values()):
        raise UserError("sheets.fewer-than-none")
    wrong = [m for m in misfits(demand) if demand.needs[m.label]]
    if wrong:
        raise too_large(demand, wrong[0])
    for label, needed in demand.needs.items():
        size = demand.sizes[label]
        if needed and size.width.inches * size.height.inches * MOST < demand.sheet.width.inches * demand.sheet.height.inches:
            raise UserError("sheets.piece-too-small", label=label, size=size, most=MOST, sheet=demand.sheet)
