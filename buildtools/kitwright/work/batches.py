"""Sheets for any number of cards, as a kit's own guides and the planner count them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import groupby
from typing import TypeVar

from kitwright import cache
from kitwright.cutting import yields
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand, Layout, PaperPlan, counting
from kitwright.cutting.stock import for_cards
from kitwright.units import Size
from kitwright.work.worked import Counts, Tables, Worked

T = TypeVar("T")

MOST = yields.MOST
"""Cards; the batches that the table answers for."""


def guided_sheets(worked: Worked, plan: PaperPlan, cards: int) -> Fraction:
    """Sheets of a paper for a number of cards, cut by this kit's own guides.

    A layout gives what it gives: labels are counted up on the layouts that carry them.
    Where the kit leaves a paper to `auto`, or cuts it by several guides, it is planned anew for
    the number of cards; as many cards as the kit's own never take fewer sheets than its guides.
    """
    guide = own_guide(plan)
    if guide is None and cards <= MOST and cards != worked.kit.spec.cards:
        # One search answers for every batch; asked for each by itself, an absurd kit would cost sixty.
        return counts_of(worked, plan).sheets[cards - 1]
    demand = for_cards(plan.demand, cards, worked.kit.spec.cards)
    if guide is None:
        return _at_least(plan, cards >= worked.kit.spec.cards, plan_paper(demand, plan.paper).sheets)
    return by_guide(guide)(demand.needs)


def by_guide(guide: Layout) -> Callable[[Mapping[str, int]], Fraction]:
    """Counts sheets of a guide."""
    if not is_half(guide):
        count = counting(guide.tree)
        return lambda needs: count(needs) or Fraction(0)
    # The guide is drawn for half a sheet; the other half is cut the same way.
    given = guide.yields
    return lambda needs: Fraction(max((-(-n // given[label]) for label, n in needs.items() if n), default=0), 2)


def _at_least(plan: PaperPlan, whole: bool, sheets: Fraction) -> Fraction:
    """Sheets of a batch as readers are told them: never fewer than an author's several guides take for her own.

    That a plan beats them is for her to know (`comparisons`), and would contradict her page.
    """
    by_author = any(run.layout.source == "author" for run in plan.runs)
    return max(sheets, plan.sheets) if whole and by_author else sheets


def own_guide(plan: PaperPlan) -> Layout | None:
    """The author's guide by which a paper is counted for any batch; None where the planner counts anew."""
    layouts = [run.layout for run in plan.runs]
    return layouts[0] if len(layouts) == 1 and layouts[0].source == "author" else None


def is_half(layout: Layout) -> bool:
    """Whether a layout leaves one half of its sheet whole."""
    return any(rest.size in halves_of(layout.sheet) for rest in layout.leftovers)


def halves_of(sheet: Size) -> tuple[Size, Size]:
    return Size(sheet.width, sheet.height / 2), Size(sheet.width / 2, sheet.height)


def batches(worked: Worked, upto: int = MOST) -> list[tuple[int, dict[str, Fraction]]]:
    """Sheets of each paper for every batch from 1 card to `upto`."""
    columns = {plan.paper: counts for plans in alike(worked) for counts in [counts_of(worked, plans[0], upto).sheets] for plan in plans}
    return [(cards, {plan.paper: columns[plan.paper][cards - 1] for plan in worked.plans}) for cards in range(1, upto + 1)]


def counts_of(worked: Worked, plan: PaperPlan, upto: int = MOST) -> Counts:
    """Sheets of one paper for every batch from 1 card to `upto`, as `guided_sheets` counts them."""
    wanted, own = plan.demand, worked.kit.spec.cards
    if guide := own_guide(plan):
        count = by_guide(guide)
        return Counts(tuple(count(for_cards(wanted, cards, own).needs) for cards in range(1, upto + 1)), None)
    kept = _kept(worked, plan)
    found = kept if kept is not None and len(kept.sheets) == upto else _planned(worked, plan, upto)
    told = tuple(_at_least(plan, cards >= own, n) for cards, n in enumerate(found.sheets, 1))
    return Counts(told, found.proved and told == found.sheets)


def tables_of(worked: Worked) -> Tables:
    """What the planner counts for every batch up to `MOST`, for a revision to keep."""
    kept = (_kept(worked, plan) for plan in worked.plans)
    counts = (None if own_guide(plan) else table or _planned(worked, plan, MOST) for plan, table in zip(worked.plans, kept))
    return Tables(worked.kit.spec.cards, tuple(counts))


def _kept(worked: Worked, plan: PaperPlan) -> Counts | None:
    """What a revision kept of the planner's counts for a paper, if that was for the same batch."""
    tables = worked.tables
    if tables is None or tables.cards != worked.kit.spec.cards:
        return None
    return next((table for of, table in zip(worked.plans, tables.counts) if of == plan), None)


def _planned(worked: Worked, plan: PaperPlan, upto: int) -> Counts:
    wanted = plan.demand
    lies, halves = tuple(sorted(wanted.lies.items())), tuple(sorted(wanted.halves.items()))
    return _fewest(wanted.sheet, tuple(wanted.needs.items()), tuple(wanted.sizes.items()), lies, halves, worked.kit.spec.cards, upto)


@lru_cache(maxsize=256)
def _fewest(sheet, needs, sizes, lies, halves, of: int, upto: int) -> Counts:
    demand = Demand("paper", sheet, dict(needs), dict(sizes), dict(lies), halves=dict(halves))

    def counted() -> Counts:
        # Loaded late: what was counted before needs no solver.
        from kitwright.cutting.batch.table import sheets_table

        table = sheets_table(lambda cards: for_cards(demand, cards, of), upto)
        return Counts(tuple(row.sheets for row in table), all(row.proved for row in table))

    return cache.value("batches", cache.digest(demand, of, upto), counted)


def alike(worked: Worked) -> list[list[PaperPlan]]:
    """Papers that are cut alike, sheet for sheet, together: whatever is asked of one is answered for all."""
    groups: dict[tuple, list[PaperPlan]] = {}
    for plan in worked.plans:
        asked_of = plan.demand
        key = (
            worked.kit.papers[plan.paper].kind,
            asked_of.sheet,
            tuple(asked_of.needs.items()),
            tuple(asked_of.sizes.items()),
            tuple(sorted(asked_of.lies.items())),
            tuple((run.layout.tree, run.layout.source, run.sheets) for run in plan.runs),
        )
        groups.setdefault(key, []).append(plan)
    return list(groups.values())


def from_one_sheet(counts: Iterable[Fraction]) -> int:
    """The largest batch that one sheet of a paper gives, up to as many cards as were counted."""
    return max((cards for cards, sheets in enumerate(counts, 1) if sheets <= 1), default=0)


PERIOD, STEPS = 24, 8
"""Cards up to which a rule that repeats is looked for, and steps up to which it is short enough to be told."""
SOME = (1, 2, 3, 4, 6, 8, 10, 12, 15, 20, 24, 30, 40, 50, 60)
"""Batches told where no short rule holds."""

Steps = tuple[tuple[int, int, Fraction], ...]
"""First card, last card, and the sheets that all batches between them take."""


@dataclass(frozen=True, slots=True)
class Rule:
    """How many sheets for how many cards, as a rule that is easily kept."""

    period: int
    """Cards after which it repeats; 0 where it does not."""
    each: Fraction | None
    """Sheets for each period, where it is as simple as that; then there are no steps."""
    steps: Steps
    """Of the first period; of some batches where it does not repeat, or in too many steps."""
    more: Fraction | None
    """Sheets for each further period; None where the steps are only some of the batches."""


def rule_of(counts: Sequence[Fraction]) -> Rule:
    """The rule that holds for the sheets of every batch from 1 card upwards."""
    # A rise of nothing is no rule: it would promise the same for any number of cards.
    period = next((p for p in range(1, PERIOD + 1) if len(rises := {b - a for a, b in zip(counts, counts[p:])}) == 1 and rises != {0}), 0)
    if period and len(set(counts[:period])) == 1 and counts[period] == 2 * counts[0]:
        return Rule(period, counts[0], (), None)
    steps = tuple(runs(counts[:period]))
    if period and len(steps) <= STEPS:
        return Rule(period, None, steps, counts[period] - counts[0])
    return Rule(0, None, tuple((n, n, counts[n - 1]) for n in SOME), None)


def runs(values: Iterable[T]) -> list[tuple[int, int, T]]:
    """First place, last place, counted from 1, and what is equal between them."""
    found, at = [], 1
    for value, same in groupby(values):
        length = len(list(same))
        found.append((at, at + length - 1, value))
        at += length
    return found
