"""The same pieces from other sheets: what fits, how many sheets, and by how much not.

Works on a `Demand` alone, so that a kit, a question at the terminal and a table on a page
all ask the same.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

from kitwright.cutting.plan import Demand, PaperPlan
from kitwright.errors import UserError
from kitwright.units import Length, Size

Planner = Callable[[Demand, str], PaperPlan]
Counter = Callable[[Demand, str], Fraction]


@dataclass(frozen=True, slots=True)
class Misfit:
    """A piece that a sheet can't give."""

    label: str
    size: Size
    over: Length
    """By how much the sheet is too small, the better way round."""
    largest: Size
    """The nearest piece that does fit: only what sticks out is taken off."""


@dataclass(frozen=True)
class OtherSheet:
    """The batch from another sheet: counted, or planned, where that is asked for."""

    name: str
    """The sheet, as it is sold."""
    demand: Demand
    misfits: tuple[Misfit, ...]
    planner: Planner = field(repr=False, compare=False)
    counter: Counter | None = field(repr=False, compare=False)

    @property
    def fits(self) -> bool:
        """Whether every piece does."""
        return not self.misfits

    @cached_property
    def plan(self) -> PaperPlan | None:
        """How it is cut; None when a piece does not fit."""
        return self.planner(self.demand, self.name) if self.fits else None

    @cached_property
    def sheets(self) -> Fraction:
        """How many sheets that takes; asked only where every piece fits."""
        return self.counter(self.demand, self.name) if self.counter else self.planner(self.demand, self.name).sheets


def misfits(demand: Demand) -> tuple[Misfit, ...]:
    """Every label that no sheet of this demand can give, as it may lie."""
    found = []
    for label in demand.needs:
        size = demand.sizes[label]
        ways = [(size, False), (size.turned, True)]
        if label in demand.lies:
            ways = [way for way in ways if way[1] == demand.lies[label]]
        if any(way.fits(demand.sheet) for way, _ in ways):
            continue

        def over(way: Size) -> Length:
            return max(way.width - demand.sheet.width, way.height - demand.sheet.height)

        best, lies_turned = min(ways, key=lambda way: over(way[0]))
        cut = Size(min(best.width, demand.sheet.width), min(best.height, demand.sheet.height))
        found.append(Misfit(label, size, over(best), cut.turned if lies_turned else cut))
    return tuple(found)


def too_large(demand: Demand, wrong: Misfit, unit: str = "in") -> UserError:
    """Why a piece can't be cut from a sheet, and the nearest change that would let it."""
    return UserError(
        "sheets.piece-too-large",
        label=wrong.label,
        size=wrong.size,
        over=wrong.over,
        sheet=demand.sheet,
        held=wrong.label in demand.lies,
        largest=wrong.largest,
        unit=unit,
    )


def from_sheet(
    demand: Demand, name: str, sheet: Size, planner: Planner, one_way: bool = False, counter: Counter | None = None
) -> OtherSheet:
    """The same needs from another sheet, or with every piece kept upright; counted by the plan unless there is a quicker `counter`."""
    lies = dict.fromkeys(demand.needs, False) | dict(demand.lies) if one_way else demand.lies
    changed = replace(demand, sheet=sheet, lies=lies, given=None)
    return OtherSheet(name, changed, misfits(changed), planner, counter)


def for_cards(demand: Demand, cards: int, of: int) -> Demand:
    """The needs of another number of cards, from those of a batch of `of`."""
    needs = {label: -(-n * cards // of) for label, n in demand.needs.items()}
    return replace(demand, needs=needs, given=None)


def halved(sheet: Size) -> Size:
    """What half a sheet measures when it is halved across its longer side."""
    if sheet.height >= sheet.width:
        return Size(sheet.width, sheet.height * Fraction(1, 2))
    return Size(sheet.width * Fraction(1, 2), sheet.height)
