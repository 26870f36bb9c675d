"""The finder, in a real browser, over http and from a folder: a kit is found by whatever a maker remembers of it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from archive.everybody import faults
from archive.reading import DESKTOP, Reader
from kitwright.archive.gather import Archive, kit_of
from kitwright.archive.search.tokens import tokens
from kitwright.kit.kit import PastKit
from kitwright.telling import searching
from kitwright.units import VULGAR, Size, figure
from kitwright.work.worked import Worked
from playwright.sync_api import Browser, expect

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module", params=["http", "folder"])
def start(request, site: Path, address: str) -> str:
    """The home page, over http and from a folder."""
    return address + "index.html" if request.param == "http" else (site / "index.html").as_uri()


@pytest.fixture(scope="module")
def finder(browser: Browser, start: str) -> Iterator[Reader]:
    """That page, opened once for all who only type."""
    context = browser.new_context(viewport=DESKTOP, reduced_motion="reduce")
    one = Reader(context)
    one.open(start, whole=False)
    yield one
    context.close()


def typed_sizes(size: Size, unit: str) -> list[str]:
    """A size as the pages write it, and as people type it."""
    written = f"{figure(size.width, unit)} × {figure(size.height, unit)}"
    plain = [figure(length, unit, plain=True).replace("≈", "") for length in (size.width, size.height)]
    return [written.replace("≈", ""), " x ".join(plain), "x".join(p.replace(" ", "-") for p in plain)]


def test_every_kit_is_found_by_title_tag_size_and_paper(finder: Reader, archive: Archive):
    """Among the first that are shown; of a tag that many bear, among those that are shown once more are asked for."""
    wanted, tagged = [], []
    for entry in archive.entries:
        kit = kit_of(entry)
        asked = [kit.spec.title, kit.spec.title.lower()]
        tagged += [(kit.spec.title, tag) for tag in kit.spec.tags[:2]]
        if isinstance(entry, Worked):
            asked += typed_sizes(entry.base.finished, kit.spec.unit)
            asked += [kit.papers[plan.paper].name for plan in entry.plans[:2]]
            first = next(iter(kit.spec.pieces.values()))
            asked.append(typed_sizes(first.size, kit.spec.unit)[1])
        wanted += [(kit.spec.title, words) for words in asked]
    found = finder.searches([words for _, words in wanted])
    assert [(title, words) for (title, words), titles in zip(wanted, found, strict=True) if title not in titles] == []
    tags = list(dict.fromkeys(tag for _, tag in tagged))
    bearing = dict(zip(tags, finder.searches(tags, whole=True), strict=True))
    assert [(title, tag) for title, tag in tagged if title not in bearing[tag]] == []
    assert finder.complaints == []


@pytest.mark.parametrize(
    "ways",
    [("5½", "5 1/2", "5-1/2", '5-1/2"', "5½ in"), ("4¼ × 5½", "4 1/4 x 5 1/2", "4-1/4x5-1/2"), ("105 × 148 mm", "105x148", "105 x 148")],
)
def test_a_size_is_found_however_it_is_typed(finder: Reader, ways: tuple[str, ...]):
    found = [finder.search(way) for way in ways]
    assert found[0] and all(titles == found[0] for titles in found)


def test_a_title_leads_to_its_page(reader, start: str, archive: Archive):
    one = reader()
    page = one.open(start, whole=False)
    kit = kit_of(archive.entries[-1])
    assert one.search(kit.spec.title)[0] == kit.spec.title
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/kits/{kit.id}/index.html*")
    assert page.locator("article h1").inner_text() == kit.spec.title


def test_a_past_kit_is_found_too(finder: Reader, archive: Archive):
    past = [kit_of(e) for e in archive.entries if isinstance(e, PastKit)]
    assert past
    assert past[0].spec.title in finder.search(past[0].spec.title)


# --- the dialog -----------------------------------------------------------------------------------

VECTORS = json.loads((Path(__file__).parents[1] / "archive" / "search_vectors.json").read_text(encoding="utf-8"))


def test_what_is_typed_is_taken_as_what_is_written(reader, start: str):
    one = reader()
    page = one.open(start, whole=False)
    one.search("strip")
    spelled = [*(f"3 {unit}, 4-{unit}" for unit in searching.UNITS), *searching.NUMBERS, *(f"six {n}" for n in searching.NUMBERS), *VULGAR]
    spelled += [f"a {part} inch and 5 inches and a {part}" for part in searching.PARTS]
    wanted = dict(VECTORS["tokens"]) | {text: list(tokens(text)) for text in spelled}
    said = page.evaluate("texts => Promise.all(texts.map(text => kitwrightFound.tokens(text)))", list(wanted))
    assert dict(zip(wanted, said, strict=True)) == wanted


def test_by_keys_alone(reader, start: str):
    """A stroke opens it, arrows walk, Escape closes at once and gives the focus back; it is a dialog with a name, and tells how many."""
    one = reader()
    page = one.open(start, whole=False)
    opener, dialog = page.get_by_role("button", name="Find a kit"), page.get_by_role("dialog", name="Find a kit")
    opener.focus()
    page.keyboard.press(" ")
    box = page.get_by_role("textbox", name="Find a kit by title, size, paper or technique")
    expect(box).to_be_focused()
    expect(dialog.get_by_role("button", name="raised strip")).to_be_visible()
    one.search("8x8")
    expect(dialog.get_by_role("status")).to_have_text(re.compile(r"^\d+ found\.$"))
    page.keyboard.press("ArrowDown")
    first = dialog.locator(".kw-hit a").first
    expect(first).to_be_focused()
    page.keyboard.press("ArrowDown")
    expect(dialog.locator(".kw-hit a").nth(1)).to_be_focused()
    page.keyboard.press("n")  # the page behind would go on to its neighbour
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    expect(box).to_be_focused()
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(opener).to_be_focused()
    assert page.url == start and one.complaints == []


def test_where_it_matched_leads_there_and_a_kit_is_one_hit(reader, start: str):
    one = reader()
    page = one.open(start, whole=False)
    found = one.search("Potting shed sprigs")
    assert found[0] == "Window boxes" and len(found) == len(set(found))
    page.locator(".kw-hit__where").first.click()
    page.wait_for_url("**/kits/2026-03-window-boxes/index.html#*need")
    assert one.search("where does B go")[0] and "Piece B" in page.locator(".kw-hit__where").first.inner_text()
    assert one.complaints == []


def test_all_that_is_typed_counts_and_what_nobody_has_is_left_out(reader, start: str):
    one = reader()
    page = one.open(start, whole=False)
    said = page.locator(".kw-search__said")
    assert one.search("5.25 x 5.25")[0] == one.search("133.4 × 133.4 mm")[0] == "Weathervane"
    assert set(one.search("105 mm")) >= {"Low tide"} and one.search("777 cards") == one.search("cards")
    assert one.search("one-way") == one.search("directional") != []
    assert one.search("zzzqq strip") == one.search("strip") != [] and "without" not in said.inner_text()
    one.search("zzzqq strip")
    expect(said).to_have_text(re.compile("found, without “zzzqq”, which no page has"))


ASKED = json.loads(Path(__file__).with_name("searches.json").read_text(encoding="utf-8"))
"""What makers type, and where it must lead first: the end of a kit's id or a page, several by `|`; after `#` or `~` a place in it, or a part of its name."""


def leads_to(wanted: str, page: str, place: str) -> bool:
    name, sign, part = re.fullmatch(r"([^#~]*)([#~]?)(.*)", wanted).groups()
    there = page.partition("#")[0] == name if name.endswith(".html") else page.endswith(f"-{name}/index.html")
    return there and part in place.partition("#")[2] and (not sign or "#" in place)


def test_makers_questions_lead_where_they_must(finder: Reader):
    """Sizes in any spelling, titles with slips, tags, papers, pieces, codes, words of the trade, questions: all of them in one go."""
    finder.search("strip")
    asked = [*ASKED["asked"], *ASKED["fresh"]]
    found = finder.page.evaluate("typed => Promise.all(typed.map(text => kitwrightFound.first(text)))", [text for text, _ in asked])
    wrong = [
        (text, wanted, first)
        for (text, wanted), first in zip(asked, found, strict=True)
        if not any(leads_to(one, *first[0]) for one in wanted.split("|") if first)
    ]
    # What was not tuned for may miss a little; it is there to tell when something else breaks.
    assert [one for one in wrong if [*one[:2]] in ASKED["asked"]] == [] and len(wrong) <= 3
    assert len(ASKED["asked"]) >= 60


def test_a_code_leads_to_its_own_answer_and_a_slip_is_told(reader, start: str):
    one = reader()
    page = one.open(start, whole=False)
    assert one.search("4m22 yw6m") == ["Is my copy current?"]
    page.keyboard.press("Enter")
    page.wait_for_url("**/mycopy.html#4M22-YW6M")
    expect(page.locator("#kw-code")).to_have_value("4M22-YW6M")
    expect(page.locator(".kw-answer")).not_to_be_empty()
    one.open(start, whole=False)
    assert one.search("harbour lihgts")[0] == "Harbour lights"
    expect(page.locator(".kw-search__said")).to_have_text(re.compile("found for “light"))


WITHOUT_VELLUM = (
    "no vellum",
    "without vellum",
    "-vellum",
    "vellum-free",
    "don’t need any vellum",
    "w/o vellum paper",
    "not vellums",
    "no velum",
)


def test_what_is_not_wanted_is_left_out_and_can_be_taken_back(reader, start: str, archive: Archive):
    """However it is denied, by what a kit is made of rather than by what its prose says; a word in no list is looked for, and so is a title."""
    one = reader()
    page = one.open(start, whole=False)
    kits = [entry for entry in archive.entries if isinstance(entry, Worked)]
    with_it = {entry.kit.spec.title for entry in kits if any(paper.kind == "vellum" for paper in entry.kit.papers.values())}
    one.search("strip")
    found = one.searches(WITHOUT_VELLUM, whole=True)
    assert all(titles == found[0] for titles in found) and set(found[0]) == {entry.kit.spec.title for entry in kits} - with_it
    one.search("winter no vellum")
    expect(page.locator(".kw-search__said")).to_have_text(re.compile(r"^\d+ found; \d+ with “vellum” (is|are) left out\.$"))
    page.get_by_role("button", name="Take back “without vellum”").click()
    expect(page.locator("dialog.kw-search input")).to_have_value("winter")
    assert one.search("no adhesive") == []
    expect(page.locator(".kw-search__said")).to_have_text(f"Nothing is left without “adhesive”: {len(kits)} kits have it.")
    assert one.search("no sewing") and "no kit calls for “sewing”" in page.locator(".kw-search__said").inner_text()
    assert one.search("no grid") == one.search("grid") != [], "no list has it, so it can only be looked for"
    assert one.search("glass without glue") == ["Two of us"]
    assert one.complaints == []


def test_no_other_size_is_found(reader, start: str, archive: Archive):
    """Numbers and single letters never match by their beginning."""
    one = reader()
    page = one.open(start, whole=False)
    assert one.search("9999") == [] and one.search("31.4 x 31.4") == [] and one.search("qx") == []
    expect(page.locator(".kw-search__said")).to_have_text("Nothing has that.")
    assert one.search("9x9") == []
    expect(page.locator(".kw-search__help")).to_contain_text("No card, sheet or piece has this size")
    expect(page.locator(".kw-search__offers").get_by_role("link", name="See all kits")).to_have_attribute(
        "href", re.compile(r"archive\.html$")
    )
    kits = [entry for entry in archive.entries if isinstance(entry, Worked)]
    found = one.searches([typed_sizes(entry.base.finished, entry.kit.spec.unit)[1] for entry in kits])
    assert all(entry.kit.spec.title in titles for entry, titles in zip(kits, found, strict=True))


def test_nothing_is_loaded_before_it_is_asked_for(reader, address: str):
    one = reader()
    page = one.open(address + "index.html", whole=False)
    assert not [url for url in one.fetched if "/search/" in url or "search.js" in url]
    page.keyboard.press("/")
    page.wait_for_function("() => document.querySelector('dialog.kw-search[open]')?.dataset.told === ''")
    assert [url.rpartition("/")[2] for url in one.fetched if "/search/" in url] == ["map.js"]
    one.search("strip")
    parts = [url for url in one.fetched if "/search/t-" in url]
    one.search("strip")
    assert 1 <= len(parts) <= 2 and len([url for url in one.fetched if "/search/t-" in url]) == len(parts)


def test_a_map_of_before_is_asked_for_anew(reader, address: str, site: Path):
    """A browser may have kept a map that names parts which a newer build took away."""
    one = reader()
    page = one.page
    old = (site / "search" / "map.js").read_text(encoding="utf-8").replace('"documents":"', '"documents":"' + "q" * 8 * 40)
    page.route("**/search/map.js", lambda route: route.fulfill(body=old, content_type="text/javascript"))
    page.goto(address + "index.html")
    assert one.search("Bud vases")[0] == "Bud vases"


def test_a_search_that_is_not_there_says_so(reader, address: str):
    one = reader()
    page = one.page
    page.route("**/search/**", lambda route: route.fulfill(status=404))
    page.goto(address + "index.html")
    assert one.search("Bud vases") == []
    expect(page.locator(".kw-search__said")).to_have_text("The search can’t be loaded just now.")
    expect(page.locator(".kw-search__offers").get_by_role("link", name="See all kits")).to_be_visible()


def test_without_scripts_it_leads_to_all_kits(browser, address: str):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address + "kits/2025-09-bud-vases/index.html")
    page.locator("[data-search-opens]").click()
    page.wait_for_url("**/some/folder/archive.html")
    context.close()


@pytest.mark.parametrize(("width", "scheme"), [(320, "light"), (390, "dark"), (1440, "light")])
def test_for_everybody_on_every_screen(reader, address: str, width: int, scheme: str):
    """Nothing that axe finds, nothing wider than the screen, targets for hands, and nothing that jumps as it opens."""
    one = reader({"width": width, "height": 800}, scheme)
    page = one.open(address + "index.html", whole=False)
    page.evaluate(
        "window.shifted = 0; new PerformanceObserver(l => l.getEntries().forEach(e => { window.shifted += e.value })).observe({ type: 'layout-shift' })"
    )
    for typed in ("", "8x8", "zzzqq"):
        one.search(typed or "strip")
        if not typed:
            one.search("")
        assert faults(page, f"search for “{typed}”") == []
        assert page.evaluate("[...document.querySelectorAll('.kw-search, .kw-search__below')].every(e => e.scrollWidth <= e.clientWidth)")
        low = page.evaluate(
            "[...document.querySelectorAll('.kw-search :is(button, input, a.kw-hit__kit)')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.9).map(e => e.outerHTML)"
        )
        assert low == []
    assert page.evaluate("window.shifted") <= 0.001 and one.complaints == []
