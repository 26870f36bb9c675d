"""Whole numbers for lengths: every size that is proposed is a whole number of steps, so that arrays reckon exactly."""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.units import Length, Size


@dataclass(frozen=True, slots=True)
class Lattice:
    """The marks of a ruler: lengths as whole numbers of one step, and back, exactly."""

    step: Length
    """From mark to mark."""

    def on(self, length: Length) -> int | None:
        """How many steps a length is; None where it lies between two marks."""
        steps = length / self.step
        return int(steps) if steps.denominator == 1 else None

    def down(self, length: Length) -> int:
        """The marks that lie within a length: so many steps of a sheet serve cuts that are all sums of whole steps."""
        return length // self.step

    def up(self, length: Length) -> int:
        """The fewest steps that hold a length."""
        return -(-length // self.step)

    def length(self, steps: int) -> Length:
        """So many steps, as a length."""
        return self.step * int(steps)

    def size(self, width: int, height: int) -> Size:
        """So many steps across and down, as a size."""
        return Size(self.length(width), self.length(height))
