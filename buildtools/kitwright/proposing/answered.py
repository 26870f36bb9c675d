"""A question answered: layouts, or what stands in their way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from kitwright.cutting.solver.work import Work
from kitwright.proposing.loosened import more_cards, ways_out
from kitwright.proposing.records import Answer
from kitwright.proposing.search import propose
from kitwright.proposing.wish import Wish

MUCH = Fraction(1, 4)
"""Where so much of all sheets is left over, more cards may come out of them."""


def answered(
    wish: Wish, told: Callable[[Answer], None] | None = None, stop: Callable[[], bool] | None = None, work: Work | None = None
) -> Answer:
    """What the sheets give; an answer without a layout says why, the nearest way out first; one that leaves much, how many cards
    the sheets give.

    Args:
        wish: a sound question (`asked.read_question`).
        told: is told what was found so far, now and then.
        stop: whether the maker has had enough; what was found stays.
        work: what may be spent before ways out are sought; the usual share where nothing is said.

    Raises:
        UserError: more than can be looked through.
    """
    answer = propose(wish, work, told, stop)
    if stop and stop():
        return answer
    if not answer.proposals:
        return replace(answer, why=ways_out(wish, stop))
    if wish.cards is not None and min(one.measured.waste for one in answer.proposals) >= MUCH:
        return replace(answer, why=more_cards(wish, stop))
    return answer
