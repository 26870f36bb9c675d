"""A question answered: layouts, or what stands in their way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from kitwright.cutting.solver.work import Work
from kitwright.proposing.loosened import ways_out
from kitwright.proposing.records import Answer
from kitwright.proposing.search import propose
from kitwright.proposing.wish import Wish


def answered(
    wish: Wish, told: Callable[[Answer], None] | None = None, stop: Callable[[], bool] | None = None, work: Work | None = None
) -> Answer:
    """What the sheets give; an answer without a layout says why, the nearest way out first.

    Args:
        wish: a sound question (`asked.read_question`).
        told: is told what was found so far, now and then.
        stop: whether the maker has had enough; what was found stays.
        work: what may be spent before ways out are sought; the usual share where nothing is said.

    Raises:
        UserError: more than can be looked through.
    """
    answer = propose(wish, work, told, stop)
    if answer.proposals or (stop and stop()):
        return answer
    return replace(answer, why=(*answer.why, *ways_out(wish, stop)))
