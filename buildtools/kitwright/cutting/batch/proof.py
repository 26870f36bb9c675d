"""What is known of each level of a plan, and why."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

ProofLevel = Literal["sheets", "alike", "order", "slack", "leftover"]
PROOF_LEVELS: tuple[ProofLevel, ...] = ("sheets", "alike", "order", "slack", "leftover")
"""In the order in which they count: a plan is better by the first level in which it differs."""

Bare = Literal[
    # sheets
    "half-a-sheet",
    "every-yield",
    # alike
    "one-sheet",
    "all-alike",
    "not-known",
    "no-single-way",
    "no-fewer-ways",
    "some-ways",
    # order
    "chosen-together",
    "none-simpler",
    "natural",
    "not-natural",
    # slack
    "not-tight",
    "tight-however",
    "tight-here",
    # leftover
    "no-leftover",
    "one-leftover",
    "no-larger",
    "largest-found",
]
"""A reason that has no numbers but those of its level."""


@dataclass(frozen=True, slots=True)
class TooLittle:
    """Fewer sheets have less paper than the pieces cover; in square inches."""

    pieces: Fraction
    fewer: Fraction
    """What half a sheet less has."""


@dataclass(frozen=True, slots=True)
class OneLabel:
    """Fewer sheets can't give enough of one label, even by itself."""

    label: str
    whole: int
    """The most that a sheet yields."""
    half: int | None
    """The most that half a sheet yields; None where there is none among fewer sheets."""
    most: int
    """The most that half a sheet less can give."""
    needed: int


@dataclass(frozen=True, slots=True)
class Priced:
    """Put a price on every piece: fewer sheets can't be worth as much as the batch."""

    prices: tuple[tuple[str, int], ...]
    """Labels with what each piece counts for."""
    batch: int
    """What the batch comes to."""
    whole: int
    """The most that a sheet can give."""
    half: int | None
    """The most that half a sheet can give; None where there is none among fewer sheets."""
    pairs: tuple[str, ...] = ()
    """Labels that are counted by the rectangle, of which two triangles come."""


Reason = Bare | TooLittle | OneLabel | Priced


@dataclass(frozen=True, slots=True)
class Proof:
    """How good a plan is at one level, among all plans that are as good at the levels before."""

    level: ProofLevel
    """What is judged: `sheets` whole and half; `alike`, how many layouts differ; `order`, how
    naturally it is cut; `slack`, layouts that need a sheet to its last sixteenth; `leftover`,
    the largest single one."""
    proved: bool
    """Whether nothing better exists; otherwise this is the best found."""
    value: tuple[Fraction, ...]
    """What the plan reaches: (sheets,); (layouts,); (steps away from a natural order, measures,
    cuts, turns); (directions in which a sheet is needed to its last sixteenth,): the less the
    better. For `leftover` (square inches of the largest,): the more the better. With several
    layouts their numbers are added up."""
    bound: tuple[Fraction, ...]
    """No plan does better than this; the same numbers."""
    reason: Reason
    """Why; of `sheets`, why half a sheet less than the bound can't do."""

    @property
    def plain(self) -> bool:
        """Whether it is proved by what can be checked at the desk: areas, or pieces from a sheet."""
        return self.proved and isinstance(self.reason, (TooLittle, OneLabel))
