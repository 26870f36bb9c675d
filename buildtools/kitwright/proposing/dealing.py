"""Pieces dealt to sheets: the same share to each where numbers allow it, else nearly so; and cards to papers, lot by lot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

import numpy as np

from kitwright.cutting.solver.work import Work
from kitwright.proposing.pool import KindOf
from kitwright.proposing.shares import Dealt, SheetGroup
from kitwright.proposing.tables import Vector
from kitwright.proposing.wish import Sharing

MOST_SHORT = 4096
"""Ways to be short of an even share that are looked at, at most; a batch that is dealt to so many sheets is left out."""


@dataclass(frozen=True, slots=True)
class GroupNeed:
    """What the sheets of one group have to give, in rectangles."""

    group: int
    need: Vector
    """All of them together, of each kind."""
    sheet: Vector
    """The most that one is asked for: an even share, rounded up."""
    even: bool
    """Whether every sheet gives just that."""
    whole: int | None
    """Where each sheet has to give whole cards and not all give as many: how many give the most."""

    @property
    def none(self) -> bool:
        """Whether nothing is asked of it."""
        return not any(self.need)


def asked_of(kinds: Sequence[KindOf], share: Dealt, groups: Sequence[SheetGroup], sharing: Sharing) -> tuple[GroupNeed, ...]:
    """What each group has to give when the cards are dealt so."""
    return tuple(_asked(i, kinds, cards, group.sheets, sharing) for i, (cards, group) in enumerate(zip(share.of, groups)))


def _asked(i: int, kinds: Sequence[KindOf], cards: int, sheets: int, sharing: Sharing) -> GroupNeed:
    def up(pieces: int, by: int) -> int:
        return -(-pieces // by)

    if cards % sheets == 0 or sharing != "whole" and all(kind.each * cards % sheets == 0 for kind in kinds):
        sheet = tuple(up(kind.each * cards // sheets, kind.from_each) for kind in kinds)
        return GroupNeed(i, tuple(n * sheets for n in sheet), sheet, True, None)
    if sharing == "whole":
        most, few = tuple(tuple(up(kind.each * (cards // sheets + more), kind.from_each) for kind in kinds) for more in (1, 0))
        full = cards % sheets
        return GroupNeed(i, tuple(a * full + b * (sheets - full) for a, b in zip(most, few)), most, False, full)
    need = tuple(up(kind.each * cards, kind.from_each) for kind in kinds)
    return GroupNeed(i, need, tuple(up(n, sheets) for n in need), False, None)


def dealt(asked: GroupNeed, fits: np.ndarray, sheets: int, work: Work) -> tuple[Vector, ...] | None:
    """What each sheet gives, one after another; None where no way was found.

    Args:
        asked: of the group.
        fits: for each vector up to `asked.sheet`, whether a sheet gives it.
        sheets: how many there are.
        work: what it costs is noted here.
    """
    if asked.even:
        return (asked.sheet,) * sheets if fits[asked.sheet] else None
    if asked.whole is not None:
        # Fewer cards come out of a sheet that gives more.
        few = tuple((n - asked.whole * m) // (sheets - asked.whole) for n, m in zip(asked.need, asked.sheet))
        return (asked.sheet,) * asked.whole + (few,) * (sheets - asked.whole) if fits[asked.sheet] else None
    spare = tuple(m * sheets - n for n, m in zip(asked.need, asked.sheet))
    if prod(n + 1 for n in spare) > MOST_SHORT:
        return None
    work.charge(prod(n + 1 for n in spare) * sheets // 4 + 10)
    shorts = [d for d in np.ndindex(*(min(n, m) + 1 for n, m in zip(spare, asked.sheet))) if fits[_less(asked.sheet, d)]]
    # Being short of less does for whoever may be short of more.
    least = [d for d in shorts if not any(e != d and all(a <= b for a, b in zip(e, d)) for e in shorts)]
    sums: dict[Vector, tuple[Vector, ...]] = {(0,) * len(spare): ()}
    for _ in range(sheets):
        more: dict[Vector, tuple[Vector, ...]] = {}
        for total, parts in sums.items():
            for d in least:
                both = tuple(a + b for a, b in zip(total, d))
                if all(a <= b for a, b in zip(both, spare)):
                    more.setdefault(both, (*parts, d))
        sums = more
        work.charge(len(sums) * (len(least) + 1))
    if not sums:
        return None
    total, parts = min(sums.items(), key=lambda item: (len(set(item[1])), item[0]))
    return tuple(_less(asked.sheet, d) for d in _filled(parts, _less(spare, total), asked.sheet))


def _less(one: Vector, other: Vector) -> Vector:
    return tuple(a - b for a, b in zip(one, other))


def _filled(parts: tuple[Vector, ...], more: Vector, sheet: Vector) -> list[Vector]:
    """The same, with what is spare left out of the last sheets, as many of it in each as can be."""
    found, left = list(parts), list(more)
    for i in range(len(found) - 1, -1, -1):
        taken = tuple(min(room - have, wish) for room, have, wish in zip(sheet, found[i], left))
        found[i] = tuple(a + b for a, b in zip(found[i], taken))
        left = [a - b for a, b in zip(left, taken)]
    return found


def lots_of(each: Sequence[int], share: Dealt, groups: Sequence[SheetGroup], sharing: Sharing) -> int | None:
    """How many lots a card's pieces are dealt in, so that the papers' numbers come out; None where they can't.

    Cards of one lot are whole of one paper, so each paper has to give whole cards. Of two lots, every card has both of
    different papers: that comes out where no paper gives more than half of the batch. Where papers don't give whole cards, and
    may be mixed as it comes, pieces are dealt as they are there, which is of one lot as far as a layout knows.
    """
    papers = [(share.of[i] * stock.sheets, group.sheets) for i, group in enumerate(groups) for stock in group.stocks]
    if any(cards % sheets for cards, sheets in papers):
        return 1 if len(papers) == 1 or sharing == "free" else None
    gives = [cards // sheets for cards, sheets in papers]
    mixes = len(papers) > 1 and sum(each) > 1 and max(gives) * 2 <= share.cards
    if sharing == "share":
        return 2 if mixes else None
    return 2 if mixes and sharing == "free" else 1
