"""Readers' questions: the author's own answers, with what they cite filled in."""

from __future__ import annotations

from kitwright.errors import Slips, UserError
from kitwright.kit.model import Question
from kitwright.work.cite import cited, spec_in
from kitwright.work.worked import Worked


def read_answers(worked: Worked) -> list[str]:
    """The author's answers, in order, empty for those that are worked out; nothing is worked out here.

    Raises:
        UserError: every citation, piece or paper that does not exist, with file and line.
    """
    slips = Slips()
    found = [slips.trying(_read, worked, i, q) for i, q in enumerate(spec_in(worked).questions)]
    slips.stop()
    return [each or "" for each in found]


def _read(worked: Worked, i: int, question: Question) -> str:
    kit = worked.kit
    if question.piece and question.piece not in worked.sizes:
        place, known = kit.place("questions", i, "piece"), tuple(worked.sizes)
        raise UserError("answers.no-such-piece", place=place, piece=question.piece, known=known)
    if question.sheet and worked.plan(question.sheet) is None:
        place, known = kit.place("questions", i, "sheet"), tuple(p.paper for p in worked.plans)
        raise UserError("answers.no-such-paper", place=place, paper=question.sheet, known=known)
    return (
        cited(worked.of(question.design or ""), question.answer, lambda _: kit.place("questions", i, "answer")) if question.answer else ""
    )
