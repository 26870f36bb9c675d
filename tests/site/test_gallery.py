"""The gallery in a real browser: filters, pictures that enlarge in place, keyboard, no script, every light and width."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import DESKTOP, PHONE, TABLET, Reader
from archive.varied import varied
from arrange.benches import PAPERS, stack
from kitwright.archive.build import build_archive
from kitwright.archive.gallery import gallery_of
from kitwright.archive.gather import Archive, kit_of
from kitwright.kit.kit import PastKit
from kitwright.labels import named
from making import CLUB
from playwright.sync_api import Browser, Page, expect
from release.bench import quickly
from sharing import once

pytestmark = pytest.mark.browser

TILES = ".kw-tile:not([hidden]):visible"
OPEN = "dialog[open]"


@pytest.fixture(scope="module")
def many(tmp_path_factory, worker_id: str) -> str:
    """The page of a kit with 720 arrangements and some other folds, from a folder."""

    def made(root: Path) -> None:
        (root / "kits" / "2030-03-stack").mkdir(parents=True)
        (root / "kits" / "club.yaml").write_text(CLUB, encoding="utf-8")
        (root / "kits" / "2030-03-stack" / "kit.yaml").write_text(
            stack(list(PAPERS[:6]), extra="arrangements: {vary: [fold]}\n"), encoding="utf-8"
        )
        with quickly():
            build_archive(root, root / "site")

    return (once(tmp_path_factory, worker_id, "many", made) / "site/kits/2030-03-stack/arrangements.html").as_uri()


@pytest.fixture(scope="module")
def gallery(browser: Browser, many: str) -> Iterator[Reader]:
    """The page on a large screen, opened once."""
    context = browser.new_context(viewport=DESKTOP, reduced_motion="reduce")
    one = Reader(context)
    one.open(many, whole=False)
    yield one
    context.close()


@pytest.fixture
def opened(gallery: Reader) -> tuple[Reader, Page]:
    """The same as it was when it was opened: nothing is enlarged, all cards are shown, no place is named and nothing chosen."""
    page = gallery.page
    page.evaluate("document.querySelectorAll('dialog[open]').forEach(d => d.close())")
    for kind in ("top", "made"):
        choose(page, kind, "All").click()
    page.evaluate("() => { history.replaceState(null, '', location.pathname); document.activeElement.blur(); scrollTo(0, 0) }")
    assert page.locator(f"{TILES}").count() == page.locator(".kw-tile").count() > 60 and page.locator(OPEN).count() == 0
    return gallery, page


def galleries(site: Path) -> list[str]:
    return [f.relative_to(site).as_posix() for f in sorted(site.glob("kits/*/arrangements.html"))]


def choose(page: Page, kind: str, name: str):
    return page.locator(f".kw-choice[data-filter={kind}]").filter(has_text=name).first


def count_told(page: Page) -> str:
    return page.locator(".kw-filter [role=status]").inner_text()


# --- the filter -------------------------------------------------------------------------------------


def test_only_what_has_this_paper_on_top_is_shown_and_the_count_is_told(opened):
    one, page = opened
    everything = page.locator(TILES).count()
    assert count_told(page) == f"All {everything} are shown."
    button = choose(page, "top", "Dusk")
    button.click()
    shown = page.locator(TILES)
    assert 0 < shown.count() < everything
    assert set(shown.evaluate_all("all => all.map(t => t.dataset.top)")) == {"dusk-front"}
    assert count_told(page) == f"{shown.count()} of {everything} are shown."
    assert str(shown.count()) in button.locator("span").inner_text()
    expect(button).to_have_attribute("aria-pressed", "true")
    assert page.locator(".kw-choice[data-filter=top][aria-pressed=true]").count() == 1
    assert page.locator(".kw-cluster:visible").evaluate_all("all => all.every(c => c.querySelector('.kw-tile:not([hidden])'))")
    choose(page, "top", "All").click()
    assert page.locator(TILES).count() == everything and one.complaints == []


def test_the_filter_works_by_keyboard_and_both_rows_count(opened):
    _, page = opened
    everything = page.locator(TILES).count()
    choose(page, "top", "All").focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement.getAttribute('aria-pressed')") == "true"
    first = page.evaluate("document.activeElement.dataset.value")
    assert set(page.locator(TILES).evaluate_all("all => all.map(t => t.dataset.top)")) == {first}
    folds = choose(page, "made", "Another fold")
    folds.focus()
    page.keyboard.press("Enter")
    assert set(page.locator(TILES).evaluate_all("all => all.map(t => t.dataset.made + t.dataset.top)")) == {f"fold{first}"}
    # The other folds all show the sketch's own order, so this paper leads in none of them.
    choose(page, "top", "Barley").click()
    assert page.locator(TILES).count() == 0 and "No card is both" in count_told(page)
    assert page.locator(".kw-group:visible").count() == 0
    for kind in ("top", "made"):
        choose(page, kind, "All").click()
    assert page.locator(TILES).count() == everything


def test_a_link_leads_to_a_card_that_the_filter_hides(opened, many: str):
    _, page = opened
    choose(page, "made", "Another fold").click()
    hidden = page.locator(".kw-tile[hidden]").last.get_attribute("id")
    page.evaluate("place => { location.hash = place }", hidden)
    expect(page.locator(f"#{hidden}")).to_be_in_viewport()
    assert page.locator(".kw-choice[data-value=''][aria-pressed=true]").count() == 2


# --- one picture, large -------------------------------------------------------------------------------


def test_a_picture_enlarges_in_place_and_escape_leads_back(opened):
    one, page = opened
    link = page.locator(".kw-tile__open").nth(3)
    before = page.url
    link.focus()
    page.keyboard.press("Enter")
    dialog = page.locator(OPEN)
    expect(dialog).to_be_visible()
    expect(dialog.get_by_role("button", name="Close")).to_be_focused()
    name = page.locator(".kw-tile").nth(3).locator(".kw-tile__name").inner_text()
    assert dialog.locator("h2").inner_text() == name
    picture = dialog.locator("img")
    page.wait_for_function("() => document.querySelector('dialog[open] img').complete")
    assert picture.evaluate("i => i.naturalWidth") > 0 and picture.get_attribute("alt") == link.locator("img").get_attribute("alt")
    assert picture.bounding_box()["width"] > 2 * link.bounding_box()["width"]
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(link).to_be_focused()
    assert page.url == before and one.complaints == []


def test_arrows_walk_through_what_the_filter_shows_and_stop_at_the_ends(opened):
    one, page = opened
    choose(page, "top", "Dusk").click()
    tiles = page.locator(TILES)
    names = [n.strip() for n in tiles.locator(".kw-tile__name").all_inner_texts()]
    tiles.first.locator(".kw-tile__open").click()
    dialog = page.locator(OPEN)
    expect(dialog.get_by_role("button", name="Previous")).to_be_disabled()
    walked = [dialog.locator("h2").inner_text()]
    for _ in names:
        page.keyboard.press("ArrowRight")
        walked.append(dialog.locator("h2").inner_text())
    assert walked == [*names, names[-1]]
    expect(dialog.get_by_role("button", name="Next")).to_be_disabled()
    assert dialog.locator(".kw-eyebrow").inner_text() == f"{len(names)} of {len(names)}"
    dialog.get_by_role("button", name="Previous").click()
    assert dialog.locator("h2").inner_text() == names[-2]
    # A letter typed here does not reach the page behind, where a stroke opens the search.
    page.keyboard.press("/")
    assert page.locator("dialog.kw-search[open]").count() == 0
    dialog.get_by_role("button", name="Close").click()
    expect(tiles.nth(len(names) - 2).locator(".kw-tile__open")).to_be_focused()
    assert one.complaints == []


def test_the_keyboard_stays_when_the_last_card_is_reached(opened):
    """A button that becomes disabled while it is pressed would drop the focus."""
    _, page = opened
    page.locator(".kw-tile__open").nth(-2).click()
    following = page.locator(OPEN).get_by_role("button", name="Next")
    following.focus()
    page.keyboard.press("Enter")
    expect(following).to_be_disabled()
    expect(page.locator(OPEN).get_by_role("button", name="Close")).to_be_focused()


def test_a_click_beside_the_picture_closes_it_and_one_with_a_key_held_follows_the_link(opened):
    one, page = opened
    page.locator(".kw-tile__open").first.click()
    page.mouse.click(3, 400)
    expect(page.locator(OPEN)).to_have_count(0)
    with page.context.expect_page() as other:
        page.locator(".kw-tile__open").first.click(modifiers=["Control"])
    other.value.wait_for_url("**/*.svg")
    assert page.locator(OPEN).count() == 0


# --- without script ------------------------------------------------------------------------------------


def test_without_script_everything_is_there_and_pictures_are_links(browser: Browser, many: str):
    context = browser.new_context(viewport=DESKTOP, java_script_enabled=False)
    try:
        page = context.new_page()
        page.goto(many)
        tiles = page.locator(".kw-tile")
        assert tiles.count() == page.locator(".kw-tile:visible").count() > 60
        assert page.locator(".kw-filter").is_hidden() and page.locator("dialog").count() == 0
        assert page.locator(".kw-tile__told").last.is_visible()
        page.locator(".kw-tile__open").nth(5).click()
        page.wait_for_url("**/arrangements/*.svg")
        assert page.locator("svg").count() == 1
    finally:
        context.close()


# --- everybody, everywhere -------------------------------------------------------------------------------


@pytest.mark.parametrize("viewport, scheme", [(PHONE, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"])
def test_pages_fit_are_quiet_and_whole_and_axe_finds_nothing(reader, site: Path, address: str, viewport: dict[str, int], scheme: str):
    """axe-core, all of its rules: a gallery filtered, and with a picture open (test_for_everybody.py looks at it as it is); the colours in both lights."""
    one, found = reader(viewport, scheme), []
    for name in varied(site, galleries(site)):
        one.page.set_viewport_size(viewport)
        page = one.open(address + name)
        if viewport == PHONE:
            fits_every_width(one)
            one.resize(viewport)
    choices = page.locator(".kw-choice")
    choices.nth(choices.count() - 1).click()
    tile = page.locator(TILES).first.locator(".kw-tile__open")
    for state, enter in (("filtered", lambda: None), ("enlarged", tile.click)):
        enter()
        found += faults(page, state)
        with in_the_other_light(page):
            found += colour_faults(page, state)
    assert found == [] and one.complaints == []
    assert all(urlsplit(u).scheme == "data" or urlsplit(u).netloc == urlsplit(address).netloc for u in one.fetched)


def test_from_a_folder_pages_fit_and_are_quiet_and_whole_too(reader, site: Path, many: str):
    one = reader(PHONE)
    for name in [*((site / g).as_uri() for g in varied(site, galleries(site))), many]:
        one.open(name)
        fits_every_width(one)
    assert one.complaints == []
    assert all(urlsplit(u).scheme in ("file", "data") for u in one.fetched)


def fits_every_width(one: Reader) -> None:
    """The page that is open, given each width in turn, and with a picture enlarged."""
    page = one.page
    for viewport in (PHONE, TABLET, DESKTOP):
        one.resize(viewport)
        assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"], f"{page.url} is wider than the screen"
        assert page.evaluate("[...document.images].filter(i => !(i.complete && i.naturalWidth)).map(i => i.src)") == []
        page.locator(".kw-tile__open").first.click()
        box = page.locator(OPEN).bounding_box()
        assert (
            0 <= box["x"]
            and box["x"] + box["width"] <= viewport["width"]
            and 0 <= box["y"]
            and box["y"] + box["height"] <= viewport["height"]
        )
        for button in page.locator(f"{OPEN} button").all():
            expect(button).to_be_in_viewport(ratio=1)
        page.keyboard.press("Escape")
        expect(page.locator(OPEN)).to_have_count(0)


def test_every_kit_shows_what_its_pieces_can_do(site: Path, archive: Archive):
    for entry in archive.entries:
        folder = site / "kits" / kit_of(entry).id
        if isinstance(entry, PastKit):
            assert not (folder / "arrangements.html").exists()
            continue
        gallery, files = gallery_of(entry, {}) if len(list(folder.glob("arrangements/*.svg"))) < 6 else (None, {})
        page = (folder / "index.html").read_text(encoding="utf-8")
        designs = kit_of(entry).spec.designs
        assert all(page.count(f'id="{named("arrangements", design)}"') == 1 for design in designs or ("",))
        # Each design has a page of its own, since the pieces of each go more ways than one.
        assert all((folder / f"{named('arrangements', design)}.html").is_file() for design in designs)
        if gallery and not designs:
            assert gallery.has_page == (folder / "arrangements.html").is_file()
            assert all((folder / name).is_file() for name in files)


def test_the_finder_knows_the_gallery_and_still_puts_the_kit_first(reader, address: str, site: Path, archive: Archive):
    one = reader()
    one.open(address + "index.html")
    for name in galleries(site):
        title = next(kit_of(e).spec.title for e in archive.entries if kit_of(e).id == Path(name).parent.name)
        assert one.search(f"arrangements of {title}")[0] == title
        where = one.page.locator(".kw-hit__where").first
        assert where.inner_text() == f"Arrangements of {title}" and where.evaluate("e => e.closest('a').href").endswith(name)
        assert one.search(title)[0] == title
