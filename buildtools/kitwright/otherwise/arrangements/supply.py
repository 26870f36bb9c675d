"""Which pieces there are enough of, where several kinds may look the same as they lie.

Nearly always one kind of piece can lie so, and there are enough as long as none is used
more often than it is there. A piece that may be turned, lying upright beside one that may
not, looks like that one: either will do. Then there are enough exactly where no set of
such looks asks for more than all the kinds together that it can use (Hall's theorem).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from kitwright.otherwise.arrangements.slots import Kind, Kinds, Pool

Limit = tuple[frozenset[Kinds], int]
"""How many pieces the fills of these kinds may use together."""


def limits(asked: Iterable[Kinds], pool: Pool) -> list[Limit]:
    """What must hold, and is enough, for fills of these kinds to be laid from a pool."""
    asked = list(dict.fromkeys(asked))
    unions: dict[frozenset[Kind], None] = dict.fromkeys(frozenset(kinds) for kinds in asked)
    # Sets that share no kind limit each other no further. What joins others is rare, and of few kinds.
    new = [union for union in unions if len(union) > 1]
    while new:
        found = {one | other for one in new for other in unions if one & other} - unions.keys()
        new = sorted(found, key=sorted)
        unions |= dict.fromkeys(new)
    return [(frozenset(kinds for kinds in asked if union.issuperset(kinds)), sum(pool.get(kind, 0) for kind in union)) for union in unions]


def dealt(asked: Sequence[Kinds], pool: Pool) -> list[Kind] | None:
    """A piece for each fill, one by one; None where the pool has too few (augmenting paths)."""
    held: dict[Kind, list[int]] = {kind: [] for kind in pool}

    def gets(i: int, tried: set[Kind]) -> bool:
        for kind in asked[i]:
            if kind not in held or kind in tried:
                continue
            tried.add(kind)
            if len(held[kind]) < pool[kind]:
                held[kind].append(i)
                return True
            for j in held[kind]:
                if gets(j, tried):
                    held[kind].remove(j)
                    held[kind].append(i)
                    return True
        return False

    if not all(gets(i, set()) for i in range(len(asked))):
        return None
    of = {i: kind for kind, taken in held.items() for i in taken}
    return [of[i] for i in range(len(asked))]
