"""What the proposer hands on: layouts with the cuts behind them, how they compare, and how much was looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from kitwright.cutting.tree import Node
from kitwright.findings import Note
from kitwright.geometry import Diagonal, Rect
from kitwright.proposing.wish import CardWish, Wish
from kitwright.units import Length, Size


@dataclass(frozen=True, slots=True)
class Kind:
    """One size of piece."""

    label: str
    """A, B, C …, the largest first."""
    size: Size
    """As it stands on the card, unturned: width × height; for a triangle the rectangle that it comes from."""
    cut: Size
    """What is cut from the sheet: the same, or the blank that a punch or die takes."""
    each: int
    """How many lie on a card; of two designs, see `Side.each`."""
    halved: Diagonal | None = None
    """For a triangle, the cut that makes two of each rectangle."""
    tool: Literal["punch", "die"] | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """One piece where it lies on the card."""

    label: str
    rect: Rect
    """On the closed card: x from its left, y from its top. For a triangle on its point, what it takes."""
    turned: bool = False
    point: Literal["down", "up", "left", "right"] | None = None
    """For a triangle set on its point."""
    lot: int = 0
    """Pieces of one lot are of one paper: lots are dealt to papers, card by card."""
    over: bool = False
    """Whether it lies over others."""


@dataclass(frozen=True, slots=True)
class Side:
    """One design: what lies on its front."""

    family: str
    """Name of its family (`families.ALL`)."""
    card: CardWish
    border: Length
    gap: Length
    spots: tuple[Spot, ...]
    """In the order of rows, then of what lies over."""
    front: Mapping[str, Any]
    """The same as a kit's file says it below `front:`, in plain values and exact lengths (`rows`, `columns`, `places`, `over`)."""
    band: Rect | None = None
    """What stays free for the greeting, on the closed card."""
    cards: int = 0
    """How many of the batch are of this design."""

    @property
    def each(self) -> dict[str, int]:
        """Pieces of each label on one card."""
        counts: dict[str, int] = {}
        for spot in self.spots:
            counts[spot.label] = counts.get(spot.label, 0) + 1
        return counts


@dataclass(frozen=True, slots=True)
class SheetCut:
    """How some sheets of the stock are cut: all alike."""

    stocks: tuple[tuple[str, int], ...]
    """Keys of papers, each with the number of its sheets cut so."""
    tree: Node
    """The cuts, on the sheet as it lies."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What a layout is judged by; less waste, more slack, fewer measures and sheets cut alike are better."""

    waste: Fraction
    """Share of all patterned sheets that is left over, 0 to 1."""
    left: Fraction
    """The same in square inches, of all sheets together."""
    slack: Length
    """The largest of the levels by which every sheet may shrink both ways with the layout still coming out of it."""
    measures: int
    """Ruler marks, of all its cuts together."""
    strokes: int
    """Strokes of all sheets; of these very cuts, which need not be the fewest."""
    alike: bool
    """Whether all sheets of one size are cut alike."""


@dataclass(frozen=True, slots=True)
class Twin:
    """A near twin that was merged: the same picture, a size or two a step or so away."""

    sizes: tuple[tuple[str, Size], ...]
    """Labels of the layout that it stands with, and their sizes in the twin."""
    measured: Measured


@dataclass(frozen=True, slots=True)
class Proposal:
    """One layout that comes out of the sheets and adds up on the card."""

    number: int
    """By which it is picked; from 1."""
    sides: tuple[Side, ...]
    """One design, or two."""
    kinds: tuple[Kind, ...]
    cuts: tuple[SheetCut, ...]
    cards: int
    """The whole batch."""
    measured: Measured
    twins: tuple[Twin, ...] = ()


@dataclass(frozen=True, slots=True)
class Scope:
    """What was looked at of one family with one border, gap and card."""

    family: str
    card: CardWish
    border: Length
    gap: Length
    layouts: int
    """Distinct sets of pieces."""
    whole: bool
    """Whether every layout of the family on this grid, within the ceiling on waste, was decided."""


@dataclass(frozen=True, slots=True)
class Counted:
    """How much was looked at, as counts that are the same on every machine."""

    candidates: int
    distinct: int
    whole: int
    """Of those, the sets of families that were looked at whole: every one was decided."""
    tested: int
    """Decided by the exact table."""
    front: int
    """Not bettered by any of their class."""
    steps: int
    """Work (`cutting.solver.work`)."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a question gives."""

    wish: Wish
    proposals: tuple[Proposal, ...]
    """A dozen that differ, or as many as there are."""
    scopes: tuple[Scope, ...]
    counted: Counted
    stopped: bool = False
    """Whether the maker stopped it, or the work allowed was spent; then this is what was found until then."""
    why: tuple[Note, ...] = ()
    """Where nothing is proposed, what stood in the way, the nearest way out first; where all that is leaves much over, how many cards
    the sheets give. Told like any other note."""
    spent: bool = False
    """Of an answer that was `stopped`: whether the work allowed was spent, and not she who stopped it."""
