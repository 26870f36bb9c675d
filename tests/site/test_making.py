"""What a kit's page says besides its drawings, as readers meet it: everything within reach, nothing for members alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from archive.everybody import faults
from archive.reading import DESKTOP, PHONE
from kitwright.archive.gather import Archive
from kitwright.telling.kitpage import FEWER, OPEN
from kitwright.work.worked import Worked
from playwright.sync_api import Browser


def shaped(archive: Archive) -> str:
    """The page of a demo kit with shaped or notched pieces."""
    kit = next(entry.kit for entry in archive.entries if isinstance(entry, Worked) and any(p.notch for p in entry.kit.spec.pieces.values()))
    return f"kits/{kit.id}/index.html"


def test_every_kit_offers_six_printables_and_its_cut_files(site: Path, archive: Archive):
    for entry in archive.entries:
        if not isinstance(entry, Worked):
            continue
        kit = entry.kit
        folder, names = (
            site / "kits" / kit.id,
            [f"{kit.id}-{edition}{ink}.pdf" for edition in ("letter", "a4") for ink in ("", "-light", "-outline")],
        )
        text = (folder / "index.html").read_text(encoding="utf-8")
        for name in names:
            assert f'href="{name}"' in text and (folder / name).read_bytes().startswith(b"%PDF")
        public = kit.spec.cut_files == "public"
        assert (folder / f"{kit.id}-cut-files.zip").is_file() == public
        assert not list(folder.rglob("*.dxf"))
        assert text.count('class="kw-button kw-edition') == 2, "the printable in both editions leads"


@pytest.mark.browser
@pytest.mark.parametrize("viewport, scheme", [(PHONE, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"])
def test_what_is_folded_away_opens_by_the_keyboard_and_is_sound(reader, address: str, archive: Archive, viewport, scheme):
    one = reader(viewport, scheme)
    page = one.open(address + shaped(archive), whole=False)
    summaries = page.locator("details.kw-closed > summary, details.kw-how > summary")
    assert summaries.count() >= 3
    for i in range(summaries.count()):
        summaries.nth(i).focus()
        page.keyboard.press("Enter")
    assert page.evaluate("[...document.querySelectorAll('details.kw-closed, details.kw-how')].every(d => d.open)")
    page.wait_for_load_state("networkidle")
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert faults(page, "folded out") == []
    assert one.complaints == []


@pytest.mark.browser
def test_a_kits_page_leads_to_all_of_it_and_opens_what_an_address_names(reader, browser: Browser, address: str, archive: Archive):
    one, name = reader(PHONE), shaped(archive)
    page = one.open(address + name, whole=False)
    closed, shut = "[...document.querySelectorAll('details.kw-closed')]", ".every(d => !d.open)"
    assert page.evaluate(closed + ".length > 5") and page.evaluate(closed + shut)
    # Parts, sheets and steps are a tap from the top, and what is cut or done has a link of its own.
    places = page.evaluate("[...document.querySelectorAll('.kw-jump a')].map(a => a.hash.slice(1))")
    assert places == page.evaluate("[...document.querySelectorAll('.kw-part, .kw-sheet, .kw-step')].map(e => e.id)")
    own = "e => Boolean(e.querySelector(`a.kw-link[href='#${CSS.escape(e.id)}']`))"
    assert page.evaluate(f"[...document.querySelectorAll('[data-bench], .kw-sheet, .kw-part')].every({own})")
    # The row stays on top; inside Cut a second one lies over the page.
    page.evaluate("document.getElementById('guide-1').scrollIntoView()")
    page.wait_for_selector(".kw-jump .kw-here .kw-here")
    assert page.locator(".kw-jump").bounding_box()["y"] == 0
    assert page.locator(".kw-jump ol ol a:visible").count() == page.locator(".kw-sheet").count()
    # Sheets beyond the first few lie closed, each in a line; a stroke's own address opens its sheet.
    sheets = page.locator(".kw-sheet")
    lying = page.locator("details.kw-sheet").count()
    assert lying and page.locator("details.kw-sheet .kw-stroke").filter(visible=True).count() == 0
    assert sheets.count() - lying in (FEWER, OPEN)
    for place in ("shaped-pieces", "how-the-front-adds-up", f"cut-{sheets.count()}-1"):
        page.evaluate("place => { location.hash = place }", place)
        page.wait_for_function("place => document.getElementById(place).closest('details').open", arg=place)
    assert one.complaints == []
    bare = browser.new_context(viewport=PHONE, java_script_enabled=False)
    try:
        page = bare.new_page()
        page.goto(address + name)
        assert page.locator("details.kw-closed:not([open])").count() == 0 and page.locator("#shaped-pieces").is_visible()
    finally:
        bare.close()
