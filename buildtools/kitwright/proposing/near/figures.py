"""What a kit’s patterned sheets come to, and which of two kits is better in what."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.tree import cuts
from kitwright.units import ZERO, Length
from kitwright.work.traits import leading_plans, leftover_of, slack_of
from kitwright.work.worked import Worked

Gain = Literal["sheets", "waste", "slack", "measures"]
GAINS: tuple[Gain, ...] = ("sheets", "waste", "slack", "measures")
PLENTY = Length(Fraction(1, 2))
"""More slack than half an inch is of no use: no sheet is sold that much too small."""


@dataclass(frozen=True, slots=True)
class Figures:
    """What a kit's patterned sheets come to; without any, all of them."""

    sheets: Fraction
    waste: Fraction
    """The share that becomes no piece, 0 to 1."""
    slack: Length
    """What every sheet may lack, both ways."""
    measures: int
    """Ruler marks of all their cuts together."""

    def gain(self, other: Figures, what: Gain) -> Fraction:
        """How much better another is in one of them, in its own measure: sheets, a share, inches, marks."""
        if what == "slack":
            return min(other.slack, PLENTY).inches - min(self.slack, PLENTY).inches
        return Fraction(getattr(self, what)) - Fraction(getattr(other, what))


def figures(worked: Worked) -> Figures:
    """What a kit's patterned sheets come to."""
    return replace(figures_of(leading_plans(worked)), waste=leftover_of(worked), slack=slack_of(worked))


def figures_of(plans: list[PaperPlan]) -> Figures:
    """What the sheets of some plans come to."""
    taken = sum((plan.demand.sheet.area * plan.sheets for plan in plans), Fraction(0))
    made = sum((replace(plan.demand, needs=plan.made).area for plan in plans), Fraction(0))
    layouts = list(dict.fromkeys(run.layout for plan in plans for run in plan.runs))
    return Figures(
        sum((plan.sheets for plan in plans), Fraction(0)),
        1 - made / taken if taken else Fraction(0),
        min((min(layout.slack.width, layout.slack.height) for layout in layouts), default=ZERO),
        len({cut.measure for layout in layouts for cut in cuts(layout.tree)}),
    )
