"""What may be chosen: sets of pieces with the layouts that have them, of one design or of two together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from kitwright.cutting.solver.work import Work
from kitwright.proposing.pool import EACH, KIND, Candidates, KindOf, Origin, Pool, distinct, kinds_in, shapes
from kitwright.proposing.wish import Wish

MOST_PAIRS = 60_000
"""PairedSets of designs that are looked at."""
MOST_ALIKE = 120
"""Layouts with one size in common that are paired with one another, the largest first."""

MOST_TOGETHER = 12
"""Pieces on the cards of both designs: a sheet of more sorts and more pieces is a puzzle."""

Place = tuple[int, int]
"""Which source, and which of its batch."""


@dataclass(frozen=True, slots=True)
class CardClass:
    """What sort of card it is."""

    card: int
    """Which of the wish's cards."""
    families: tuple[str, ...]
    """One for each design."""
    kinds: int
    pieces: int
    """On a card of each design, together."""


class PieceSets:
    """Sets, each once, and the layouts that have it."""

    def __init__(self, pool: Pool, candidates: Candidates) -> None:
        self.sets = candidates.sets
        self.sources = pool.sources
        self._candidates = candidates
        cards = pool.wish.cards_of
        self._of = [(cards.index(source.field.card), source.family) for source in pool.sources]
        self._order = np.argsort(candidates.which, kind="stable")
        self._ends = np.searchsorted(candidates.which[self._order], np.arange(len(self.sets) + 1))

    def shapes(self) -> Iterator[tuple[tuple[KindOf, ...], np.ndarray]]:
        """Sets of as many kinds, as many and of the same sort of each: kinds of one of them, and which they are."""
        return shapes(self.sets)

    def by_source(self) -> Iterator[tuple[Origin, set[int]]]:
        """Every source with the sets that it has, each design by itself."""
        which, source = self._candidates.which, self._candidates.source
        for i, one in enumerate(self.sources):
            yield one, set(which[source == i].tolist())

    def classes(self, number: int, lots: int) -> dict[CardClass, tuple[Place, ...]]:
        """The classes of a set, each with the first layout of it, one for each design.

        Where a card's pieces are all of one lot, and so of one paper, none lies over others.
        """
        kinds = kinds_in(self.sets[number])
        pieces = sum(kind.each for kind in kinds)
        found: dict[CardClass, tuple[Place, ...]] = {}
        for (card, family), place in self.first(number, lots > 1).items():
            found[CardClass(card, (family,), len(kinds), pieces)] = (place,)
        return found

    def first(self, number: int, over: bool = True) -> dict[tuple[int, str], Place]:
        """For each card and family that has a set, its first layout; `over`: also where a piece lies over others."""
        found: dict[tuple[int, str], Place] = {}
        for i in self._order[self._ends[number] : self._ends[number + 1]]:
            source = int(self._candidates.source[i])
            if over or not self.sources[source].over:
                found.setdefault(self._of[source], (source, int(self._candidates.index[i])))
        return found


class PairedSets(PieceSets):
    """Two designs from the same sheets: layouts that have a size in common, and few kinds together."""

    def __init__(self, pool: Pool, candidates: Candidates, work: Work) -> None:
        super().__init__(pool, candidates)
        self._single = self.sets
        pairs = list(self._pairs(pool.wish, work))
        wide = max(pool.wish.kinds, 1)
        rows = np.zeros((len(pairs), wide), np.int64)
        for i, (one, other) in enumerate(pairs):
            counts: dict[int, int] = {}
            for code in (*self._single[one].tolist(), *self._single[other].tolist()):
                if code:
                    counts[code & KIND] = counts.get(code & KIND, 0) + (code >> EACH)
            codes = sorted((n << EACH | kind for kind, n in counts.items()), reverse=True)
            rows[i, : len(codes)] = codes
        self.sets, which = distinct(rows)
        self._made: list[list[tuple[int, int]]] = [[] for _ in range(len(self.sets))]
        for pair, i in zip(pairs, which.tolist()):
            self._made[i].append(pair)

    def _pairs(self, wish: Wish, work: Work) -> Iterator[tuple[int, int]]:
        kinds = [frozenset(code & KIND for code in row if code) for row in self._single.tolist()]
        pieces = [sum(kind.each for kind in kinds_in(row)) for row in self._single.tolist()]
        area = [sum(kind.width * kind.height * kind.each for kind in kinds_in(row)) for row in self._single.tolist()]
        having: dict[int, list[int]] = {}
        for i in sorted(range(len(kinds)), key=lambda i: (-area[i], i)):
            for kind in kinds[i]:
                having.setdefault(kind, []).append(i)
        seen: set[tuple[int, int]] = set()
        for i in range(len(kinds)):
            if 2 * pieces[i] <= MOST_TOGETHER and len(self.first(i)) > 1:
                seen.add((i, i))
                yield (i, i)
        for kind in sorted(having, reverse=True):
            some = [i for i in having[kind] if pieces[i] < MOST_TOGETHER][:MOST_ALIKE]
            work.charge(len(some) ** 2 // 4)
            for one, other in combinations(sorted(some), 2):
                if len(seen) >= MOST_PAIRS:
                    return
                few = pieces[one] + pieces[other] <= MOST_TOGETHER
                if few and (one, other) not in seen and len(kinds[one] | kinds[other]) <= wish.kinds:
                    seen.add((one, other))
                    yield (one, other)

    def classes(self, number: int, lots: int) -> dict[CardClass, tuple[Place, ...]]:
        kinds = kinds_in(self.sets[number])
        pieces = sum(kind.each for kind in kinds)
        found: dict[CardClass, tuple[Place, ...]] = {}
        for one, other in self._made[number]:
            for (card, family), place in self.first(one, lots > 1).items():
                for (second, beside), further in self.first(other, lots > 1).items():
                    if card == second and (one != other or family < beside):
                        families = (family, beside) if family <= beside else (beside, family)
                        places = (place, further) if family <= beside else (further, place)
                        found.setdefault(CardClass(card, families, len(kinds), pieces), places)
        return found
