"""A flat base with its score lines, as it lies in front of the maker before it is folded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kitwright.units import ZERO, Length

Direction = Literal["forward", "back"]
"""Towards the maker or away from her, as the base lies: a valley or a mountain of the face that lies up."""
Lies = Literal["outside up", "inside up"]
"""Which face of the base lies up while it is scored."""
Runs = Literal["down", "across"]
"""How the score lines run: up and down, so that panels lie side by side, or across, so that they lie one below the other."""
Side = Literal["outside", "inside"]
"""A face of a panel: outside, what a closed card of one fold shows; inside, the other."""


@dataclass(frozen=True, slots=True)
class Score:
    """A score line and which way it folds."""

    at: Length
    """From the left edge of the base as it lies, or from its top where the lines run across."""
    direction: Direction


@dataclass(frozen=True, slots=True)
class Misplaced:
    """A score line that parts nothing."""

    score: int
    """Which of the score lines, in the order in which they were given."""
    twin: int | None
    """The one before it at the very same place; None for one that lies on an edge or outside."""


@dataclass(frozen=True, slots=True)
class Scored:
    """A flat base: how long it is, where it is scored, what its panels are called."""

    length: Length
    """The side that the score lines part."""
    lies: Lies
    runs: Runs
    scores: tuple[Score, ...]
    """In the order in which they are folded."""
    panels: tuple[str, ...]
    """Their names, from the left or from the top as the base lies; one more than there are scores."""
    front: str
    """The panel that leads on the closed card, by its outside unless that is folded in; of two doors, the one at its left or top."""
    back: str
    """The panel that the card lies on, closed."""

    def misplaced(self) -> tuple[Misplaced, ...]:
        """Score lines at an edge, outside the base, or where another one is."""
        found = []
        for i, score in enumerate(self.scores):
            twin = next((j for j, other in enumerate(self.scores[:i]) if other.at == score.at), None)
            if twin is not None or not ZERO < score.at < self.length:
                found.append(Misplaced(i, twin))
        return tuple(found)

    @property
    def edges(self) -> tuple[Length, ...]:
        """Where the panels begin and end, in order: the first edge, the score lines, the last edge."""
        return (ZERO, *sorted(score.at for score in self.scores), self.length)

    def spans(self) -> tuple[tuple[Length, Length], ...]:
        """From where to where each panel goes, as the base lies."""
        return tuple(zip(self.edges, self.edges[1:]))

    def span(self, panel: str) -> tuple[Length, Length]:
        """From where to where a panel goes, as the base lies."""
        return self.spans()[self.panels.index(panel)]

    def beside(self, score: Score) -> tuple[int, int]:
        """The panels on either side of a score line, by their places."""
        after = self.edges.index(score.at)
        return after - 1, after

    def inside_of(self, score: Score) -> Side:
        """Which face of its two panels a fold lays on one another: what lies up where it goes forward, what lies down where it goes back."""
        return self.shown(score.direction == "back")

    def shown(self, turned: bool) -> Side:
        """Which face of a panel looks at the maker, turned over from how the base lies or not."""
        return "outside" if (self.lies == "outside up") != turned else "inside"
