"""What the solver takes and gives: kinds of piece, builds, and the finished cut tree.

Everything is a whole number of lattice steps; `width` runs along x, `height` along y.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from kitwright.geometry import Axis

AXES: tuple[Axis, Axis] = ("x", "y")


@dataclass(frozen=True, slots=True)
class PieceKind:
    """One kind of piece that may be cut from the sheet."""

    width: int
    """Lattice steps across."""
    height: int
    """Lattice steps down."""
    value: int
    """What one is worth; a kind worth zero or less is never cut."""
    limit: int | None = None
    """At most this many; None for any number."""
    may_turn: bool = False
    """Whether it may lie a quarter turn from its own width × height."""

    def __post_init__(self) -> None:
        for name in ("width", "height", "value", "limit"):
            given = getattr(self, name)
            if type(given) is not int and not (name == "limit" and given is None):
                raise TypeError(f"the {name} of a piece is an int, not {given!r}")
        if self.width < 1 or self.height < 1:
            raise ValueError(f"a piece of {self.width} × {self.height} has no area")
        if self.limit is not None and self.limit < 0:
            raise ValueError(f"a limit of {self.limit} is below zero")

    def ways(self, width: int, height: int) -> list[tuple[int, int, bool]]:
        """How it can lie within width × height: (across, down, turned), unturned first."""
        ways = [(self.width, self.height, False)]
        if self.may_turn and self.width != self.height:
            ways.append((self.height, self.width, True))
        return [way for way in ways if way[0] <= width and way[1] <= height]


class Build(NamedTuple):
    """Pieces put together edge to edge: one piece, or a row of builds side by side.

    Its box is the smallest that holds it; what the parts leave free within the box is waste.
    """

    width: int
    """Width of the box."""
    height: int
    """Height of the box."""
    kind: int | None = None
    """Index of the kind for a single piece."""
    turned: bool = False
    """Whether that piece lies turned."""
    axis: Axis | None = None
    """`x`: parts side by side; `y`: one above the other."""
    parts: tuple[Build, ...] = ()
    """What it is made of, none of them joined along the same axis."""

    @classmethod
    def piece(cls, kinds: Sequence[PieceKind], index: int, turned: bool) -> Build:
        """A single piece."""
        k = kinds[index]
        return cls(k.height, k.width, index, True) if turned else cls(k.width, k.height, index)

    @classmethod
    def join(cls, axis: Axis, builds: Sequence[Build]) -> Build:
        """Builds put in a row; a part joined along the same axis is taken apart first."""
        parts = tuple(p for b in builds for p in (b.parts if b.axis == axis else (b,)))
        if len(parts) == 1:
            return parts[0]
        widths, heights = [p.width for p in parts], [p.height for p in parts]
        if axis == "x":
            return cls(sum(widths), max(heights), axis="x", parts=parts)
        return cls(max(widths), sum(heights), axis="y", parts=parts)

    def kinds(self) -> Iterator[int]:
        """The kind of every piece."""
        if self.kind is not None:
            yield self.kind
        for part in self.parts:
            yield from part.kinds()


class Plate(NamedTuple):
    """A node of the finished cut tree: a rectangle, and what becomes of it."""

    width: int
    """Lattice steps across."""
    height: int
    """Lattice steps down."""
    kind: int | None = None
    """For a leaf, the index of its kind; None marks a leftover."""
    turned: bool = False
    """Whether the piece lies turned."""
    axis: Axis | None = None
    """For a plate that is cut: `x` when its parts lie left to right, `y` top to bottom."""
    parts: tuple[Plate, ...] = ()
    """The parts in order; they fill the plate edge to edge."""

    def leaves(self) -> Iterator[Plate]:
        """All leaves, in the order in which they lie."""
        waiting = [self]
        while waiting:
            at = waiting.pop()
            if at.parts:
                waiting += reversed(at.parts)
            else:
                yield at

    def counts(self) -> Counter[int]:
        """How many pieces of each kind."""
        return Counter(leaf.kind for leaf in self.leaves() if leaf.kind is not None)


def lay(build: Build | None, width: int, height: int) -> Plate:
    """Cut a build out of a plate; what is left over comes off its right and its bottom.

    The two leftovers are cut so that the larger of them is as large as can be.
    """
    if build is None:
        return Plate(width, height)
    right, below = width - build.width, height - build.height
    if right and below and right * height < width * below:
        return _cut("y", [lay(build, width, build.height), Plate(width, below)])
    if right:
        return _cut("x", [lay(build, build.width, height), Plate(right, height)])
    if below:
        return _cut("y", [lay(build, width, build.height), Plate(width, below)])
    if build.axis is None:
        return Plate(width, height, build.kind, build.turned)
    if build.axis == "x":
        return _cut("x", [lay(part, part.width, height) for part in build.parts])
    return _cut("y", [lay(part, width, part.height) for part in build.parts])


def _cut(axis: Axis, plates: list[Plate]) -> Plate:
    """A plate made of these; one already cut along the same axis is taken up whole."""
    parts = tuple(p for plate in plates for p in (plate.parts if plate.axis == axis else (plate,)))
    widths, heights = [p.width for p in plates], [p.height for p in plates]
    if axis == "x":
        return Plate(sum(widths), heights[0], axis="x", parts=parts)
    return Plate(widths[0], sum(heights), axis="y", parts=parts)
