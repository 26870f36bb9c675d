"""Facts of the card on the first side: the batch, the finished card, its base, its envelope; in both units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Prose, Side, high
from kitwright.printable.job import Job
from kitwright.printable.tables import ON_SHEET, Cell, Column, Row, Table, TableType
from kitwright.printable.typeset import BOLD, SHEET_CELL, SHEET_NOTE, SHEET_STRONG, Style
from kitwright.telling.folds import fold_text
from kitwright.telling.goes import design_text
from kitwright.telling.post import overall_text
from kitwright.telling.printed import BATCH, CARD_BASE, CARDS, DESIGN, ENVELOPE, FINISHED_CARD, base_text, looks_text, scored_both_text
from kitwright.telling.words import number
from kitwright.units import size_text

NAME = Style(BOLD, 9, 11.6, "second", before=6)


@dataclass(frozen=True)
class Fact:
    """One of them."""

    name: str
    lines: tuple[str, ...]
    """What it is, the first line a little larger than the rest."""

    @property
    def blocks(self) -> list[Flowable]:
        first, *more = self.lines
        return [Prose(self.name, NAME), Prose(first, SHEET_CELL), *(Prose(line, SHEET_NOTE) for line in more)]


def facts(job: Job, looks: bool) -> list[Fact]:
    """Of the kit; of several designs one each, what is alike said once.

    Args:
        job: the printable.
        looks: whether to tell how many cards there are of each look.
    """
    if len(job.designs) > 1:
        return [_whole(design, looks) for design in job.designs]
    batch = number(job.worked.kit.spec.cards, "card", "cards")
    found = [Fact(BATCH, (batch, *_looks(job, looks))), Fact(FINISHED_CARD, _finished(job)), Fact(CARD_BASE, _base(job))]
    return found + ([Fact(ENVELOPE, envelope)] if (envelope := _envelope(job)) else [])


def _whole(design: Job, looks: bool) -> Fact:
    """All of one design."""
    (size, *other), (base, other_base, *scored), envelope = _finished(design), _base(design), _envelope(design)
    lines = (
        ", ".join((size, *other)),
        ", ".join((base_text(base), other_base, *scored)),
        ", ".join(envelope),
        ", ".join(_looks(design, looks)),
    )
    return Fact(design_text(design.worked), tuple(filter(None, lines)))


def _looks(job: Job, wanted: bool) -> tuple[str, ...]:
    return tuple(looks_text(look.cards, look.name) for look in job.worked.faces) if wanted and len(job.worked.faces) > 1 else ()


def _finished(job: Job) -> tuple[str, ...]:
    base, (one, two) = job.worked.base, job.units
    fold = (fold_text(base),) if base.scored.scores else ()
    overall = [", ".join((overall_text(job.worked, one), size_text(job.worked.enclosed.size, two)))] * job.worked.enclosed.overhangs
    return size_text(base.finished, one), ", ".join((size_text(base.finished, two), *fold)), *overall


def _base(job: Job) -> tuple[str, ...]:
    base, (one, two) = job.worked.base, job.units
    scored = (scored_both_text(base, one),) if base.scored.scores else ()
    return size_text(base.cut, one), size_text(base.cut, two), *scored


def _envelope(job: Job) -> tuple[str, ...]:
    envelope, (one, two) = job.worked.kit.spec.card.envelope, job.units
    if not envelope:
        return ()
    size, other = size_text(envelope.size, one), size_text(envelope.size, two)
    return (envelope.name, f"{size}, {other}") if envelope.name else (size, other)


def facts_table(job: Job) -> Table:
    """Facts of three designs and more, a row for each."""
    type_ = TableType(SHEET_CELL, SHEET_NOTE, ON_SHEET.head, 1)
    rows = []
    for design in job.designs:
        worked = design.worked
        (size, *other), (cut, other_cut, *scored), envelope = _finished(design), _base(design), _envelope(design) or ("",)
        counts = (", ".join(_looks(design, True)),) if len(worked.faces) > 1 else ()
        rows.append(
            Row(
                (
                    Cell(worked.kit.design, SHEET_STRONG, notes=counts),
                    Cell(str(worked.kit.spec.cards), SHEET_STRONG),
                    Cell(size, notes=tuple(other), style=SHEET_CELL),
                    Cell(", ".join((cut, other_cut)), notes=tuple(scored), style=SHEET_CELL),
                    Cell(envelope[0], notes=envelope[1:], style=SHEET_CELL),
                )
            )
        )
    columns = [Column(DESIGN), Column(CARDS, "figure"), Column(FINISHED_CARD), Column(CARD_BASE, weight=1.6), Column(ENVELOPE)]
    return Table(columns, rows, job.level, gap=10, before=0, after=0, type_=type_)


def in_columns(found: Sequence[Fact], columns: int, width: float, gap: float, full: float) -> Side:
    """Facts in so many columns, each in the shortest one so far, so that they end level."""
    each = (width - (columns - 1) * gap) / columns
    stacks: list[list[Flowable]] = [[] for _ in range(columns)]
    for fact in found:
        min(stacks, key=lambda blocks: high(blocks, each)).extend(fact.blocks)
    return Side(stacks, [each] * columns, gap, full, after=0)
