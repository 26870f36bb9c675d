"""The bench view in a real browser: keys, fingers, ticks that stay, an address of its own, the way back; from a folder too."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import DESKTOP
from playwright.sync_api import Page

SMALL = {"width": 390, "height": 844}
SWIPE = """([across, down]) => {
    const stage = document.querySelector('.kw-atbench__stage')
    const at = (x, y) => new Touch({identifier: 1, target: stage, clientX: x, clientY: y})
    const from = at(200, 300), to = at(200 + across, 300 + down)
    stage.dispatchEvent(new TouchEvent('touchstart', {touches: [from], changedTouches: [from], bubbles: true}))
    stage.dispatchEvent(new TouchEvent('touchend', {touches: [], changedTouches: [to], bubbles: true}))
}"""


@pytest.fixture(scope="module")
def kit_page(site: Path) -> str:
    """A kit with a guide that serves several papers."""
    pages = sorted(site.glob("kits/*/index.html"))
    several = re.compile('data-papers="[^"]+, [^"]+"')
    return next(str(page.relative_to(site)) for page in pages if several.search(page.read_text(encoding="utf-8")))


def where(page: Page) -> str:
    return page.evaluate("location.hash")


def opened(page: Page) -> bool:
    return page.evaluate("Boolean(document.querySelector('.kw-atbench[open]'))")


def comes(page: Page) -> None:
    """Its script and style sheet are loaded at the first sign of a hand."""
    page.wait_for_selector(".kw-atbench[open]", timeout=5000)


def closed(page: Page, place: str) -> None:
    """It is closed, and the page lies at that place."""
    page.wait_for_function("() => !document.querySelector('.kw-atbench[open]') && history.scrollRestoration === 'auto'", timeout=5000)
    assert where(page) == f"#{place}"
    assert page.evaluate(
        "id => { const box = document.getElementById(id).getBoundingClientRect(); return box.top < innerHeight && box.bottom > 0 }", place
    )


def ids_of(page: Page) -> list[str]:
    return page.evaluate("[...document.querySelectorAll('[data-bench]')].map(each => each.id)")


@pytest.mark.browser
@pytest.mark.parametrize("way", ["http", "folder"])
def test_one_stroke_at_a_time_by_keys_and_fingers(reader, site: Path, address: str, kit_page: str, way: str):
    one = reader(SMALL)
    start = address + kit_page if way == "http" else (site / kit_page).as_uri()
    page = one.open(start, whole=False)
    ids = ids_of(page)
    several = page.locator("[data-bench-group]").filter(has=page.locator("[data-bench=stroke]")).first
    page.locator(".kw-bench--whole").click()
    comes(page)
    assert where(page) == f"#bench-{ids[0]}"
    assert page.evaluate("document.activeElement.closest('.kw-atbench') !== null"), "focus moves into it"
    press = page.keyboard.press
    press("ArrowRight")
    press("ArrowRight")
    press("ArrowLeft")
    assert where(page) == f"#bench-{ids[1]}"
    press(" ")
    assert where(page) == f"#bench-{ids[2]}", "done leads on"
    page.evaluate(SWIPE, [-80, 10])
    assert where(page) == f"#bench-{ids[3]}"
    page.evaluate(SWIPE, [-50, 0])
    page.evaluate(SWIPE, [-80, 70])
    assert where(page) == f"#bench-{ids[3]}", "too short, or up and down as well"
    page.evaluate(SWIPE, [80, 0])
    assert where(page) == f"#bench-{ids[2]}"
    # Nothing on the page has an id twice.
    assert page.evaluate("(ids => ids.length === new Set(ids).size)([...document.querySelectorAll('[id]')].map(each => each.id))")
    for name in ("Back", "Done", "Next"):
        assert page.get_by_role("button", name=name, exact=True).bounding_box()["height"] >= 72
    page.go_back()
    closed(page, ids[2])
    # A reload, and another day: she goes on there, and what was done is done.
    page.goto(start)
    assert "1 of" in page.locator(".kw-bench--whole").inner_text()
    page.locator(".kw-bench--whole").click()
    comes(page)
    assert where(page) == f"#bench-{ids[2]}"
    page.reload()
    comes(page)
    assert where(page) == f"#bench-{ids[2]}"
    page.get_by_role("button", name="List", exact=True).click()
    boxes = page.locator(".kw-atbench__list input")
    assert [box.is_checked() for box in boxes.all()] == [name == ids[1] for name in ids]
    page.locator(".kw-atbench__go").last.click()
    assert where(page) == f"#bench-{ids[-1]}"
    page.get_by_role("button", name="List", exact=True).click()
    page.get_by_role("button", name="Start anew").click()
    assert page.locator(".kw-atbench__list input:checked").count() == 0
    page.get_by_role("button", name="Bring the ticks back").click()
    assert page.locator(".kw-atbench__list input:checked").count() == 1
    press("Escape")
    assert opened(page), "first out of the list"
    press("Escape")
    closed(page, ids[-1])
    assert page.evaluate("document.activeElement.closest('[data-bench]')?.id") == ids[-1], "focus and page do not part"
    assert several.count() and one.complaints == []


@pytest.mark.browser
def test_an_address_opens_at_its_place_and_papers_are_ticked_by_name(reader, address: str, kit_page: str):
    one = reader(DESKTOP, "dark")
    page = one.open(address + kit_page, whole=False)
    group = page.locator("[data-papers*=', ']").first
    papers, stroke = json.loads(group.get_attribute("data-papers")), group.locator("[data-bench]").first.get_attribute("id")
    page.goto("about:blank")
    page.goto(f"{address}{kit_page}#bench-{stroke}")
    comes(page)
    assert page.locator(".kw-atbench h2").inner_text() == group.get_attribute("data-name")
    sheets = page.locator(".kw-atbench__sheet")
    named = sheets.all_inner_texts()
    assert len(named) > 1 and all(any(name.startswith(paper) for paper in papers) for name in named)
    done = page.get_by_role("button", name="Done", exact=True)
    for i in range(len(named)):
        assert done.get_attribute("aria-pressed") == "false"
        sheets.nth(i).click()
    assert done.get_attribute("aria-pressed") == "true", "all papers ticked is done"
    sheets.nth(0).click()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    assert [sheet.get_attribute("aria-pressed") for sheet in sheets.all()] == ["false"] + ["true"] * (len(named) - 1)
    # The picture, the mark and the words are the page's own.
    mine, theirs = page.locator(".kw-atbench"), page.locator(f"#{stroke}")
    assert mine.locator(".kw-measure").inner_text() in theirs.locator(".kw-measure").text_content()
    assert mine.locator("img").first.get_attribute("src") == theirs.locator("img").first.get_attribute("src")
    # In whichever unit she reads, one picture and one mark show.
    for unit in ("in", "mm"):
        page.evaluate(
            "unit => { document.documentElement.dataset.kwUnit = unit; document.dispatchEvent(new CustomEvent('kw:unit')) }", unit
        )
        assert mine.locator("img:visible").count() == 1 and mine.locator(".kw-measure :visible[data-kw]").count() <= 1
        assert (
            mine.locator(".kw-measure").inner_text().split()[-1] == unit
            and mine.locator(".kw-measure").inner_text() in theirs.locator(".kw-measure").text_content()
        )
    page.evaluate("delete document.documentElement.dataset.kwUnit")
    found = faults(page, "bench")
    with in_the_other_light(page):
        found += colour_faults(page, "bench in the other light")
        page.get_by_role("button", name="List", exact=True).click()
        found += faults(page, "its list")
    assert found == []
    # Twice as large on a phone: no scrolling sideways, no word broken into letters (WCAG 2.2, 1.4.10 and 1.4.4).
    for width in (320, 195):
        one.resize({"width": width, "height": 600})
        assert page.evaluate("document.querySelector('.kw-atbench').scrollWidth") <= width
        assert page.locator(".kw-atbench h2").bounding_box()["height"] < 90
        assert all(
            button.evaluate("b => b.scrollWidth <= b.clientWidth && b.clientHeight <= 72")
            for button in page.locator(".kw-atbench__foot button").all()
        )
    page.get_by_role("button", name="Return").click()
    page.go_back()
    closed(page, stroke)
    # What names nothing opens nothing.
    page.goto(f"{address}{kit_page}#bench-no-such-place")
    assert not opened(page) and one.complaints == []


@pytest.mark.browser
def test_the_screen_is_kept_awake_and_a_link_is_given_on(reader, address: str, kit_page: str):
    """W3C, Screen Wake Lock API: a lock is lost when the page is hidden, and asked for anew on return."""
    one = reader(SMALL)
    one.page.add_init_script(
        """window.asked = []
        Object.defineProperty(navigator, 'wakeLock', {value: {request: async kind => {
            asked.push(kind)
            return {release: async () => { asked.push('released') }}
        }}})
        Object.defineProperty(navigator, 'clipboard', {value: {writeText: async text => { if (window.refuse) throw new Error('no'); window.copied = text }}})"""
    )
    page = one.open(address + kit_page, whole=False)
    page.locator(".kw-sheet .kw-bench").first.click()
    comes(page)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert page.evaluate("asked") == ["screen", "screen"]
    page.get_by_role("link", name="Link to this").click()
    assert page.evaluate("copied") == f"{address}{kit_page}{where(page)}"
    page.evaluate("window.refuse = true")
    page.get_by_role("link", name="Link to this").click()
    assert page.get_by_label("copy it by hand").input_value() == f"{address}{kit_page}{where(page)}"
    page.get_by_role("button", name="Close").click()
    page.wait_for_function("() => asked.at(-1) === 'released'")
    assert page.evaluate("document.activeElement.className") == "kw-bench", "back at what opened it"
    assert one.complaints == []
