"""One escaping that is safe in Markdown and in HTML, tried with the Markdown library itself."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.text import fractions, in_both, notes_view, plain, shown
from kitwright.labels import anchor

EXTENSIONS = ["attr_list", "def_list", "footnotes", "tables", "md_in_html", "toc"]
TYPED = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Zl", "Zp")), min_size=1, max_size=40).filter(str.strip)
TRICKY = st.text(st.sampled_from("ab1 *_`[](){}<>&#|~^\\!+-.:\"'⁄½"), min_size=1, max_size=30).filter(str.strip)


class _Text(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.text, self.tags = "", []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)

    def handle_data(self, data):
        self.text += data


def rendered(source: str) -> tuple[str, list[str]]:
    found = _Text()
    found.feed(markdown.markdown(source, extensions=EXTENSIONS))
    found.close()
    return " ".join(found.text.split()), found.tags


@given(TYPED | TRICKY)
def test_any_title_comes_through_a_heading(text: str):
    assert rendered(f"# {plain(text)} x") == (" ".join(text.split()) + " x", ["h1"])


@given(TYPED | TRICKY)
def test_any_text_comes_through_a_block_of_html(text: str):
    assert rendered(f"<p>\n<b>{plain(text)}</b> x\n</p>") == (" ".join(text.split()) + " x", ["p", "b"])


@given(TYPED | TRICKY)
def test_any_text_comes_through_an_attribute(text: str):
    found = []
    parser = _Text()
    parser.handle_starttag = lambda tag, attrs: found.append(dict(attrs))
    parser.feed(markdown.markdown(f'<div>\n<img alt="{plain(text)}">\n</div>', extensions=EXTENSIONS))
    assert found[-1] == {"alt": " ".join(text.split())}


def test_fractions_are_wrapped_once_and_only_fractions():
    assert shown("3 15⁄16 × ½") == '3 <span class="kw-frac">15⁄16</span> × ½'
    assert shown(shown("1⁄16")) == shown("1⁄16")
    assert fractions("1/2") == "1/2"


@pytest.mark.parametrize("measure", ["½ in", "3¼ in", "8¾ × 3¾ in", "≈222.5 × ≈95.5 mm", "15 × 15 cm", "28 ft", "8.5 m"])
def test_no_line_breaks_inside_a_measure(measure: str):
    assert shown(f"Cut {measure}, then turn.") == f'Cut <span class="kw-size">{measure}</span>, then turn.'


@pytest.mark.parametrize("text", ["3 in-between", "5 inches", "9 made", "a 4 × 6", "no. 12 mats"])
def test_what_is_no_measure_is_left(text: str):
    assert shown(text) == text


def test_a_measure_holds_its_fraction():
    assert shown("2 5⁄16 in") == '<span class="kw-size">2 <span class="kw-frac">5⁄16</span> in</span>'


def test_apostrophes_are_curled_inside_words_only():
    assert shown("the kit's page isn't") == "the kit’s page isn’t"
    assert "’" not in shown("5'6 or 12' long, 'so' called") and plain("kit's") == "kit&#39;s"


def test_headings_go_three_levels_down_but_not_in_code():
    notes = "# One\n###### Six\n```\n# code 1⁄16\n```\nNo heading, 1⁄16\n\n~~~\n```\n# still code\n~~~\n## Two *2* & <b>"
    lines = str(notes_view(notes).text).split("\n")
    assert [line for line in lines if line.startswith("<h")] == [
        '<h4 id="one">One</h4>',
        '<h6 id="six">Six</h6>',
        '<h5 id="two-2">Two 2 &amp;</h5>',
    ]
    assert "# still code" in lines
    assert "<pre><code># code 1⁄16" in lines and '<p>No heading, <span class="kw-frac">1⁄16</span></p>' in lines


def test_notes_say_each_paragraph_with_a_size_in_either_unit_and_the_rest_once():
    own, other = (f"# Border\nCut it.\n\nLeave {said}.\n\n- a list of {said}" for said in ("⅛ in", "≈3 mm"))
    text = str(notes_view(own.partition("\n\n- ")[0], other.partition("\n\n- ")[0], "in").text)
    assert text.count("<h4") == 1 and text.count("Cut it.") == 1
    assert '<div data-kw="in"><p>Leave ⅛ in.</p></div> <div data-kw="mm" data-search-exclude><p>Leave ≈3 mm.</p></div>' in text
    # What is no paragraph stands there twice as a whole.
    whole = str(notes_view(own, other, "in").text)
    assert whole.count('data-kw="in"') == 1 and whole.count("<ul>") == 2 and whole.count("Cut it.") == 2
    assert in_both("<p>1</p>", "<p>1</p>", "mm") == "<p>1</p>"


@given(TYPED)
def test_a_slug_is_a_place_a_link_can_name(text: str):
    assert re.fullmatch(r"[\w-]+", anchor(text)) and anchor(text) == anchor(f" {text} ")
