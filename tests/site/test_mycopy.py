"""Is my copy current? The page as a reader meets it, from a folder and without script too."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from archive import town
from archive.everybody import colour_faults, faults, in_the_other_light
from archive.reading import DESKTOP, PHONE, Reader
from archive.town import KIT, kit_of
from kitwright.release import codes
from kitwright.release.record import released
from kitwright.release.state import preview_code
from kitwright.work.working import work
from playwright.sync_api import Browser
from sharing import once

pytestmark = pytest.mark.browser


@pytest.fixture(scope="session")
def sites(tmp_path_factory, worker_id: str) -> Path:
    """The town, with its site of every moment below it; not to be changed."""
    return once(tmp_path_factory, worker_id, "town", town.build_all)


@pytest.fixture(scope="module")
def phone(browser: Browser, sites: Path) -> Iterator[Reader]:
    """The page on a phone, from a folder on disk."""
    context = browser.new_context(viewport=PHONE, reduced_motion="reduce")
    one = Reader(context)
    one.open((sites / "mended" / "mycopy.html").as_uri())
    yield one
    context.close()


@pytest.fixture
def ask(phone: Reader) -> Iterator[Callable[[str], str]]:
    """Type a code and press Enter; what the page answers."""
    box = phone.page.locator("#kw-code")

    def asked(typed: str) -> str:
        box.fill(typed)
        box.press("Enter")
        return " ".join(phone.page.locator(".kw-answer").inner_text().split())

    yield asked
    assert phone.complaints == []


def numbers(sites: Path) -> list[str]:
    return [r.code for r in released(kit_of(sites / "kits"))]


def test_it_tells_whether_a_copy_is_current(ask, sites: Path):
    old, new = numbers(sites)
    assert ask(new).startswith("Your copy is current Quartz lantern, revision 2")
    told = ask(old)
    assert told.startswith("There is a newer one Quartz lantern, revision 1") and "Stop before you cut" in told and "What was wrong" in told
    assert "A is 97.5 × 40.5 mm, not 97.5 × 41.5 mm" in told and "Trim what you have by a hair." in told


@pytest.mark.parametrize(
    "spell",
    [
        str.lower,
        lambda c: c.replace("-", ""),
        lambda c: " ".join(c),
        lambda c: f"  {c.replace('-', '–')}. ",
        lambda c: c.replace("-", "_").lower(),
    ],
)
def test_however_it_is_typed(ask, sites: Path, spell):
    code = numbers(sites)[1]
    assert codes.read_code(spell(code)) == code
    assert ask(spell(code)).startswith("Your copy is current")


def test_every_slip_is_told_as_the_library_tells_it_and_the_right_code_is_offered(ask, reader, sites: Path):
    code = numbers(sites)[1]
    plain = code.replace("-", "")
    wrong = codes.ALPHABET[(codes.ALPHABET.index(plain[2]) + 5) % len(codes.ALPHABET)]
    swapped = next(plain[:i] + plain[i + 1] + plain[i] + plain[i + 2 :] for i in range(7) if plain[i] != plain[i + 1])
    for slip in (plain[:2] + wrong + plain[3:], swapped):
        assert not codes.is_sound(slip)
        told = ask(slip)
        assert told.startswith(f"There is a slip in {codes.shown(slip)}") and f"{code}, Quartz lantern" in told
    assert ask("O" + plain[1:]).startswith("No code has O in it")
    assert ask(plain[:5]).startswith("That is not a whole code A code has 8 letters and digits; you typed 5.")
    assert ask("") == ""


def test_a_guess_is_taken_up_by_the_keyboard(reader, sites: Path):
    code = numbers(sites)[1]
    plain = code.replace("-", "")
    wrong = codes.ALPHABET[(codes.ALPHABET.index(plain[2]) + 5) % len(codes.ALPHABET)]
    page = reader(DESKTOP).open((sites / "mended" / "mycopy.html").as_uri())
    page.locator("#kw-code").fill(plain[:2] + wrong + plain[3:])
    page.locator("#kw-code").press("Enter")
    page.locator(".kw-guess", has_text=code).press("Enter")
    assert page.locator(".kw-answer strong").inner_text() == "Your copy is current"


def test_a_sound_code_of_nothing_public_is_not_known(ask, sites: Path):
    """The team's preview of an upcoming kit is not answered in public; on the team's own site it is."""
    secret = preview_code(work(kit_of(sites / "kits", town.LATER)))
    assert ask(secret).startswith("This code is not known here")
    assert secret in (sites / "team-mended" / "mycopy.html").read_text(encoding="utf-8")


def test_a_link_brings_its_code_along(reader, sites: Path):
    page = reader(DESKTOP).open((sites / "mended" / "mycopy.html").as_uri() + "#" + numbers(sites)[0])
    assert page.locator(".kw-answer strong").inner_text() == "There is a newer one"


def test_without_script_every_code_is_listed(browser, sites: Path):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((sites / "mended" / "mycopy.html").as_uri())
    assert not page.locator("#kw-code").is_visible()
    for code in numbers(sites):
        assert page.get_by_text(code, exact=True).is_visible()
    context.close()


def test_axe_finds_nothing_on_the_pages_of_a_correction(reader, sites: Path):
    """All of its rules, the colours in both lights."""
    one = reader(PHONE)
    found = []
    for name in (
        "mended/mycopy.html",
        f"mended/kits/{KIT}/r1/index.html",
        "team/index.html",
        "members/index.html",
        f"members/kits/{KIT}/index.html",
    ):
        page = one.open((sites / name).as_uri())
        if "mycopy" in name:
            page.locator("#kw-code").fill("K7MW-4TX")
            page.locator("#kw-code").press("Enter")
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], name
        found += faults(page, name)
        with in_the_other_light(page):
            found += colour_faults(page, name)
    assert found == []
