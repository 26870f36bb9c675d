"""The pages of a small archive: sound, complete, and true to what was typed."""

from __future__ import annotations

import html
import re
from fractions import Fraction
from pathlib import Path

import pytest
from archive.finding import Index
from archive.pagecheck import faults_of
from archive.small import FIRST, OLD, SECOND, TITLES
from kitwright.archive.policy import fault_of
from kitwright.archive.search.reading import parts_of
from kitwright.archive.search.record import Said, record_of
from kitwright.archive.theme import assets, palette_css
from kitwright.kit.looks import PAPERS
from kitwright.kit.read import read_club, read_kit
from kitwright.kit.theme import PROGRAM, Theme
from kitwright.schemes import DARK, HOUSE, LIGHT
from kitwright.work.working import work

ROOT = Path(__file__).resolve().parents[2]


def page(site: Path, name: str) -> str:
    return (site / name).read_text(encoding="utf-8")


def words(text: str) -> str:
    """What a reader sees of the main part."""
    main = text[text.index("<article") : text.index("</article>")]
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", main)).split())


def test_every_page_is_sound_and_every_link_leads_somewhere(small_site: Path):
    assert faults_of(small_site) == []


def test_what_is_cited_is_filled_in_wherever_it_is_read(small_site: Path):
    text = page(small_site, f"kits/{FIRST}/index.html")
    assert 'alt="One of 3 cards on a table"' in text and "From 1 sheet, on a Tuesday" in words(text)
    read = [f for f in small_site.rglob("*") if f.suffix in (".html", ".json", ".xml", ".svg", ".txt")]
    assert len(read) > 20 and not [f for f in read if re.search(r"\[\[(cards|sheets)|(cards|field)\]\]", f.read_text(encoding="utf-8"))]


def test_nothing_in_a_page_breaks_the_content_policy(small_site: Path):
    for file in small_site.rglob("*.html"):
        text = file.read_text(encoding="utf-8")
        assert fault_of(text) is None
        policy = text.index("Content-Security-Policy")
        loaded = [each.start() for each in re.finditer(r"<(?:link|script)\b", text)]
        assert all(policy < at for at in loaded)
        # The page for what is not found loads nothing where nobody knows its address.
        assert loaded or file.name == "404.html"


def test_no_file_names_a_foreign_host_to_load_from(small_site: Path):
    for file in [*small_site.rglob("look/*.css"), *small_site.rglob("look/*.js"), *small_site.rglob("*.svg")]:
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"(?:url\(|@import|src=|href=)\s*[\"']?(?:https?:)?//", text), file


def test_what_was_typed_is_shown_as_typed(small_site: Path):
    text = page(small_site, f"kits/{FIRST}/index.html")
    shown = words(text)
    assert TITLES[FIRST] in shown
    assert "Three cards with a *plain* panel & a <strip>." in shown
    assert "Clover _field_" in shown
    assert html.unescape(re.search(r"<title>(.*?)</title>", text)[1]) == f"{TITLES[FIRST]} · The <Test> & Bench"


def test_a_sixteenth_is_wrapped_and_an_eighth_is_a_character(small_site: Path):
    text = page(small_site, f"kits/{FIRST}/index.html")
    assert '3 <span class="kw-frac">15⁄16</span> × 1½ in' in text
    # Not inside code, where the author's own characters stand.
    assert "# not a heading, 15⁄16\n" in text


def test_notes_cite_and_their_headings_lie_below_ours(small_site: Path):
    text = page(small_site, f"kits/{FIRST}/index.html")
    assert "Cut 3 of A, each 3" in words(text)
    assert re.search(r"<h4 id=\"why-so-plain\">", text)
    assert 'href="../../words.html"' in text and (small_site / f"kits/{FIRST}/photos/one card.png").is_file()


def test_the_home_page_leads_with_the_newest_kit(small_site: Path):
    text = page(small_site, "index.html")
    assert text.index(f"kits/{SECOND}/") < text.index(f"kits/{FIRST}/") < text.index(f"kits/{OLD}/")
    assert re.search(rf'href="kits/{SECOND}/{SECOND}-letter\.pdf"[^>]* download[ >]', text)
    assert "An archive that exists for the tests alone." in words(text)


def test_two_kits_of_a_month_stand_in_the_order_of_their_reveals(small_site: Path):
    archive = page(small_site, "archive.html")
    assert archive.index(f"kits/{SECOND}/") < archive.index(f"kits/{FIRST}/") < archive.index(f"kits/{OLD}/")
    assert archive.index(">2031<") < archive.index(">2030<")
    first = page(small_site, f"kits/{FIRST}/index.html")
    assert f'href="../../kits/{OLD}/index.html" rel="prev"' in first
    assert f'href="../../kits/{SECOND}/index.html" rel="next"' in first


def test_both_editions_and_the_workbook_one_tap_away_and_other_inks_behind_them(small_site: Path):
    text = page(small_site, f"kits/{FIRST}/index.html")
    buttons = re.findall(r'class="kw-button [^"]*" href="([^"]+)"', text)
    folded = re.findall(r'href="([^"]+\.pdf)"', text[text.index('id="other-printables"') :].partition("<b>Workbook</b>")[0])
    # The kit is in inches, whatever the club's region.
    assert buttons == [f"{FIRST}-letter.pdf", f"{FIRST}-a4.pdf"]
    workbooks = re.findall(r'href="([^"]+-workbook-[^"]+\.pdf)"', text)
    assert workbooks == [f"{FIRST}-workbook-{edition}.pdf" for edition in ("letter", "a4")]
    assert folded == [f"{FIRST}-{edition}{ink}.pdf" for ink in ("-light", "-outline") for edition in ("letter", "a4")]
    for name in buttons + workbooks + folded:
        assert (small_site / f"kits/{FIRST}/{name}").read_bytes().startswith(b"%PDF-")


def test_a_past_kit_is_marked_and_says_no_number(small_site: Path):
    text = page(small_site, f"kits/{OLD}/index.html")
    shown = words(text.split('<p class="kw-mind"')[0] + "</article>")
    assert "An old printable" in shown and "computed" not in text and "scraps" in shown and "1 page, Letter" in shown
    # None that its author did not write, but what the PDF itself says, and how large it is.
    assert not re.search(r"\d", shown.replace("May 2030", "").replace("1 page, Letter", "").replace("1 kB", ""))
    assert "old printable" in page(small_site, "archive.html")
    assert (small_site / f"kits/{OLD}/{OLD}.pdf").read_bytes().startswith(b"%PDF-")


def test_the_numbers_beside_the_steps_are_those_of_the_guide(small_site: Path):
    folder = small_site.parent / "kits"
    worked = work(read_kit(folder / FIRST, read_club(folder)))
    text = page(small_site, f"kits/{FIRST}/index.html")
    lists = re.findall(r'<ol class="kw-desk">.*?</ol>', text, re.DOTALL)
    assert len(lists) == len(worked.layouts) > 1
    for steps, layout in zip(lists, worked.layouts):
        said = []
        for span in re.findall(r'class="kw-cuts">.*?</span>([^<]+)<', steps):
            first, _, last = span.partition("–")
            said += range(int(first), int(last or first) + 1)
        assert said == [cut.number for cut in layout.cuts]


def test_tags_lead_to_their_kits(small_site: Path):
    tags = page(small_site, "tags.html")
    assert 'id="iso-a6"' in tags and 'href="../../archive.html#tag=iso-a6"' in page(small_site, f"kits/{SECOND}/index.html")
    section = tags[tags.index('id="boats"') :]
    assert f"kits/{OLD}/index.html" in section[: section.index("</section>")]


def test_the_index_of_the_finder_is_there_for_a_host_and_for_a_folder(small_site: Path):
    """Scripts that call a function, which a page may load from both; every file of the index is one that the index leads to."""
    index = Index(small_site)
    assert f"kits/{FIRST}/index.html" in index.where("4¼ × 5½ in") == index.where("4.25in x 5.5in")
    assert all(address.split("#")[0] not in ("index.html", "archive.html", "tags.html") for address in index.addresses)
    assert len(list((small_site / "search").iterdir())) == 2 + len(index.documents) + len(index.map["begins"]) and index.terms
    assert index.part(f"w-{index.map['every']}")


def test_the_colours_of_the_site_are_those_of_the_drawings():
    theme = PROGRAM
    css = palette_css(HOUSE)
    assert all(f"--kw-{name}: {value};" in css for scheme in (LIGHT, DARK) for name, value in scheme.items())
    known = {value.upper() for value in (*LIGHT.values(), *DARK.values(), *PAPERS.values())}
    for name, data in assets(Theme(), HOUSE).items():
        if name in ("mark.svg", "lost.svg"):
            assert {c.upper() for c in re.findall(r"#[0-9A-Fa-f]{6}\b", data.decode())} <= known, name
    # The style sheet names colours by their variable only.
    assert not re.search(r"#[0-9a-fA-F]{3,8}\b(?![^{]*\{)", (theme / "assets" / "site.css").read_text(encoding="utf-8"))


def test_every_variable_of_the_style_sheet_is_defined():
    css = palette_css(HOUSE) + (PROGRAM / "assets" / "site.css").read_text(encoding="utf-8")
    used, defined = set(re.findall(r"var\((--kw-[\w-]+)", css)), set(re.findall(r"(--kw-[\w-]+)\s*:", css))
    assert used - defined == set()


@pytest.mark.parametrize(
    "text, fault",
    [
        ("<p>sound</p>", ""),
        ('<script src="look/x.js"></script>', ""),
        ('<script type="application/json">{}</script>', ""),
        ("<script>alert(1)</script>", "script"),
        ("<SCRIPT>alert(1)</SCRIPT>", "script"),
        ('<p style="color:red">x</p>', "style"),
        ('<img src="x.png" onerror="alert(1)">', "script"),
        ('<img src="https://elsewhere.example/x.png">', "another site"),
        ('<iframe src="//elsewhere.example/"></iframe>', "another site"),
    ],
)
def test_what_a_page_may_not_hold(text: str, fault: str):
    found = fault_of(text)
    assert bool(found) == bool(fault) and (found is None or fault in found.problem)


def test_results_of_a_search_are_words_alone():
    """Whatever is markup in a title or in prose reaches the index as the words that a reader sees, and a result as text."""
    page = """<body><article class="x"><h1 id="a">A &lt;b onclick=x&gt; &amp; <code>c</code></h1>
        <p>worn &lt;i&gt; yarn<img src=x alt="z" onerror=w></p><script>silent()</script><!-- none --><p data-search-exclude>for the eye</p></article></body>"""
    parts = parts_of(page)
    assert [(part.anchor, part.heading, part.said) for part in parts if part.anchor] == [("a", "A <b onclick=x> & c", ["worn <i> yarn"])]
    record = record_of([Said("a.html", "A <b>", Fraction(1), tuple(parts))], None)
    assert record and record.title == "A <b>" and {key.partition("\t")[0] for key in record.terms} >= {"onclick", "worn", "yarn"}
    assert not {"silent", "w", "z", "eye", "none"} & {key.partition("\t")[0] for key in record.terms}
    script = (PROGRAM / "assets" / "search.js").read_text(encoding="utf-8")
    assert not re.search(r"HTML\b|document\.write|\beval\b|Function\(", script)
