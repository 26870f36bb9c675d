"""The page of proposed layouts, opened from a disk: chosen among, put in order, copied from; by keyboard, without script, in every light."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from archive.everybody import colour_faults, faults
from archive.reading import DESKTOP, PHONE, TABLET, Reader
from kitwright.archive.proposals import LookedAt
from kitwright.kit.read import read_club
from kitwright.kit.theme import Theme
from making import CLUB
from playwright.sync_api import Browser, expect
from proposed import a_few

pytestmark = pytest.mark.browser

SHOWN = ".kw-layouts > li:visible"


@pytest.fixture(scope="module")
def opened(tmp_path_factory) -> str:
    """Four layouts, the last a little better than the first."""
    folder = tmp_path_factory.mktemp("proposed")
    (folder / "club.yaml").write_text(CLUB, encoding="utf-8")
    found = a_few()
    first = found.proposals[0]
    better = replace(first, number=4, measured=replace(first.measured, waste=first.measured.waste / 2, measures=2))
    typed = "kitwright propose --question winter.yaml --pick {} --into kits/2028-05-winter"
    shelf = LookedAt(folder / "out", read_club(folder), Theme(), typed.format)
    shelf.put(replace(found, proposals=(*found.proposals, better)), done=False)
    return (folder / "out" / "index.html").as_uri()


def numbers(page) -> list[str]:
    return page.locator(f"{SHOWN} .kw-number").all_inner_texts()


def test_she_chooses_puts_in_order_and_takes_it_all_back_by_keyboard(reader: Callable[..., Reader], opened: str):
    one = reader()
    page = one.open(opened)
    assert numbers(page) == ["1", "2", "3", "4"]
    page.locator("[name=order]").select_option("waste")
    assert numbers(page) == ["4", "2", "1", "3"]
    page.locator("[name=measures]").focus()
    page.keyboard.press("ArrowDown")
    expect(page.locator(".kw-count")).to_have_text("1 of 4 layouts")
    page.locator("[name=family]").select_option("bunting")
    expect(page.locator(".kw-count")).to_contain_text("No layout is all of that")
    # What was chosen stands in the address: the page comes back as it was.
    page.reload()
    one.settle()
    assert numbers(page) == [] and page.locator("[name=order]").input_value() == "waste"
    page.get_by_role("button", name="Show all").focus()
    page.keyboard.press("Enter")
    assert numbers(page) == ["1", "2", "3", "4"] and page.evaluate("document.activeElement.localName") == "select"
    page.locator("#layout-2 summary").click()
    page.get_by_role("button", name="Copy the command for layout 2").click()
    expect(page.locator(".kw-said")).not_to_be_empty()
    assert one.complaints == []


@pytest.mark.parametrize("viewport", [PHONE, TABLET, DESKTOP], ids=["phone", "tablet", "desktop"])
def test_it_is_for_everybody(reader: Callable[..., Reader], opened: str, viewport):
    one = reader(viewport)
    page = one.open(opened)
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert page.locator(".kw-choosing").evaluate("one => one.open") == (viewport is not PHONE)
    if viewport is PHONE:
        # The first card is in sight before anything is moved.
        assert page.locator("img").first.bounding_box()["y"] < viewport["height"]
        # Two side by side, and their sheets where one looks closer.
        first, second, sheets = (page.locator(which) for which in ("#layout-1", "#layout-2", "#layout-1 .kw-sheet"))
        assert first.bounding_box()["y"] == second.bounding_box()["y"] and not sheets.is_visible()
        page.locator("#layout-1 summary").click()
        assert sheets.is_visible() and first.bounding_box()["width"] > 300
        page.get_by_text("Choose and put in order").click()
    small = "[...document.querySelectorAll('a, button, select, summary')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44)"
    assert page.evaluate(f"{small}.filter(e => !e.matches('.kw-skip')).map(e => e.outerHTML)") == []
    assert faults(page, "proposals") == []
    page.emulate_media(color_scheme="dark")
    assert colour_faults(page, "proposals in the dark") == []
    assert one.complaints == [] and all(url.startswith("file:") for url in one.fetched)


def test_without_script_all_of_it_is_there(browser: Browser, opened: str):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(opened)
    assert page.locator(SHOWN).count() == 4 and page.locator("select:visible, button:visible").count() == 0
    page.locator("#layout-3 summary").click()
    assert "--pick 3" in page.locator(SHOWN).nth(2).inner_text()
    context.close()


def test_a_page_on_a_disk_needs_nothing_beside_its_folder(opened: str):
    folder = Path(opened.removeprefix("file://")).parent
    text = (folder / "look/proposals.css").read_text(encoding="utf-8") + (folder / "index.html").read_text(encoding="utf-8")
    assert "://" not in text.replace("http-equiv", "")
