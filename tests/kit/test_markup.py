"""Prose from anybody, as HTML that runs nothing, fetches nothing and stays in its place: read by another parser, and by a browser."""

import re
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.asked import written
from kitwright.archive.finished import ids_in
from kitwright.archive.site import lost
from kitwright.archive.text import notes_view
from kitwright.errors import UserError
from kitwright.kit.markup import CLASSES, TAGS, cleaned, left_out, mapped, parts_of, rendered, words_of
from kitwright.otherwise.checked import check
from kitwright.printable.author_notes import words_in
from kitwright.work.working import work
from making import BATCH, make_kit
from odd import prose

SITE = ["attr_list", "def_list", "footnotes", "md_in_html", "tables", "toc", "fenced_code"]
"""What the site's own settings switch on."""
FAMILIES = [text for _, text in prose.odd_prose(1, 200)]


class Faults(HTMLParser):
    """What no page may hold, by a list that knows nothing of the sanitiser's."""

    LEADS = {
        "href",
        "src",
        "srcset",
        "data",
        "poster",
        "action",
        "formaction",
        "background",
        "xlink:href",
        "ping",
        "cite",
        "longdesc",
        "manifest",
        "srcdoc",
        "style",
        "codebase",
        "http-equiv",
        "is",
        "name",
        "form",
        "target",
    }

    def __init__(self) -> None:
        super().__init__()
        self.faults, self.open, self.tags = [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        if tag not in ("br", "hr", "img", "wbr"):
            self.open.append(tag)
        if tag in (
            "script",
            "style",
            "meta",
            "base",
            "link",
            "iframe",
            "frame",
            "object",
            "embed",
            "form",
            "input",
            "button",
            "svg",
            "math",
            "video",
            "audio",
            "source",
            "template",
            "title",
            "textarea",
        ):
            self.faults.append(f"<{tag}>")
        for name, value in attrs:
            value = value or ""
            if name.startswith("on"):
                self.faults.append(f"{name} on <{tag}>")
            if name in self.LEADS and name not in ("href", "src"):
                self.faults.append(f"{name} on <{tag}>")
            # As a browser reads an address: signs below the blank gone, a backslash is a slash.
            read = urlsplit(urljoin("https://own.example/kits/a/index.html", re.sub(r"[\0-\x20]", "", value).replace("\\", "/")))
            if name == "src" and (read.scheme, read.netloc) != ("https", "own.example"):
                self.faults.append(f"src {value}")
            if name == "href" and read.scheme not in ("https", "http", "mailto"):
                self.faults.append(f"href {value}")
            if name == "id" and ":" not in value:
                self.faults.append(f"id {value}")
            if name == "class" and set(value.split()) - CLASSES - {"kw-prose", "kw-frac"}:
                self.faults.append(f"class {value}")

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> astray")

    def handle_comment(self, data):
        self.faults.append("a comment")

    def handle_decl(self, decl):
        self.faults.append("a declaration")

    handle_pi = unknown_decl = handle_decl


def faults_of(made: str) -> list[str]:
    read = Faults()
    read.feed(made)
    read.close()
    return read.faults + [f"<{tag}> open" for tag in read.open]


@pytest.mark.parametrize("text", FAMILIES, ids=range(len(FAMILIES)))
def test_no_known_family_of_hostile_prose_survives(text):
    assert faults_of(rendered(text)) == []
    assert faults_of(written(text)) == []


@given(st.integers(0, 10**9))
def test_no_mixture_of_them_survives(seed):
    for _, text in list(prose.odd_prose(seed, 110))[-4:]:
        assert faults_of(rendered(text)) == [] and faults_of(cleaned(text)) == [], text


@given(st.text(st.sampled_from("<>/\"'=&;:#!-[]()`*_{}| \nabonsrcimgp\0\t"), max_size=60))
def test_no_heap_of_signs_survives(text):
    made = cleaned(text)
    assert faults_of(made) == [] and faults_of(rendered(text)) == []
    assert cleaned(made) == made, "clean is clean"
    assert mapped(made, str) == made


@pytest.mark.parametrize("text", FAMILIES, ids=range(len(FAMILIES)))
def test_the_page_reads_nothing_of_it_a_second_time(text):
    """Through Markdown with the site's own settings: the same words, no tag more, and what comes after is untouched."""
    view = notes_view(text)
    page = markdown.markdown(f"## Notes\n\n{view.text}\n\n## After\n\n<p>own *text* [a](b)</p>\n", extensions=SITE)
    assert page.count('<h2 id="after') == 1 and page.endswith("<p>own *text* [a](b)</p>")
    own = re.sub(r'<h[1-6] id="[^"]*">', lambda m: m[0].split(" ")[0] + ">", page.split("</h2>", 1)[1].rsplit("<h2", 1)[0])
    assert faults_of(own) == []
    wanted = "".join(f"<h{min(p.level + 3, 6)}>x" if p.level else p.text for p in parts_of(text)[0])
    before, after = Faults(), Faults()
    before.feed(wanted)
    after.feed(own.replace('<div class="kw-prose">', "").replace("kw-frac", ""))
    assert [t for t in after.tags if t != "span"] == [t for t in before.tags if t != "span"]
    assert "".join(words_of(own).split()) == "".join("".join(p.text if p.level else words_of(p.text) for p in parts_of(text)[0]).split())


def test_plain_prose_is_left_as_it_was():
    text = (
        "One *two* **three** `four < 5` & six\n\n- a\n- b\n\n1. c\n\n> d\n\n| x | y |\n|--:|---|\n| 1 | 2 |\n\nTerm\n:   what\n\n[a](https://a.example/?q=1&r=2#s) [b](mailto:a@b.example) "
        '[c](#there) ![p](photos/one%20card.png "t")\n\n```\n<b>\n```\n\n<kbd>K</kbd> H<sub>2</sub>O <q>r</q>\n\n<details><summary>s</summary>t</details>\n\nnote[^1]\n\n[^1]: Foot\n'
    )
    made = markdown.markdown(text, extensions=[e for e in SITE if e != "toc"], extension_configs={"tables": {"use_align_attribute": True}})
    wanted = [(t, sorted(a.items())) for t, a in seen(made)]
    assert [(t, sorted((k, v) for k, v in a.items() if k != "rel")) for t, a in seen(rendered(text))] == wanted
    assert words_of(rendered(text)) == words_of(made) and left_out(text) == ()


def seen(made):
    found = []
    read = HTMLParser()
    read.handle_starttag = lambda tag, attrs: found.append((tag, dict(attrs)))
    read.feed(made)
    return found


@pytest.mark.parametrize(
    "text, gone",
    [
        ("a <script>x</script>", (("script", None),)),
        ("<p onclick=x>a</p>", (("p", "onclick"),)),
        ('<p style="x:y">a</p>', (("p", "style"),)),
        ("![x](https://a.example/x.png)", (("img", None),)),
        ("[x](javascript:y)", (("a", "href"),)),
        ("<svg onload=x></svg>", (("svg", None),)),
        ("# A\n\nplain [b](c.md) ![d](photos/e.png)", ()),
        ("`<script>`", ()),
        ("a < b and <https://c.example/>", ()),
    ],
)
def test_what_is_left_out_is_told(text, gone):
    assert left_out(text) == gone


def test_a_picture_from_elsewhere_leaves_its_words():
    assert rendered('![two & "cards"](https://a.example/x.png)') == "<p>two &amp; &quot;cards&quot;</p>"


@pytest.mark.parametrize(
    "text",
    [
        "<td colspan=99999999>x</td>",
        '<ol start="-1e9">x</ol>',
        "<img src=a.png width=10000000 height=100%>",
        "<li value=x>y</li>",
        "<p width=1 start=2>x</p>",
    ],
)
def test_numbers_of_a_page_are_small_whole_ones(text):
    assert not re.search(r"(width|height|colspan|start|value)=", cleaned(f"<table><tr>{text}</tr></table>" if "<td" in text else text))


def test_headings_part_the_prose_and_links_are_gathered():
    parts, links = parts_of(
        "before\n\n# A *b* & <i>c</i>\n\n> ## in a quotation\n\n[x](../y/index.md#z) [w](https://w.example/a.md) ![v](photos/v.png)\n"
    )
    assert [(p.level, p.text) for p in parts if p.level] == [(1, "A b & c")] and all(faults_of(p.text) == [] for p in parts if not p.level)
    assert links == ("../y/index.md#z", "https://w.example/a.md", "photos/v.png")
    assert 'href="../y/index.html#z"' in parts[-1].text and 'href="https://w.example/a.md"' in parts[-1].text


def test_what_is_nested_without_end_is_told_or_read():
    for text in (
        "> " * 2_000 + "x",
        "- " * 2_000 + "x",
        "<div>" * 800,
        "<b>" * 800,
        "*" * 5_000,
        "`" * 4_999 + "x",
        "[" * 300,
        "![" * 300,
        "<!--" * 50,
        "\n".join(" " * n + "- x" for n in range(190)),
    ):
        try:
            assert faults_of(rendered(text)) == []
        except UserError as error:
            assert "deeply" in error.problem and error.remedy


@pytest.mark.parametrize(
    "text, says",
    [
        ("x" * 20_001, "far too long: 20001"),
        ("[" * 301, "far too many [ in here: 301"),
        ("<b" * 801, "far too many <"),
        ("<!--" * 51, "far too many <!"),
    ],
)
def test_what_would_take_long_is_not_begun(text, says, monkeypatch, tmp_path):
    monkeypatch.setattr(markdown, "markdown", None)
    for read in (rendered, left_out, parts_of):
        with pytest.raises(UserError) as caught:
            read(text)
        assert says in caught.value.problem and caught.value.remedy
    found = [f for f in check(work(make_kit(tmp_path, BATCH, text))) if f.place.file.name == "notes.md" and f.level == "error"]
    assert [(f.level, says in f.problem) for f in found] == [("error", True)]


def test_check_names_what_is_left_out_at_its_line(tmp_path):
    notes = "Fine.\n\n<script>alert(1)</script>\n\n![x](https://a.example/x.png)\n\n<p OnClick='x()'>y</p>\n"
    found = [f for f in check(work(make_kit(tmp_path, BATCH, notes))) if f.place.file.name == "notes.md"]
    assert [(f.level, f.place.line, f.problem.split(" ")[0]) for f in found] == [
        ("warning", 3, "<script>"),
        ("warning", 5, "a"),
        ("warning", 7, "onclick"),
    ]
    assert all(f.remedy for f in found)


def test_every_tag_that_may_stand_is_known_to_the_readers_list():
    assert not TAGS & {"script", "style", "meta", "base", "link", "iframe", "form", "input", "svg", "math"}


def test_the_printable_says_what_the_page_says():
    text = "One *two*.\n\n<iframe>three</iframe><textarea>four</textarea>\n\n- five <svg><text>six</text></svg>\n"
    assert words_in(text) == [("text", "One two."), ("dashes", "five")]
    assert words_of(rendered(text)).split() == ["One", "two.", "five"]


def test_where_links_of_the_notes_lead(tmp_path):
    site = tmp_path / "site"
    (site / "kits" / "a" / "photos").mkdir(parents=True)
    (site / "kits" / "a" / "index.html").write_text('<h2 id="here">x</h2>')
    (site / "words.html").write_text('<h2 id="kit">x</h2>')
    (site / "kits" / "a" / "photos" / "one card.png").write_text("x")
    (tmp_path / "secret.html").write_text("x")
    sound = [
        "#here",
        "../../words.md",
        "../../words.html#kit",
        "photos/one%20card.png",
        "index.md",
        "https://w.example/x",
        "mailto:a@b.example",
        "HTTP://w.example/",
    ]
    astray = [
        "#there",
        "../../../secret.html",
        "../../../secret.md",
        "../../words.md#here",
        "photos/two.png",
        "photos",
        ".",
        "../../../../../../../../etc/hostname",
        "no.md",
    ]
    there = {file.relative_to(site).as_posix(): file for file in site.rglob("*") if file.is_file()}

    def told(link: str):
        return lost(there, lambda name: ids_in(there[name].read_text()), "kits/a/index.md", link)

    assert [link for link in sound if told(link)] == [] and [link for link in astray if not told(link)] == []
