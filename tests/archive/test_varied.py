"""The pages that browsers look at show all that any page shows: a look at few of them is one at all of them."""

from __future__ import annotations

from archive.varied import fewest, shown

PLAIN = '<h1>Plain</h1><p>Words</p><table class="t"><tr><td>one</td></tr></table>'


def test_what_a_page_shows_is_read_from_it():
    features, most = shown(
        '<h2 class="a b">A long <i>and</i> longer word</h2><div data-unit="mm"><table class="t"><tr><th>ab</th><td>c <b>defg</b></td></tr></table></div>'
    )
    assert {"h2.a", "h2.b", "div data-unit mm", "table.t of 2", "b.", "i."} <= features
    assert most == {"h2 long": 6, "table.t wide": 6}


def test_alike_pages_are_looked_at_once_and_whatever_one_alone_shows_is_looked_at():
    pages = {
        "a": PLAIN,
        "again": PLAIN,
        "class": PLAIN.replace("<p>", '<p class="new">'),
        "unit": PLAIN.replace("<p>", '<p data-unit="mm">'),
        "column": PLAIN.replace("</td>", "</td><td></td>"),
        "wide": PLAIN.replace("one", "one-that-is-long"),
        "heading": PLAIN.replace("Plain", "Plainer"),
    }
    for name in pages.keys() - {"a", "again"}:
        assert name in fewest({one: pages[one] for one in ("a", "again", name)})
    assert fewest({one: pages[one] for one in ("a", "again")}) == ["a"]
    assert fewest(pages) == [name for name in pages if name not in ("a", "again")]


def test_one_page_that_shows_all_is_enough():
    assert fewest({"a": PLAIN, "all": PLAIN + '<i class="new">x</i>', "b": PLAIN}) == ["all"]


def test_between_them_they_show_all():
    pages = {str(n): f'<p class="{"x" * (n % 5)}"><i role="{n % 3}"></i></p><h2>{"w" * (n % 7)}</h2>' for n in range(40)}
    taken = fewest(pages)
    assert len(taken) < 10
    assert set().union(*(shown(pages[name])[0] for name in taken)) == set().union(*(shown(html)[0] for html in pages.values()))
