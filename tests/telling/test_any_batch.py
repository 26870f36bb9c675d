"""What a kit's page says for any number of cards: the same as for a kit of so many, and as the counts that stand elsewhere."""

from __future__ import annotations

import pytest
from demo import OWN, worked
from kitwright.cutting.stock import for_cards
from kitwright.telling.any_batch import OTHERWISE, any_batch, as_drawn, guide_room, sheet_choices
from kitwright.telling.kitpage import besides_text, guide_line
from kitwright.telling.supplies import supply_lines
from kitwright.work.batches import MOST, counts_of
from kitwright.work.supplies import supplies
from kitwright.work.worked import Worked

KITS = [kit.id for kit in OWN][:3]


def picked(worked: Worked, hook: str, cards: int) -> str:
    return next(text for last, text in any_batch(worked)[hook] if cards <= last)


@pytest.mark.parametrize("kit_id", KITS)
def test_of_the_kits_own_number_the_page_says_what_it_says(kit_id: str):
    kit = worked(kit_id)
    own = kit.kit.spec.cards
    for label in kit.sizes:
        assert picked(kit, f"piece-{label}", own) == str(sum(kit.counts(label).values()))
    assert picked(kit, "besides", own).casefold() == besides_text(kit).casefold()
    for n, layout in enumerate(kit.layouts, 1):
        assert picked(kit, f"guide-{n}", own) == guide_line(kit, layout)
    told = {line.about: line.text for line in supply_lines(kit, supplies(kit))}
    assert all(picked(kit, about, own) == told[about] for about in ("adhesive", "foam", "shaken") if about in told)


@pytest.mark.parametrize("kit_id", KITS)
def test_of_another_number_pieces_and_guides_follow(kit_id: str):
    kit = worked(kit_id)
    own = kit.kit.spec.cards
    for cards in {1, own + 1, MOST} - {own}:
        for label in kit.sizes:
            needed = sum(for_cards(plan.demand, cards, own).needs.get(label, 0) for plan in kit.plans)
            assert picked(kit, f"piece-{label}", cards) == str(needed)
        for n, layout in enumerate(kit.layouts, 1):
            amounts = [(plan.paper, counts_of(kit, plan).sheets[cards - 1]) for plan in kit.plans if plan.paper in layout.papers]
            so = next(so for last, so in as_drawn(kit, layout) if cards <= last)
            assert (picked(kit, f"guide-{n}", cards) == guide_line(kit, layout, amounts)) is so
            assert so or picked(kit, f"guide-{n}", cards).endswith(OTHERWISE.removeprefix("{}"))
    for n in range(1, len(kit.layouts) + 1):
        assert len(guide_room(kit, n)) >= max(len(text) for _, text in any_batch(kit)[f"guide-{n}"]), "it has its room from the start"


def test_a_sheet_that_all_papers_are_already_is_no_choice():
    for kit_id in KITS:
        kit, choices = worked(kit_id), sheet_choices(worked(kit_id))
        papers = {plan.paper: kit.kit.papers[plan.paper] for plan in kit.plans}
        own = {
            name
            for paper in papers.values()
            for name, size in paper.material.sold
            if {p.size.size for p in papers.values() if p.kind == paper.kind} == {size}
        }
        assert not own & {*choices.patterned, *choices.cardstock}
        assert {"A4", "Letter"} & {*choices.cardstock, *own} if any(paper.kind == "cardstock" for paper in papers.values()) else True
