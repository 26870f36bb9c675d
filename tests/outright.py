"""Face and cuts of a small question as one whole-number problem for OR-Tools CP-SAT: the fronts of its classes, with no search of ours.

A model says how many pieces of each size a card takes, and that they add up on it, or which of the layouts that `every_layout` lists
it has; and how often a plate of each size is cut at each step, or is a piece. A sheet goes in, the pieces of its cards come out. Each class is asked for the most paper that it takes, at
each level of slack: what is left over is the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import product
from typing import Any

from every_layout import Front, wanted
from kitwright.cutting.solver.work import Work
from kitwright.proposing.search import Proposing
from ortools.sat.python import cp_model
from small_questions import Small, fronts_of

Sizes = dict[tuple[int, int], Any]
"""How many pieces of each size a card takes: whole-number expressions."""
Face = Callable[[cp_model.CpModel, Front, int, int], Sizes]
"""Says in a model what the faces of a family are, with so many kinds and pieces."""


def rows(model: cp_model.CpModel, of: Front, kinds: int, pieces: int) -> Sizes:
    """So many rows as wide as the front, of so many heights, that add up or leave a band."""
    return _lines(model, of, of.wide, kinds, pieces, model.new_constant(1))


def beside_a_panel(model: cp_model.CpModel, of: Front, kinds: int, pieces: int) -> Sizes:
    """A panel as high as the front, and the rest of its width in rows."""
    panel = of.steps(12)
    widths = [width for width in range(panel, of.wide) if of.wide - of.gap - width >= (panel if of.band else of.steps(4))]
    there = {(width, of.high): model.new_bool_var("") for width in widths}
    model.add_exactly_one(there.values())
    found: Sizes = dict(there)
    for (width, _), one in there.items():
        # The panel is a kind of its own: no row lies turned as it stands.
        assert of.wide - of.gap - width != of.high, "a row may be a panel turned"
        for size, n in _lines(model, of, of.wide - of.gap - width, kinds - 1, pieces - 1, one).items():
            found[size] = found.get(size, 0) + n
    return found


def _lines(model: cp_model.CpModel, of: Front, wide: int, kinds: int, pieces: int, there: Any) -> Sizes:
    """Pieces one below another, all so wide; none where they aren't there."""
    counts = {(wide, height): model.new_int_var(0, pieces, "") for height in range(1, of.high + 1) if of.makes(wide, height)}
    some = [model.new_bool_var("") for _ in counts]
    for n, one in zip(counts.values(), some):
        model.add(n >= one)
        model.add(n <= pieces * one)
    model.add(sum(some) == kinds * there)
    model.add(sum(counts.values()) == pieces * there)
    room = of.high - of.gap * (pieces - 1) - (of.band + of.gap if of.band else 0)
    taken = sum(height * n for (_, height), n in counts.items())
    model.add(taken <= room * there)
    if not of.band:
        model.add(taken == room * there)
    return counts


def framed(model: cp_model.CpModel, of: Front, kinds: int, pieces: int) -> Sizes:
    """A panel, or a band, in four strips: one of every two widths that they may have, one way round or the other."""
    found: dict[tuple[int, int], Any] = {}
    ways = []
    for beside, above, level_first in product(range(1, of.wide // 2), range(1, of.high // 2), (True, False)):
        width, height = of.wide - 2 * (beside + of.gap), of.high - 2 * (above + of.gap)
        if min(width, height) < of.steps(12) or height < of.band:
            continue
        sizes = [(of.wide, above), (beside, height)] if level_first else [(width, above), (beside, of.high)]
        each = dict.fromkeys(sizes, 2) if of.band else {(width, height): 1} | dict.fromkeys(sizes, 2)
        if (
            len({frozenset(size) for size in each}) == len(each) == kinds
            and pieces == sum(each.values())
            and all(of.makes(*one) for one in each)
        ):
            ways.append(model.new_bool_var(""))
            for size, n in each.items():
                found[size] = found.get(size, 0) + n * ways[-1]
    model.add_exactly_one(ways)
    return found


def listed(sort: str) -> Face:
    """Any one of the layouts of a sort that are proposed at all; of triangles as many rectangles as give them."""

    def face(model: cp_model.CpModel, of: Front, kinds: int, pieces: int) -> Sizes:
        found: Sizes = {}
        ways = []
        for layout in sorted(wanted(of, sort)):
            if (len(layout), sum(n for _, n in layout)) == (kinds, pieces):
                ways.append(model.new_bool_var(""))
                for (width, height, halved), n in layout:
                    found[width, height] = found.get((width, height), 0) + (-(-n // 2) if halved else n) * ways[-1]
        model.add_exactly_one(ways)
        return found

    return face


def most_used(face: Face, of: Front, kinds: int, pieces: int, cards: int, room: tuple[int, int]) -> int | None:
    """Square steps of a sheet that become pieces, at most; None where no face of that class comes out of it.

    Args:
        face: the family.
        of: the front.
        kinds: sizes on a card, as they are counted.
        pieces: on a card.
        cards: from a sheet.
        room: of the sheet, across and down.
    """
    model = cp_model.CpModel()
    sizes = face(model, of, kinds, pieces)
    area = sum(w * h * n for (w, h), n in sizes.items())
    covered = of.ground - of.band * of.wide
    model.add(2 * covered.denominator * area >= covered.numerator)
    plates: dict[tuple[int, int], list[Any]] = {size: [] for size in product(range(1, room[0] + 1), range(1, room[1] + 1))}
    given: dict[tuple[int, int], list[Any]] = {size: [] for size in sizes}
    for (w, h), terms in plates.items():
        times = (room[0] // w) * (room[1] // h)
        for one, other in [((c, h), (w - c, h)) for c in range(1, w // 2 + 1)] + [((w, c), (w, h - c)) for c in range(1, h // 2 + 1)]:
            cut = model.new_int_var(0, times, "")
            terms.append(-cut)
            plates[one].append(cut)
            plates[other].append(cut)
        for size in {(w, h), (h, w)} if of.turns else {(w, h)}:
            if size in given:
                piece = model.new_int_var(0, times, "")
                terms.append(-piece)
                given[size].append(piece)
    for size, terms in plates.items():
        model.add(sum(terms) + (size == room) >= 0)
    for size, pieces_given in given.items():
        model.add(sum(pieces_given) >= cards * sizes[size])
    model.maximize(area)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    state = solver.solve(model)
    assert state in (cp_model.OPTIMAL, cp_model.INFEASIBLE), "not decided"
    return cards * int(solver.objective_value) if state == cp_model.OPTIMAL else None


def compared(face: Face, asked: Small) -> Iterator[tuple[int | None, int | None]]:
    """For each class and each level of slack, the most that the search uses, and the most that the solver does."""
    wish = asked.wish
    search = Proposing(wish, Work(10**9), None, None)
    assert all(scope.whole for scope in search.run().scopes)
    found, desk = search.graded(), search.desk
    (rooms,), (group,) = desk.usable, desk.groups
    classes = {(len(one), sum(n for _, n in one)) for of in fronts_of(wish) for one in wanted(of, asked.sort)}
    for kinds, pieces in sorted(classes | {(one.of.kinds, one.of.pieces) for one in found}):
        for level, room in enumerate(rooms):
            if level and room == rooms[level - 1]:
                continue
            every = [most_used(face, of, kinds, pieces, wish.cards // group.sheets, room) for of in fronts_of(wish)]
            within = [used * group.sheets for used in every if used is not None and used * group.sheets >= desk.least]
            there = [one.grade.used for one in found if (one.of.kinds, one.of.pieces) == (kinds, pieces) and one.grade.level >= level]
            yield max(there, default=None), max(within, default=None)
