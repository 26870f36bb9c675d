"""All kits by facts in a real browser: chosen, sorted, kept in the address, on a phone and a desk, and without scripts."""

import pytest
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import DESKTOP, PHONE
from kitwright.archive.gather import Archive
from kitwright.work.traits import shape_of
from kitwright.work.worked import Worked
from playwright.sync_api import Page

pytestmark = pytest.mark.browser


def names(page: Page) -> list[str]:
    return page.locator(".kw-all__found :is(.kw-card__title, th a)").all_inner_texts()


def count(page: Page, facet: str, value: str) -> str:
    return page.locator(f"[data-facet='{facet}'] [data-value='{value}'] .kw-value__count").inner_text()


def press(page: Page, facet: str, value: str) -> None:
    page.evaluate("facet => { document.querySelector(`[data-facet='${facet}']`).open = true }", facet)
    page.locator(f"[data-facet='{facet}'] [data-value='{value}']").click()


def titles(archive: Archive, *shapes: str) -> list[str]:
    """Kits that make a card of one of these shapes, newest first."""
    computed = [one for one in reversed(archive.entries) if isinstance(one, Worked)]
    return [one.kit.spec.title for one in computed if any(shape_of(design.base.finished) in shapes for design in one.designs)]


def test_kits_are_chosen_by_facts_and_kept_in_the_address(reader, address: str, archive: Archive):
    one = reader(DESKTOP)
    page = one.open(address + "archive.html", whole=False)
    assert not any("facts.js" in url for url in one.fetched), "loaded once somebody chooses"
    assert page.locator(".kw-all__years").is_visible() and page.locator(".kw-all__side").is_visible()
    every = page.locator(".kw-all__years a[href^='kits/']").count()
    squares = count(page, "card", "square")
    press(page, "card", "square")
    page.wait_for_url("**/archive.html#card=square")
    assert names(page) == titles(archive, "square") and len(names(page)) == int(squares) == int(count(page, "card", "square"))
    # Beside a value stands how many there would be: of its own facet as before, of others fewer; what there is none of is told, and loses nothing.
    none = page.locator(".kw-value[aria-disabled='true']").first
    assert none.locator(".kw-value__count").text_content() == "0"
    page.evaluate("button => button.closest('details').open = true", none.element_handle())
    none.press("Enter")
    assert "No kit is that too" in page.locator(".kw-all__count[role=status]").inner_text()
    press(page, "card", "slimline")
    assert names(page) == titles(archive, "square", "slimline") and page.url.endswith("#card=square,slimline")
    sheet = page.locator("[data-facet='sheet'] .kw-value:not([aria-disabled])").first.get_attribute("data-value")
    fewer = int(count(page, "sheet", sheet))
    press(page, "sheet", sheet)
    page.wait_for_url(f"**/archive.html#card=square,slimline&sheet={sheet}")
    page.locator("[data-view='table']").click()
    page.locator(".kw-all__sort select").select_option("cards")
    found = names(page)
    assert len(found) == fewer < len(titles(archive, "square", "slimline")) and page.url.endswith("&sort=cards&view=table")
    cards = [int(text) for text in page.locator(".kw-rows tbody td:nth-child(2)").all_inner_texts()]
    assert cards == sorted(cards, reverse=True)
    assert page.locator(".kw-taken__chip").first.text_content() == "Take away Card: square ×"
    faulty = faults(page, "facets")
    page.locator(".kw-all__head button[value='mm']").click()
    assert " mm" in page.locator(".kw-rows").inner_text() and " in" not in page.locator(".kw-rows tbody").inner_text()
    # The address alone brings it back; a chip is taken away, then all.
    page.reload()
    page.wait_for_selector(".kw-rows")
    assert names(page) == found
    page.locator(".kw-taken__chip").first.click()
    assert page.evaluate("document.activeElement.className") == "kw-taken__chip"
    page.locator(".kw-taken__clear").click()
    assert len(names(page)) == every and page.url.endswith("#sort=cards&view=table")
    page.locator("[data-view='wall']").click()
    page.locator(".kw-all__sort select").select_option("newest")
    assert page.locator(".kw-all__years").is_visible() and page.url.endswith("archive.html")
    # A tag leads there from a kit's page, whatever its kind; an old address of a year still does.
    page.goto(address + "archive.html#tag=sea")
    page.wait_for_url("**/archive.html#is-theme=sea")
    assert "Rock pool" in names(page) and page.locator("[data-facet='is-theme'][open]").count() == 1
    page.goto(address + "archive.html#2025")
    assert page.locator(".kw-all__years").is_visible() and page.locator("h2[id='2025']").is_visible()
    assert faulty == [] and one.complaints == []


def test_on_a_phone_the_form_fills_the_screen_and_the_keyboard_leaves_it(reader, address: str):
    one = reader(PHONE)
    page = one.open(address + "archive.html", whole=False)
    page.locator(".kw-all__choose").press("Enter")
    dialog = page.locator("dialog.kw-chooser")
    assert dialog.bounding_box() == {"x": 0, "y": 0, "width": PHONE["width"], "height": PHONE["height"]}
    press(page, "card", "tall")
    assert page.locator(".kw-chooser__go").inner_text() == f"Show {count(page, 'card', 'tall')} kits"
    small = (
        "[...document.querySelectorAll('dialog.kw-chooser :is(button, summary)')].filter(e => e.offsetHeight && e.offsetHeight < 44).length"
    )
    assert page.evaluate(small) == 0
    found = faults(page, "chooser")
    page.keyboard.press("Escape")
    assert not dialog.is_visible() and page.evaluate("document.activeElement.className") == "kw-all__choose"
    assert page.locator(".kw-all__choose").inner_text() == "Choose (1)"
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    found += faults(page, "facets, phone")
    with in_the_other_light(page):
        found += colour_faults(page, "facets, dark")
    assert found == [] and one.complaints == []


def test_without_scripts_all_kits_stand_by_year(browser, site):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "archive.html").as_uri())
    assert page.locator(".kw-all__years a:visible").count() >= len(list((site / "kits").glob("*/index.html")))
    assert not page.locator(".kw-facets").is_visible() and not page.locator(".kw-all__bar").is_visible()
    context.close()
