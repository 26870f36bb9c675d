"""The nearest sizes with which a kit leaves less of its sheets, takes fewer measures, or bears sheets that are a little short.

Sizes move together so that every sum of every face goes on holding (`freedom`), a few steps of the
maker's ruler at most. All such moves are looked at as whole numbers, by the very cuts of the kit
(`recut`): so what is gained is gained by the sizes, and she cuts as she did. A few that need fewer
sheets altogether are planned anew. What is offered was tried on the whole kit, and brings no finding.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, product
from math import ceil, lcm
from typing import Literal

import numpy as np

from kitwright.card.face import Face
from kitwright.cutting.asked import KitPlanner
from kitwright.cutting.plan import HALF, Demand, PaperPlan, half_yields
from kitwright.cutting.solver.work import Work
from kitwright.cutting.tree import Leaf, Node, cuts, faults, yields
from kitwright.errors import UserError
from kitwright.kit.faces import fronts
from kitwright.kit.model import FaceSpec, Front, KitSpec
from kitwright.otherwise.changed import new_findings, remade
from kitwright.proposing.freedom import Dial, Freedom, Shift, freedom, turned_to
from kitwright.proposing.makeable import LEAST, LEAST_SLACK
from kitwright.proposing.recut import recut, split_in_half
from kitwright.proposing.wish import Unit
from kitwright.units import ZERO, Length, Size, on_grid
from kitwright.work.traits import leading_plans, leftover_of, slack_of
from kitwright.work.worked import Worked

Gain = Literal["sheets", "waste", "slack", "measures"]
GAINS: tuple[Gain, ...] = ("sheets", "waste", "slack", "measures")
STEPS: Mapping[Length, int] = {Length(Fraction(1, 8)): 4, Length(Fraction(1, 16)): 5, Length.mm(1): 8}
"""Steps that a kit's sizes may lie on, the coarsest first, each with how many of them a size may move: half an inch at most."""
WORTH = Fraction(1, 100)
"""Less waste than this is no gain: a hundredth of all the sheets."""
MARGINS: Mapping[str, Length] = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""A border or gap moves by so much at most: further, and it is another card to look at."""
DEAR = Fraction(3, 100)
"""More of the sheets than this is too much to pay for slack or for a measure."""
MOST_MOVES = 60_000
"""Moves that are looked at for one kit."""
NEAREST = 90
"""So many of each kind of gain, the nearest first, have their cuts drawn."""
ASKED = 3
"""So many are planned anew, to see whether fewer sheets are enough."""
PLENTY = Length(Fraction(1, 2))
"""More slack than half an inch is of no use: no sheet is sold that much too small."""
FULL = Fraction(95, 100)
"""Sheets that would have to be fuller than this are not asked for."""
TRIED = 14
"""So many are tried on the whole kit."""
HANDFUL = 5


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


@dataclass(frozen=True, slots=True)
class Moved:
    """One size of a kit that changes."""

    what: Literal["width", "height", "border", "gap", "band"]
    label: str
    """The piece; empty for a border, gap or band."""
    design: str
    """Whose border, gap or band; empty in a kit of one design, and for a piece."""
    path: tuple[str | int, ...]
    """Where the spec says a border, gap or band."""
    before: Length
    after: Length


@dataclass(frozen=True)
class Nearby:
    """A kit with a few sizes changed, tried whole."""

    moved: tuple[Moved, ...]
    figures: Figures
    gains: tuple[Gain, ...]
    """In what it is better, the one that it was taken for first."""
    losses: tuple[Gain, ...]
    """In what it is worse."""
    same_cuts: bool
    """Whether it is cut as the kit is, stroke for stroke; else its sheets are planned anew."""
    changed: Worked
    """The kit so."""

    def sizes(self, worked: Worked) -> dict[str, tuple[Size, Size]]:
        """Each piece that changes, by label: its size before and after."""
        old, new = worked.kit.spec.pieces, self.changed.kit.spec.pieces
        return {label: (old[label].size, new[label].size) for label in old if old[label].size != new[label].size}


@dataclass(frozen=True, slots=True)
class Shows:
    """Something that is seen on a face of the finished card, and is wider or narrower than it was."""

    what: Literal["border", "gap", "band", "shows"]
    """`shows`: how much of what lies below is seen round a full layer."""
    design: str
    face: str
    """By its name; empty for the one that leads."""
    label: str
    """Of a layer; empty else."""
    before: Length
    after: Length


@dataclass(frozen=True)
class Improved:
    """What was found near a kit."""

    worked: Worked
    step: Length
    """The step of its own sizes on the ruler."""
    reach: int
    """How many steps a size was moved at most."""
    now: Figures
    nearby: tuple[Nearby, ...]
    """The best for each kind of gain in turn; empty where nothing better was found."""
    looked: int
    """Moves of sizes that keep every sum."""
    come_out: int
    """Of those, how many come out of the sheets by the kit's own cuts."""
    tried: int
    """Of those, how many were tried on the whole kit."""
    whole: bool
    """Whether every move within reach of up to three sizes that may be chosen freely was looked at."""


@dataclass(frozen=True, slots=True)
class _Candidate:
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


def improve(worked: Worked, work: Work | None = None) -> Improved:
    """The nearest sizes that better a kit, as a whole with all its designs.

    Args:
        worked: the kit, free of errors.
        work: what may be spent; the usual share where nothing is said.
    """
    worked, work = worked.whole, work or Work()
    step, reach = _step(worked)
    free = freedom(worked)
    moves, whole = _moves(free, step, reach)
    work.charge(moves.size)
    search = _Search(worked, free, step, moves)
    found = search.found(work)
    nearby, tried = _tried(worked, search, found, step)
    return Improved(worked, step, reach, search.now, tuple(nearby), len(moves), search.come_out, tried, whole)


def _step(worked: Worked) -> tuple[Length, int]:
    """The coarsest step that all sizes of a kit lie on, and how many of it a size may move; the finest where they lie on none."""
    spec = worked.kit.spec
    sides = [side for piece in spec.pieces.values() if not (piece.band or piece.liner) for side in (piece.size.width, piece.size.height)]
    metric = spec.unit == "mm"
    steps = [(step, reach) for step, reach in STEPS.items() if (step == Length.mm(1)) == metric]
    return next((one for one in steps if all((side / one[0]).denominator == 1 for side in sides)), steps[-1])


def shown(worked: Worked, nearby: Nearby) -> tuple[Shows, ...]:
    """What is seen to change on the faces of a kit, beside its pieces: borders, gaps, bands, what shows round a layer."""
    found = []
    for design, new in zip(worked.whole.designs, nearby.changed.designs):
        for face, after in zip(design.face.every, new.face.every):
            found += [Shows(what, design.kit.design, face.on, label, *sides) for what, label, *sides in _seen(face, after)]
    return tuple(one for one in found if one.before != one.after)


def _seen(face: Face, after: Face) -> Iterator[tuple[Literal["border", "gap", "band", "shows"], str, Length, Length]]:
    yield "border", "", face.border or ZERO, after.border or ZERO
    yield "gap", "", face.gap or ZERO, after.gap or ZERO
    for band, new in zip(face.bands, after.bands):
        low = band.width >= band.height
        yield "band", "", band.height if low else band.width, new.height if low else new.width
    for i, (below, layer) in enumerate(zip(face.layers, face.layers[1:])):
        under, over = after.layers[i : i + 2]
        yield "shows", layer.label, (below.rect.width - layer.rect.width) / 2, (under.rect.width - over.rect.width) / 2


# --- moves that keep every sum ----------------------------------------------------------------------


def _moves(free: Freedom, step: Length, reach: int) -> tuple[np.ndarray, bool]:
    """Every way to move dials by whole steps within reach so that all ties hold, up to three of those that may be chosen freely.

    Returns:
        moves × dials, and whether all were taken that there are.
    """
    dials = list(free.now)
    pivots, chosen, given = _solved(dials, free.ties)
    most = 3
    while most > 1 and _count(len(chosen), most, reach) > MOST_MOVES:
        most -= 1
    values = [by for by in range(-reach, reach + 1) if by]
    rows: list[np.ndarray] = []
    for n in range(1, most + 1):
        if (places := len(list(combinations(chosen, n)))) == 0:
            continue
        by = np.array(list(product(values, repeat=n)), dtype=np.int64)
        block = np.zeros((places, len(by), len(chosen)), dtype=np.int64)
        for at, which in enumerate(combinations(range(len(chosen)), n)):
            block[at][:, which] = by
        rows.append(block.reshape(-1, len(chosen)))
    if not rows:
        return np.zeros((0, len(dials)), dtype=np.int64), True
    by_choice = np.concatenate(rows)[:MOST_MOVES]
    # What follows from the chosen ones, over one denominator; only whole steps are on the ruler.
    scale = lcm(*(times.denominator for row in given for times in row), 1)
    follows = (
        by_choice @ np.array([[int(times * scale) for times in row] for row in given], dtype=np.int64).reshape(len(pivots), len(chosen)).T
    )
    good = (follows % scale == 0).all(axis=1) & (np.abs(follows) <= reach * scale).all(axis=1)
    moves = np.zeros((int(good.sum()), len(dials)), dtype=np.int64)
    moves[:, chosen], moves[:, pivots] = by_choice[good], follows[good] // scale
    return moves, most == 3 and _count(len(chosen), most, reach) <= MOST_MOVES


def _count(chosen: int, most: int, reach: int) -> int:
    return sum(len(list(combinations(range(chosen), n))) * (2 * reach) ** n for n in range(1, most + 1))


def _solved(dials: list[Dial], ties: list[Shift]) -> tuple[list[int], list[int], list[list[Fraction]]]:
    """Dials that follow from the others, by the ties (Gauss and Jordan's elimination, exactly).

    Returns:
        places of those that follow, places of those that may be chosen, and how each of the first moves with the second.
    """
    rows = [[tie.get(dial, Fraction(0)) for dial in dials] for tie in ties]
    pivots: list[int] = []
    done = 0
    # Borders and gaps are chosen last, so that they follow where they can: a move is then told by its pieces.
    order = sorted(range(len(dials)), key=lambda i: dials[i][0] in ("width", "height"))
    for column in order:
        at = next((i for i in range(done, len(rows)) if rows[i][column]), None)
        if at is None:
            continue
        rows[done], rows[at] = rows[at], rows[done]
        first = rows[done][column]
        rows[done] = [each / first for each in rows[done]]
        for i, row in enumerate(rows):
            if i != done and (times := row[column]):
                rows[i] = [each - times * own for each, own in zip(row, rows[done])]
        pivots.append(column)
        done += 1
    chosen = [i for i in range(len(dials)) if i not in pivots]
    return pivots, chosen, [[-rows[i][j] for j in chosen] for i in range(done)]


# --- what comes out of the sheets -------------------------------------------------------------------


class _Search:
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

    def found(self, work: Work) -> list[_Candidate]:
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

    def _by_the_same_cuts(self, move: np.ndarray) -> _Candidate | None:
        sizes, plans = self.sizes(move), []
        for plan in self.worked.plans:
            if (again := _recut_plan(plan, sizes)) is None:
                return None
            plans.append(again)
        return _Candidate(self._shifts(move), self._figures(plans), True, tuple(plans))

    def _figures(self, plans: list[PaperPlan]) -> Figures:
        leading = {plan.paper for plan in self.leading}
        return _figures([plan for plan in plans if plan.paper in leading])

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

    def _fewer(self, moves: np.ndarray, area: np.ndarray, order: np.ndarray, work: Work) -> Iterator[_Candidate]:
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

    def _planned(self, move: np.ndarray) -> _Candidate | None:
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
        return _Candidate(self._shifts(move), self._figures(plans), False, tuple(plans))


def _recut_plan(plan: PaperPlan, sizes: Mapping[str, Size]) -> PaperPlan | None:
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


def figures(worked: Worked) -> Figures:
    """What a kit's patterned sheets come to."""
    return replace(_figures(leading_plans(worked)), waste=leftover_of(worked), slack=slack_of(worked))


def _figures(plans: list[PaperPlan]) -> Figures:
    taken = sum((plan.demand.sheet.area * plan.sheets for plan in plans), Fraction(0))
    made = sum((replace(plan.demand, needs=plan.made).area for plan in plans), Fraction(0))
    layouts = list(dict.fromkeys(run.layout for plan in plans for run in plan.runs))
    return Figures(
        sum((plan.sheets for plan in plans), Fraction(0)),
        1 - made / taken if taken else Fraction(0),
        min((min(layout.slack.width, layout.slack.height) for layout in layouts), default=ZERO),
        len({cut.measure for layout in layouts for cut in cuts(layout.tree)}),
    )


# --- tried on the whole kit -------------------------------------------------------------------------


def _tried(worked: Worked, search: _Search, found: list[_Candidate], step: Length) -> tuple[list[Nearby], int]:
    """A handful, the nearest of each kind of gain in turn; near twins are left out."""
    queues = {gain: _queue(search.now, found, gain, step, worked.kit.spec.unit) for gain in GAINS}
    nearby: list[Nearby] = []
    seen: set[tuple[tuple[Dial, int], ...]] = set()
    tried = 0
    while any(queues.values()) and len(nearby) < HANDFUL and tried < TRIED:
        for gain, queue in queues.items():
            while queue and len(nearby) < HANDFUL and tried < TRIED:
                one = queue.pop(0)
                if one.shifts in seen or any(_twins(one, other) for other in nearby):
                    continue
                seen.add(one.shifts)
                tried += 1
                changed = _whole(worked, search, one, step)
                if changed is not None:
                    nearby.append(_told(search, one, gain, step, changed))
                    break
    return nearby, tried


def _queue(now: Figures, found: list[_Candidate], gain: Gain, step: Length, unit: Unit) -> list[_Candidate]:
    """What is better in one thing by enough: what loses nothing for it first, then the nearest; further ones only where they gain more."""
    worth = {"sheets": HALF, "waste": WORTH, "slack": step.inches, "measures": Fraction(1)}[gain]
    good = [one for one in found if now.gain(one.figures, gain) >= worth and _bearable(now, one.figures, gain, unit)]
    good.sort(key=lambda one: (bool(_losses(now, one.figures)), one.far, -now.gain(one.figures, gain), one.shifts))
    kept: list[_Candidate] = []
    best = Fraction(0)
    for one in good:
        if now.gain(one.figures, gain) > best:
            best = now.gain(one.figures, gain)
            kept.append(one)
    return kept


def _bearable(now: Figures, new: Figures, gain: Gain, unit: Unit) -> bool:
    """Whether a gain costs no more than it is worth: fewer sheets are worth any waste, nothing is worth sheets cut to a hair."""
    return (gain == "sheets" or now.gain(new, "waste") >= -DEAR) and new.slack >= min(now.slack, LEAST_SLACK[unit])


def _gains(now: Figures, new: Figures) -> tuple[Gain, ...]:
    return tuple(gain for gain in GAINS if now.gain(new, gain) > 0)


def _losses(now: Figures, new: Figures) -> tuple[Gain, ...]:
    return tuple(gain for gain in GAINS if now.gain(new, gain) < 0)


def _twins(one: _Candidate, other: Nearby) -> bool:
    """Whether two move the same sizes the same way."""
    signs = {(dial, by > 0) for dial, by in one.shifts}
    return signs == {(_dial(moved), moved.after > moved.before) for moved in other.moved}


def _dial(moved: Moved) -> Dial:
    return (moved.what, moved.label) if moved.label else (moved.what, moved.design, *moved.path)


def _told(search: _Search, one: _Candidate, gain: Gain, step: Length, changed: Worked) -> Nearby:
    gains = _gains(search.now, one.figures)
    moved = tuple(_moved(search.free, dial, by, step) for dial, by in one.shifts)
    return Nearby(
        moved, one.figures, (gain, *(each for each in gains if each != gain)), _losses(search.now, one.figures), one.same_cuts, changed
    )


def _moved(free: Freedom, dial: Dial, by: int, step: Length) -> Moved:
    what, whose, *path = dial
    before = free.now[dial]
    piece = what in ("width", "height")
    label, called = (str(whose), "") if piece else ("", str(whose))
    return Moved(what, label, called, tuple(path), before, before + step * by)  # type: ignore[arg-type]  # a dial begins with its kind


class _AsCut(KitPlanner):
    """Answers with how the changed sheets were found to be cut."""

    def __init__(self, worked: Worked, plans: tuple[PaperPlan, ...]) -> None:
        super().__init__(worked.plans, worked.answers)
        self._cut = {plan.paper: plan for plan in plans if plan is not worked.plan(plan.paper)}

    def plan(self, demand: Demand, name: str) -> PaperPlan:
        """How it was found to be cut, where that is what is asked; else as the planner does."""
        known = self._cut.get(demand.paper)
        if known is None or known.demand.sizes != demand.sizes or known.demand.needs != demand.needs or known.demand.lies != demand.lies:
            return super().plan(demand, name)
        layouts = {run.layout: replace(run.layout, name=name + run.layout.detail, papers=(demand.paper,)) for run in known.runs}
        return PaperPlan(demand, tuple(replace(run, layout=layouts[run.layout]) for run in known.runs))


def _whole(worked: Worked, search: _Search, one: _Candidate, step: Length) -> Worked | None:
    """The whole kit so; None where anything is found in it that was not found before, or where it takes more of any paper."""
    spec = changed_spec(worked, search.free, dict(one.shifts), step)
    try:
        changed = remade(worked, spec, planner=_AsCut(worked, one.plans))
    except UserError:
        return None
    if any(ceil(plan.sheets * 2) > ceil(before.sheets * 2) for plan in changed.plans if (before := worked.plan(plan.paper))):
        return None
    return None if new_findings(worked, changed) else changed


def changed_spec(worked: Worked, free: Freedom, shifts: Mapping[Dial, int], step: Length) -> KitSpec:
    """What a kit's file says once some of its dials moved by so many steps."""
    spec = worked.kit.spec
    moved = {dial: free.now[dial] + step * by for dial, by in shifts.items()}
    pieces = {}
    for label, piece in spec.pieces.items():
        size = Size(moved.get(("width", label), piece.size.width), moved.get(("height", label), piece.size.height))
        pieces[label] = piece if size == piece.size else piece.model_copy(update={"size": size})

    def faces(of: KitSpec, design: str) -> dict[str, Front | dict[str, FaceSpec]]:
        turned = {path: turned_to(said, path, design, moved) for said, path in fronts(of)}
        return {"front": turned["front",], "faces": {str(path[1]): said for path, said in turned.items() if isinstance(said, FaceSpec)}}

    if spec.designs:
        own = {design.kit.design: faces(design.kit.spec, design.kit.design) for design in worked.designs}
        designs = {name: design.model_copy(update=own[name]) for name, design in spec.designs.items()}
        return spec.model_copy(update={"pieces": pieces, "designs": designs})
    return spec.model_copy(update={"pieces": pieces, **faces(spec, "")})
