"""The looking itself: each rule is asked where it can say something new, and nothing is passed over for good."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from archive import everybody
from archive.everybody import colour_faults, faults
from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Iterator[Page]:
    page = browser.new_page()
    yield page
    page.close()


@pytest.fixture
def page(blank: Page, monkeypatch) -> Page:
    """A page of which nothing was looked at yet."""
    monkeypatch.setattr(everybody, "_looked_at", set())
    return blank


def html(main: str, style: str = "") -> str:
    return f"""<!doctype html><html lang="en"><head><title>A page</title><style>body {{background: white; color: black}} {style}</style></head>
        <body><main><h1>A heading</h1>{main}</main></body></html>"""


def rules(found: list[str]) -> list[str]:
    return [one.split(": ")[1] for one in found]


def test_a_sound_page_has_no_faults(page):
    page.set_content(html("<p>Words</p>"))
    assert faults(page, "here") == []


@pytest.mark.parametrize(
    ("main", "style"),
    [
        ("<p>Pale words</p>", "p {color: #bbb}"),
        ("<p>Words</p>", "p {background: #333}"),
        ("<section><p>Words</p></section>", "section {background: #333}"),
        ("<p>Words</p>", "p {opacity: .3}"),
        ("<table><tr><td>Words</td></tr><tr><td>Words</td></tr></table>", "tr:nth-child(2) {background: #333}"),
        ("<p><input aria-label='Cards' value='9'></p>", "input {color: #bbb; background: white}"),
    ],
)
def test_pale_text_is_found_beside_sound_text_of_the_same_kind_that_was_looked_at(page, main, style):
    page.set_content(html(main + "<p>More</p>"))
    assert faults(page, "sound") == []
    page.set_content(html(main, style))
    assert rules(faults(page, "pale")) == ["color-contrast"]


def test_a_link_that_only_its_colour_tells_apart_is_found(page):
    """WCAG 2.2, 1.4.1: colour is not the only means."""
    words = "<p>Words enough to be a sentence and <a href='#x'>a link</a> in the middle of them all</p>"
    page.set_content(html(words, "a {color: #00e}"))
    assert faults(page, "underlined") == []
    page.set_content(html(words, "a {color: #223; text-decoration: none}"))
    assert "link-in-text-block" in rules(faults(page, "bare"))


def test_what_can_not_be_judged_is_told_as_well(page):
    page.set_content(html("<p>Words</p>", "p {background: linear-gradient(#fff, #ccc)}"))
    assert rules(faults(page, "over a gradient")) == ["undecided color-contrast"]


@pytest.mark.parametrize("sign", ["A", "⅛", "×"])
def test_a_single_sign_is_judged_as_a_word_is(page, sign):
    page.set_content(html(f"<p>{sign}</p>", "p {color: #bbb}"))
    assert rules(faults(page, "pale")) == ["color-contrast"]
    page.set_content(html(f"<p>{sign}</p>"))
    assert faults(page, "sound") == []


def test_a_target_too_small_for_a_hand_is_told(page):
    """WCAG 2.2, 2.5.8: 24 pixels, or as far from the next."""
    row = "<button style='width: 12px; height: 12px; padding: 0' aria-label='x'></button>" * 3
    page.set_content(html(row))
    assert set(rules(faults(page, "small"))) == {"target-size"}


def test_what_was_hidden_is_looked_at_once_it_shows(page):
    pale = html("<p class='drawer'>Pale words</p>", "p {color: #bbb} .drawer {position: absolute; left: -999px} .drawer.open {left: 0}")
    page.set_content(pale)
    assert faults(page, "shut") == []
    page.set_content(pale.replace("left: -999px", "left: 0"))
    assert rules(faults(page, "open")) == ["color-contrast"]


def test_names_and_roles_are_asked_for_on_every_page(page):
    for _ in range(2):
        page.set_content(html("<p><img src='data:,'></p>"))
        assert rules(faults(page, "here")) == ["image-alt"]
        assert colour_faults(page, "here") == []


def test_each_kind_is_told_once(page):
    page.set_content(html("<p>Pale words</p>" * 3, "p {color: #bbb}"))
    assert rules(colour_faults(page, "first")) == ["color-contrast"]
    assert colour_faults(page, "second") == []
