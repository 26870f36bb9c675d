"""Prose that somebody wrote, as HTML that is safe on any page.

Notes and answers are Markdown, and Markdown may hold HTML. All of it is rendered here, and all
that is rendered goes through a sanitiser (nh3, which parses as browsers do): what may stand on a
page is listed, everything else goes. Nothing of it runs, asks another site for anything, takes
a form, a style or a name of the page's own, or leaves the place that it is put into.
"""

from __future__ import annotations

import html
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from html.parser import HTMLParser

import markdown
import nh3

from kitwright.errors import UserError

EXTENSIONS: list[str] = ["attr_list", "def_list", "fenced_code", "footnotes", "md_in_html", "tables"]
_SETTINGS = {"tables": {"use_align_attribute": True}}
LONGEST = 20_000
"""Characters of one text: some ten pages. Beyond, and with more of these signs, Markdown takes long over what nobody reads."""
MOST = {"[": 300, "<": 800, "<!": 50}
HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
TAGS = {
    "a",
    "abbr",
    "b",
    "bdi",
    "bdo",
    "blockquote",
    "br",
    "caption",
    "cite",
    "code",
    "dd",
    "del",
    "details",
    "dfn",
    "div",
    "dl",
    "dt",
    "em",
    "figcaption",
    "figure",
    *HEADINGS,
    "hr",
    "i",
    "img",
    "ins",
    "kbd",
    "li",
    "mark",
    "ol",
    "p",
    "pre",
    "q",
    "s",
    "samp",
    "small",
    "span",
    "strong",
    "sub",
    "summary",
    "sup",
    "table",
    "tbody",
    "td",
    "tfoot",
    "th",
    "thead",
    "tr",
    "u",
    "ul",
    "var",
    "wbr",
}
"""What may stand on a page."""
GONE = {
    "script",
    "style",
    "template",
    "noscript",
    "noembed",
    "noframes",
    "iframe",
    "object",
    "embed",
    "applet",
    "svg",
    "math",
    "title",
    "textarea",
    "select",
    "button",
    "video",
    "audio",
    "canvas",
}
"""What goes with all that is in it; of other tags that may not stand, the words stay."""
ATTRIBUTES: dict[str, set[str]] = {
    "*": {"lang", "dir", "title"},
    "a": {"href", "class", "id"},
    "img": {"src", "alt", "width", "height"},
    "ol": {"start"},
    "li": {"id", "value"},
    "sup": {"id"},
    "div": {"class"},
    "td": {"align", "colspan", "rowspan"},
    "th": {"align", "colspan", "rowspan", "scope"},
    "details": {"open"},
}
CLASSES = {"footnote", "footnote-ref", "footnote-backref"}
"""What Markdown itself writes; a class of the page's own would borrow its looks."""
SCHEMES = {"http", "https", "mailto"}
_OWN_ID = re.compile(r"fn(?:ref\d*)?:[\w-]{1,60}")
"""Footnotes: the colon keeps them from being taken for a name of the page's own."""
_HERE = re.compile(r"(?![\w+.-]*:)[^\s\\/:?#][^\s\\:?#]*", re.ASCII)
"""A path below, or beside, the page: no scheme, no host, nothing that a browser reads as either."""
_FILE = re.compile(rf"(?:{_HERE.pattern})?(?:#[\w.:%-]*)?", re.ASCII)


@dataclass(frozen=True)
class Passage:
    """A stretch of prose: a heading, or what stands below one."""

    level: int
    """Of the heading, 1 to 6; 0 for anything else."""
    text: str
    """The heading's words; or HTML that is safe on any page."""


def rendered(text: str, *, simple: bool = False) -> str:
    """Markdown as safe HTML.

    Args:
        text: as it was typed.
        simple: an answer of a sentence or some, in which a `<` is a sign like any other; without tables and footnotes.

    Raises:
        UserError: it is longer, or nested more deeply, than anybody reads.
    """
    return cleaned(_markdown(html.escape(text, quote=False), []) if simple else _markdown(text, EXTENSIONS))


def _markdown(text: str, extensions: list[str]) -> str:
    _bounded(text)
    try:
        return markdown.markdown(
            text, extensions=extensions, extension_configs={name: how for name, how in _SETTINGS.items() if name in extensions}
        )
    except RecursionError:
        raise UserError("prose.too-deep") from None


def _bounded(text: str) -> None:
    if len(text) > LONGEST:
        raise UserError("prose.too-long", length=len(text), most=LONGEST)
    for sign, most in MOST.items():
        if text.count(sign) > most:
            raise UserError("prose.too-many", sign=sign, count=text.count(sign), most=most)


def cleaned(made: str) -> str:
    """Any HTML with nothing in it that a page may not hold; sound, and closed in itself."""
    read = _Finished()
    read.feed(
        nh3.clean(
            made, tags=TAGS, clean_content_tags=GONE, attributes=ATTRIBUTES, attribute_filter=_attribute, url_schemes=SCHEMES, link_rel=None
        )
    )
    read.close()
    return "".join(read.made)


def _attribute(tag: str, name: str, value: str) -> str | None:
    """An attribute's value as it may stand; None where it may not."""
    if name == "src":
        return value if _HERE.fullmatch(value) else None
    if name == "href":
        return value if re.match(r"(?:https?://|mailto:)[^\s\\]", value, re.IGNORECASE) or _FILE.fullmatch(value) else None
    if name == "id":
        return value if _OWN_ID.fullmatch(value) else None
    if name == "class":
        return " ".join(word for word in value.split() if word in CLASSES) or None
    if name in ("width", "height", "start", "value", "colspan", "rowspan"):
        return value if re.fullmatch(r"[0-9]{1,4}", value) else None
    return value


class _Tokens(HTMLParser):
    """Goes over safe HTML, piece by piece, as it was written."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.made: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.made.append(self.get_starttag_text() or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        self.made.append(f"</{tag}>")

    def handle_data(self, data: str) -> None:
        self.made.append(data)

    def handle_entityref(self, name: str) -> None:
        self.made.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self.made.append(f"&#{name};")


class _Finished(_Tokens):
    """Says the words of a picture that can't be shown, and of a link to another site that it is one."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "img" and not said.get("src"):
            # From another site, or from nowhere: what it shows is said instead.
            self.made.append(html.escape(said.get("alt") or ""))
        elif tag == "a" and re.match("https?:", said.get("href") or "", re.IGNORECASE):
            self.made.append((self.get_starttag_text() or "").removesuffix(">") + ' rel="noopener external">')
        else:
            super().handle_starttag(tag, attrs)


# --- in parts ---------------------------------------------------------------------------------------


class _Parts(_Tokens):
    """Parts safe HTML at its headings, and notes where it leads."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[Passage] = []
        self.links: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        link = said.get("href") if tag == "a" else said.get("src") if tag == "img" else None
        if link:
            self.links.append(link)
        if not self.open and tag in HEADINGS:
            self.end(0)
        if tag not in ("br", "hr", "img", "wbr"):
            self.open.append(tag)
        if link and (at := re.match(r"([^#:]*)\.md(?=#|$)", link)) and tag == "a":
            # As MkDocs does with links between pages.
            start = self.get_starttag_text() or ""
            self.made.append(
                start.replace(f'href="{html.escape(link)}"', f'href="{html.escape(at[1])}.html{html.escape(link[at.end() :])}"', 1)
            )
        else:
            super().handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        super().handle_endtag(tag)
        if self.open and self.open[-1] == tag:
            self.open.pop()
        if not self.open and tag in HEADINGS:
            self.end(int(tag[1]))

    def end(self, level: int) -> None:
        text = "".join(self.made).strip()
        self.made = []
        if level:
            text = " ".join(words_of(text).split())
        if text:
            self.found.append(Passage(level, text))


def parts_of(text: str) -> tuple[tuple[Passage, ...], tuple[str, ...]]:
    """Markdown as parts, each safe by itself, and every address that it leads to.

    Raises:
        UserError: it is too long, or nested too deeply.
    """
    read = _Parts()
    read.feed(rendered(text))
    read.close()
    read.end(0)
    return tuple(read.found), tuple(dict.fromkeys(read.links))


class _Mapped(_Tokens):
    def __init__(self, change: Callable[[str], str]) -> None:
        super().__init__()
        self.change, self.code = change, 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        super().handle_starttag(tag, attrs)
        self.code += tag in ("pre", "code")

    def handle_endtag(self, tag: str) -> None:
        super().handle_endtag(tag)
        self.code -= tag in ("pre", "code")

    def handle_data(self, data: str) -> None:
        super().handle_data(data if self.code else self.change(data))


def mapped(made: str, change: Callable[[str], str]) -> str:
    """Safe HTML with its running text changed; not in code, nor in any tag."""
    read = _Mapped(change)
    read.feed(made)
    read.close()
    return "".join(read.made)


class _Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def words_of(made: str) -> str:
    """The bare words of safe HTML."""
    read = _Words()
    read.feed(made)
    read.close()
    return "".join(read.words)


# --- what is left out -----------------------------------------------------------------------------------


class _Seen(HTMLParser):
    """Counts what a reader would miss: tags, and attributes that do something."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: Counter[tuple[str, str | None]] = Counter()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen[tag, None] += 1
        for name, _value in attrs:
            if name in ("src", "href", "style", "srcset", "background", "action") or name.startswith("on"):
                self.seen[tag, name] += 1


def left_out(text: str) -> tuple[tuple[str, str | None], ...]:
    """What of an author's Markdown may not stand on a page and is left out: a tag, or an attribute of one.

    Raises:
        UserError: it is too long, or nested too deeply.
    """
    made = _markdown(text, EXTENSIONS)
    before, after = _Seen(), _Seen()
    before.feed(made)
    before.close()
    after.feed(cleaned(made))
    after.close()
    # Of a tag that goes, its attributes need no word of their own.
    gone = [what for what, n in before.seen.items() if n > after.seen[what]]
    return tuple((tag, name) for tag, name in gone if name is None or (tag, None) not in gone)
