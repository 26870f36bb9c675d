"""By keys alone, in the system's own colours, and at an address where nothing lies: what a mouse and a screen of ours hide."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from archive.reading import DESKTOP, Reader
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser
KIT = "kits/2026-11-weathervane/index.html"
PHONE = {"width": 390, "height": 844}
STOP = """() => {
  const at = document.activeElement
  if (!at || at === document.body || at === document.documentElement) return null
  const seen = at.matches('.md-option') ? at.nextElementSibling : at
  const style = getComputedStyle(seen), box = seen.getBoundingClientRect()
  window.stops ??= new Map()
  if (!stops.has(at)) stops.set(at, stops.size)
  return {
    n: stops.get(at),
    what: (at.getAttribute('aria-label') || at.textContent || at.name || at.id || '').trim().slice(0, 40) + ` (${at.tagName})`,
    ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 1,
    seen: seen.checkVisibility({visibilityProperty: true}) && box.width > 0 && box.right > 0 && box.left < innerWidth && box.bottom > 0 && box.top < innerHeight,
    open: document.querySelectorAll('dialog[open], .kw-menu[open]').length,
  }
}"""
"""Where the keyboard is: which stop, counted as they come, whether its ring and itself are seen, and what is open."""


def walked(page: Page, most: int) -> list[dict]:
    """All stops from here on, by Tab alone, and round by the browser's own: until one comes again."""
    stops: list[dict] = []
    for _ in range(most):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        if stop and any(stop["n"] == each["n"] for each in stops):
            return stops
        stops += [stop] if stop else []
    raise AssertionError(f"no way out after {most} stops: {stops[-3:]}")


def sound(stops: list[dict], least: int, open_: int = 0) -> None:
    assert len(stops) >= least
    assert [stop["what"] for stop in stops if not (stop["ring"] and stop["seen"])] == [], "the focus is seen wherever it is"
    assert {stop["open"] for stop in stops} == {open_}, "no focus opens or closes anything"


def test_the_finder_is_walked_by_keys(reader, address: str):
    """WCAG 2.2: 2.1.1, 2.1.2 no trap, 2.4.7 focus visible, 3.2.1 on focus (w3.org/TR/WCAG22)."""
    one: Reader = reader(DESKTOP)
    page = one.open(address + "paper.html", whole=False)
    page.locator("input[name=cards]").focus()
    page.evaluate("window.url = location.href")
    stops = walked(page, 90)
    sound(stops, 10)
    assert page.url == page.evaluate("url")
    field = page.locator("input[name=cards]")
    field.focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("12")
    expect(page.locator(".kw-found__says")).to_contain_text("12 cards")
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement.className") == "kw-stock__more"
    page.keyboard.press("Enter")
    expect(page.locator(".kw-stock__row, .kw-stock li")).to_have_count(2)
    assert one.complaints == []


def test_the_search_is_walked_by_keys(reader, address: str):
    one: Reader = reader(DESKTOP)
    page = one.open(address + KIT, whole=False)
    page.keyboard.press("/")
    page.wait_for_function("() => document.querySelector('dialog.kw-search[open]')?.dataset.told === ''")
    stops = walked(page, 60)
    sound(stops, 12, open_=1)
    assert [stop for stop in stops if "(A)" in stop["what"]], "and on to the other ways"
    one.search("gate fold")
    page.locator("dialog.kw-search input").focus()
    sound(walked(page, 40), 2, open_=1)
    page.keyboard.press("Escape")
    expect(page.locator("dialog.kw-search")).to_be_hidden()
    assert one.complaints == []


def test_the_bench_is_walked_by_keys(reader, address: str):
    one: Reader = reader(PHONE)
    page = one.open(address + KIT, whole=False)
    begin = page.get_by_role("button", name="Make it at the bench")
    begin.focus()
    assert page.locator("dialog[open]").count() == 0
    page.keyboard.press("Enter")
    bench = page.locator("dialog.kw-atbench[open]")
    expect(bench).to_be_visible()
    stops = walked(page, 30)
    sound([stop for stop in stops if "(BUTTON)" in stop["what"]], 5, open_=1)
    assert {stop["open"] for stop in stops} == {1}
    named = " ".join(stop["what"] for stop in stops)
    assert all(word in named for word in ("Close", "List", "Done", "Next", "Barley")), named
    bench.get_by_role("button", name="Next").focus()
    page.keyboard.press("Enter")
    expect(bench).to_contain_text("2 of ")
    page.keyboard.press("Escape")
    expect(page.locator("dialog[open]")).to_have_count(0)
    assert one.complaints == []


def test_a_page_and_its_menu_are_walked_by_keys(reader, address: str):
    """All of a page from its top: nothing opens, nothing holds, everything is seen; then the open menu likewise."""
    one: Reader = reader(PHONE)
    page = one.open(address + "to-make.html", whole=False)
    sound(walked(page, 60), 12)
    summary = page.locator(".kw-menu summary")
    summary.focus()
    page.keyboard.press("Enter")
    ways = page.locator(".kw-menu__list a")
    for _ in range(ways.count()):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        assert stop["open"] == 1 and stop["ring"] and stop["seen"], stop
    expect(ways.last).to_be_focused()
    assert one.complaints == []


# --- the system's own colours ------------------------------------------------------------------------------

LOST = """() => {
  const shown = e => e.checkVisibility({visibilityProperty: true, opacityProperty: true}) && e.getClientRects().length
  const edged = e => { const s = getComputedStyle(e); return ['Top', 'Bottom'].some(side => s[`border${side}Style`] !== 'none' && parseFloat(s[`border${side}Width`]) > 0 && s[`border${side}Color`] !== s.backgroundColor) }
  // A ground is kept only where the page says so.
  const grounded = e => getComputedStyle(e).forcedColorAdjust === 'none'
  const look = e => { const s = getComputedStyle(e); return [s.backgroundColor, s.color, s.borderTopStyle, s.borderBottomColor, s.fill].join() }
  const found = []
  const named = e => e.outerHTML.slice(0, 90)
  for (const e of document.querySelectorAll('button, a.kw-button, select, input:not([type=radio], [type=checkbox], [type=hidden], .md-toggle)'))
    if (shown(e) && !e.closest('.kw-card > .kw-mark') && e.matches(':not([aria-disabled=true])') && !edged(e) && !edged(e.parentNode) && !grounded(e)) found.push(`no edge: ${named(e)}`)
  for (const e of document.querySelectorAll('[aria-pressed=true]:not(.kw-mark), .kw-head__link[aria-current]')) {
    const twin = [...e.parentNode.querySelectorAll('[aria-pressed=false]:not(.kw-mark), .kw-head__link:not([aria-current])')].find(shown)
    if (shown(e) && twin && look(e) === look(twin)) found.push(`not told apart: ${named(e)}`)
  }
  for (const e of document.querySelectorAll('.kw-mark[aria-pressed=true] svg')) if (shown(e) && getComputedStyle(e).fill === 'none') found.push(`not filled: ${named(e)}`)
  for (const e of document.querySelectorAll('.kw-swatch, .kw-card img, .kw-hit__blank')) if (shown(e) && getComputedStyle(e).outlineStyle === 'none' && !edged(e)) found.push(`no edge: ${named(e)}`)
  for (const e of document.querySelectorAll('.kw-cuts, .kw-atbench__bar i')) if (shown(e) && getComputedStyle(e).outlineStyle === 'none' && !edged(e)) found.push(`no edge: ${named(e)}`)
  const bar = [...document.querySelectorAll('.kw-atbench__bar i')]
  if (bar.some(shown) && new Set(bar.map(e => getComputedStyle(e).backgroundColor)).size < 2) found.push('the bar tells nothing')
  return found
}"""
"""What would vanish: controls without an edge, what is chosen looking like what is not, swatches that run into the page."""


def test_nothing_vanishes_in_the_colours_of_the_system(reader, address: str):
    """`forced-colors: active` of Media Queries 5 (w3.org/TR/mediaqueries-5) on the kinds of page, open search and bench too."""
    one: Reader = reader(PHONE)
    page = one.page
    page.emulate_media(forced_colors="active")
    found: list[str] = []

    def look(where: str) -> None:
        found.extend(f"{where}: {each}" for each in page.evaluate(LOST))

    try:
        for name in ("index.html", "paper.html", "to-make.html", "mycopy.html", "kits/2026-11-weathervane/arrangements.html"):
            one.open(address + name, whole=False)
            look(name)
        page.locator(".kw-choice").nth(1).click()
        look("a filter taken")
        one.open(address + "archive.html#card=square", whole=False)
        page.locator(".kw-card .kw-mark").first.click()
        look("all kits")
        page.locator(".kw-all__choose").click()
        assert page.locator("dialog [aria-pressed=true]").count() == 1
        look("choosing")
        one.open(address + KIT, whole=False)
        look("a kit")
        page.get_by_role("button", name="Make it at the bench").click()
        page.get_by_role("button", name="Barley").click()
        look("bench")
        page.keyboard.press("Tab")
        assert page.evaluate(STOP)["ring"]
        page.keyboard.press("Escape")
        one.search("zzzqq")
        look("search")
    finally:
        page.emulate_media(forced_colors="none")
    assert found == [] and one.complaints == []


# --- an address where nothing lies -----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def host(site: Path) -> Iterator[str]:
    """The site at the top of a host that answers what it has not with the site's own page, as its settings say."""
    lost = (site / "404.html").read_bytes()

    class Answers(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *args) -> None:
            pass

        def send_error(self, code, message=None, explain=None) -> None:
            self.send_response(code)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(lost)

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Answers, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@pytest.mark.parametrize("place", ["/nothing", "/sub/path/x/y/", "/kits/2026-11-weathervane/r1/lost/deeper.html?a=b"])
def test_a_lost_address_shows_the_page_for_it_however_deep(reader, host: str, place: str):
    """It has its styles, its type, its picture, its search; and all its links lead to pages that are there."""
    one: Reader = reader(PHONE)
    page = one.page
    answer = page.goto(host + place)
    assert answer and answer.status == 404 and page.title().startswith("No such page")
    one.settle()
    assert page.evaluate("document.querySelector('.kw-lost img').naturalWidth") > 0
    assert page.evaluate("getComputedStyle(document.querySelector('.kw-lost a.kw-button')).backgroundColor") != "rgba(0, 0, 0, 0)"
    assert page.evaluate("document.fonts.check('16px ' + getComputedStyle(document.body).fontFamily.split(',')[0])")
    gone = """async () => {
        const to = [...new Set([...document.querySelectorAll('a[href], link[href], script[src], img[src]')].map(e => (e.href || e.src).split('#')[0]))].filter(u => u.startsWith(location.origin))
        const answers = await Promise.all(to.map(async u => [u, (await fetch(u, {method: 'HEAD'})).status]))
        return [to.length, answers.filter(([u, status]) => status !== 200 && u !== location.href)]
    }"""
    many, lost = page.evaluate(gone)
    assert many > 15 and lost == []
    assert one.search("Bud vases")[0] == "Bud vases"
    page.keyboard.press("Enter")
    page.wait_for_url("**/kits/2025-09-bud-vases/index.html")
    # The browser itself tells of the address that was not there.
    assert [each for each in one.complaints if "404" not in each] == []
