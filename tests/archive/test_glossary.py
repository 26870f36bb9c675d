"""Trade words lead to the glossary at their first use, and each that does has its entry there."""

import re

import pytest
from kitwright.archive.glossary import glossed, terms_of
from kitwright.kit.theme import PROGRAM
from kitwright.telling.glossary import EVERYDAY, FORMS

WORDS = (PROGRAM / "templates" / "words.md").read_text(encoding="utf-8")


def led(text: str) -> list[tuple[str, str]]:
    return re.findall(r'<a class="kw-word" href="\.\./\.\./words\.html#([^"]+)">([^<]+)</a>', str(glossed(text, WORDS, "../../")))


def test_each_term_has_its_entry(small_site):
    page = (small_site / "words.html").read_text(encoding="utf-8")
    ids = set(re.findall(r'\bid="([^"]+)"', page))
    terms = terms_of(WORDS)
    assert set(terms.values()) <= ids and {"slack", "score", "mat", "grain", "one-way", "leftover", "batch", "guide", "gate fold"} <= set(
        terms
    )
    entries = {term.strip().casefold() for heading in re.findall(r"^### (.+)$", WORDS, re.MULTILINE) for term in heading.split(",")}
    assert EVERYDAY <= entries and set(FORMS) <= entries, "no word of the lists without an entry"
    kit = next(small_site.glob("kits/2031-04-aster/index.html")).read_text(encoding="utf-8")
    found = re.findall(r'class="kw-word" href="\.\./\.\./words\.html#([^"]+)"', kit)
    assert found and set(found) <= ids


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("<p>Score the mats. The mat is scored.</p>", [("score", "Score"), ("mat", "mats")]),
        ("<h2>Slack</h2><p>no slack</p>", [("slack", "slack")]),
        ('<p><a href="x">slack</a> <button>grain</button> <svg><text>mat</text></svg></p>', []),
        ("<p>a cutting mat, then a mat</p>", [("cutting-mat", "cutting mat"), ("mat", "mat")]),
        ("<p>matter, format, door-mat, mat-board</p>", []),
        ('<p title="a > slack">x</p><!-- slack -->', []),
        ("## Slack\n\n<p>leftovers</p>", [("leftover", "leftovers")]),
        # What is said in both units stands twice, and only one of the two is seen.
        (
            '<div class="kw-two"><p data-kw="in">slack</p> <p data-kw="mm">slack</p></div><p>slack</p>',
            [("slack", "slack"), ("slack", "slack")],
        ),
        ("<p>A gate fold</p><img alt='slack'><br>", [("gate-fold", "gate fold")]),
    ],
)
def test_first_uses_in_plain_text_alone(text, wanted):
    assert led(text) == wanted


def test_nothing_else_of_the_page_is_touched():
    text = '<p class="a">One &amp; two &lt;b&gt; <em>slack</em></p>\n<script>var mat = "<p>mat</p>"</script>'
    told = str(glossed(text, WORDS, ""))
    assert re.sub(r'<a class="kw-word"[^>]*>([^<]+)</a>', r"\1", told) == text
    assert str(glossed(text, "# No entries", "")) == text
