"""Readers' questions with their answers; those that are arithmetic are worked out, never typed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.cutting.plan import PaperPlan
from kitwright.kit.model import Question
from kitwright.otherwise.planned import other_stock
from kitwright.otherwise.usual import cardstock_from, one_sheet, other_fold, printed
from kitwright.release.answers import read_answers
from kitwright.telling.folds import fold_text, hinge_text
from kitwright.telling.questions import other_text, told_of
from kitwright.telling.words import led, listed, number, sheets_text
from kitwright.units import length_text, size_text
from kitwright.work.batches import guided_sheets
from kitwright.work.worked import Worked

Tied = Literal["step", "piece", "sheet"]


@dataclass(frozen=True)
class Answered:
    """A question as a page shows it."""

    ask: str
    answer: str
    """Plain text; Markdown where the author wrote some."""
    computed: bool
    tied: Tied | None
    """What it is tied to, if anything."""
    to: str = ""
    """The stage, the label, or the paper's key."""
    design: str = ""
    """The design that it is about, if it is about one."""


def answers(worked: Worked) -> list[Answered]:
    """Every question of a kit, in its order.

    Raises:
        UserError: every citation, piece or paper that does not exist, with file and line.
    """
    said = read_answers(worked)
    return [
        Answered(
            q.ask,
            computed(worked, q.computed, q.cards, q.design or "") if q.computed else words,
            bool(q.computed),
            *_tied(q),
            q.design or "",
        )
        for q, words in zip(worked.kit.spec.questions, said)
    ]


def _tied(question: Question) -> tuple[Tied | None, str]:
    """What a question is about, and which."""
    about: dict[Tied, str | None] = {"step": question.step, "piece": question.piece, "sheet": question.sheet}
    return next(((name, which) for name, which in about.items() if which), (None, ""))


def computed(worked: Worked, what: str, cards: int | None = None, design: str = "") -> str:
    """The answer to a usual question, in a sentence or two.

    Args:
        worked: the kit.
        what: `A4`, `Letter`, `other sheets`, `one sheet`, `other fold` or `more cards`.
        cards: how many, for `more cards`; twice the batch when left out.
        design: of which design, where the answer is one design's.
    """
    answer: dict[str, Callable[[Worked], str]] = {
        "A4": lambda w: _cardstock(w, "A4"),
        "Letter": lambda w: _cardstock(w, "Letter"),
        "other sheets": _other_sheets,
        "one sheet": _one_sheet,
        "other fold": lambda w: _other_fold(w.of(design)),
        "more cards": lambda w: _more(w, cards or w.kit.spec.cards * 2),
    }
    return answer[what](worked)


def _name(worked: Worked, paper: str) -> str:
    return worked.kit.papers[paper].name


def _cardstock(worked: Worked, name: str) -> str:
    said = []
    for plan, other in cardstock_from(worked, name):
        paper = _name(worked, plan.paper)
        if other is None:
            said.append(f"{paper} is {name} already.")
            continue
        told = told_of(worked, other)
        if not other.fits:
            said.append(f"{paper} from {name} {told}.")
        else:
            said.append(f"{paper} from {name}: {'; '.join(filter(None, [told.amount + _instead(other.sheets, plan), told.why]))}.")
    return " ".join(said)


def _instead(sheets: Fraction, plan: PaperPlan) -> str:
    return ", as before" if sheets == plan.sheets else f" instead of {sheets_text(plan.sheets)}"


def _other_sheets(worked: Worked) -> str:
    alike: dict[str, list[str]] = {}
    for plan in printed(worked):
        told = "; ".join(
            f"{other_text(worked, other)} of {other.name}" if other.fits else f"{other.name} {other_text(worked, other)}"
            for other in other_stock(worked, plan)
        )
        alike.setdefault(told, []).append(_name(worked, plan.paper))
    return " ".join(f"{listed(names)} from other sheets{', for each' if len(names) > 1 else ''}: {told}." for told, names in alike.items())


def _one_sheet(worked: Worked) -> str:
    found = one_sheet(worked)
    of = f"{'one sheet of each of' if len(found.papers) > 1 else 'one sheet of'} {listed([_name(worked, p) for p in found.papers])}"
    if not found.cards:
        return f"No whole card comes out of {of}."
    rest = [f"{sheets_text(sheets)} of {_name(worked, paper)}" for paper, sheets in found.rest]
    return f"{led(of)} makes {number(found.cards, 'card', 'cards')}" + (f", with {listed(rest)}." if rest else ".")


def _other_fold(worked: Worked) -> str:
    if not worked.base.halves:
        return f"No: the {fold_text(worked.base)} makes this card what it is."
    found, unit = other_fold(worked), worked.unit
    size, name = size_text(found.size, unit), _name(worked, found.plan.paper)
    if found.other is None:
        return f"A {found.fold} fold takes a base of {size}, which does not come out of a sheet of {name}."
    how = f"cut the base {size} and score it at {length_text(found.score, unit)} from the {hinge_text(found.fold)}"
    if found.broken:
        return f"Not without another change: {how}, but then {found.broken[0].problem}."
    return f"Yes: {how}. {name}: {sheets_text(found.other.sheets)}{_instead(found.other.sheets, found.plan)}; everything else stays."


def _more(worked: Worked, cards: int) -> str:
    said = [f"{sheets_text(guided_sheets(worked, p, cards))} of {_name(worked, p.paper)}" for p in worked.plans]
    return f"For {number(cards, 'card', 'cards')}: {listed(said)}."
