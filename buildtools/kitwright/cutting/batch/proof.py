"""What is known of each level of a plan, and why, in a maker's words."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Level = Literal["sheets", "alike", "order", "slack", "leftover"]
LEVELS: tuple[Level, ...] = ("sheets", "alike", "order", "slack", "leftover")
"""In the order in which they count: a plan is better by the first level in which it differs."""


@dataclass(frozen=True, slots=True)
class Proof:
    """How good a plan is at one level, among all plans that are as good at the levels before."""

    level: Level
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
    why: str
    """The reason, as a sentence."""
    plain: bool = False
    """Whether that reason is one that can be checked at the desk: areas, or pieces from a sheet."""
