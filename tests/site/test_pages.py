"""The demo archive's site as its readers meet it: sound, readable by everybody, quiet, nothing from outside."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from archive.pagecheck import faults_of
from archive.reading import DESKTOP, PHONE, TABLET
from archive.varied import shown, varied
from kitwright.archive.gather import Archive, kit_of

PAGES = ["index.html", "archive.html", "tags.html", "words.html", "care.html"]


@pytest.fixture(scope="module")
def looked_at(site: Path, archive: Archive) -> list[str]:
    """The pages that a browser looks at: of the kits' pages the few that show all that any of them shows."""
    return PAGES + varied(site, [f"kits/{kit_of(entry).id}/index.html" for entry in archive.entries])


def test_what_a_browser_looks_at_shows_all_that_any_kit_s_page_shows(site: Path, looked_at: list[str]):
    every, taken = (
        [shown((site / name).read_text(encoding="utf-8")) for name in names]
        for names in ([file.relative_to(site).as_posix() for file in site.glob("kits/*/index.html")], looked_at)
    )
    assert set().union(*(features for features, _ in every)) <= set().union(*(features for features, _ in taken))
    for measure in {measure for _, most in every for measure in most}:
        assert max(most.get(measure, 0) for _, most in taken) >= max(most.get(measure, 0) for _, most in every), measure


def test_every_page_is_sound_and_every_link_leads_somewhere(site: Path):
    assert faults_of(site) == []


def test_every_kit_has_its_page_pictures_and_printables(site: Path, archive: Archive):
    for entry in archive.entries:
        folder = site / "kits" / kit_of(entry).id
        assert (folder / "index.html").is_file() and list(folder.glob("*.pdf"))
        for guide in range(1, len(getattr(entry, "layouts", ())) + 1):
            for name in (f"guide-{guide}.svg", f"guide-{guide}-narrow.svg", f"guide-{guide}.png"):
                assert (folder / name).is_file(), name


@pytest.mark.browser
@pytest.mark.parametrize("viewport, scheme", [(PHONE, "light"), (DESKTOP, "dark")], ids=["phone", "desktop"])
def test_pages_are_quiet_fit_and_load_nothing_from_outside(
    reader, address: str, looked_at: list[str], viewport: dict[str, int], scheme: str
):
    """Half of the pages are opened on a phone, half on a large screen; then each is given every width. test_for_everybody.py looks closer at each kind."""
    host = urlsplit(address).netloc
    for name in looked_at[viewport == DESKTOP :: 2]:
        one = reader(viewport, scheme)
        page = one.open(address + name)
        assert page.locator("body").get_attribute("data-md-color-scheme") == ("slate" if scheme == "dark" else "default")
        for width in (viewport, *(v for v in (PHONE, TABLET, DESKTOP) if v != viewport)):
            one.resize(width)
            assert page.evaluate("document.documentElement.scrollWidth") <= width["width"], f"{name} is wider than the screen"
            small = page.evaluate("[...document.querySelectorAll('img')].filter(i => !(i.complete && i.naturalWidth)).map(i => i.src)")
            assert small == [], f"pictures of {name} that did not load"
        assert one.complaints == []
        assert [u for u in one.fetched if urlsplit(u).scheme != "data" and urlsplit(u).netloc != host] == []
        one.leave()


@pytest.mark.browser
def test_from_a_folder_pages_are_quiet_too(reader, site: Path, looked_at: list[str]):
    """Their pictures are where those are that the test above waits for; here it is enough to wait for all of the home page and of one kit's."""
    for name in looked_at:
        one = reader(DESKTOP)
        one.open((site / name).as_uri(), whole=name in (PAGES[0], looked_at[-1]))
        assert one.complaints == []
        assert all(urlsplit(u).scheme in ("file", "data") for u in one.fetched)
        one.leave()


@pytest.mark.browser
def test_a_phone_gets_its_own_drawings(reader, address: str, site: Path):
    """On the shortest page of a kit that has drawings at all."""
    drawn = [file for file in sorted(site.glob("kits/*/index.html")) if "drawings-narrow.svg" in file.read_text(encoding="utf-8")]
    name = min(drawn, key=lambda file: file.stat().st_size).relative_to(site).as_posix()
    for viewport, narrow in ((PHONE, True), (DESKTOP, False)):
        page = reader(viewport).open(address + name)
        shown = page.evaluate("[...document.querySelectorAll('.kw-plate img')].filter(i => i.checkVisibility()).map(i => i.currentSrc)")
        # The finished card has no figures on it: one drawing serves every width.
        figured = [src for src in shown if not src.endswith("/small.svg#card")]
        assert figured and len(figured) >= len(shown) - 1 and all(("-narrow.svg#" in src) == narrow for src in figured)
        # The least text of a drawing is 8 points; shown, it is no smaller than 10 pixels.
        scales = page.evaluate("""[...document.querySelectorAll('.kw-side .kw-plate img')].filter(i => i.checkVisibility()).map(image => {
            const source = [...image.parentElement.querySelectorAll('source')].find(each => matchMedia(each.media).matches) ?? image
            return image.clientWidth / Number(source.getAttribute('width')) })""")
        assert min(scales) * 8 * 96 / 72 >= 10


@pytest.mark.browser
def test_the_light_can_be_changed_and_is_remembered(reader, address: str):
    one = reader(DESKTOP, "light")
    page = one.open(address + "index.html", whole=False)
    page.locator(".kw-menu summary").click()
    page.get_by_text("Dark pages").click()
    assert page.locator("body").get_attribute("data-md-color-scheme") == "slate"
    one.open(address + "archive.html", whole=False)
    assert page.locator("body").get_attribute("data-md-color-scheme") == "slate"
    assert one.complaints == []


@pytest.mark.browser
def test_our_own_fonts_are_used_and_a_sixteenth_is_set_as_a_fraction(reader, address: str, site: Path):
    pages = [f for f in sorted(site.glob("kits/*/index.html")) if 'class="kw-frac"' in f.read_text(encoding="utf-8")]
    assert pages, "no demo kit shows a sixteenth"
    page = reader(DESKTOP).open(address + pages[0].relative_to(site).as_posix(), whole=False)
    assert page.evaluate(
        "[...document.fonts].filter(f => f.status === 'loaded' && !f.family.includes(' as ')).map(f => f.family.replace(/\\W/g, ' ').trim())"
        ".filter((f, i, all) => all.indexOf(f) === i).sort()"
    ) == ["Source Sans Pro", "Source Serif Pro"]
    # With its figures made small, a fraction takes less room than the same figures as typed.
    widths = page.evaluate("""() => {
        const set = document.querySelector('article .kw-frac'), bare = set.cloneNode(true)
        bare.textContent = bare.textContent.replace('\u2044', '/')
        bare.className = ''
        set.after(bare)
        const found = [set.getBoundingClientRect().width, bare.getBoundingClientRect().width]
        bare.remove()
        return found }""")
    assert widths[0] < widths[1] * 0.95


@pytest.mark.browser
def test_a_script_in_a_page_would_not_run(reader, address: str):
    """The content policy holds even for what a page is given later."""
    one = reader(DESKTOP)
    page = one.open(address + "index.html", whole=False)
    page.evaluate("""() => {
        const script = document.createElement('script')
        script.textContent = 'window.ran = true'
        document.body.append(script)
        document.body.insertAdjacentHTML('beforeend', '<p style="position:fixed">x</p>')
    }""")
    assert page.evaluate("window.ran === undefined && getComputedStyle(document.body.lastElementChild).position") == "static"
    assert any("Content Security Policy" in c for c in one.complaints)


def test_no_page_shouts(site: Path):
    """Instructions carry no exclamation marks (the greeting on a card may)."""
    for file in sorted(site.rglob("*.html")):
        text = file.read_text(encoding="utf-8")
        main = re.sub(r"<[^>]+>|“[^”]*”", " ", text[text.index("<article") : text.index("</article>")])
        assert "!" not in main, file
