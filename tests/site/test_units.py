"""Inches or millimetres, Letter or A4, as a reader keeps them: nothing moves, nothing flashes, and the other drawing is not fetched."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from archive.reading import DESKTOP
from kitwright.archive.gather import Archive
from kitwright.units import other_unit
from kitwright.work.worked import Worked
from playwright.sync_api import Browser, Page

PHONE = {"width": 390, "height": 844}
MOVED = 0.1
"""Pixels: more than this is seen. A picture that is on its way has its place to the 64th of one."""
BOXES = """() => [...document.querySelectorAll('body *')].filter(e => !e.closest('[data-kw]')).map(e => {
    const at = e.getBoundingClientRect()
    return [e.tagName + '.' + e.className, at.left, at.top + scrollY, at.width, at.height]
})"""
SHOWN = """() => {
    const told = [...document.querySelectorAll('[data-kw]')].filter(e => e.getClientRects().length && getComputedStyle(e).visibility === 'visible')
    return [...new Set(told.map(e => e.dataset.kw))]
}"""


def kit_in(archive: Archive, unit: str) -> str:
    """A demo kit in a unit."""
    return next(entry.kit.id for entry in archive.entries if isinstance(entry, Worked) and entry.unit == unit)


def moved(before: list, after: list) -> list:
    """Elements that stand elsewhere, or are of another size."""
    assert len(before) == len(after)
    return [(was, now) for was, now in zip(before, after) if any(abs(a - b) > MOVED for a, b in zip(was[1:], now[1:]))]


def switch(page: Page, unit: str) -> None:
    page.locator(f".kw-units button[value={unit}]").first.click()
    page.evaluate("scrollTo(0, 0)")


def test_before_anything_is_painted_the_reader_is_known(site: Path):
    for file in (site / "index.html", site / "archive.html"):
        first = re.search(r'<script src="([^"]+)"([^>]*)>', file.read_text(encoding="utf-8"))
        assert first and "defer" not in first[2] and "async" not in first[2]
        assert "dataset.kwUnit" in (site / first[1]).read_text(encoding="utf-8")


@pytest.mark.browser
@pytest.mark.parametrize("own", ["in", "mm"])
def test_in_the_other_unit_nothing_moves_and_it_is_kept(reader, site: Path, archive: Archive, own: str):
    one, other, kit = reader(DESKTOP), other_unit(own), kit_in(archive, own)
    page = one.open(f"{(site / 'kits' / kit).as_uri()}/index.html", whole=False)
    assert page.evaluate(SHOWN) == [own] and page.locator(f".kw-units button[value={own}]").first.get_attribute("aria-pressed") == "true"
    assert not [name for name in one.fetched if f"--{other}" in name], "the other drawing is not fetched"
    for viewport in (DESKTOP, PHONE):
        page.set_viewport_size(viewport)
        page.evaluate("document.querySelectorAll('.kw-kit details').forEach(each => { each.open = true })")
        page.wait_for_timeout(100)
        before = page.evaluate(BOXES)
        switch(page, other)
        assert page.evaluate(SHOWN) == [other]
        assert moved(before, page.evaluate(BOXES)) == []
        switch(page, own)
        assert moved(before, page.evaluate(BOXES)) == []
    switch(page, other)
    page.locator("#guide-1").scroll_into_view_if_needed()
    one.settle()
    assert [name for name in one.fetched if f"--{other}" in name]
    # On other pages of the folder too, from the first.
    page = one.open((site / "kits" / kit / "your-paper.html").as_uri(), whole=False)
    assert page.evaluate("document.documentElement.dataset.kwUnit") == other and page.evaluate(SHOWN) == [other]
    assert one.complaints == []


@pytest.mark.browser
def test_the_edition_that_was_taken_is_filled_and_their_order_stays(reader, site: Path, archive: Archive):
    page = reader(PHONE).open(f"{(site / 'kits' / kit_in(archive, 'in')).as_uri()}/index.html", whole=False)
    page.evaluate("addEventListener('click', event => event.preventDefault())")

    def buttons() -> list[tuple[str, bool]]:
        found = page.locator(".kw-editions a[data-kw-edition]").all()
        plain = "rgba(0, 0, 0, 0)"
        return [
            (each.get_attribute("data-kw-edition"), each.evaluate("e => getComputedStyle(e).backgroundColor") != plain) for each in found
        ]

    assert buttons() == [("letter", True), ("a4", False)]
    page.locator(".kw-editions a[data-kw-edition=a4]").click()
    page.mouse.move(0, 0)
    page.reload()
    assert buttons() == [("letter", False), ("a4", True)]


@pytest.mark.browser
def test_without_scripts_both_sizes_are_read(browser: Browser, site: Path, archive: Archive):
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto(f"{(site / 'kits' / kit_in(archive, 'in')).as_uri()}/index.html")
    sizes = page.locator("#pieces .kw-lines__size").first
    assert all(each.is_visible() for each in sizes.locator("[data-kw]").all()) and "≈" in sizes.inner_text()
    words = page.locator("#cut .kw-words").first.locator("[data-kw]")
    assert [each.is_visible() for each in words.all()] in ([True, False], [])
    assert not page.locator("[data-kw-units]").first.is_visible()
    context.close()
