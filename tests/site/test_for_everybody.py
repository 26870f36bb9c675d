"""Each kind of page of the demo for everybody: eyes, hands, keys, narrow screens, large letters.

The guidelines are WCAG 2.2 (w3.org/TR/WCAG22); its numbers stand beside what is held to them.
"""

from __future__ import annotations

import gzip
import io
import re
from collections.abc import Callable, Iterator
from html import unescape
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import DESKTOP, PHONE, Reader
from kitwright.archive import webfonts
from playwright.sync_api import Page, Route
from pypdf import PdfReader

pytestmark = pytest.mark.browser
NARROW = (320, 195)
"""Reflow (1.4.10) asks for 320 pixels; a phone of 390 at 200 % (1.4.4) has 195."""
HANDS = """() => [...document.querySelectorAll(
    'button, summary, select, textarea, input:not([type=hidden], .md-toggle, .md-option), [role=button], a.kw-button, a.kw-link, .kw-jump a, .kw-head a')]
  .filter(e => {
    if (!e.checkVisibility({visibilityProperty: true}) || !e.getClientRects().length) return false
    const box = (e.closest('label') ?? e).getBoundingClientRect()
    return box.height < 43.9 || box.width < 43.9
  }).map(e => e.outerHTML.slice(0, 120))"""
"""Controls that are smaller than a thumb (2.5.5); what stands in a line of text may be."""
WIDE = """() => document.documentElement.scrollWidth <= innerWidth ? [] : [...document.body.querySelectorAll('*')]
  .filter(e => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 0.5).map(e => e.outerHTML.slice(0, 90)).slice(-3)"""
"""What reaches past the edge of the screen."""


def kinds(site: Path) -> Iterator[str]:
    """A page of each kind; of kits one that is past, one in several designs, and one that was corrected."""
    yield from sorted(file.name for file in site.glob("*.html"))
    pages = {file.relative_to(site).as_posix(): file.read_text(encoding="utf-8") for file in sorted(site.glob("kits/*/*.html"))}
    for mark in ('class="kw-past"', 'href="arrangements-'):
        yield next(name for name, text in pages.items() if name.endswith("/index.html") and mark in text)
    corrected = next(site.glob("kits/*/r1/index.html"))
    yield from (file.relative_to(site).as_posix() for file in (corrected.parents[1] / "index.html", corrected))
    beside = {re.sub(r"-.*", "", Path(name).stem): name for name in reversed(pages) if not name.endswith("/index.html")}
    # Arrangements that are told beside their pictures, where room runs out first.
    beside["arrangements"] = next(name for name, text in pages.items() if "kw-group--roomy" in text)
    yield from beside.values()


def all_faults(page: Page, where: str) -> list[str]:
    found = faults(page, where)
    with in_the_other_light(page):
        return found + colour_faults(page, f"{where}, in the other light")


def test_on_a_phone(reader, address: str, site: Path):
    """All of axe's rules with everything folded out, the colours in both lights; room for thumbs; and no page wider than a narrow screen."""
    found: list[str] = []
    for name in kinds(site):
        one: Reader = reader(PHONE, "light")
        page = one.open(address_of(address, name), whole=False)
        found += [f"{name}: small: {html}" for html in page.evaluate(HANDS)]
        page.evaluate("document.querySelectorAll('main details').forEach(d => { d.open = true })")
        found += all_faults(page, name)
        for width in NARROW:
            page.set_viewport_size({"width": width, "height": 800})
            found += [f"{name}: wide at {width}: {html}" for html in page.evaluate(WIDE)]
        # Letters twice as large by the page alone, of which no question about the screen knows (1.4.4).
        page.evaluate(
            "const large = new CSSStyleSheet(); large.replaceSync('html { font-size: 250% !important }'); document.adoptedStyleSheets = [large]"
        )
        for width in (390, *((820, 1440) if name.endswith("/index.html") else ())):
            page.set_viewport_size({"width": width, "height": 800})
            found += [f"{name}: wide at {width} with letters twice as large: {html}" for html in page.evaluate(WIDE)]
        found += one.complaints
        one.leave()
    assert found == []


def test_on_a_desk(reader, address: str, site: Path):
    """The colours of each kind of page, in both lights; of the frame and a kit's page all of axe's rules."""
    found: list[str] = []
    pages = list(kinds(site))
    whole = {"index.html", "archive.html", next(name for name in pages if name.startswith("kits/"))}
    for name in pages:
        one: Reader = reader(DESKTOP, "dark")
        page = one.open(address_of(address, name), whole=False)
        found += all_faults(page, name) if name in whole else colour_faults(page, name)
        found += one.complaints
        one.leave()
    assert found == []


def address_of(address: str, name: str) -> str:
    # The page for what is not found knows the top of the site, and no other host.
    return (address.removesuffix("some/folder/") if name == "404.html" else address) + name


# --- on paper ---------------------------------------------------------------------------------------------


LEFT = "[...document.querySelectorAll('header.md-header, footer, .kw-jump, .kw-link, form, button, .kw-chips, .kw-editions')].filter(e => e.checkVisibility()).map(e => e.outerHTML.slice(0, 80))"
"""What only screens need, and paper does not show."""


def sheets_of(page, **how) -> list[list[str]]:
    """The lines on each sheet of a page printed by the browser."""
    return [(sheet.extract_text() or "").strip().split("\n") for sheet in PdfReader(io.BytesIO(page.pdf(**how))).pages]


def test_a_kit_on_paper_leads_to_the_printable(reader, address: str, site: Path):
    """Two sheets at most: what it is, whether it was corrected, where the printable is, what to buy and to mind; of the rest what she opened, and no heading ends its sheet."""
    kit = next(file.parent for file in site.glob("kits/*/r1/index.html")).parent
    one: Reader = reader(DESKTOP, "dark")
    page = one.open(f"{address}kits/{kit.name}/index.html", whole=False)
    headings = {" ".join(text.split()) for text in page.locator("article :is(h2, h3)").all_inner_texts()}
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate(LEFT) == []
    assert page.evaluate("getComputedStyle(document.querySelector('h1')).color") == page.evaluate(
        "(() => { const e = document.createElement('i'); e.style.color = getComputedStyle(document.documentElement).getPropertyValue('--kw-ink'); document.body.append(e); return getComputedStyle(e).color })()"
    )
    for form in ("Letter", "A4"):
        sheets = sheets_of(page, format=form)
        said = "".join("".join(lines) for lines in sheets).replace(" ", "")
        assert len(sheets) <= 2
        wanted = [
            f"/kits/{kit.name}/{kit.name}-letter.pdf",
            f"/kits/{kit.name}/{kit.name}-a4.pdf",
            "Correctedon",
            "Adhesive",
            "Changeadullblade",
            "revision2",
        ]
        assert [each for each in wanted if each.lower() not in said.lower()] == []
    assert "What you may do with this kit" not in str(sheets)
    page.evaluate("document.querySelectorAll('#more > details').forEach(part => { part.open = true })")
    # Across, where sheets are short and a heading is stranded soonest.
    sheets = sheets_of(page, format="A4", landscape=True)
    assert "What you may do with this kit" in str(sheets)
    assert len(sheets) > 2 and [lines[-1] for lines in sheets if lines[-1].strip() in headings] == []


def test_other_pages_on_paper(reader, address: str):
    """Corrections and the glossary: nothing of the screen's, no heading at the end of a sheet, and no sheet that ends early for nothing."""
    for name in ("errata.html", "words.html"):
        one: Reader = reader(DESKTOP, "dark")
        page = one.open(address + name, whole=False)
        headings = {" ".join(text.split()) for text in page.locator("article h2").all_inner_texts()}
        page.emulate_media(media="print", color_scheme="dark")
        assert page.evaluate(LEFT) == []
        sheets = sheets_of(page, format="Letter")
        assert [lines[-1] for lines in sheets if lines[-1].strip() in headings] == []
        assert len(sheets[0]) > 12
        one.leave()


SCREENS = {390: 844, 820: 1180, 1440: 900}

# --- before it is seen ------------------------------------------------------------------------------------


REQUESTS, WEIGHT = 15, 150_000
"""Of the first view of a kit's page: files, and bytes as a host sends them, text packed by gzip."""
STEPS, STEP = 2, 5_000
"""Pictures of steps that may come into a first view below all sheets, each a file of its own; and what one weighs."""


def asked_for(page: Path, width: int) -> set[Path]:
    """What a kit's page asks for at a width, down to the end of its sheets: what stands open there, and its type."""
    text = re.sub(r"<noscript>.*?</noscript>", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    above = re.sub(
        r'<details class="kw-closed[^>]*>(?:(?!</details>).)*</details>',
        "",
        text[: text.index('id="build"') if 'id="build"' in text else None],
        flags=re.DOTALL,
    )
    named = re.findall(r'<(?:script|link rel="(?:preload|stylesheet)")[^>]*? (?:src|href)="([^"]+)"', text)
    named += [f"../../look/{name}" for name in webfonts.early_names()]
    # Of two units one shows, that of the kit.
    pictures = re.sub(r'(<span class="kw-two kw-two--drawn">.*?</picture>)<picture.*?</picture>', r"\1", above, flags=re.DOTALL)
    for sources, src in re.findall(r'<picture[^>]*>((?:<source[^>]*>)*)<img src="([^"]+)"', pictures):
        ways = re.findall(r'media="\(max-width: ([\d.]+)em\)" srcset="([^"]+)"', sources)
        named.append(next((at for most, at in ways if width <= 16 * float(most)), src))
    named += re.findall(r'<img (?:class="[^"]*" )?src="([^"]+)"', re.sub(r"<picture.*?</picture>", "", pictures, flags=re.DOTALL))
    return {page.resolve()} | {(page.parent / unescape(name).partition("#")[0]).resolve() for name in named}


def test_no_kit_s_page_asks_for_much(site: Path):
    """What each asks for from its top to the end of its sheets leaves room for the pictures of a few steps; on a phone those lie too far below."""
    for page in sorted(site.glob("kits/*/index.html")):
        for width in SCREENS:
            files = asked_for(page, width)
            steps = STEPS if width > 390 else 0
            assert len(files) <= REQUESTS - steps, (page.parent.name, width, sorted(file.name for file in files))
            weighed = {file.name: packed(file) for file in files}
            assert sum(weighed.values()) <= WEIGHT - STEP * bool(steps), (page.parent.name, width, weighed)


@pytest.mark.parametrize("width", SCREENS)
def test_a_first_view_is_light_and_nothing_moves_when_the_type_comes(reader, address: str, site: Path, width: int):
    """No type comes before the first paint; then it is put in, or stays away."""
    pages = sorted(site.glob("kits/*/index.html"), key=lambda file: -sum(packed(each) for each in asked_for(file, width)))
    for file in (pages[0], pages[len(pages) // 2]) if width == 390 else (pages[0],):
        one: Reader = reader({"width": width, "height": SCREENS[width]}, alone=True)
        held: list[Route] = []
        seen: list[bool] = []

        one.page.route("**/*.woff2", held_back(held, seen))
        one.page.add_init_script(
            "window.moved = 0; new PerformanceObserver(l => l.getEntries().forEach(e => { moved += e.value })).observe({ type: 'layout-shift', buffered: true })"
        )
        one.page.goto(address + file.relative_to(site).as_posix(), wait_until="domcontentloaded")
        one.page.wait_for_function("() => performance.getEntriesByName('first-contentful-paint').length > 0")
        one.page.wait_for_function("() => document.fonts.status === 'loading'")
        early = [urlsplit(route.request.url).path.rpartition("/")[2] for route in held]
        assert sorted(early) == sorted(webfonts.early_names()) and not one.page.evaluate("document.documentElement.matches('.kw-type')")
        seen.append(True)
        while held:
            held.pop().continue_()
        one.page.wait_for_function("() => kw.kept.get('type')")
        one.page.wait_for_load_state("networkidle")
        moved = one.page.evaluate("moved")
        files = [site / urlsplit(url).path.removeprefix("/some/folder/") for url in one.fetched if urlsplit(url).scheme == "http"]
        weight = sum(packed(each) for each in files)
        assert len(files) <= REQUESTS and weight <= WEIGHT, (
            f"{file}: {len(files)} requests, {weight} bytes: {sorted((packed(f), f.name) for f in files)}"
        )
        assert moved <= 0.02, file
        assert not any("assets" in each.parts for each in files), "nothing of the page generator's"
    # The next page has it at hand.
    one.page.goto(address + pages[1].relative_to(site).as_posix())
    assert one.page.evaluate("document.fonts.ready.then(() => [...document.querySelectorAll('link[rel=preload][as=font]')].length)") == 2
    assert one.page.evaluate(
        "document.documentElement.matches('.kw-type') && document.fonts.check('16px ' + getComputedStyle(document.body).fontFamily.split(',')[0])"
    )


def held_back(held: list[Route], seen: list[bool]) -> Callable[[Route], None]:
    """Keeps what is asked for until something was seen."""
    return lambda route: route.continue_() if seen else held.append(route)


def packed(file: Path) -> int:
    data = file.read_bytes()
    return min(len(data), len(gzip.compress(data, 6)))
