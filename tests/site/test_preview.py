"""What the preview adds to a page, in a real browser: notes at their places, news without a whole page, what is still being drawn."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND, write_small
from kitwright.archive.build import BuildReport
from kitwright.archive.built import RECORD
from kitwright.archive.gather import gather, kit_of
from kitwright.archive.preview import Preview, follow
from playwright.sync_api import Browser, Page

PAGE = f"kits/{FIRST}/index.html"
BARE = """<!doctype html><html lang="en"><head><title>x</title></head><body><div class="md-main"><main>
<h1>{title}</h1><p class="kw-actions"><a href="{kit}-a4.pdf" download>Download the printable</a></p>
<h2 id="the-pieces">The pieces</h2>
<table class="kw-table--pieces"><tbody><tr><th><b class="kw-label">A</b></th><td>3</td></tr></tbody></table>
<h2 id="cutting-guides">Cut</h2><section class="kw-sheet" id="guide-1"><div class="kw-sheet__head"><h3>Clover _field_</h3></div><p>drawn</p></section>
<details class="kw-closed"><summary><h3 id="finished-cards">Finished cards</h3></summary>words</details>
</main></div></body></html>"""
"""A kit's page as far as notes look for places on it."""


@pytest.fixture
def shown(tmp_path: Path, monkeypatch) -> Iterator[Preview]:
    """A preview of two kits, of which everything is read and checked, and bare pages are written."""
    root = write_small(tmp_path)
    shutil.rmtree(root / "kits" / OLD)

    def stand_in(root: Path, out: Path, progress=None, **more) -> BuildReport:
        archive = gather(root)
        shutil.rmtree(out, ignore_errors=True)
        files = {}
        for one in archive.entries:
            kit = kit_of(one)
            name, text = f"kits/{kit.id}/index.html", BARE.replace("{title}", kit.spec.title).replace("{kit}", kit.id)
            (out / name).parent.mkdir(parents=True)
            (out / name).write_text(text, encoding="utf-8")
            files[name] = [len(text), hashlib.sha256(text.encode()).hexdigest()]
        (out / ".kitwright").touch()
        (out / RECORD).write_text(json.dumps({"format": 1, "everything": True, "kits": {}, "files": files}), encoding="utf-8")
        return BuildReport(2, 2, 2, 1, Fraction(1), out / PAGE, archive.left, archive.found)

    monkeypatch.setattr(follow, "build_archive", stand_in)
    preview = Preview(root, port=0, say=lambda text: None)
    try:
        preview.start()
        yield preview
    finally:
        preview.stop()


@pytest.fixture
def page(browser: Browser, shown: Preview) -> Iterator[Page]:
    context = browser.new_context()
    page = context.new_page()
    page.goto(shown.address + PAGE)
    page.evaluate("window.loadedOnce = true")
    yield page
    context.close()


def save(shown: Preview, *changes: tuple[str, str]) -> None:
    file = shown.root / "kits" / FIRST / "kit.yaml"
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    shown.rebuild()


def test_what_is_wrong_comes_to_its_place_and_goes_without_a_whole_page(shown: Preview, page: Page):
    slips = (
        ("3 strips of 1-1/2", "3 strips of 2-1/2"),
        ("3-15/16 x 1-1/2,", "3-15/16 x 1-1/3,"),
        (', alt: "One of [[cards]] on a table"', ""),
    )
    save(shown, *slips)
    page.wait_for_selector("[role=alert]")
    assert page.locator("#guide-1 > .kw-sheet__head + .kw-found--error").count() == 1, "under the name of its guide"
    assert page.locator("table tr:first-child + tr.kw-found-row .kw-found--warning").count() == 1, "under the row of its piece"
    assert page.locator("summary:has(#finished-cards) + .kw-found--warning").count() == 1
    alert = page.locator("[role=alert]")
    assert "is shown as saved" in alert.inner_text() and "1 error and 2 warnings on this page" in alert.inner_text()
    for link in alert.locator("a").all():
        assert page.locator(str(link.get_attribute("href"))).count() == 1, "each leads to its note"
    note = page.locator(".kw-found--error")
    assert "kit.yaml:30" in note.inner_text() and "at most 2 come off here" in note.inner_text()
    save(shown, *((new, old) for old, new in slips[:2]), ("file: photos/one card.png,", f"file: photos/one card.png{slips[2][0]},"))
    page.wait_for_selector(".kw-found, .kw-told", state="detached")
    assert page.evaluate("window.loadedOnce"), "the same page all the while"


def test_a_page_is_loaded_again_when_it_is_another_and_only_then(shown: Preview, page: Page):
    page.locator("summary").click()
    other = shown.root / "kits" / SECOND / "notes.md"
    other.write_text("Other words.\n", encoding="utf-8")
    shown.rebuild()
    assert page.evaluate("window.loadedOnce")
    save(shown, ("Zinnia", "Dahlia"))
    page.wait_for_selector("h1:has-text('Dahlia')")
    assert page.evaluate("window.loadedOnce === undefined")
    # Opened again once the page stands, which its heading does a little earlier.
    page.wait_for_function("() => document.querySelector('details').open")


def test_what_is_still_being_drawn_is_not_offered(shown: Preview, page: Page):
    link = page.locator(".kw-actions a")

    def draws(*kits: str) -> None:
        shown._off = frozenset(kits)
        shown._stand(None, [])
        with shown._news:
            shown._version += 1
            shown._news.notify_all()

    draws(FIRST)
    page.wait_for_selector("a.kw-later")
    assert link.get_attribute("href") is None and link.get_attribute("aria-disabled") == "true" and link.get_attribute("title")
    draws()
    page.wait_for_selector("a.kw-later", state="detached")
    assert link.get_attribute("href") == f"{FIRST}-a4.pdf" and link.get_attribute("aria-disabled") is None


def test_how_far_a_build_is_stands_at_the_foot(shown: Preview, page: Page):
    strip = page.locator(".kw-building")
    assert strip.is_hidden()
    shown._at = ("Drawing the kits", 3, 24)
    shown._publish()
    page.wait_for_selector(".kw-building:has-text('Drawing the kits: 3 of 24')")
    assert strip.get_attribute("role") == "status" and strip.locator("progress").get_attribute("value") == "3"
