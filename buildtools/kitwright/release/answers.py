"""Readers' questions with their answers; those that are arithmetic are computed, never typed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import PaperPlan
from kitwright.cutting.stock import CARDSTOCK, from_sheet
from kitwright.errors import Slips, UserError
from kitwright.kit.model import Question
from kitwright.kit.names import BASE
from kitwright.otherwise.arrangements.changing import refolded
from kitwright.otherwise.changed import new_findings, remade
from kitwright.otherwise.planned import other_stock
from kitwright.telling.questions import other_text, told_of
from kitwright.telling.words import listed, number, sheets_text
from kitwright.units import Size, length_text, size_text
from kitwright.work.batches import counts_of, from_one_sheet, guided_sheets
from kitwright.work.cite import cited
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Answered:
    """A question as a page shows it."""

    ask: str
    answer: str
    """Plain text; Markdown where the author wrote some."""
    computed: bool
    tied: Literal["step", "piece", "sheet"] | None
    """What it is tied to, if anything."""
    to: str = ""
    """The stage, the label, or the paper's key."""


def answers(worked: Worked) -> list[Answered]:
    """Every question of a kit, in its order.

    Raises:
        UserError: every citation, piece or paper that does not exist, with file and line.
    """
    said = read_answers(worked)
    return [
        Answered(q.ask, computed(worked, q.computed, q.cards) if q.computed else words, bool(q.computed), *_tied(q))
        for q, words in zip(worked.kit.spec.questions, said)
    ]


def read_answers(worked: Worked) -> list[str]:
    """The author's own answers with their citations filled in, empty for those that are worked out; nothing is worked out here.

    Raises:
        UserError: as `answers`.
    """
    slips = Slips()
    found = [slips.trying(_read, worked, i, q) for i, q in enumerate(worked.kit.spec.questions)]
    slips.stop()
    return found


def _read(worked: Worked, i: int, question: Question) -> str:
    kit = worked.kit
    if question.piece and question.piece not in worked.sizes:
        raise UserError(
            f"there is no piece {question.piece} in this kit", f"known here: {', '.join(worked.sizes)}", kit.place("questions", i, "piece")
        )
    if question.sheet and worked.plan(question.sheet) is None:
        raise UserError(
            f"this kit does not use a paper {question.sheet}",
            f"its papers: {', '.join(p.paper for p in worked.plans)}",
            kit.place("questions", i, "sheet"),
        )
    return "" if question.computed else cited(worked, question.answer, lambda _: kit.place("questions", i, "answer"))


def _tied(question: Question) -> tuple[Literal["step", "piece", "sheet"] | None, str]:
    """What a question is about, and which."""
    for name in ("step", "piece", "sheet"):
        if getattr(question, name):
            return name, getattr(question, name)
    return None, ""


def computed(worked: Worked, what: str, cards: int | None = None) -> str:
    """The answer to a usual question, in a sentence or two.

    Args:
        worked: the kit.
        what: `A4`, `Letter`, `other sheets`, `one sheet`, `other fold` or `more cards`.
        cards: how many, for `more cards`; twice the batch when left out.
    """
    if what in ("A4", "Letter"):
        return _cardstock(worked, what)
    return (
        {"other sheets": _other_sheets, "one sheet": _one_sheet, "other fold": _other_fold}[what](worked)
        if what != "more cards"
        else _more(worked, cards or worked.kit.spec.cards * 2)
    )


def _of_kind(worked: Worked, kind: str) -> list[PaperPlan]:
    return [p for p in worked.plans if worked.kit.papers[p.paper].kind == kind]


def _cardstock(worked: Worked, name: str) -> str:
    sheet, said = dict(CARDSTOCK)[name], []
    for plan in _of_kind(worked, "cardstock"):
        paper = worked.kit.papers[plan.paper].name
        if plan.demand.sheet in (sheet, sheet.turned):
            said.append(f"{paper} is {name} already.")
            continue
        other = from_sheet(plan.demand, name, sheet, plan_paper)
        told = told_of(worked, other)
        said.append(
            f"{paper} from {name}: {'; '.join(filter(None, [told.amount + _instead(other.plan, plan), told.why]))}."
            if other.plan
            else f"{paper} from {name} {told}."
        )
    return " ".join(said)


def _instead(other: PaperPlan, plan: PaperPlan) -> str:
    return ", as before" if other.sheets == plan.sheets else f" instead of {sheets_text(plan.sheets)}"


def _other_sheets(worked: Worked) -> str:
    alike: dict[str, list[str]] = {}
    for plan in _of_kind(worked, "patterned"):
        told = "; ".join(
            f"{other_text(worked, other)} of {other.name}" if other.plan else f"{other.name} {other_text(worked, other)}"
            for other in other_stock(worked, plan)
        )
        alike.setdefault(told, []).append(worked.kit.papers[plan.paper].name)
    return " ".join(f"{listed(names)} from other sheets{', for each' if len(names) > 1 else ''}: {told}." for told, names in alike.items())


def _one_sheet(worked: Worked) -> str:
    plans = _of_kind(worked, "patterned") or list(worked.plans)
    most = min(from_one_sheet(counts_of(worked, p).sheets) for p in plans)
    names = listed([worked.kit.papers[p.paper].name for p in plans])
    each = "one sheet of each of " if len(plans) > 1 else "one sheet of "
    if not most:
        return f"No whole card comes out of {each}{names}."
    rest = [f"{sheets_text(guided_sheets(worked, p, most))} of {worked.kit.papers[p.paper].name}" for p in worked.plans if p not in plans]
    return f"{each.capitalize()}{names} makes {number(most, 'card', 'cards')}" + (f", with {listed(rest)}." if rest else ".")


def _other_fold(worked: Worked) -> str:
    base, unit = worked.base, worked.kit.spec.unit
    finished = base.front
    fold = "top" if base.fold == "side" else "side"
    size = Size(finished.width, finished.height * 2) if fold == "top" else Size(finished.width * 2, finished.height)
    score = finished.height if fold == "top" else finished.width
    plan = worked.plan(worked.kit.spec.card.base.paper)
    demand = replace(plan.demand, sizes={**plan.demand.sizes, BASE: size}, given=None)
    other = from_sheet(demand, worked.kit.papers[plan.paper].name, plan.demand.sheet, plan_paper)
    name = worked.kit.papers[plan.paper].name
    if other.plan is None:
        return f"A {fold} fold takes a base of {size_text(size, unit)}, which does not come out of a sheet of {name}."
    how = f"cut the base {size_text(size, unit)} and score it at {length_text(score, unit)} from the {'top' if fold == 'top' else 'left'}"
    broken = new_findings(worked, remade(worked, refolded(worked.kit.spec, finished, fold)))
    if broken:
        return f"Not without another change: {how}, but then {broken[0].problem}."
    return f"Yes: {how}. {name}: {sheets_text(other.plan.sheets)}{_instead(other.plan, plan)}; everything else stays."


def _more(worked: Worked, cards: int) -> str:
    said = [f"{sheets_text(guided_sheets(worked, p, cards))} of {worked.kit.papers[p.paper].name}" for p in worked.plans]
    return f"For {number(cards, 'card', 'cards')}: {listed(said)}."
