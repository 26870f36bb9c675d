"""Her numbers on a kit's page, in a real browser: the tables' own values, nothing moves, kept and shared; and the buying list."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import DESKTOP
from kitwright import api
from kitwright.archive.gather import Archive
from kitwright.cutting.yields import Yields
from kitwright.otherwise.yields import GroupYields, yields_of
from kitwright.telling.any_batch import sheet_choices
from kitwright.work.worked import Worked
from playwright.sync_api import Page

SMALL = {"width": 390, "height": 844}
NUMBER = """() => [...document.querySelectorAll('.kw-kit *')].filter(e => e.getClientRects().length && !e.closest('.kw-jump, .kw-numbers'))
    .forEach((e, i) => { e.dataset.place = i })"""
PLACES = """() => [...document.querySelectorAll('[data-place]')].filter(e => e.getClientRects().length)
    .map(e => [e.dataset.place, e.getBoundingClientRect().top + scrollY])"""


@pytest.fixture(scope="module")
def kit(archive: Archive, site: Path) -> Worked:
    """A kit with patterned papers and cardstock, whose cardstock fits A4."""

    def serves(entry: object) -> bool:
        if not isinstance(entry, Worked) or not (site / page_of(entry)).is_file():
            return False
        choices = sheet_choices(entry)
        if len(entry.designs) > 1 or not choices.patterned or "A4" not in choices.cardstock or not entry.kit.spec.card.envelope:
            return False
        return all(on(group, "A4") for group in yields_of(entry).groups if group.kind == "cardstock")

    return next(entry for entry in archive.entries if serves(entry))


def page_of(kit: Worked) -> str:
    return f"kits/{kit.kit.id}/index.html"


def on(group: GroupYields, sheet: str) -> Yields | None:
    return next((one.drawn for one in group.sheets if one.name == sheet), None)


def sheets(text: str) -> Fraction:
    if text.startswith("half a sheet"):
        return Fraction(1, 2)
    number = text.split()[0]
    return Fraction(number.rstrip("½") or 0) + (Fraction(1, 2) if number.endswith("½") else 0)


def shown(page: Page) -> dict[str, Fraction]:
    """Sheets as they stand on the page, by paper."""
    return {
        row.get_attribute("data-paper"): sheets(row.locator("[data-sheets]").inner_text()) for row in page.locator("[data-paper]").all()
    }


def settled(page: Page, **wanted: object) -> None:
    page.wait_for_function(
        "wanted => { const told = JSON.parse(document.querySelector('[data-numbers]').dataset.told || '{}'); return Object.entries(wanted).every(([name, value]) => told[name] === value) }",
        arg=wanted,
    )


def as_tables_say(kit: Worked, cards: int, cardstock: str = "") -> dict[str, Fraction]:
    found = {}
    for group in yields_of(kit).groups:
        table = on(group, cardstock) if cardstock and group.kind == "cardstock" else group.sheets[0].drawn
        assert table is not None
        found |= dict.fromkeys(group.papers, table.sheets(cards))
    return found


@pytest.mark.browser
@pytest.mark.parametrize("way", ["http", "folder"])
def test_numbers_are_those_of_the_tables_and_nothing_moves(reader, site: Path, address: str, kit: Worked, way: str):
    one, own = reader(SMALL), kit.kit.spec.cards
    start = address + page_of(kit) if way == "http" else (site / page_of(kit)).as_uri()
    page = one.open(start, whole=False)
    assert shown(page) == {plan.paper: plan.sheets for plan in kit.plans}
    before = page.locator(".kw-part").all_inner_texts()
    page.evaluate(NUMBER)
    places = dict(page.evaluate(PLACES))
    box = page.get_by_label("Cards", exact=True)
    for cards in (own + 1, 1, 20, 60):
        box.fill(str(cards))
        settled(page, cards=cards)
        assert shown(page) == as_tables_say(kit, cards)
    box.fill("20")
    page.get_by_label("Cardstock sheets").select_option("a4")
    settled(page, cards=20, cardstock="a4")
    assert shown(page) == as_tables_say(kit, 20, "A4")
    # The planner at the terminal finds as few wherever the tables are proved.
    stock = {
        paper: "A4" for group in yields_of(kit).groups for paper in group.papers if group.kind == "cardstock" and on(group, "A4").proved
    }
    for report in api.plan(kit, cards=20, papers=stock):
        if report.demand.paper in stock:
            assert report.plan is not None and report.plan.sheets == shown(page)[report.demand.paper]
    for label in kit.sizes:
        needed = sum(-(-n * 20 // own) for n in kit.counts(label).values())
        assert page.locator(f'[data-n="piece-{label}"]').inner_text() == str(needed)
    now = dict(page.evaluate(PLACES))
    assert [place for place, top in places.items() if place in now and abs(now[place] - top) > 1] == []
    # Typed wrong, it says so and stands as it was.
    for typed in ("0", "61", "2.5", "many", ""):
        box.fill(typed)
        assert "60" in page.locator("[data-numbers] [role=status]").first.inner_text() and shown(page) == as_tables_say(kit, 20, "A4")
    # Kept for the next time, and all of it taken back.
    page.goto(start)
    settled(page, cards=20, cardstock="a4")
    assert shown(page) == as_tables_say(kit, 20, "A4")
    page.get_by_role("button", name="As planned").click()
    settled(page, cards=own, cardstock="")
    assert page.locator(".kw-part").all_inner_texts() == before and "?" not in page.url
    page.goto(start)
    assert shown(page) == {plan.paper: plan.sheets for plan in kit.plans} and one.complaints == []


@pytest.mark.browser
def test_an_address_brings_numbers_and_the_list_can_be_copied(reader, address: str, kit: Worked):
    one = reader(DESKTOP)
    one.page.add_init_script(
        "Object.defineProperty(navigator, 'clipboard', {value: {writeText: async text => { if (window.refuse) throw new Error('no'); window.copied = text }}})"
    )
    page = one.open(f"{address}{page_of(kit)}?cards=20&cardstock=a4", whole=False)
    settled(page, cards=20, cardstock="a4")
    assert shown(page) == as_tables_say(kit, 20, "A4")
    page.get_by_role("button", name="Copy list").click()
    page.wait_for_function("() => window.copied")
    lines = page.evaluate("copied").splitlines()
    assert lines[0] == f"{kit.kit.spec.title}, 20 cards" and lines[1] == ""
    said = as_tables_say(kit, 20, "A4")
    for plan in kit.plans:
        paper = kit.kit.papers[plan.paper]
        [line] = [line for line in lines if line.startswith(f"{paper.name}, ")]
        assert sheets(line.rpartition(": ")[2]) == said[plan.paper] and (paper.kind != "cardstock" or ", A4" in line)
    assert any(line.startswith("20 envelopes") for line in lines) and any(line.startswith("Adhesive: ") for line in lines)
    # A clipboard that refuses: the same text, ready to be taken by hand.
    page.evaluate("() => { window.refuse = true }")
    page.get_by_role("button", name="Copy list").click()
    area = page.get_by_label("Copy it by hand")
    assert area.input_value().splitlines() == lines
    assert page.evaluate("document.activeElement.selectionEnd - document.activeElement.selectionStart") == len(area.input_value())
    # What it can't follow it says; nonsense in an address is nobody's number.
    assert all(
        "otherwise" in page.locator(f'[data-n="guide-{n}"]').inner_text()
        for n, layout in enumerate(kit.layouts, 1)
        if kit.kit.papers[layout.papers[0]].kind == "cardstock" and kit.kit.papers[layout.papers[0]].size.name != "A4"
    )
    found = faults(page, "her numbers")
    with in_the_other_light(page):
        found += colour_faults(page, "her numbers in the other light")
    assert found == []
    page.goto(f"{address}{page_of(kit)}?cards=-3&cardstock=%3Cscript%3E&up=maybe")
    assert shown(page) == {plan.paper: plan.sheets for plan in kit.plans} and one.complaints == []
