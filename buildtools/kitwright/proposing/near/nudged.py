"""Which moves of a kit’s sizes come out of its sheets: by the kit’s own cuts, and a few by cuts planned anew."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from math import lcm

import numpy as np

from kitwright.cutting.plan import HALF, PaperPlan, half_yields
from kitwright.cutting.solver.work import Work
from kitwright.cutting.tree import Leaf, Node, faults, yields
from kitwright.errors import UserError
from kitwright.proposing.freedom import Dial, Freedom
from kitwright.proposing.makeable import LEAST
from kitwright.proposing.near.figures import PLENTY, Figures, figures, figures_of
from kitwright.proposing.recut import recut, split_in_half
from kitwright.units import Length, Size, on_grid
from kitwright.work.traits import leading_plans
from kitwright.work.worked import Worked

MARGINS: Mapping[str, Length] = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""A border or gap moves by so much at most: further, and it is another card to look at."""
NEAREST = 90
"""So many of each kind of gain, the nearest first, have their cuts drawn."""
ASKED = 3
"""So many are planned anew, to see whether fewer sheets are enough."""
FULL = Fraction(95, 100)
"""Sheets that would have to be fuller than this are not asked for."""


@dataclass(frozen=True, slots=True)
class CameOut:
    """A move that came out of the sheets."""

    shifts: tuple[tuple[Dial, int], ...]
    """Dials that move, by so many steps."""
    figures: Figures
    same_cuts: bool = True
    plans: tuple[PaperPlan, ...] = ()

    @property
    def far(self) -> tuple[int, int]:
        """Sizes that change, and steps that they do."""
        return len(self.shifts) + sum(abs(by) for _, by in self.shifts), len(self.shifts)


class Nudged:
    """All moves of one kit, as whole numbers over one denominator of an inch."""

    def __init__(self, worked: Worked, free: Freedom, step: Length, moves: np.ndarray) -> None:
        self.worked, self.free, self.step = worked, free, step
        self.dials = list(free.now)
        self.leading = leading_plans(worked)
        self.now = figures(worked)
        lengths = [*worked.sizes.values(), *(plan.demand.sheet for plan in worked.plans)]
        sides = [step, *free.now.values(), *(side for size in lengths for side in (size.width, size.height))]
        self.scale = lcm(*(side.inches.denominator for side in sides))
        self.moves = moves[self._makeable(moves)]
        self.trees = list(dict.fromkeys(run.layout.tree for plan in worked.plans for run in plan.runs))
        self.come_out = 0

    def whole(self, length: Length) -> int:
        """A length as a whole number."""
        return int(length.inches * self.scale)

    def _makeable(self, moves: np.ndarray) -> np.ndarray:
        """Which moves leave every size at least as large as hands make gladly, or as the kit has it, and no two nearly alike."""
        unit, good = self.worked.kit.spec.unit, np.ones(len(moves), dtype=bool)
        limits, margin = LEAST[unit], MARGINS[unit]
        for i, dial in enumerate(self.dials):
            after = self.whole(self.free.now[dial]) + moves[:, i] * self.whole(self.step)
            floor = limits.narrow if dial[0] in ("width", "height") else limits.apart if dial[0] == "band" else self.step
            good &= after >= min(self.whole(self.free.now[dial]), self.whole(floor))
            if dial[0] in ("border", "gap"):
                good &= np.abs(moves[:, i]) * self.whole(self.step) <= self.whole(margin)
        if not on_grid(self.step / 2, unit):
            for shift in self.free.halved:
                times = np.array([int(shift.get(dial, 0)) for dial in self.dials], dtype=np.int64)
                good &= (moves @ times) % 2 == 0
        for one, other in combinations(self._sides(), 2):
            good &= ~self._mixed_up(moves, one, other)
        return good

    def _sides(self) -> list[str]:
        """Labels of the pieces whose size may change."""
        return [label for label in self.worked.kit.spec.pieces if ("width", label) in self.free.now]

    def _mixed_up(self, moves: np.ndarray, one: str, other: str) -> np.ndarray:
        """Which moves bring two sizes nearer than hands keep apart, unless they were so before."""
        apart = self.whole(LEAST[self.worked.kit.spec.unit].apart)

        def near(moves: np.ndarray, turned: bool) -> np.ndarray:
            ways = ("height", "width") if turned else ("width", "height")
            off = [np.abs(self._side(moves, what, one) - self._side(moves, way, other)) for what, way in zip(("width", "height"), ways)]
            far = np.maximum(off[0], off[1])
            return (far > 0) & (far < apart)

        still = np.zeros((1, moves.shape[1]), dtype=np.int64)
        return np.logical_or(*(near(moves, turned) & ~near(still, turned) for turned in (False, True)))

    def _side(self, moves: np.ndarray, what: str, label: str) -> np.ndarray:
        dial: Dial = (what, label)
        size = self.worked.sizes[label]
        own = self.whole(size.width if what == "width" else size.height)
        if dial not in self.free.now:
            return np.full(len(moves), own, dtype=np.int64)
        return own + moves[:, self.dials.index(dial)] * self.whole(self.step)

    # The cuts of the kit, with the new sizes.

    def _least(self, moves: np.ndarray, node: Node) -> tuple[np.ndarray, np.ndarray]:
        """The smallest sheet by these cuts for every move (`recut.least`)."""
        if isinstance(node, Leaf):
            if node.label is None:
                return np.zeros(len(moves), dtype=np.int64), np.zeros(len(moves), dtype=np.int64)
            sides = self._side(moves, "width", node.label), self._side(moves, "height", node.label)
            return sides[::-1] if node.turned else sides
        each = [self._least(moves, part) for part in node.parts]
        along, across = (0, 1) if node.axis == "x" else (1, 0)
        own = [side[along] for side in each]
        if any(map(split_in_half(node), node.parts)):
            own = [
                np.maximum(side, self.whole(part.rect.width if node.axis == "x" else part.rect.height))
                for side, part in zip(own, node.parts)
            ]
        total, most = np.sum(own, axis=0), np.max([side[across] for side in each], axis=0)
        return (total, most) if node.axis == "x" else (most, total)

    def found(self, work: Work) -> list[CameOut]:
        """Moves that are better in something, by the kit's own cuts or with fewer sheets."""
        moves = self.moves
        fits, room = np.ones(len(moves), dtype=bool), np.full(len(moves), np.iinfo(np.int64).max)
        for tree in self.trees:
            width, height = self._least(moves, tree)
            spare = np.minimum(self.whole(tree.rect.width) - width, self.whole(tree.rect.height) - height)
            fits &= spare >= 0
            if any(run.layout.tree == tree for plan in self.leading for run in plan.runs):
                room = np.minimum(room, np.minimum(spare, self.whole(PLENTY)))
        work.charge(len(moves) * len(self.trees))
        self.come_out = int(fits.sum())
        area = self._area(moves)
        far = (moves != 0).sum(axis=1) + np.abs(moves).sum(axis=1)
        order = np.lexsort((far,))
        order = order[fits[order]]
        still = int(self._area(np.zeros((1, moves.shape[1]), dtype=np.int64))[0])
        near: dict[int, None] = {}
        for wanted in (area > still, room > self.whole(self.now.slack), np.ones(len(moves), dtype=bool)):
            for i in self._front(order[wanted[order]], area, room):
                near.setdefault(int(i))
        candidates = [one for i in near if (one := self._by_the_same_cuts(moves[i])) is not None]
        work.charge(len(near) * 1000)
        return candidates + list(self._fewer(moves, area, np.lexsort((far,)), work))

    def _front(self, order: np.ndarray, area: np.ndarray, room: np.ndarray) -> np.ndarray:
        """The nearest, and of those further off what is better than all nearer ones in waste or slack."""
        if not len(order):
            return order
        best_area, best_room = np.maximum.accumulate(area[order]), np.maximum.accumulate(room[order])
        better = np.ones(len(order), dtype=bool)
        better[1:] = (best_area[1:] > best_area[:-1]) | (best_room[1:] > best_room[:-1])
        return np.concatenate((order[:NEAREST], order[better][:NEAREST]))

    def _area(self, moves: np.ndarray) -> np.ndarray:
        """What the patterned sheets of the batch become, as whole numbers."""
        found = np.zeros(len(moves), dtype=np.int64)
        for plan in self.leading:
            for label, made in plan.made.items():
                found += self._side(moves, "width", label) * self._side(moves, "height", label) * plan.demand.rectangles(label, made)
        return found

    def _by_the_same_cuts(self, move: np.ndarray) -> CameOut | None:
        sizes, plans = self.sizes(move), []
        for plan in self.worked.plans:
            if (again := recut_plan(plan, sizes)) is None:
                return None
            plans.append(again)
        return CameOut(self._shifts(move), self._figures(plans), True, tuple(plans))

    def _figures(self, plans: list[PaperPlan]) -> Figures:
        leading = {plan.paper for plan in self.leading}
        return figures_of([plan for plan in plans if plan.paper in leading])

    def _shifts(self, move: np.ndarray) -> tuple[tuple[Dial, int], ...]:
        return tuple((dial, int(by)) for dial, by in zip(self.dials, move) if by)

    def sizes(self, move: np.ndarray) -> dict[str, Size]:
        """The sizes to cut of every label."""
        sizes = dict(self.worked.sizes)
        for (what, *whose), by in self._shifts(move):
            if what in ("width", "height"):
                label = str(whose[0])
                sizes[label] = replace(sizes[label], **{str(what): getattr(sizes[label], str(what)) + self.step * by})
        return sizes

    def _fewer(self, moves: np.ndarray, area: np.ndarray, order: np.ndarray, work: Work) -> Iterator[CameOut]:
        """The nearest moves whose pieces might come out of half a sheet less of some paper: asked of the planner, a few."""
        asked = 0
        for plan in self.leading:
            if plan.sheets <= HALF or asked >= ASKED:
                continue
            whole = np.zeros(len(moves), dtype=np.int64)
            for label, needed in plan.demand.needs.items():
                whole += self._side(moves, "width", label) * self._side(moves, "height", label) * plan.demand.rectangles(label, needed)
            room = plan.demand.sheet.area * (plan.sheets - HALF) * FULL * self.scale**2
            for i in order[whole[order] <= int(room)][: ASKED - asked]:
                asked += 1
                work.charge(1_000_000)
                if (one := self._planned(moves[i])) is not None and one.figures.sheets < self.now.sheets:
                    yield one

    def _planned(self, move: np.ndarray) -> CameOut | None:
        sizes, plans = self.sizes(move), []
        for plan in self.worked.plans:
            demand = replace(plan.demand, sizes={label: sizes[label] for label in plan.demand.sizes})
            if demand == plan.demand:
                plans.append(plan)
                continue
            try:
                plans.append(self.worked.planner.plan(demand, self.worked.kit.papers[plan.paper].name))
            except UserError:
                return None
        return CameOut(self._shifts(move), self._figures(plans), False, tuple(plans))


def recut_plan(plan: PaperPlan, sizes: Mapping[str, Size]) -> PaperPlan | None:
    """A paper cut as before, with pieces of other sizes; None where they don't come out."""
    demand = replace(plan.demand, sizes={label: sizes[label] for label in plan.demand.sizes})
    if demand == plan.demand:
        return plan
    runs = []
    for run in plan.runs:
        tree = recut(run.layout.tree, sizes)
        if tree is None or yields(tree) != run.layout.yields or _lost(run.sheets, run.layout.tree, tree):
            return None
        if faults(tree, demand.sheet, demand.sizes, frozenset(), demand.halves):
            raise AssertionError("a sheet cut again is not sound")
        runs.append(replace(run, layout=replace(run.layout, tree=tree, source="auto", guide=None)))
    return PaperPlan(demand, tuple(runs))


def _lost(sheets: Fraction, before: Node, after: Node) -> bool:
    """Whether half a sheet gives less than it did."""
    return bool(sheets % 1) and not any(half in half_yields(after) for half in half_yields(before))
