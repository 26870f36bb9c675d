"""What no layout of its class betters: one front for each sort of card, kept while layouts come in by rising waste.

A class is a family, a number of kinds and a number of pieces on a card. As "fewer is better" those would drive every
front to equal strips; they say what sort of card it is, not how good. Within a class a layout is bettered by one that is
nowhere worse and somewhere better: in waste, slack, ruler marks, sheets cut alike. Ties are kept.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Generic, TypeVar

Of = TypeVar("Of")


@dataclass(frozen=True, slots=True)
class Grade:
    """How a layout does; all numbers are whole."""

    used: int
    """Square steps of all pieces of the batch: more is better."""
    level: int
    """Which level of slack every sheet may lack: more is better."""
    marks: int
    """Ruler marks of all its cuts: fewer is better."""
    alike: bool
    """Whether all sheets of one size are cut alike."""
    strokes: int = 0
    """Told, not compared: they say little beside the number of pieces."""

    @property
    def order(self) -> tuple[int, int, int, bool, int]:
        """Sorts the better before the worse."""
        return (-self.used, -self.level, self.marks, not self.alike, self.strokes)


def betters(one: Grade, other: Grade) -> bool:
    """Whether `one` is nowhere worse and somewhere better."""
    a, b = (one.used, one.level, -one.marks, one.alike), (other.used, other.level, -other.marks, other.alike)
    return a != b and all(x >= y for x, y in zip(a, b))


class ClassFront(Generic[Of]):
    """The layouts of one class that no other betters."""

    def __init__(self) -> None:
        self.kept: list[tuple[Grade, Of]] = []

    def may_add(self, best: Grade) -> bool:
        """Whether a layout that is as good as this at most might still belong here."""
        return not any(betters(grade, best) for grade, _ in self.kept)

    def add(self, grade: Grade, of: Of) -> None:
        """Take in a layout, unless one here betters it; what it betters goes."""
        if not any(betters(kept, grade) for kept, _ in self.kept):
            self.kept = [pair for pair in self.kept if not betters(grade, pair[0])]
            self.kept.append((grade, of))


def in_order(kept: Iterable[tuple[Grade, Of]]) -> list[tuple[Grade, Of]]:
    """The best first; what is equal, in the order in which it came."""
    return sorted(kept, key=lambda pair: pair[0].order)
