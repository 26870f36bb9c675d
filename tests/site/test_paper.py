"""From your paper: the finder as a reader meets it, from a folder, on a phone; its tables, and what they say by hand."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import PHONE, Reader
from kitwright.archive.finder_tables import TABLES
from kitwright.cutting.yields import MOST
from kitwright.kit.read import read_club, read_kit
from kitwright.materials import MATERIALS
from kitwright.otherwise.yields import yields_of
from kitwright.telling.yields import as_data
from kitwright.work.working import work
from playwright.sync_api import Browser

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def phone(browser: Browser, small_site: Path) -> Iterator[Reader]:
    """The page on a phone, from a folder on disk."""
    context = browser.new_context(viewport=PHONE, reduced_motion="reduce")
    one = Reader(context)
    one.open((small_site / "paper.html").as_uri())
    yield one
    assert one.complaints == []
    context.close()


@pytest.fixture(scope="module")
def tables(small_site: Path) -> dict:
    text = (small_site / TABLES).read_text(encoding="utf-8")
    return json.loads(text.removeprefix("kwTables(").removesuffix(")\n"))


def asked(phone: Reader, *sheets: str, **more: object) -> tuple[str, list[list[str]]]:
    """What the page answers to an address: its first line, and the lines of each kit."""
    said = "&".join(
        [*(f"sheets={quote(one)}" for one in sheets), *(f"{name.replace('_', '-')}={quote(str(value))}" for name, value in more.items())]
    )
    phone.page.evaluate("said => { location.hash = said }", said)
    phone.page.wait_for_function("said => location.hash.length > 1", arg=said)
    return answer(phone)


def answer(phone: Reader) -> tuple[str, list[list[str]]]:
    kits = phone.page.locator(".kw-found__kit").all()
    return phone.page.locator(".kw-found__says").inner_text(), [
        [line for line in kit.inner_text().split("\n") if line.strip()] for kit in kits
    ]


def test_the_tables_are_those_of_each_kit(small_site: Path, tables: dict):
    """The same as beside the kit's page, and as they are worked out."""
    kits = small_site.parent / "kits"
    club = read_club(kits)
    assert len(tables["kits"]) == 2 and [line[1] for line in tables["kits"]][0] == "Aster", "newest first, no past kit"
    for line in tables["kits"]:
        worked, groups = work(read_kit(kits / line[0], club)), line[-1]
        beside = (small_site / f"kits/{line[0]}/yields.js").read_text(encoding="utf-8")
        assert json.loads(beside.removeprefix("kwYields(").removesuffix(")\n")) == as_data(worked)
        for (kind, way, names, turned, own, usual, more), group in zip(groups, yields_of(worked).groups, strict=True):
            assert [kind, names, turned] == [group.kind, [*group.names], [*group.turned]] and not more
            sold = [sheet for _, sheet in MATERIALS[group.kind].sold]
            assert sold[own] == group.own and way == ("asked" if group.printed else "none")
            for one in group.sheets:
                said = usual[sold.index(one.sheet)]
                drawn, upright = said if isinstance(said, list) else (said, said)
                assert one.drawn and one.upright and (drawn, upright) == (one.drawn.written, one.upright.written)


def test_it_leads_to_what_her_sheet_gives_without_a_kit(phone: Reader):
    """The part of that page for the first of her patterned sheets that has one; else the whole page."""
    link = phone.page.locator(".kw-found__alone")
    for sheets, part in (
        ("1,patterned,,8 × 8 in", "#sheet-8"),
        ("1,patterned,,=11 × 8 1/2 in", "#sheet-page"),
        ("1,cardstock,,Letter", ""),
    ):
        asked(phone, sheets, cards=3)
        assert link.get_attribute("href") == f"sheets.html{part}"


def test_what_can_be_reckoned_by_hand_is_so(phone: Reader):
    """Two kits of which a 6 × 6 sheet gives three cards, and a Letter sheet two bases."""
    says, kits = asked(phone, "2,patterned,,6 × 6 in", "2,cardstock,,Letter", cards=3)
    assert says == "All 2 kits make 3 cards from this; the nearest first."
    assert kits[0][:2] == [
        "Aster 3 cards",
        "Takes 1 sheet 6 × 6 in, 1½ sheets Letter · 1 sheet 6 × 6 in, ½ sheet Letter left · enough for 4",
    ]
    says, kits = asked(phone, "2,patterned,,6 × 6 in", "1,cardstock,,Letter", cards=5)
    assert says == "No kit makes 5 cards from this alone. The nearest first:"
    assert kits[0][:2] == ["Aster 2 of 5 cards", "Missing for 5: 2 more Letter"]
    says, kits = asked(phone, "2,patterned,,6 × 6 in", cards=5)
    assert kits[0][1:4] == [
        "Takes 1½ sheets · ½ sheet left · enough for 6",
        "Cut as its guides show.",
        "Besides: 3 sheets of cardstock, Letter.",
    ]
    assert asked(phone, "1,patterned,,6 × 6 in", "1,patterned,,=6 in x 6 in", cards=6)[1][0][0] == "Aster 3 of 6 cards", (
        "one paper comes from one pile"
    )


def test_odd_sheets_are_counted_by_what_lies_in_them(phone: Reader, tables: dict):
    says, kits = asked(phone, "1,patterned,one-way,=7 x 10 1/4 in", cards=3)
    assert kits[0][0] == "Aster at least 3 cards" and "At least: counted as 6 × 6 in, the largest usual sheet in yours." in kits[0]
    says, kits = asked(phone, "1,patterned,,=6 1/8 x 12 1/8 in", cards=6)
    assert kits[0][0] == "Aster at least 6 cards" and "At least: counted as 2 of 6 × 6 in, the largest usual sheet in yours." in kits[0]


ODD = (
    # Half of it is cut across the long side, a quarter is half of that.
    ("half A4", "210 × 148.5 mm"),
    ("Half of a Letter sheet", "8½ × 5½ in"),
    ("a quarter of 12 x 12 in", "6 × 6 in"),
    # One side is that of a square, where it has a unit or is told so.
    ("8 inch square", "8 × 8 in"),
    ('6"', "6 × 6 in"),
    ("15cm squares", "150 × 150 mm"),
    ("8 square", "8 × 8 in"),
    # Without a unit as such sheets are sold.
    ("30x30", "300 × 300 mm"),
    ("21 × 29,7", "210 × 297 mm"),
    ("12x12", "12 × 12 in"),
    # As the search reads them.
    ("8-inch square paper", "8 × 8 in"),
    ("six inch square", "6 × 6 in"),
    ("4 and 1/4 by 5 and a half inches", "4¼ × 5½ in"),
    ("15.2cms x 10 cms", "152 × 100 mm"),
    ("8-by-8", "8 × 8 in"),
)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_size_is_read_however_it_is_typed(phone: Reader, unit: str):
    box = phone.page.locator(".kw-stock__row [name=other]")
    asked(phone, "1,patterned,,=7 x 10 1/4 in", cards=3)
    phone.page.evaluate("unit => { document.documentElement.dataset.kwUnit = unit }", unit)
    for typed in ("7x10.25in", '7" × 10¼"', "7 by 10 1/4", "10 1/4 × 7", "7×10 ¼ inches", "177.8 mm x 260.35 mm", "17,78 x 26,035 cm"):
        box.fill(typed)
        read = phone.page.locator(".kw-stock__row .kw-stock__read").inner_text()
        sides = ("10¼ × 7 in", "260.3 × 177.8 mm") if typed.startswith("10") else ("7 × 10¼ in", "177.8 × 260.3 mm")
        assert read == f"That is {sides[unit == 'mm']} ({sides[unit == 'in']}).", typed
    for typed, read in (
        ("A5", "148 × 210 mm"),
        ("letter", "215.9 × 279.4 mm"),
        ("iso a6", "105 × 148 mm"),
        ("180 x 260", "180 × 260 mm"),
        *ODD,
    ):
        box.fill(typed)
        assert read in phone.page.locator(".kw-stock__row .kw-stock__read").inner_text(), typed
    for typed in ("seven", "7", "7 x 0 in", "1/0 x 3", "x", "7 x 8 x 9"):
        box.fill(typed)
        assert "not read as a size" in phone.page.locator(".kw-stock__row .kw-stock__read").inner_text(), typed
        assert box.get_attribute("aria-invalid") == "true"
    box.fill("900 x 12 in")
    assert "larger than any sheet" in phone.page.locator(".kw-stock__row .kw-stock__read").inner_text()
    phone.page.evaluate("delete document.documentElement.dataset.kwUnit")


LOOSE = "Small for your envelope: it lies loose in it."


def test_every_state_says_what_to_do(phone: Reader):
    assert asked(phone, ",patterned,,12 × 12 in", cards=3) == ("Say how many sheets you have, and of which size.", [])
    assert asked(phone, "1,patterned,,12 × 12 in", cards=61)[0].startswith("The tables go to 60 cards.")
    assert asked(phone, "1,patterned,,12 × 12 in", cards="")[0] == "Say how many cards you want, from 1 to 60."
    assert asked(phone, "1,patterned,,=1 x 1 in", cards=3) == ("No kit makes a whole card from this.", [])
    assert phone.page.locator(".kw-found__none a").get_attribute("href") == "archive.html"
    assert asked(phone, "1,patterned,,12 × 12 in", cards=3, envelope="ISO C7 envelope")[0] == "No kit makes a whole card from this."
    says, kits = asked(phone, "1,patterned,,12 × 12 in", cards=3, envelope="other", card_fits="5 3/4 x 4 3/8 in", time="quick")
    assert len(kits) == 2 and says.startswith("All 2 kits make 3 cards")
    assert not [lines for lines in kits if LOOSE in lines]
    says, kits = asked(phone, "1,patterned,,12 × 12 in", cards=3, envelope="ISO C5 envelope")
    assert says.startswith("All 2 kits make 3 cards from this, but all lie loose in your envelope")
    assert len(kits) == 2 and all(LOOSE in lines for lines in kits), "a card that slides about in its envelope"


def test_what_is_asked_stands_in_the_address_and_leads_into_the_kit(phone: Reader, small_site: Path):
    asked(phone, "1,patterned,,6 × 6 in", cards=3)
    page = phone.page
    page.get_by_role("button", name="Add other sheets").press("Enter")
    page.keyboard.type("4")
    second = page.locator(".kw-stock__row").nth(1)
    second.locator("select[name=size]").select_option("A4")
    second.get_by_label("Kind").select_option("cardstock")
    assert second.get_by_text("one-way").is_hidden()
    first, before = page.locator(".kw-stock__row").first, answer(phone)
    first.locator("select[name=size]").select_option("8 × 8 in")
    first.get_by_label("one-way").check()
    told, address = answer(phone), page.url
    assert (
        told != before
        and "Its guides are drawn for 6 × 6 in, Letter: on your sheets the pieces lie otherwise. With every piece kept upright."
        in told[1][0]
    )
    phone.open("about:blank")
    phone.open(address)
    assert answer(phone) == told and page.locator(".kw-stock__row").count() == 2
    link = page.locator(".kw-found__kit a").first.get_attribute("href")
    assert link and link.endswith("/index.html?cards=3&patterned=8-8-in&cardstock=a4&up=1#need")
    page.locator(".kw-stock__row").first.get_by_role("button", name="Take these sheets away").press("Enter")
    assert page.locator(".kw-stock__row").count() == 1 and page.evaluate("document.activeElement.name") == "n"
    assert page.get_by_role("button", name="Take these sheets away").is_hidden()


def test_nothing_moves_and_nothing_is_wrong(phone: Reader, small_site: Path):
    """Hands find every field, at 320 pixels too; axe has nothing to say in either light."""
    phone.open("about:blank")
    page = phone.open((small_site / "paper.html").as_uri())
    assert faults(page, "paper") == []
    with in_the_other_light(page):
        assert colour_faults(page, "paper, in the other light") == []
    phone.complaints.clear()  # axe reads style sheets by itself, which a folder on disk refuses
    asked(phone, "1,patterned,,=1 x 1 in", "3,cardstock,,=no size", cards=3, envelope="other")
    assert faults(page, "paper, asked for more") == []
    phone.complaints.clear()
    phone.resize({"width": 320, "height": 700})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    small = "[...document.querySelectorAll('.kw-stock :is(input:not([type=checkbox]), select, button, .kw-stock__up)')].filter(e => e.offsetHeight && e.offsetHeight < 44).length"
    assert page.evaluate(small) == 0
    phone.resize(PHONE)


def test_without_scripts_a_table_says_what_each_kit_takes(browser: Browser, small_site: Path):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((small_site / "paper.html").as_uri())
    assert page.locator(".kw-stock").is_hidden() and page.locator("noscript p").is_visible()
    assert page.locator("tbody tr").count() == 2
    assert "Clover _field_, 6 × 6 in: 1 sheet" in page.locator("tbody tr").first.inner_text()
    context.close()


def test_no_table_goes_beyond_its_most(tables: dict):
    assert tables["most"] == MOST == tables["digits"].index("y")


def test_nothing_shifts_while_it_loads(browser: Browser, small_site: Path):
    """The first row stands in the page, results have their room: `layout-shift` entries by the Layout Instability API of the W3C's community group."""
    context = browser.new_context(viewport=PHONE)
    page = context.new_page()
    page.add_init_script(
        "window.shifts = []; new PerformanceObserver(l => shifts.push(...l.getEntries().map(e => e.value))).observe({type: 'layout-shift', buffered: true})"
    )
    page.goto((small_site / "paper.html").as_uri())
    page.wait_for_selector(".kw-found__kit")
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestIdleCallback(done)))")
    assert page.evaluate("shifts.reduce((sum, one) => sum + one, 0)") <= 0.02
    context.close()
