"""The menu in the head of every page: by keys, by taps, without scripts, and in both lights."""

from __future__ import annotations

import pytest
from archive.everybody import faults, in_the_other_light
from archive.reading import Reader
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
KIT = "kits/2025-09-bud-vases/index.html"


def opened(page: Page) -> bool:
    return page.evaluate("document.querySelector('.kw-menu').open")


def test_by_keys_alone(reader, address: str):
    """It opens by a stroke and never by focus, Escape closes it and gives the focus back, and nothing holds the focus in it."""
    one: Reader = reader()
    page = one.open(address + "words.html", whole=False)
    summary = page.locator(".kw-menu summary")
    summary.focus()
    assert not opened(page)
    for stroke in ("Enter", " "):
        page.keyboard.press(stroke)
        expect(page.locator(".kw-menu__list")).to_be_visible()
        page.keyboard.press("Tab")
        expect(page.locator(".kw-menu__list a").first).to_be_focused()
        page.keyboard.press("Escape")
        expect(page.locator(".kw-menu__list")).to_be_hidden()
        expect(summary).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Shift+Tab")  # back out of it: it is gone, and what lay under it can be reached
    assert not opened(page)
    summary.click()
    page.locator(".kw-menu__list a").last.focus()
    for _ in range(3):  # on from the last way, past light and dark, to the page
        page.keyboard.press("Tab")
    assert not opened(page) and page.evaluate("document.activeElement.closest('.md-container') !== null")
    assert one.complaints == []


def test_every_page_it_names_is_called_so_and_is_a_tap_away(reader, address: str):
    one: Reader = reader({"width": 390, "height": 844})
    page = one.open(address + "index.html", whole=False)
    ways = page.evaluate("[...document.querySelectorAll('.kw-menu__list a')].map(a => [a.textContent, a.href])")
    foot = page.evaluate("[...document.querySelectorAll('.kw-foot a:not([href$=xml])')].map(a => [a.textContent, a.href])")
    assert foot == ways and [name for name, _ in ways][:2] == ["Home", "All kits"]
    assert {"Questions", "Glossary", "Safety", "Corrections", "Is my copy current?", "People", "Where our numbers come from"} <= {
        name for name, _ in ways
    }
    for name, href in ways[1:]:
        page.goto(href)
        assert page.locator("article h1").inner_text() == name and page.title().startswith(name)
        assert page.locator(".kw-menu__list [aria-current=page]").text_content() == name
    assert page.locator(".kw-head").bounding_box()["height"] <= 49


def test_it_opens_without_scripts_and_scrolls_away_on_pages_of_a_kit(browser, address: str):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(address + KIT)
    page.get_by_text("Menu", exact=True).click()
    page.locator(".kw-menu__list").get_by_role("link", name="Safety").click()
    page.wait_for_url("**/care.html")
    context.close()
    sticky = []
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    for name in (KIT, "words.html"):
        page.goto(address + name)
        page.evaluate("scrollTo(0, 1500)")
        sticky.append(page.evaluate("document.querySelector('.kw-head').getBoundingClientRect().bottom > 0"))
    context.close()
    assert sticky == [False, True]


@pytest.mark.parametrize("width", [320, 390, 1440])
def test_for_everybody_on_every_screen(reader, address: str, width: int):
    one: Reader = reader({"width": width, "height": 844}, "light")
    page = one.open(address + "words.html", whole=False)

    def look(where: str) -> None:
        page.locator(".kw-menu summary").click()
        expect(page.locator(".kw-menu__list")).to_be_visible()
        assert faults(page, where) == []
        low = "[...document.querySelectorAll('.kw-head :is(a, summary, label:not([hidden]))')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.9).map(e => e.outerHTML)"
        assert page.evaluate(low) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        page.keyboard.press("Escape")

    look("menu, light")
    with in_the_other_light(page):
        look("menu, dark")
    assert one.complaints == []
