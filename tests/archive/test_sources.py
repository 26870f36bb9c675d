"""Every number from outside keeps its source as data, and one page tells them all."""

import re
from pathlib import Path

from kitwright.card.post import LETTERS, SMALL_LETTERS, US_LETTERS
from kitwright.cutfiles import mats
from kitwright.papers import BASIS, ENVELOPES, SHEETS
from kitwright.sources import Source
from kitwright.telling.numbers import all_known, known_limits
from kitwright.telling.post import POST

PACKAGE = Path(__file__).parents[2] / "buildtools" / "kitwright"
KNOWN = [*(known for _, group in all_known() for known in group), *mats.known()]


def test_each_has_its_value_its_source_and_its_date():
    assert len({known.what for known in KNOWN}) == len(KNOWN)
    for known in KNOWN:
        assert (
            known.value
            and isinstance(known.source, Source)
            and known.source.name
            and re.fullmatch(r"[A-Z][a-z]+ 20\d\d", known.source.noted)
        ), known


def test_every_named_size_every_pound_and_every_limit_is_there():
    told = {known.what for known in KNOWN}
    assert {named.name for named in (*SHEETS, *ENVELOPES)} <= told and {f"Basis sheet of {kind}" for kind in BASIS} <= told
    words = " ".join(known.value for known in KNOWN)
    # 3½ × 5 to 6⅛ × 11½ in, 0.007 to ¼ in, 3.5 oz: USPS Domestic Mail Manual 101 and 201.
    for limit in (
        "5 × 3½ in to 11½ × 6⅛ in",
        "0.007 in to 0.25 in",
        "up to 3.5 oz",
        "1.3 to 2.5",
        "under 0.009 in",
        "1, 2 and 3 oz",
        "140 × 90 mm to 245 × 165 mm",
        "up to 5 mm",
        "up to 100 g",
    ):
        assert limit in words, limit


def test_what_is_from_memory_is_marked_as_such():
    memory = {known.what for known in KNOWN if known.source.memory}
    assert "US letter: price steps" in memory and "US letter: size" not in memory
    assert {known.what for known in known_limits(SMALL_LETTERS)} <= memory


def test_a_countrys_price_steps_name_its_post_and_the_world_has_none():
    assert US_LETTERS.steps and US_LETTERS.kind in POST and US_LETTERS.prices
    assert all(bool(letters.steps) == (letters.kind in POST) == bool(letters.prices) for letters in LETTERS)


def test_no_source_stands_in_a_remark_only():
    """A number's source is data, so that the page has it; remarks on methods and examples are no numbers of a reader's."""
    methods = {
        "sources.py",
        "cutting/solver/limited.py",
        "cutting/solver/points.py",
        "proposing/tables.py",
        "release/codes.py",
        "card/notches.py",
        "kit/clock.py",
    }
    # How names, dates and pages of old files are read, how places are spelt, what region is offered: rules of reading, no sizes of a card.
    methods |= {"past/months.py", "telling/past.py", "telling/moments.py", "cli/begin.py"}
    # How colours are told apart, and how large a picture on the web is: the author's own screen, not what a reader cuts.
    methods |= {"schemes.py", "kit/logo.py", "kit/read.py", "archive/dress.py"}
    found = [
        file.relative_to(PACKAGE).as_posix()
        for file in PACKAGE.rglob("*.py")
        if re.search(r"from memory|no source|common practice", file.read_text(encoding="utf-8"), re.I)
    ]
    assert set(found) <= methods, sorted(set(found) - methods)


def test_the_page_has_them_all(small_site):
    from html import unescape

    text = unescape(re.sub(r"<[^>]+>", "", (small_site / "numbers.html").read_text(encoding="utf-8")))
    text = " ".join(text.split())
    for known in KNOWN:
        assert " ".join(known.value.split()) in text and known.source.noted in text, known
    assert text.count("from memory") == sum(known.source.memory for known in KNOWN)
    assert all(
        'href="' + ("../" * page.relative_to(small_site).as_posix().count("/")) + "numbers.html" in page.read_text(encoding="utf-8")
        for page in small_site.rglob("*.html")
        if page.name != "404.html"
    )
