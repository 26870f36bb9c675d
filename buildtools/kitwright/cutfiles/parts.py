"""What is cut: pieces with their outlines and folds, and the drawing they lie in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from kitwright.card.outlines import Outline, Point, plain
from kitwright.card.shapes import misshapes, outline_of
from kitwright.errors import UserError
from kitwright.units import Length, Size, rounded
from kitwright.work.worked import Worked

Crease = tuple[Point, Point]
EDGES, FOLDS = "edges", "folds"
"""The layers of every format: what is cut through, and what is scored."""


@dataclass(frozen=True)
class Part:
    """A piece as a cutter cuts it."""

    name: str
    """Its label; within a layout with a number after it, such as `A-2`."""
    outline: Outline
    """Its edge and openings, where they lie."""
    folds: tuple[Crease, ...] = ()
    """Lines to score."""

    def laid(self, name: str, x: Length, y: Length, height: Length | None) -> Part:
        """The same part elsewhere, under another name.

        Args:
            x, y: where the top left corner of the rectangle around it comes to lie.
            height: its height when it lies a quarter turn to the right; None when it does not.
        """
        shape, folds = self.outline, self.folds
        if height is not None:
            shape, folds = shape.turned(height), tuple(((height - a[1], a[0]), (height - b[1], b[0])) for a, b in folds)
        return Part(name, shape.moved(x, y), tuple(((a[0] + x, a[1] + y), (b[0] + x, b[1] + y)) for a, b in folds))

    def head_down(self) -> Part:
        """The same part turned by half a turn, within the rectangle around it; of a part without folds."""
        return replace(self, outline=self.outline.head_down())


@dataclass(frozen=True)
class Drawing:
    """One cut file."""

    title: str
    """What it holds, in a line."""
    description: str
    """How to use it."""
    size: Size
    """The whole canvas: the piece itself, or the cutting mat."""
    papers: tuple[tuple[str, tuple[Part, ...]], ...]
    """Parts by paper: its key, or several joined by `_` when the piece comes in any of them."""
    dashed: bool = False
    """Whether score lines are dashes, for a blade; else whole lines, for a scoring tool."""

    def strokes(self, crease: Crease) -> tuple[Crease, ...]:
        """What is drawn of a score line: all of it, or dashes."""
        return dashes(crease) if self.dashed else (crease,)


DASH = Length(Fraction(1, 8))
"""How long a dash is, and how far it is to the next, as nearly as they come out even."""


def dashes(crease: Crease) -> tuple[Crease, ...]:
    """A score line as dashes that begin and end a gap away from its ends, so that the edges of the paper stay whole."""
    (ax, ay), (bx, by) = crease
    dx, dy = bx - ax, by - ay
    count = max(1, int(rounded((max(abs(dx), abs(dy)) / DASH - 1) / 2)))

    def at(n: int) -> Point:
        part = Fraction(n, 2 * count + 1)
        return ax + dx * part, ay + dy * part

    return tuple((at(2 * i + 1), at(2 * i + 2)) for i in range(count))


def sizes(worked: Worked) -> dict[str, Size]:
    """The finished size of every label, the base included: a cutter cuts notches at once and trims nothing."""
    bases = {design.kit.base: design.base.cut for design in worked.designs}
    return bases | {label: piece.size for label, piece in worked.kit.spec.pieces.items()}


def parts(worked: Worked) -> dict[str, Part]:
    """Every piece with its top left corner at the origin; the base, and belly bands, with their score lines.

    Raises:
        UserError: a shape that can't be cut.
    """
    found = {}
    for label, piece in worked.kit.spec.pieces.items():
        wrong = next(misshapes(piece, worked.kit.spec.unit), None)
        if wrong:
            raise UserError(
                wrong.code, place=worked.kit.place("pieces", label, *wrong.path), label=label, unit=worked.kit.spec.unit, **wrong.values
            )
        found[label] = Part(label, outline_of(piece))
    for band in (band for design in worked.designs for band in design.enclosed.bands):
        found[band.label] = replace(found[band.label], folds=band.score_lines)
    bases = {design.kit.base: design.base for design in worked.designs}
    return found | {label: Part(label, plain(base.cut), base.score_lines) for label, base in bases.items()}
