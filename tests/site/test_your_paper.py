"""A kit on other paper, in a real browser: type a number of cards, from a folder and without script, on a phone; found by “A4”."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from archive.reading import DESKTOP, PHONE
from archive.tables import tables
from archive.varied import varied
from kitwright.archive.gather import Archive
from kitwright.labels import BASE
from kitwright.telling.questions import as_json
from kitwright.units import VULGAR, parse_size
from kitwright.work.worked import Worked
from playwright.sync_api import Browser

SMALL = {"width": 390, "height": 844}


def kits(archive: Archive) -> list[Worked]:
    return [entry for entry in archive.entries if isinstance(entry, Worked)]


def page_of(worked: Worked) -> str:
    return f"kits/{worked.kit.id}/your-paper.html"


def sheets(text: str) -> Fraction:
    if text.startswith("half a sheet"):
        return Fraction(1, 2)
    number = text.split()[0]
    return Fraction(number.rstrip("½") or 0) + (VULGAR["½"] if number.endswith("½") else 0)


def test_every_kit_has_its_page_and_its_data(site: Path, archive: Archive):
    for worked in kits(archive):
        assert (site / page_of(worked)).is_file()
        assert json.loads((site / f"kits/{worked.kit.id}/questions.json").read_text(encoding="utf-8")) == as_json(worked)


def test_pages_say_what_the_trade_knows_of_a4(site: Path, archive: Archive):
    """Common practice, no source: A4 gives one 8½ × 5½ base, not two, so three Letter sheets become six A4."""
    letter_base, seen = parse_size("8-1/2 x 5-1/2"), 0
    for worked in kits(archive):
        plan = worked.plan(worked.kit.spec.card.base.paper)
        if worked.base.cut not in (letter_base, letter_base.turned) or set(plan.demand.needs) != {BASE}:
            continue
        html = (site / page_of(worked)).read_text(encoding="utf-8")
        name = worked.kit.papers[plan.paper].name
        head, *rows = next(table for table in tables(html, "kw-table--stock") if name in table[0])
        column = head.index(name)
        told = {row[0]: sheets(row[column]) for row in rows}
        assert told["A4"] == 2 * told["Letter"] == worked.kit.spec.cards
        assert "one base, not two" in html and "ISO A6" in html
        seen += 1
    assert seen, "no demo kit halves Letter sheets for its bases"


def test_kit_pages_answer_in_a_few_lines(site: Path, archive: Archive):
    for worked in kits(archive):
        html = (site / f"kits/{worked.kit.id}/index.html").read_text(encoding="utf-8")
        section = html[html.index('id="your-paper-your-batch"') :]
        section = section.partition("<h2")[0]
        # A word of the trade leads to what it means where it first stands.
        said = re.sub(r"</?(?:span|a)\b[^>]*>", "", section)
        assert "Only one sheet?" in said and "One-way paper?" in said and 'href="your-paper.html"' in section
        assert ("From A4?" in said) or ("From Letter?" in said)
        assert ("From 12 × 12 in?" in said) or ("From 6 × 6 in?" in said)


@pytest.mark.browser
@pytest.mark.parametrize("way", ["http", "folder"])
def test_a_number_of_cards_is_answered_from_the_table(reader, site: Path, address: str, archive: Archive, way: str):
    one = reader(DESKTOP)
    for worked in kits(archive)[:2]:
        name, data = page_of(worked), as_json(worked)
        page = one.open(address + name if way == "http" else (site / name).as_uri())
        box, told = page.get_by_label("Cards to make"), page.locator(".kw-count [role=status]")
        assert box.input_value() == str(worked.kit.spec.cards)
        for cards in (worked.kit.spec.cards, 1, 17, 60):
            box.fill(str(cards))
            wanted = data["sheets"][cards - 1]["sheets"]
            lines = told.locator("li").all_inner_texts()
            assert lines and {sheets(line) for line in lines} == {Fraction(n) for n in wanted.values()}
            for paper, n in wanted.items():
                mine = [line for line in lines if line.endswith(data["papers"][paper]["name"])]
                assert all(sheets(line) == Fraction(n) for line in mine)
            assert page.locator("tr.kw-asked").count() == 1
        for typed, words in (("61", "from 1 to 60"), ("0", "from 1 to 60"), ("2.5", "from 1 to 60"), ("", "Type a number")):
            box.fill(typed)
            assert words in told.inner_text() and page.locator("tr.kw-asked").count() == 0
        box.fill("9")
        box.press("Enter")
        assert told.locator("li").count() > 0, "sending the form leads nowhere"
    assert one.complaints == []


@pytest.mark.browser
def test_without_script_the_tables_say_it_all(browser: Browser, site: Path, archive: Archive):
    context = browser.new_context(viewport=SMALL, java_script_enabled=False)
    try:
        page = context.new_page()
        for worked in kits(archive)[:3]:
            page.goto((site / page_of(worked)).as_uri())
            assert page.locator(".kw-count").is_hidden()
            assert page.locator(".kw-table--ladders tbody tr").first.is_visible()
            page.get_by_text("Every batch from 1 to 60 cards").click()
            assert page.locator(".kw-batches tbody tr").last.is_visible()
            page.goto((site / f"kits/{worked.kit.id}/index.html").as_uri())
            assert page.locator(".kw-desk .kw-words").first.is_visible()
    finally:
        context.close()


@pytest.mark.browser
@pytest.mark.parametrize("viewport, scheme", [(SMALL, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"])
def test_pages_fit_and_are_quiet(reader, address: str, site: Path, archive: Archive, viewport: dict[str, int], scheme: str):
    """test_for_everybody.py looks closer at one of them."""
    one = reader(viewport, scheme)
    for name in varied(site, map(page_of, kits(archive))):
        page = one.open(address + name)
        page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"], f"{name} is wider than the screen"
    assert one.complaints == []


@pytest.mark.browser
@pytest.mark.parametrize("viewport", [PHONE, SMALL, DESKTOP], ids=["360", "390", "1440"])
def test_the_mark_of_a_stroke_is_large_enough_to_be_read_from_the_bench(reader, address: str, archive: Archive, viewport: dict[str, int]):
    """The picture of the sheet in hand has no figures: its mark stands beside it, half as large again as what is read; nothing scrolls sideways."""
    one = reader(viewport)
    for worked in kits(archive)[-2:]:
        page = one.open(address + f"kits/{worked.kit.id}/index.html", whole=False)
        sizes = "[...document.querySelectorAll('%s')].map(e => parseFloat(getComputedStyle(e).fontSize))"
        marks, words = page.evaluate(sizes % ".kw-stroke .kw-measure"), page.evaluate(sizes % ".kw-stroke .kw-words")
        assert len(marks) == len(words) and min(words) >= 16 and min(marks) >= 1.5 * max(words)
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert one.complaints == []


@pytest.mark.browser
def test_a4_is_found_and_a_title_still_leads_to_its_kit(reader, address: str, archive: Archive):
    one = reader()
    one.open(address + "index.html", whole=False)
    found = one.search("A4")
    # Kits that are cut from A4 itself lead; the rest are found on their pages of other paper. A kit is one hit.
    own = {w.kit.spec.title for w in kits(archive) if any(w.kit.papers[p.paper].size.name == "A4" for p in w.plans)}
    titles = {w.kit.spec.title for w in kits(archive)}
    assert set(found[: len(own)]) == own
    # Ten are shown, the others once more are asked for.
    (found,) = one.searches(["A4"], whole=True)
    assert len(found) == len(set(found)) and set(found[: len(own)]) == own and set(found) & titles == titles
    where = one.page.locator(".kw-hit__where")
    pages = [text for text in where.all_inner_texts() if " on your paper" in text]
    assert len(pages) >= min(len(titles - own), 5)
    assert where.filter(has_text=" on your paper").first.evaluate("e => e.closest('a').href").partition("#")[0].endswith("/your-paper.html")
    for worked in kits(archive)[:3]:
        assert one.search(worked.kit.spec.title)[0] == worked.kit.spec.title
    assert one.search("15.2 × 15.2") and any(" on your paper" in text for text in where.all_inner_texts())
