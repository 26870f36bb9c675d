"""How many ways there are: by counting, by listing, and the one at any rank.

Counting multiplies out one place at a time and remembers only how many pieces of each kind
are left, so it needs no list. `listing` shares nothing with it but the rules; tests hold
the two against each other and against permutations tried one by one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from kitwright.errors import UserError
from kitwright.otherwise.arrangements.slots import Fill, Kinds, Pool
from kitwright.otherwise.arrangements.supply import dealt, limits

Choices = Sequence[Sequence[Fill]]
"""What may lie in each place."""
Filling = tuple[Fill, ...]
Left = tuple[int, ...]
MOST_KNOWN = 200_000
"""States that a count remembers at most, about three seconds' work; a front that takes more is refused."""


class Counting:
    """The fillings of a row of places from a pool, in the order of the choices.

    Args:
        choices: what may lie in each place.
        pool: how many pieces of each kind there are at most; a kind that is not in it can't be used.
        weights: how many pieces a choice uses up, place by place; 1 when left out. Places that
            must be filled alike are counted as one with the weight of them all.
        takes: instead of a pool, how many fills of the same kinds there are at most.
    """

    def __init__(self, choices: Choices, pool: Pool, weights: Sequence[int] | None = None, takes: dict[Kinds, int] | None = None) -> None:
        self.choices = [
            [f for f in fills if (f.kinds in takes if takes is not None else any(kind in pool for kind in f.kinds))] for fills in choices
        ]
        self.weights = list(weights) if weights else [1] * len(choices)
        most = sum(self.weights)
        asked = dict.fromkeys(f.kinds for fills in self.choices for f in fills)
        limited = limits(asked, pool) if takes is None else [(frozenset([kinds]), n) for kinds, n in takes.items()]
        # What can't run out need not be remembered.
        limited = [(together, n) for together, n in limited if n < most]
        self.start: Left = tuple(n for _, n in limited)
        self._uses = {kinds: tuple(i for i, (together, _) in enumerate(limited) if kinds in together) for kinds in asked}
        self._alike = self._exchangeable([together for together, _ in limited])
        self._known: dict[tuple[int, Left], int] = {}

    def _exchangeable(self, limited: list[frozenset[Kinds]]) -> list[list[int]]:
        """Limits that stand for kinds which every place takes alike: it does not matter which of them has how many left."""
        groups: dict[tuple[int, ...], list[int]] = {}
        for i, _together in enumerate(limited):
            # What several looks share is left as it is.
            touching = [kinds for kinds, uses in self._uses.items() if i in uses]
            if len(touching) == 1 and self._uses[touching[0]] == (i,):
                groups.setdefault(tuple(sum(f.kinds == touching[0] for f in fills) for fills in self.choices), []).append(i)
        return [group for group in groups.values() if len(group) > 1]

    def _as_known(self, left: Left) -> Left:
        """What is left, the same for all that come to the same."""
        if not self._alike:
            return left
        sorted_ = list(left)
        for group in self._alike:
            for i, n in zip(group, sorted([left[i] for i in group])):
                sorted_[i] = n
        return tuple(sorted_)

    @property
    def total(self) -> int:
        """How many fillings there are."""
        return self.ways(0, self.start)

    def ways(self, place: int, left: Left) -> int:
        """How many ways the places from this one on can be filled with what is left.

        Raises:
            UserError: there is more to remember than `MOST_KNOWN`.
        """
        if place == len(self.choices):
            return 1
        left = self._as_known(left)
        key = place, left
        if key not in self._known:
            if len(self._known) >= MOST_KNOWN:
                raise UserError("arranged.too-many-ways", steps=MOST_KNOWN)
            taken = Counter(f.kinds for f in self.choices[place])
            self._known[key] = sum(
                n * self.ways(place + 1, after) for kinds, n in taken.items() if (after := self.after(place, kinds, left)) is not None
            )
        return self._known[key]

    def after(self, place: int, kinds: Kinds, left: Left) -> Left | None:
        """What is left once a place has taken its pieces of these kinds, or None when there are too few."""
        uses = self._uses[kinds]
        if not uses:
            return left
        less = list(left)
        for i in uses:
            less[i] -= self.weights[place]
            if less[i] < 0:
                return None
        return tuple(less)

    def at(self, rank: int) -> Filling:
        """The filling at a rank, counted from 0, in the order of the choices.

        Raises:
            IndexError: there is none at that rank.
        """
        if not 0 <= rank < self.total:
            raise IndexError(rank)
        left, found = self.start, list[Fill]()
        for place, fills in enumerate(self.choices):
            for fill in fills:
                after = self.after(place, fill.kinds, left)
                n = self.ways(place + 1, after) if after is not None else 0
                if after is not None and rank < n:
                    found.append(fill)
                    left = after
                    break
                rank -= n
        return tuple(found)

    def beginning(self, start: Filling) -> int:
        """How many fillings begin like this."""
        left: Left | None = self.start
        left = self.start
        for place, fill in enumerate(start):
            after = self.after(place, fill.kinds, left) if fill in self.choices[place] else None
            if after is None:
                return 0
            left = after
        return self.ways(len(start), left)


def listing(choices: Choices, pool: Pool) -> Iterator[Filling]:
    """Every filling, one after another: in the order of the choices, the last place changing fastest."""
    if any(fill.others for fills in choices for fill in fills):
        yield from _listing_by_dealing(choices, pool)
        return
    stock, filling = Counter(pool), list[Fill]()

    def fill_from(place: int) -> Iterator[Filling]:
        if place == len(choices):
            yield tuple(filling)
            return
        for fill in choices[place]:
            if stock[fill.kind] > 0:
                stock[fill.kind] -= 1
                filling.append(fill)
                yield from fill_from(place + 1)
                filling.pop()
                stock[fill.kind] += 1

    yield from fill_from(0)


def _listing_by_dealing(choices: Choices, pool: Pool, begun: Filling = ()) -> Iterator[Filling]:
    """The same where several kinds may look alike: each beginning is kept if its pieces can be dealt."""
    if len(begun) == len(choices):
        yield begun
        return
    for fill in choices[len(begun)]:
        if dealt([f.kinds for f in (*begun, fill)], pool) is not None:
            yield from _listing_by_dealing(choices, pool, (*begun, fill))
