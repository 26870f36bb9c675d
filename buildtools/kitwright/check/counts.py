"""Counts on an author's guide: another number on one line, or on two, and the batch would take a sheet less."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations
from math import ceil
from typing import Any

from kitwright.cutting.guide import NUMBERS, Reader
from kitwright.cutting.plan import HALF, Layout, PaperPlan, made_by, sheets_for, turned_wrongly
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.kit.names import Path
from kitwright.work.worked import Worked, halves_of

MOST_MORE = 6
"""How far off a count is looked for."""
MOST_LINES, MOST_PIECES = 12, 200
"""Lines and pieces of one guide that are tried; a longer guide is left alone, so that the tries stay few."""
_COUNT = re.compile(r"^\s*(\d{1,3}|[A-Za-z]+)(?=\s+(?:strips?|columns?|rows?|panels?|pieces?)\b)")


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of a guide that says how many."""

    path: Path
    """Where it stands in the list of cuts; a line with something after it is a key of its own."""
    count: int


def find(worked: Worked) -> Iterator[Finding]:
    """Guides that take more sheets than they would with a count put right."""
    for layout in worked.layouts:
        if layout.guide is not None:
            yield from _of_guide(worked, layout, layout.guide)


def _of_guide(worked: Worked, layout: Layout, index: int) -> Iterator[Finding]:
    kit, guide = worked.kit, worked.kit.spec.guides[index]
    plans = [plan for plan in map(worked.plan, guide.papers) if plan and _its_own(plan)]
    if len(plans) != len(guide.papers):
        return
    short = any(plan.short for plan in plans)
    if guide.sheets is not None and not short:
        # So many sheets are said, and so they are meant.
        return
    now, lines = max(plan.sheets for plan in plans), list(_lines(guide.cuts or []))
    if len(lines) > MOST_LINES or sum(layout.yields.values()) > MOST_PIECES or (not short and now <= max(map(_least, plans))):
        return
    found = _better(worked, index, plans, lines, now if not short else (guide.sheets or now) + HALF)
    if found is not None:
        edits, then = found
        (line, count), *others = edits
        yield Finding(
            "warning",
            kit.place("guides", index, "cuts", *line.path),
            "counts.fewer-sheets",
            papers=tuple(kit.papers[plan.paper].name for plan in plans),
            have=line.count,
            write=count,
            others=tuple((kit.place("guides", index, "cuts", *other.path).line, other.count, new) for other, new in others),
            sheets=now,
            then=then,
            short=short,
        )


def _least(plan: PaperPlan) -> Fraction:
    """Sheets, whole and half, that the area of the pieces alone takes."""
    return Fraction(ceil(plan.demand.area / plan.demand.sheet.area * 2), 2)


def _better(
    worked: Worked, guide: int, plans: list[PaperPlan], lines: list[_Line], below: Fraction
) -> tuple[list[tuple[_Line, int]], Fraction] | None:
    """The likeliest edit that takes fewest sheets, fewer than so many."""
    for edits in (_likely(lines), _given(lines)):
        tried = [
            (then, i, edit) for i, edit in enumerate(edits) if (then := _sheets(worked, guide, plans, edit)) is not None and then < below
        ]
        if tried:
            then, _, edit = min(tried, key=lambda t: t[:2])
            return edit, then
    return None


def _its_own(plan: PaperPlan) -> bool:
    """Whether a paper is cut by one guide, and by nothing else."""
    return len(plan.runs) == 1


def _lines(entries: list[Any], path: Path = ()) -> Iterator[_Line]:
    for i, entry in enumerate(entries):
        text, inside, here = entry, None, (*path, i)
        if isinstance(entry, dict):
            ((text, inside),) = entry.items()
            here = (*here, text)
        if match := _COUNT.match(text):
            word = match[1].casefold()
            yield _Line(here, int(word) if word.isdigit() else NUMBERS.get(word, 0))
        if isinstance(inside, list):
            yield from _lines(inside, here)


def _likely(lines: list[_Line]) -> Iterator[list[tuple[_Line, int]]]:
    """Counts to try: one line by a little, or two lines swapped."""
    for more in range(1, MOST_MORE + 1):
        yield from ([(line, line.count + more)] for line in lines)
    for one, other in permutations(lines, 2):
        if one.count < other.count and not _within(one, other):
            yield [(one, other.count), (other, one.count)]


def _given(lines: list[_Line]) -> Iterator[list[tuple[_Line, int]]]:
    """Counts to try next: one or two pieces given from one line to another."""
    for more in (1, 2):
        for one, other in permutations(lines, 2):
            if other.count > more and not _within(one, other):
                yield [(one, one.count + more), (other, other.count - more)]


def _within(one: _Line, other: _Line) -> bool:
    """Whether one of two lines stands under the other."""
    n = min(len(one.path), len(other.path))
    return one.path[:n] == other.path[:n]


def _sheets(worked: Worked, guide: int, plans: list[PaperPlan], edits: list[tuple[_Line, int]]) -> Fraction | None:
    """The sheets of each paper that the batch takes with these counts; None where it can't be cut so."""
    cuts = _rewritten(worked.kit.spec.guides[guide].cuts or [], {line.path: count for line, count in edits})
    reader = Reader(worked.sizes, worked.kit.spec.unit, lambda *_: worked.kit.place("guides", guide), halves_of(worked.kit))
    try:
        tree = reader.read(cuts, plans[0].demand.sheet)
    except UserError:
        return None
    most = Fraction(0)
    for plan in plans:
        sheets = sheets_for(tree, plan.demand.needs)
        if reader.odd or sheets is None or turned_wrongly(Layout("", (plan.paper,), tree, "author"), plan.demand):
            return None
        made = made_by(tree, sheets, plan.demand.needs)
        if any(made.get(label, 0) < n for label, n in plan.demand.needs.items()):
            return None
        most = max(most, sheets)
    return most


def _rewritten(entries: list[Any], counts: dict[Path, int], path: Path = ()) -> list[Any]:
    """The cuts with other numbers on some lines."""
    found: list[Any] = []
    for i, entry in enumerate(entries):
        text, inside, here = entry, None, (*path, i)
        if isinstance(entry, dict):
            ((text, inside),) = entry.items()
            here = (*here, text)
        new = _COUNT.sub(str(counts[here]), text) if here in counts else text
        if isinstance(inside, list):
            inside = _rewritten(inside, counts, here)
        found.append({new: inside} if isinstance(entry, dict) else new)
    return found
