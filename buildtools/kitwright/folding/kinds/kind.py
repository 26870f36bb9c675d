"""What a fold that has a name says of itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from kitwright.folding.scored import Lies, Runs, Score
from kitwright.units import SIXTEENTH, Length

STEP: Mapping[str, Length] = {"in": Length(Fraction(1)), "mm": Length.mm(25)}
"""How much of the inside shows beside a front that is folded off the middle."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is typed beside the name of a fold."""

    score: Length | None = None
    """Where it is scored, for folds that take one length for it."""
    metric: bool = False
    """Whether the kit is in millimetres: its usual marks and rooms are then."""

    @property
    def mark(self) -> Length:
        """The finest mark that score lines are put on, where no place is typed: ¹⁄₁₆ in, or 1 mm."""
        return Length.mm(1) if self.metric else Length(SIXTEENTH)

    @property
    def room(self) -> Length:
        """How much shorter a panel is that lies rolled in: ⅛ in, or 3 mm."""
        return Length.mm(3) if self.metric else Length(Fraction(1, 8))

    def marked(self, length: Length) -> Length:
        """A length, up to the next mark."""
        return self.mark * -((-length) // self.mark)


@dataclass(frozen=True, slots=True)
class Kind:
    """A fold that has a name, laid so that its score lines run up and down."""

    place: int
    """Its place among the others where they are listed."""
    name: str
    """As it is typed."""
    lies: Lies
    panels: tuple[str, ...]
    """From the left."""
    front: str
    back: str
    scores: Callable[[Length, Asked], tuple[Score, ...]]
    """Its score lines in folding order, on a base that long."""
    across: str = ""
    """Its name with score lines that run across, where it has one of its own."""
    takes_score: bool = False
    """Whether one length may be typed for where it is scored."""
    runs: Runs = "down"
