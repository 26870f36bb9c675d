"""What the search takes for one and the same, and how its index is laid out; the dialog is tried in `tests/site/test_search.py`."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from archive.finding import Index
from archive.small import TITLES
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.search import index, tokens
from kitwright.archive.search.reading import parts_of
from kitwright.archive.search.record import DIGITS, Facts, Record, Said, record_of
from kitwright.telling import searching

VECTORS = json.loads((Path(__file__).parent / "search_vectors.json").read_text(encoding="utf-8"))


def terms(text: str, unit: str = "in") -> list[str]:
    return list(tokens.terms(list(tokens.tokens(text)), unit))


@pytest.mark.parametrize(("text", "said"), VECTORS["tokens"])
def test_a_text_as_tokens(text: str, said: list[str]):
    assert list(tokens.tokens(text)) == said


@pytest.mark.parametrize(("length", "unit", "said"), VECTORS["hundredths"])
def test_a_length_in_hundredths_of_a_millimetre(length: str, unit: str, said: int):
    assert tokens.hundredths(Fraction(length), unit) == said


def test_a_size_is_one_term_however_it_is_written():
    ways = ["4¼ × 5½ in", "4 1/4 x 5 1/2", "4.25x5.5in", "5-1/2 by 4-1/4 inches", "4.25 x 5.5"]
    assert {tuple(sorted(terms(way))) for way in ways} == {("=0010795i", "=0010795x0013970i", "=0013970i")}
    assert terms("105 x 148") == terms("10.5 × 14.8 cm") == terms("148 mm × 105 mm") != terms("105 x 148 in")


def test_rounded_sizes_are_not_what_was_cut():
    assert terms("3½ × 8½ in (≈89 × 216 mm)") == terms("3½ × 8½ in") and list(tokens.tokens("≈89 mm", about=True)) == ["89mm"]


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=60) | st.text(alphabet='0123456789/.,x×"¼½⅛≈ -inmc', max_size=40))
def test_no_text_is_too_odd(text: str):
    """Terms never hold what parts an index; whatever was said once is said alike when it is taken apart alone."""
    said = list(tokens.tokens(text, about=True))
    assert not any(set(term) & set('\t|*"\\ \n') for term in tokens.terms(said))
    assert all(list(tokens.tokens(token)) == [token] for token in said if token.isascii() and token.isdigit() and len(token) < 10)


# --- a page -----------------------------------------------------------------------------------------

PAGE = """<!doctype html><html><head><title>t</title></head><body><nav>frame</nav><article class="x">
<h1 id="top">Nine <em>strips</em></h1><p>A <b>gay</b>ly cut&nbsp;card</p><ul><li>one</li><li>two</li></ul>
<h2 id="need">What &amp; how<a class="headerlink" href="#need">¶</a></h2><table><tr><td>4¼</td><td>in</td></tr></table>
<h2 id="eye" data-search-exclude="">For the eye</h2><p>unseen</p><h3 id="deeper">Deeper</h3><p>unseen too</p>
<h2 id="last">Last</h2><p title="a > b">seen<br>again</p><div data-search-exclude><p>no</p><h3 id="in">No</h3></div><p>end</article><footer>frame</footer>"""


def test_a_page_is_read_part_by_part():
    assert [(part.anchor, part.heading, part.said) for part in parts_of(PAGE)[1:]] == [
        ("top", "Nine strips", ["A gayly cut card", "one", "two"]),
        ("need", "What & how", ["4¼", "in"]),
        ("last", "Last", ["seen", "again", "end"]),
    ]


@pytest.mark.parametrize(
    "odd", ["<article><p <p <'</article>", "<article></b></b><i><b>x</i></b></article>", "<article><", "", "<article>" + "<'" * 3000]
)
def test_odd_markup_ends(odd: str):
    assert isinstance(parts_of(odd), list)


def test_a_page_keeps_itself_out():
    assert parts_of(PAGE.replace("<title>", '<meta name="kw-search" content="none"><title>')) == []


# --- a record, an index -----------------------------------------------------------------------------

ASTER = Facts(
    "2031-01-aster",
    "Aster",
    "January 2031",
    ("6 cards", "upright 4¼ × 5½ in"),
    "in",
    tags=("raised strip",),
    card=(Fraction(17, 4), Fraction(11, 2)),
    size="4¼ × 5½ in",
    papers=(("River, 8 × 8 in", ("River", "", "patterned paper", "one-way"), (Fraction(8), Fraction(8))),),
    pieces=(("Piece B, 1 × 3 in", "B", (Fraction(1), Fraction(3))),),
)


def said(path: str, title: str, *texts: str) -> Said:
    page = f'<article><h1 id="top">{title}</h1>{"".join(f"<p>{text}</p>" for text in texts)}<h2 id="the-pieces">The pieces</h2></article>'
    return Said(path, title, Fraction(1), tuple(parts_of(page)))


def aster(*texts: str, n: int = 0) -> Record:
    path = f"kits/aster-{n}/"
    facts = replace(ASTER, title=f"Aster {n}" if n else "Aster")
    found = record_of(
        [said(f"{path}index.html", facts.title, *texts), said(f"{path}your-paper.html", f"{facts.title} on your paper", "A4")], facts
    )
    assert found
    return found


def test_a_kit_is_one_record_in_which_what_tells_most_counts():
    record = aster("The river has a gap", "a")
    fields = {key.partition("\t")[0]: key[-1] for key in record.terms}
    assert fields["aster"] == "T" and fields["raised"] == "G" and fields["=0010795x0013970i"] == "C"
    assert (
        fields["river"] == fields["oneway"] == fields["=0020320x0020320i"] == "S"
        and fields["piece:b"] == fields["=0002540x0007620i"] == "P"
    )
    assert fields["gap"] == "X" and fields["a4"] == "Y" and not {"the", "has", "a"} & set(fields)
    places = dict(record.places)
    assert places["kits/aster-0/index.html#the-pieces"] and "kits/aster-0/your-paper.html" in places


def test_there_is_a_bound_on_places():
    page = "".join(f'<h2 id="h{n}">Heading {n}</h2><p>word{n}</p>' for n in range(500))
    record = record_of([Said("a.html", "A", Fraction(1), tuple(parts_of(f"<article>{page}</article>")))], None)
    assert record and len(record.places) == len(DIGITS) and "word499\tX" in record.terms


def laid_out(folder: Path, records: list[Record], many: int | None = None) -> Index:
    for name, data in index.index_files(records, many or len(records)).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return Index(folder)


@pytest.mark.parametrize("many", [3, 100_000], ids=["few", "many"])
def test_an_index_tells_what_was_recorded(tmp_path: Path, many: int):
    alone = record_of([said("care.html", "Take care", "blades")], None)
    assert alone
    read = laid_out(tmp_path, [alone, aster("gap"), aster("fold", n=1)], many)
    assert [d[0] for d in read.documents] == ["Take care", "Aster", "Aster 1"] and read.map["weights"] == [1.0]
    assert read.where("blades") == {"care.html"} and read.where("gap") == {"kits/aster-0/index.html"}
    assert {at.split("#")[0] for at in read.where("piece b")} == set()
    assert read.entry("piece:b") == [(f"kits/aster-{n}/index.html#the-pieces", "P") for n in (0, 1)]
    assert read.map["offers"] == [["4¼ × 5½ in"], ["raised strip"]]


def test_a_new_kit_changes_the_parts_that_it_has_a_part_in(tmp_path: Path, monkeypatch):
    """Names follow from what a part holds, so whatever is the same keeps its name; the same records give the same bytes."""
    monkeypatch.setattr(index, "PART", 120)
    records = [aster(*(f"{letter}{n}word" for letter in "abcdefghklmnop"), n=n) for n in range(6)]
    before, again = index.index_files(records[:5], 5), index.index_files(records[:5], 5)
    after = index.index_files([*records[:5], aster("zebra", n=5)], 6)
    assert before == again and list(before) == list(again)
    kept = {name for name in before if name in after}
    documents = {name for name in before if "/d-" in name}
    assert documents < kept and len(kept) > len(before) / 2 and len(after) > len(before)


def test_prose_that_most_kits_share_is_left_out(tmp_path: Path):
    many = [aster("fold", f"own{n}", n=n) for n in range(index.MANY)]
    read = laid_out(tmp_path, many)
    assert read.terms["fold"] == "*" and read.terms["aster"].startswith("T") and read.where("own7") == {"kits/aster-7/index.html"}


def test_the_index_of_nothing_is_no_index():
    assert index.index_files([], 0) == {}


def test_the_table_is_in_its_own_plain_form():
    for together, one in searching.TOGETHER.items():
        assert list(tokens.tokens(together)) == together.split() and " " not in one
    for words in (
        searching.COUNTED,
        searching.LABELLED,
        searching.ALIKE.values(),
        searching.LEADS,
        " ".join(searching.LEADS.values()).split(),
    ):
        assert all(list(tokens.tokens(word)) == [word] for word in words)


def test_the_small_site_is_found_by_what_its_kits_are(small_site: Path):
    read = Index(small_site)
    titles = {d[1]: d[0] for d in read.documents}
    assert {title: titles[f"kits/{id}/index.html"] for id, title in TITLES.items()} == {title: title for title in TITLES.values()}
    for document in read.documents:
        page = (small_site / document[1]).read_text(encoding="utf-8")
        folder = document[1].rpartition("/")[0]
        for address, _ in document[5]:
            name, _, anchor = address.partition("#")
            text = page if f"{folder}/{name}".removeprefix("/") == document[1] else (small_site / folder / name).read_text(encoding="utf-8")
            assert not anchor or f'id="{anchor}"' in text, address
        if document[4]:
            assert (small_site / folder / document[4][0]).is_file()
    before = [small_site / "search/map.js", *(small_site / "look" / name for name in ("search.js", "sizes.js", "search.css"))]
    assert sum(file.stat().st_size for file in before) < 45_000
