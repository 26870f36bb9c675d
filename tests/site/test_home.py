"""A maker's way home: what is new since she was last here, the kits that she marks to make, and the home page itself."""

from __future__ import annotations

import io
import json
import re
from collections import Counter, defaultdict
from fractions import Fraction
from math import ceil

import pytest
from archive.everybody import faults, in_the_other_light
from archive.reading import Reader
from kitwright.archive.gather import Archive, kit_of
from kitwright.work.traits import paper_traits
from playwright.sync_api import expect
from pypdf import PdfReader

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
MARKED = ("2026-11-weathervane", "2026-03-window-boxes", "2025-05-paper-kites")
"""Two with a paper of one name, and an old printable."""


def test_what_is_new_is_told_once_and_moves_nothing(reader, address: str):
    """Nothing at a first visit; at the next what came out since, on that visit's pages alike; then nothing again."""
    one: Reader = reader(PHONE, alone=True)
    page = one.open(address + "index.html", whole=False)
    assert not page.locator(".kw-news").is_visible() and page.locator(".kw-news__mark").count() == 0
    kits = page.evaluate("document.querySelector('.kw-news').dataset.news.split(' ').map(k => Number(k.split('@')[1]))")
    assert kits == sorted(kits, reverse=True) and len(kits) >= 3
    page.evaluate("at => kw.kept.set('seen', {was: 0, here: at, when: 0})", kits[2])
    page.add_init_script(
        "window.shifted = 0; new PerformanceObserver(l => l.getEntries().forEach(e => { window.shifted += e.value })).observe({ type: 'layout-shift', buffered: true })"
    )
    many = sum(at > kits[2] for at in kits)
    for name in ("index.html", "archive.html"):
        one.open(address + name, whole=False)
        expect(page.locator(".kw-news")).to_have_text(re.compile(f"^({many}|One) kits? (is|are) new since you were last here"))
        assert page.locator(".kw-news__mark").count() == many and page.evaluate("window.shifted") <= 0.02
    page.evaluate("kw.kept.set('seen', {...kw.kept.get('seen'), when: 0})")
    one.open(address + "index.html", whole=False)
    assert not page.locator(".kw-news").is_visible()
    page.evaluate("kw.kept.set('seen', 'odd')")
    one.open(address + "index.html", whole=False)
    assert not page.locator(".kw-news").is_visible() and one.complaints == []


def test_kits_are_marked_on_cards_and_pages_and_their_sheets_summed(reader, address: str, archive: Archive):
    one: Reader = reader(PHONE, alone=True)
    page = one.open(address + "to-make.html", whole=False)
    expect(page.locator(".kw-make__none")).to_be_visible()
    assert not [url for url in one.fetched if "find/make.js" in url]
    for kit in MARKED[:2]:
        one.open(f"{address}kits/{kit}/index.html", whole=False)
        button = page.locator(".kw-mark--wide")
        expect(button).to_have_attribute("aria-pressed", "false")
        button.click()
        expect(button).to_have_attribute("aria-pressed", "true")
    one.open(address + "archive.html", whole=False)
    assert page.locator(f'[data-mark="{MARKED[0]}"]').first.get_attribute("aria-pressed") == "true"
    card = page.locator(f'[data-mark="{MARKED[2]}"]').first
    assert card.bounding_box()["width"] >= 43.9 and card.get_attribute("aria-label") == "To make: Paper kites"
    card.click()
    one.open(address + "to-make.html", whole=False)
    titles = page.locator(".kw-made .kw-card__title").all_inner_texts()
    assert titles == ["Weathervane", "Window boxes", "Paper kites"]
    sheets: dict[tuple[bool, str, str], Fraction] = defaultdict(Fraction)
    for entry in archive.entries:
        if kit_of(entry).id in MARKED[:2]:
            for paper in paper_traits(entry):
                size = paper.size_name or f"{paper.sheet.width.inches} × {paper.sheet.height.inches} in"
                sheets[paper.patterned, size, paper.name] += paper.sheets
    bought: Counter[tuple[bool, str]] = Counter()
    for (patterned, size, _), many in sheets.items():
        bought[patterned, size] += ceil(many)
    told = page.evaluate("""[...document.querySelectorAll('.kw-buy__head')].map(head => [
        head.querySelector('b').firstChild.data.startsWith('Patterned'),
        (head.querySelector('[data-kw=in]') || head.querySelector('.kw-first')).textContent,
        parseInt(head.querySelector('.kw-buy__many').textContent)])""")
    assert {(patterned, size): many for patterned, size, many in told} == dict(bought)
    expect(page.locator(".kw-buy .kw-quiet")).to_contain_text("old printable")
    # On paper it is one page.
    assert len(PdfReader(io.BytesIO(page.pdf(format="A4"))).pages) == 1
    page.get_by_role("button", name="Remove Weathervane").click()
    expect(page.locator(".kw-made__kit").first).to_be_focused()
    for _ in range(2):
        page.locator(".kw-made__remove").first.click()
        page.wait_for_timeout(50)
    expect(page.locator(".kw-make__none a")).to_be_focused()
    assert page.evaluate("kw.kept.get('marked')") == [] and one.complaints == []


def test_a_browser_that_keeps_nothing_and_one_without_scripts(browser, reader, address: str):
    one: Reader = reader(PHONE, alone=True)
    one.page.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError') }})")
    page = one.open(address + "index.html", whole=False)
    ribbon = page.locator(".kw-card .kw-mark").first
    ribbon.click()
    expect(ribbon).to_have_attribute("aria-pressed", "true")
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address + "to-make.html")
    expect(page.locator(".kw-make__without")).to_be_visible()
    expect(page.locator(".kw-make__none")).to_be_hidden()
    page.goto(address + "index.html")
    assert page.locator(".kw-mark:visible").count() == 0
    page.locator(".kw-ways a").first.click()
    page.wait_for_url("**/archive.html")
    context.close()


@pytest.mark.parametrize("width", [320, 1440])
def test_for_everybody_on_every_screen(reader, address: str, width: int):
    one: Reader = reader({"width": width, "height": 844}, "light", alone=True)
    page = one.page
    kept = {"kw:marked": MARKED, "kw:seen": {"was": 0, "here": 1, "when": 0}}
    page.add_init_script(f"for (const [key, value] of Object.entries({json.dumps(kept)})) localStorage.setItem(key, JSON.stringify(value))")
    for name in ("index.html", "to-make.html"):
        one.open(address + name)
        if name == "to-make.html":
            expect(page.locator(".kw-buy")).to_be_visible()
        assert faults(page, name) == []
        with in_the_other_light(page):
            assert faults(page, f"{name}, dark") == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        low = "[...document.querySelectorAll('main :is(button, .kw-button, .kw-ways a)')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.9).map(e => e.outerHTML)"
        assert page.evaluate(low) == []
    assert one.complaints == []
