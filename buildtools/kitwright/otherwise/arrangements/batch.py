"""Which arrangements a batch can be made in, from the pieces that the sheets yield.

An exact choice in whole numbers (`cutting.solver.whole`), one goal after another. What
counts for the pieces is only which of them a card takes, so arrangements that take the same
are chosen together, as one class; where it matters which paper is on top, that parts them
further.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from kitwright.cutting.solver.whole import Goal, Programme
from kitwright.cutting.solver.work import Work
from kitwright.otherwise.arrangements.counting import Counting, Filling, Left
from kitwright.otherwise.arrangements.slots import Kind, Kinds, Places, Pool
from kitwright.otherwise.arrangements.supply import dealt, limits

MOST_CLASSES = 2000
"""More than this and no set is chosen."""
STEPS = 8_000_000
"""Steps of work (`solver.work`) that the choice of one set may take; past it, which no kit has come near, the best found is taken."""

Numbers = list[int]
"""Variables of a programme, one for each class."""
Goals = Callable[[Programme, Numbers, Numbers], list[Goal]]
"""What a set should be, first things first, from the cards of each class and the different ones among them."""


@dataclass(frozen=True, slots=True)
class CardsAlike:
    """So many cards in one arrangement."""

    filling: Filling
    cards: int


@dataclass(frozen=True)
class Chosen:
    """Arrangements for the whole batch."""

    made: tuple[CardsAlike, ...]
    left: Pool
    """Pieces left over, by kind; kinds of which none is left are not in it."""


@dataclass(frozen=True)
class Class:
    """Arrangements that take the same pieces."""

    top: str | None
    """The paper on top of all of them; None where any may be."""
    takes: tuple[tuple[Kinds, int], ...]
    ways: Counting
    """The arrangements themselves."""


def classes_of(places: Places, by_top: bool) -> list[Class]:
    """All classes, in the order of the hands; empty when there are far too many."""
    found: list[Class] = []
    for hand in places.hands:
        # A front on which no piece lies, only words, is one card of one way.
        leads = places.slots[0].fills if places.slots else ()
        tops = list(dict.fromkeys(fill.paper for fill in leads)) if by_top and leads else [None]
        for top in tops:
            choices = [[f for f in leads if top in (None, f.paper)], *(slot.fills for slot in places.slots[1:])] if leads else []
            for takes in _handfuls(choices, hand):
                found.append(Class(top, takes, Counting(choices, {}, takes=dict(takes))))
                if len(found) > MOST_CLASSES:
                    return []
    return found


def _handfuls(choices: Sequence, pool: Pool) -> list[tuple[tuple[Kinds, int], ...]]:
    """The different handfuls of pieces that fill the places, told apart as far as they can be seen."""
    asked = list(dict.fromkeys(f.kinds for fills in choices for f in fills if any(kind in pool for kind in f.kinds)))
    limited = [([asked.index(kinds) for kinds in together], n) for together, n in limits(asked, pool)]
    start: Left = (0,) * len(asked)
    reached = {start: None}
    for fills in choices:
        after: dict[Left, None] = {}
        for taken in reached:
            for kinds in dict.fromkeys(f.kinds for f in fills if f.kinds in asked):
                i = asked.index(kinds)
                more = (*taken[:i], taken[i] + 1, *taken[i + 1 :])
                if all(sum(more[k] for k in together) <= n for together, n in limited if i in together):
                    after[more] = None
        reached = after
        if len(reached) > MOST_CLASSES:
            break
    return [tuple((kinds, n) for kinds, n in zip(asked, taken) if n) for taken in reached]


class Chooser:
    """Chooses sets for one batch.

    Args:
        places: the kit's places.
        pool: the pieces that the sheets yield, by kind.
        cards: how many cards the batch has.
        turned: what an arrangement becomes when turned round; itself where that can't be.
        same: all arrangements that are the same card as one, turned in any way.
    """

    def __init__(
        self, places: Places, pool: Pool, cards: int, turned: Callable[[Filling], Filling], same: Callable[[Filling], tuple[Filling, ...]]
    ) -> None:
        self.places, self.pool, self.cards, self.turned, self.same = places, pool, cards, turned, same

    def alike(self) -> Chosen | None:
        """As few different cards as the pieces allow; None when they don't make the batch."""
        classes = classes_of(self.places, by_top=False)

        def goals(programme: Programme, n: Numbers, distinct: Numbers) -> list[Goal]:
            used = [programme.variable(1) for _ in n]
            for one, cards in zip(used, n):
                programme.must({cards: 1, one: -self.cards}, most=0)
            return [dict.fromkeys(used, 1), {one: -1 for one, c in zip(used, classes) if self._own(c)}]

        return self._chosen(classes, goals, lambda n: 1)

    def varied(self) -> Chosen | None:
        """As many different cards as the pieces allow, none more often than need be."""
        classes = classes_of(self.places, by_top=False)
        return self._chosen(classes, lambda programme, n, distinct: self._variety(classes, programme, n, distinct), lambda n: n)

    def tops(self) -> Chosen | None:
        """Each paper on top as often as the others, as nearly as the pieces allow; then as varied as can be."""
        classes = classes_of(self.places, by_top=True)

        def goals(programme: Programme, n: Numbers, distinct: Numbers) -> list[Goal]:
            low, high = programme.variable(self.cards), programme.variable(self.cards)
            for name in dict.fromkeys(c.top for c in classes):
                often = {cards: 1 for c, cards in zip(classes, n) if c.top == name}
                programme.must({**often, low: -1}, least=0)
                programme.must({**often, high: -1}, most=0)
            return [{high: 1, low: -1}, *self._variety(classes, programme, n, distinct)]

        return self._chosen(classes, goals, lambda n: n)

    def given(self, mix: dict[Filling, int]) -> tuple[Chosen, Pool]:
        """A mix as the author wants it, and the pieces that are missing for it."""
        used: Counter[Kinds] = Counter()
        for filling, cards in mix.items():
            for fill in filling:
                used[fill.kinds] += cards
        missing: Pool = {}
        for together, n in limits(sorted(used), self.pool):
            short = sum(used[kinds] for kinds in together) - n
            if short > 0:
                missing.setdefault(min(together)[0], short)
        return self._with_left([CardsAlike(filling, cards) for filling, cards in mix.items()]), missing

    # --- the choice ---------------------------------------------------------------------------

    def _own(self, one: Class) -> bool:
        return any(_in_class(look, one) for look in self.places.looks)

    def _variety(self, classes: list[Class], programme: Programme, n: Numbers, distinct: Numbers) -> list[Goal]:
        often = programme.variable(self.cards)
        for one, cards in zip(classes, n):
            programme.must({cards: 1, often: -min(one.ways.total, self.cards)}, most=0)
        return [dict.fromkeys(distinct, -1), {often: 1}]

    def _chosen(self, classes: list[Class], goals: Goals, spread: Callable[[int], int]) -> Chosen | None:
        if not classes:
            return None
        n = self._solved(classes, goals)
        if n is None:
            return None
        made: list[CardsAlike] = []
        for one, cards in zip(classes, n):
            if cards:
                made += self._picked(one, cards, min(spread(cards), one.ways.total))
        return self._with_left(made)

    def _solved(self, classes: list[Class], goals: Goals) -> Sequence[int] | None:
        """Cards in each class, the goals met in turn."""
        programme = Programme(Work(), STEPS)
        n = [programme.variable(self.cards) for _ in classes]
        distinct = [programme.variable(min(self.cards, c.ways.total)) for c in classes]
        for d, cards in zip(distinct, n):
            programme.must({d: 1, cards: -1}, most=0)
        programme.must(dict.fromkeys(n, 1), least=self.cards, most=self.cards)
        for together, most in limits(dict.fromkeys(kinds for c in classes for kinds, _ in c.takes), self.pool):
            programme.must({cards: sum(m for kinds, m in c.takes if kinds in together) for c, cards in zip(classes, n)}, most=most)
        # Last, whatever comes first in the order of the spec, so that one answer is left of equals.
        order = {cards: i for i, cards in enumerate(n)}
        values = programme.in_turn([*goals(programme, n, distinct), order]).values
        return values and values[: len(n)]

    def _picked(self, one: Class, cards: int, count: int) -> list[CardsAlike]:
        """So many arrangements of a class: the kit's own looks first, then evenly down the list.

        Each brings along what it becomes when turned round, which takes no motion more. One that is
        a chosen card turned by a quarter waits until there are no other cards.
        """
        total = one.ways.total
        chosen: dict[Filling, None] = {}
        waiting: list[Filling] = []
        ranks = chain((i * total // count for i in range(count)), range(total))

        def others() -> Iterator[Filling]:
            for filling in chain(self.places.looks, map(one.ways.at, ranks)):
                if filling not in chosen and any(same in chosen for same in self.same(filling)):
                    waiting.append(filling)
                else:
                    yield filling

        for filling in chain(others(), waiting):
            for found in (filling, self.turned(filling)):
                if len(chosen) < count and _in_class(found, one):
                    chosen[found] = None
            if len(chosen) == count:
                break
        return [CardsAlike(filling, cards // count + (i < cards % count)) for i, filling in enumerate(chosen)]

    def _with_left(self, made: list[CardsAlike]) -> Chosen:
        left = Counter(self.pool)
        asked = [fill.kinds for one in made for fill in one.filling for _ in range(one.cards)]
        either = any(len(kinds) > 1 for kinds in asked)
        left.subtract((dealt(asked, self.pool) if either else None) or [kinds[0] for kinds in asked])
        return Chosen(tuple(made), {kind: n for kind, n in sorted(left.items()) if n > 0})


def _in_class(filling: Filling, one: Class) -> bool:
    return (one.top is None or one.top == filling[0].paper) and Counter(f.kinds for f in filling) == Counter(dict(one.takes))


def pool_of(places: Places, made: dict[tuple[str, str], int]) -> Pool:
    """Pieces by kind, from pieces by label and paper."""
    pool: Counter[Kind] = Counter()
    for (label, paper), n in made.items():
        if (label, paper) in places.stands:
            pool[places.stands[label, paper], paper] += n
    return dict(sorted(pool.items()))
