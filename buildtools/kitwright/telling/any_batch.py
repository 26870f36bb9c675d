"""What a kit's page says of its batch, for every batch from 1 card to 60: the script that follows a reader's numbers picks, and reckons nothing.

A line of the page is named by its hook (`data-n`): the pieces of a label and a paper, a supply, what is cut by a guide.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.cutting.stock import for_cards
from kitwright.telling.kitpage import besides_text, guide_line, sheets_of
from kitwright.telling.supplies import supply_lines
from kitwright.telling.words import led, number
from kitwright.work.batches import MOST, by_guide, counts_of, own_guide, runs
from kitwright.work.supplies import besides_sheets, envelopes_of
from kitwright.work.worked import Worked

Said = dict[str, list[tuple[int, str]]]
"""Hook → texts, each with the last batch that it holds for."""
Lines = dict[str, Callable[[int], str]]
"""Hook → what is said of so many cards."""
COUNTED = ("adhesive", "foam", "shaken")
"""Supplies that grow with the batch, beside paper and envelopes."""


def any_batch(worked: Worked) -> Said:
    """All lines of a kit's page that follow the number of cards, in the unit in which the kit is told."""
    return worked.once(("any batch", worked.unit), lambda: _any_batch(worked))


def _any_batch(worked: Worked) -> Said:
    lines: Lines = {
        **_pieces(worked),
        **_supplies(worked),
        **{f"guide-{n}": _guide(worked, layout) for n, layout in enumerate(worked.layouts, 1)},
    }
    return {hook: [(last, text) for _, last, text in runs(say(cards) for cards in range(1, MOST + 1))] for hook, say in lines.items()}


def _pieces(worked: Worked) -> Lines:
    def needed(label: str, papers: list[str], cards: int) -> str:
        return str(sum(for_cards(worked.cut(paper).demand, cards, worked.kit.spec.cards).needs[label] for paper in papers))

    found: Lines = {}
    for label in worked.sizes:
        papers = list(worked.counts(label))
        found[f"piece-{label}"] = partial(needed, label, papers)
        found |= {f"piece-{label}-{paper}": partial(needed, label, [paper]) for paper in papers}
    return found


def _supplies(worked: Worked) -> Lines:
    own = worked.kit.spec.cards

    def envelopes(i: int, cards: int) -> str:
        return number(envelopes_of(worked, cards)[i][1], "envelope", "envelopes")

    def line(about: str, cards: int) -> str:
        return next(line.text for line in supply_lines(worked, besides_sheets(worked, cards)) if line.about == about)

    found: Lines = {"besides": lambda cards: led(besides_text(worked, cards))}
    found |= {f"envelopes-{i + 1}": partial(envelopes, i) for i, _ in enumerate(envelopes_of(worked, own))}
    told = [each.about for each in supply_lines(worked, besides_sheets(worked, own))]
    return found | {about: partial(line, about) for about in told if about in COUNTED}


# --- guides --------------------------------------------------------------------------------------

ELSEWHERE = "From {} the pieces lie otherwise than drawn here"
UPRIGHT = "With one-way paper the pieces lie otherwise than drawn here"
OTHERWISE = "{}, cut otherwise than drawn here"
LINK = "Other paper"
"""Behind each of these, to the page that tells of other sheets and batches."""


def _guide(worked: Worked, layout: Layout) -> Callable[[int], str]:
    """What is cut by a guide, or that for so many cards it is not cut so."""

    columns = [(plan.paper, counts_of(worked, plan).sheets) for plan in _cut_by(worked, layout)]
    so = _so(worked, layout)

    def said(cards: int) -> str:
        if cards == worked.kit.spec.cards:
            return guide_line(worked, layout)
        amounts = [(paper, sheets[cards - 1]) for paper, sheets in columns]
        return guide_line(worked, layout, amounts) if so(cards) else OTHERWISE.format(led(sheets_of(worked, amounts)))

    return said


def as_drawn(worked: Worked, layout: Layout) -> list[tuple[int, bool]]:
    """For which batches all of a paper is cut by this guide: each answer with the last batch that it holds for."""
    return [(last, so) for _, last, so in runs(map(_so(worked, layout), range(1, MOST + 1)))]


def _cut_by(worked: Worked, layout: Layout) -> list[PaperPlan]:
    return [plan for plan in worked.plans if any(run.layout == layout for run in plan.runs)]


def _so(worked: Worked, layout: Layout) -> Callable[[int], bool]:
    """Whether so many cards are counted by this guide, or take as few sheets by it as by any."""
    others = [plan for plan in _cut_by(worked, layout) if not own_guide(plan)]
    if any(len(plan.runs) > 1 for plan in others):
        return lambda cards: False
    count, own = by_guide(layout), worked.kit.spec.cards
    fewest = [(plan.demand, counts_of(worked, plan).sheets) for plan in others]
    return lambda cards: all(count(for_cards(demand, cards, own).needs) == sheets[cards - 1] for demand, sheets in fewest)


def guide_room(worked: Worked, n: int) -> str:
    """The longest that can be said of the n-th guide, so that it has its room from the start."""
    names = [name for kind in ("patterned", "cardstock") for name in getattr(sheet_choices(worked), kind)]
    said, so = any_batch(worked)[f"guide-{n}"], as_drawn(worked, worked.layouts[n - 1])
    drawn = [text for last, text in said if next(so for until, so in so if last <= until)]
    return max(
        [
            *drawn,
            *(f"{text} {LINK}" for text in (UPRIGHT, *(text for _, text in said if text not in drawn), *map(ELSEWHERE.format, names))),
        ],
        key=len,
    )


# --- sheets to choose from --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Choices:
    """From which other sheets a kit can be asked for; by name, as they are sold."""

    patterned: tuple[str, ...]
    cardstock: tuple[str, ...]
    one_way: bool
    """Whether it makes a difference that a paper has an up."""


def sheet_choices(worked: Worked) -> Choices:
    """The usual sheets of the patterned papers and of the cardstock, but one that all of them are already."""
    papers = worked.kit.papers

    def sold(plans: list[PaperPlan]) -> tuple[str, ...]:
        own = {plan.demand.sheet for plan in plans}
        return tuple(name for name, sheet in papers[plans[0].paper].material.sold if own != {sheet}) if plans else ()

    printed = [plan for plan in worked.plans if papers[plan.paper].material.printed]
    cardstock = [plan for plan in worked.plans if papers[plan.paper].kind == "cardstock"]
    one_way = any(set(plan.demand.needs) > set(plan.demand.lies) for plan in printed)
    return Choices(sold(printed), sold(cardstock), one_way)
