"""Candidates of one shape on their sheets: at which slack each comes out, and how its sheets are cut."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from kitwright.cutting.solver.work import Work
from kitwright.proposing.dealing import GroupNeed, dealt
from kitwright.proposing.pool import KindOf, sizes_in
from kitwright.proposing.shares import Dealt, Desk
from kitwright.proposing.tables import ExactTables, Vector, cost
from kitwright.proposing.traced import Trace, Tracer

TRACING = 6
"""Entries of a candidate's table that count as a step while its cuts are read, and …"""
TRACED = 1200
"""… steps for each reading besides."""


@dataclass(frozen=True, eq=False)
class DealtSets:
    """Sets of one shape, dealt in one way."""

    share: Dealt
    kinds: tuple[KindOf, ...]
    """Of one of them; counts and sorts are those of all."""
    asked: tuple[GroupNeed, ...]
    sets: np.ndarray
    """Which sets."""
    used: np.ndarray
    """Square steps of all pieces of the batch."""
    lots: int

    @property
    def busy(self) -> list[GroupNeed]:
        """What is asked of the groups that have anything to give."""
        return [one for one in self.asked if not one.none]

    @property
    def even(self) -> bool:
        return all(one.even for one in self.asked)


@dataclass(frozen=True, slots=True)
class AlikeSheets:
    """Some sheets of a group that are cut alike."""

    group: int
    first: int
    """Which sheet of the group, from 0."""
    sheets: int
    trace: Trace


@dataclass(frozen=True, slots=True)
class SheetCuts:
    """How all sheets are cut."""

    level: int
    """The level of slack that every sheet may lack."""
    given: tuple[AlikeSheets, ...]

    @property
    def marks(self) -> frozenset[int]:
        """Where the ruler stands, in steps."""
        return frozenset().union(*(one.trace.marks for one in self.given))

    @property
    def strokes(self) -> int:
        """Straight strokes of all sheets; cuts from corner to corner are not among them."""
        return sum(one.trace.strokes * one.sheets for one in self.given)

    @property
    def alike(self) -> bool:
        """Whether all sheets of one group are cut alike."""
        return max(Counter(one.group for one in self.given).values()) == 1


class Cutter:
    """The tables of some candidates, one for each group of sheets."""

    def __init__(self, desk: Desk, item: DealtSets, sets: np.ndarray, work: Work) -> None:
        """Args:
        desk: what the question lays on the table.
        item: the shape of the candidates, and how they are dealt.
        sets: the candidates.
        work: what it takes is noted here.
        """
        self._desk, self._item, self._work = desk, item, work
        sizes = sizes_in(sets, len(item.kinds))
        self._tables: list[ExactTables] = []
        self.levels = np.full(len(sets), len(desk.levels) - 1)
        """The highest level of slack at which each may come out; -1 where it doesn't at all."""
        for one in item.busy:
            across, down = desk.usable[one.group][0]
            work.charge(cost(across, down, one.sheet, len(sets)))
            self._tables.append(ExactTables(across, down, sizes, one.sheet, not desk.groups[one.group].one_way))
            self.levels = np.minimum(self.levels, self._levels(one, self._tables[-1]))

    def _levels(self, one: GroupNeed, tables: ExactTables) -> np.ndarray:
        found = np.full(len(tables.sizes), -1)
        for level, (across, down) in enumerate(self._desk.usable[one.group]):
            found[tables.fits(across, down) if one.even or one.whole is not None else tables.any_fits(across, down)] = level
        return found

    def sheets(self, candidate: int) -> SheetCuts | None:
        """How the sheets are cut, with as much slack as can be; None where the batch doesn't come out of them after all, or by no
        cuts that were read at which her trimmer holds the paper."""
        for level in range(int(self.levels[candidate]), -1, -1):
            vectors = [self._dealt(one, tables, candidate, level) for one, tables in zip(self._item.busy, self._tables)]
            given: list[AlikeSheets] = []
            for one, tables, each in zip(self._item.busy, self._tables, vectors):
                if each is None:
                    break
                given += self._given(one, tables, candidate, level, each)
            else:
                if all(each.trace.holds for each in given):
                    return SheetCuts(level, tuple(given))
        return None

    def _dealt(self, one: GroupNeed, tables: ExactTables, candidate: int, level: int) -> tuple[Vector, ...] | None:
        room = self._desk.usable[one.group][level]
        return dealt(one, tables.box(candidate, *room), self._desk.groups[one.group].sheets, self._work)

    def _given(self, one: GroupNeed, tables: ExactTables, candidate: int, level: int, vectors: tuple[Vector, ...]) -> list[AlikeSheets]:
        tracer, room, spare = (
            Tracer(tables, candidate, self._desk.hold),
            self._desk.usable[one.group][level],
            self._desk.spare(one.group, level),
        )
        sheet = self._desk.groups[one.group].sheet
        whole = self._desk.lattice.down(sheet.width), self._desk.lattice.down(sheet.height)
        found: list[AlikeSheets] = []
        first = 0
        # As they come: sheets that are cut alike follow one another.
        for vector, times in Counter(filter(any, vectors)).items():
            self._work.charge(TRACED + tables.f[..., 0, 0].size // TRACING)
            found.append(AlikeSheets(one.group, first, times, tracer.trace(vector, *room, spare, whole)))
            first += times
        return found
