"""The search from sheets to layouts: every candidate within the ceiling on waste, by rising waste, decided by exact tables."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from kitwright.cutting.solver.work import Work
from kitwright.proposing.choices import CardClass, PairedSets, PieceSets
from kitwright.proposing.dealing import asked_of, lots_of
from kitwright.proposing.families import families
from kitwright.proposing.families.family import Family, Field, field_of
from kitwright.proposing.fronts import ClassFront, Grade
from kitwright.proposing.graded import Graded
from kitwright.proposing.makeable import LEAST_BAND
from kitwright.proposing.pool import Pool, kinds_in, sizes_in
from kitwright.proposing.records import Answer, Counted, Scope
from kitwright.proposing.shares import Dealt, Desk
from kitwright.proposing.sheets import Cutter, DealtSets
from kitwright.proposing.shown import proposals
from kitwright.proposing.tables import MEMORY, at_once, cost, held
from kitwright.proposing.wish import CardWish, Wish
from kitwright.units import Length

MOST_WORK = 40_000_000
"""Steps of work for one question: about a minute."""
OPEN = 9_000_000
"""The same where no number of cards is named: then every number is tried, mostly on several cards, and no purse pays for all of it."""
OF_TWO = 15_000_000
"""The same for two designs, of which not everything is looked at anyway."""
SAMPLE = 256
"""Candidates that are decided first, some of every waste: those of least waste, which come next, mostly don't come out at all."""
FIRST = 128
"""Candidates of the slice after that; each further one is twice as large, so that something is there soon."""
LARGEST = 2048
"""Candidates of a slice at most: between slices a maker may stop."""
INTERIM = 1_000_000
"""Steps from one interim answer to the next; as many again for each that had something to show."""
SOONEST = 4
"""The first comes after a part of that: so that there is something to look at."""
SOON = 500_000
"""Steps after which a stop is heard at the latest, where one candidate takes no more."""
DEAR = 3_000_000
"""Steps that one candidate may take; of one that a sheet gives hundreds of pieces of, it stays open whether it comes out."""
LISTING = 20
"""Candidates that are listed in a step of work."""
LISTED = 3
"""Steps that one of them takes in truth."""
SHOWING = 500_000
"""Steps for a sample that is shown while there is more to list."""

Told = Callable[[Answer], None]
Stop = Callable[[], bool]


def propose(wish: Wish, work: Work | None = None, told: Told | None = None, stop: Stop | None = None) -> Answer:
    """Layouts that come out of the sheets and add up on the card.

    Args:
        wish: what is asked.
        work: how much may be done; what was found by then is the answer.
        told: is handed interim answers.
        stop: is asked now and then whether to leave off.
    """
    return Proposing(wish, work or Work(purse(wish)), told, stop).run()


def purse(wish: Wish) -> int:
    """Steps of work that a question gets."""
    return OPEN if wish.cards is None else MOST_WORK if wish.designs == 1 else OF_TWO


def fields_of(wish: Wish) -> Iterator[tuple[Family, Field]]:
    """Every family with every field that it is listed in: cards, borders and gaps, and a band where she asked for one, else with one
    that holds a greeting, and then without."""
    bands = [wish] if wish.band else [replace(wish, band=LEAST_BAND[wish.unit]), wish]
    wanted = [family for family in families().values() if not wish.families or family.name in wish.families]
    for card in wish.cards_of:
        for border in wish.borders:
            for gap in wish.gaps:
                for asked in bands:
                    field = field_of(asked, card, border, gap)
                    yield from ((family, field) for family in wanted)


class Proposing:
    """One question while it is answered."""

    def __init__(self, wish: Wish, work: Work, told: Told | None, stop: Stop | None) -> None:
        self.wish, self.work, self._told, self._stop = wish, work, told, stop
        self.desk = Desk(wish)
        self.pool = Pool(wish)
        self.fronts: dict[CardClass, ClassFront[tuple[int, DealtSets]]] = {}
        self.choices: PieceSets | None = None
        self._fields: list[tuple[Family, Field]] = []
        self._tested: set[tuple[Dealt, int]] = set()
        self._open: set[int] = set()
        """Sets of which not everything was decided."""
        self._told_at, self._answers = 0, 0
        self.stopped = self._done = False

    def run(self) -> Answer:
        for family, field in fields_of(self.wish):
            if self._over():
                break
            self._fields.append((family, field))
            self._list(family, field)
        if not self._over():
            self._look()
            self._done = True
        self.stopped = self._over()
        return self.answer()

    def _list(self, family: Family, field: Field) -> None:
        desk = self.desk
        if not desk.shares or desk.room < desk.least:
            return
        if self.wish.designs == 1:
            low, high = (
                min(-(-2 * desk.least // share.cards) for share in desk.shares),
                max(2 * desk.room // share.cards for share in desk.shares),
            )
        else:
            low, high = 0, max(2 * desk.room // share.cards for share in desk.shares)
        for batch in family.batches(field):
            self.work.charge(len(batch) // LISTING + 20)
            # Two triangles take a whole rectangle, one alone as well.
            self.pool.take(family.name, field, batch, low // 2 if any(batch.halved) else low, high)
            if self._is_due() and self.wish.designs == 1:
                self._show_some()

    def _show_some(self) -> None:
        """A sample of what is listed until now, from a purse of its own: what is shown on the way changes nothing of the answer."""
        work, self.work = self.work, Work(SHOWING)
        self._look(SAMPLE)
        self.work = work
        self._tell()
        self.fronts = {}

    def _over(self) -> bool:
        return self.work.over or (self._stop is not None and self._stop())

    def _is_due(self) -> bool:
        wait = INTERIM * (1 + self._answers) if self._answers else INTERIM // SOONEST
        return self._told is not None and self._gone - self._told_at > wait

    @property
    def _gone(self) -> int:
        """How long it has taken, in steps: listing is charged for less than it takes."""
        return self.work.spent + LISTED * self.pool.candidates

    def _tell(self) -> None:
        if self._told:
            work, self.work = self.work, Work()
            answer = self.answer()
            self.work = work
            self._told(answer)
            self._told_at, self._answers = self._gone, self._answers + bool(answer.proposals)

    # --- candidates by rising waste -----------------------------------------------------------

    def _look(self, most: int | None = None) -> None:
        """Decide candidates, slice after slice."""
        candidates = self.pool.all()
        self.choices = PieceSets(self.pool, candidates) if self.wish.designs == 1 else PairedSets(self.pool, candidates, self.work)
        self._tested, self._open = set(), set()
        items = list(self._items())
        if not items:
            return
        used = np.concatenate([item.used for item in items])
        which = np.concatenate([np.full(len(item.sets), i) for i, item in enumerate(items)])
        within = np.concatenate([np.arange(len(item.sets)) for item in items])
        order = np.argsort(-used, kind="stable")
        # What the purse can't pay for comes last, in the sample too: a handful of sets may take all of it.
        dear = self._dear(items)[which[order]]
        order, paid = np.r_[order[~dear], order[dear]], int((~dear).sum()) or len(order)
        few = min(SAMPLE, paid)
        sample = np.arange(few) * (paid - 1) // max(few - 1, 1)
        order = np.r_[order[sample], np.delete(order, sample)][:most]
        # Pairs are of many shapes, few of each: more at once.
        more = FIRST if self.wish.designs == 1 else LARGEST
        start, size = 0, SAMPLE
        while start < len(order):
            some = order[start : start + size]
            for i in np.unique(which[some]).tolist():
                self._decide(items[i], within[some[which[some] == i]])
                if self._over():
                    self._open.update(int(items[which[j]].sets[within[j]]) for j in order[start:])
                    return
                if most is None and self._is_due():
                    self._tell()
            start, size, more = start + size, more, min(2 * more, LARGEST)

    def _dear(self, items: list[DealtSets]) -> np.ndarray:
        """Which of them come last, whatever their waste: what three quarters of the purse don't pay for once cheaper ones are decided.

        So whole sorts of layouts are complete where not everything can be, those with few pieces a sheet first.
        """
        each = [sum(cost(*self.desk.usable[one.group][0], one.sheet, len(item.sets)) for one in item.busy) for item in items]
        order = sorted(range(len(items)), key=lambda i: (each[i] // len(items[i].sets), i))
        paid = np.cumsum([each[i] for i in order])
        found = np.zeros(len(items), bool)
        found[np.array(order, int)[paid * 4 > self.work.left * 3]] = True
        return found

    def _items(self) -> Iterator[DealtSets]:
        """What is to be decided. Sets that are not dealt evenly, of which not every way is looked at, are noted, and those that no
        table holds, since a sheet gives hundreds of pieces."""
        desk, choices = self.desk, self.choices
        assert choices is not None, "nothing to choose from"
        for kinds, sets in choices.shapes():
            sizes = sizes_in(choices.sets[sets], len(kinds))
            areas = sizes[:, :, 0] * sizes[:, :, 1]
            for share in desk.shares:
                lots = lots_of([kind.each for kind in kinds], share, desk.groups, self.wish.sharing)
                if lots is None:
                    continue
                asked = asked_of(kinds, share, desk.groups, self.wish.sharing)
                takes = [(areas * np.array(one.need)).sum(axis=1) for one in asked]
                used = np.sum(takes, axis=0)
                good = (used >= desk.least) & (used <= desk.room)
                for take, rooms, group in zip(takes, desk.usable, desk.groups):
                    good &= take <= rooms[0][0] * rooms[0][1] * group.sheets
                large = any(
                    held(*rooms[0], one.sheet) > MEMORY or cost(*rooms[0], one.sheet, 1) > DEAR for rooms, one in zip(desk.usable, asked)
                )
                if large or not all(one.even for one in asked):
                    self._open.update(sets[good].tolist())
                if good.any() and not large:
                    yield DealtSets(share, kinds, asked, sets[good], used[good], lots)

    def _decide(self, item: DealtSets, these: np.ndarray) -> None:
        """Decide some of the sets of an item, as many at once as are soon done."""
        rooms = [(*self.desk.usable[one.group][0], one.sheet) for one in item.busy]
        step = min(at_once(*room) for room in rooms)
        step = max(1, min(step, SOON // sum(cost(*room, 1) for room in rooms)))
        for start in range(0, len(these), step):
            some = these[start : start + step]
            if sum(cost(*room, len(some)) for room in rooms) > self.work.left:
                self.work.charge(int(self.work.left))
            if self._over():
                return
            self._decide_some(item, some)

    def _decide_some(self, item: DealtSets, some: np.ndarray) -> None:
        assert self.choices is not None, "nothing to choose from"
        cutter = Cutter(self.desk, item, self.choices.sets[item.sets[some]], self.work)
        self._tested.update((item.share, int(number)) for number in item.sets[some])
        for c in np.flatnonzero(cutter.levels >= 0).tolist():
            self._grade(item, int(some[c]), c, cutter)

    def _grade(self, item: DealtSets, i: int, c: int, cutter: Cutter) -> None:
        """Read the cuts of one candidate, and take it in where no other betters it."""
        assert self.choices is not None, "nothing to choose from"
        number, used = int(item.sets[i]), int(item.used[i])
        fronts = self._may_add(number, used, int(cutter.levels[c]), item)
        sheets = cutter.sheets(c) if fronts else None
        if sheets:
            grade = Grade(used, sheets.level, len(sheets.marks), sheets.alike, sheets.strokes)
            for front in fronts:
                front.add(grade, (number, item))

    def _may_add(self, number: int, used: int, level: int, item: DealtSets) -> list[ClassFront[tuple[int, DealtSets]]]:
        """The fronts that a set may belong to, with so much slack and as few marks as its sides allow."""
        assert self.choices is not None, "nothing to choose from"
        best = Grade(used, level, self._fewest(item, number), True)
        fronts = [self.fronts.setdefault(of, ClassFront()) for of in self.choices.classes(number, item.lots)]
        return [front for front in fronts if front.may_add(best)]

    def _fewest(self, item: DealtSets, number: int) -> int:
        """Fewer marks than this can't be. Where something is left over of every sheet both ways, no side is had for nothing:
        one mark makes squares of it, and nothing else."""
        assert self.choices is not None, "nothing to choose from"
        kinds = kinds_in(self.choices.sets[number].tolist())
        return 0 if self.desk.tight else 1 if len({side for kind in kinds for side in (kind.width, kind.height)}) == 1 else 2

    # --- the answer ---------------------------------------------------------------------------

    def graded(self) -> list[Graded]:
        """Everything on the fronts, class by class."""
        choices = self.choices
        return [
            Graded(of, choices.classes(number, item.lots)[of], grade, choices.sets[number], item)
            for of, front in self.fronts.items()
            for grade, (number, item) in front.kept
            if choices
        ]

    def cutter(self, one: Graded) -> Cutter:
        """The tables of one of them, made anew."""
        return Cutter(self.desk, one.item, one.pieces[None, :], self.work)

    def answer(self) -> Answer:
        """What was found until now."""
        found = self.graded()
        shown = proposals(self.desk, self.pool.sources, found, self.work)
        distinct = len(self.choices.sets) if self.choices else 0
        scopes = self._scopes()
        whole = set().union(*(sets for scope, sets in scopes if scope.whole))
        counted = Counted(self.pool.candidates, distinct, len(whole), len(self._tested), len(found), self.work.spent)
        return Answer(self.wish, shown, tuple(scope for scope, _ in scopes), counted, self.stopped, spent=self.stopped and self.work.over)

    def _scopes(self) -> list[tuple[Scope, set[int]]]:
        """What was looked at of each family in each field, with the sets that are there; a field that nothing was listed of is left out."""
        sets: dict[tuple[str, CardWish, Length, Length], set[int]] = {}
        for family, field in self._fields:
            sets.setdefault((family.name, field.card, field.border, field.gap), set())
        if self.choices:
            for source, numbers in self.choices.by_source():
                sets[source.family, source.field.card, source.field.border, source.field.gap].update(numbers)
        # What is not decided in the end stands among the open ones; before the end, anything may.
        simple = self.wish.designs == 1 and len(self.desk.groups) == 1 and self._done and not self.wish.even
        return [(Scope(*where, len(of), simple and not of & self._open), of) for where, of in sets.items()]
