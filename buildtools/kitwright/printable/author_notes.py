"""The author's notes, in two columns: what her `notes.md` says, without its pictures."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import markdown
from reportlab.platypus.flowables import Flowable

from kitwright.kit.markup import cleaned
from kitwright.printable.blocks import GUTTER, Heading, Listed, Prose, Side, high
from kitwright.printable.job import Job
from kitwright.printable.typeset import BODY, HEADING, Style
from kitwright.work.cite import notes_of

HIGHEST = 330
"""How high a pair of columns may be, points: one that is low finds its place on a page."""
STEP = 2
"""By how much columns are tried higher until they hold the text, points."""
PARAGRAPH = Style(BODY.font, BODY.size, BODY.leading, after=7)


class _Reader(HTMLParser):
    """Markdown's own HTML as plain blocks: what kind, and its words."""

    BLOCKS = {
        "h1": "heading",
        "h2": "heading",
        "h3": "heading",
        "h4": "heading",
        "h5": "heading",
        "h6": "heading",
        "p": "text",
        "li": "item",
        "pre": "text",
        "tr": "text",
        "blockquote": "text",
        "dt": "text",
        "dd": "text",
    }
    SILENT = ("script", "style", "head", "title")

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []
        self.words: list[str] = []
        self.lists: list[list] = []
        self.kind, self.silent = "text", 0

    def handle_starttag(self, tag: str, attrs) -> None:
        if tag in self.SILENT:
            self.silent += 1
        elif tag in ("ul", "ol"):
            self._close()
            self.lists.append([tag, 0])
        elif tag == "li":
            self._close()
            mark, n = self.lists[-1] if self.lists else ("ul", 0)
            if self.lists:
                self.lists[-1][1] = n + 1
            self.kind = f"numbers {n + 1}" if mark == "ol" else "dashes"
        elif tag in self.BLOCKS:
            # A paragraph in a list's item belongs to that item.
            if not (tag == "p" and self.kind != "text"):
                self._close()
                self.kind = self.BLOCKS[tag]
        elif tag == "br":
            self.words.append(" ")

    def handle_endtag(self, tag: str) -> None:
        if tag in self.SILENT:
            self.silent = max(self.silent - 1, 0)
        elif tag in ("ul", "ol"):
            self._close()
            if self.lists:
                self.lists.pop()
        elif tag in ("td", "th"):
            self.words.append(" ")
        elif tag in self.BLOCKS:
            self._close()

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.words.append(data)

    def _close(self) -> None:
        text = " ".join("".join(self.words).split())
        if text:
            self.found.append((self.kind, text))
        self.words, self.kind = [], "text"

    def close(self) -> None:
        super().close()
        self._close()


def author_notes(job: Job, most: float = HIGHEST) -> list[Flowable]:
    """Pairs of columns that hold the notes, each kept whole and no higher than `most` points; none for a kit without notes."""
    text = re.sub(r"^\s*---\n.*?\n---\n", "", notes_of(job.worked), count=1, flags=re.DOTALL)
    blocks, width = blocks_of(words_in(text)), (job.edition.width - GUTTER) / 2
    pairs: list[Flowable] = []
    while blocks:
        left, right, blocks = sections(blocks, width, most)
        head = [] if pairs else [Heading("Notes", 2, bookmark="author-notes")]
        columns = Side([left, right], [width, width], GUTTER, job.edition.height)
        pairs.append(Side([[*head, columns]], [job.edition.width], 0, job.edition.height, before=20 if head else 12))
    return pairs


def words_in(text: str) -> list[tuple[str, str]]:
    """What Markdown says, as plain blocks: their kind and their words; what may not stand on the page does not stand here either."""
    reader = _Reader()
    reader.feed(cleaned(markdown.markdown(text, extensions=["tables", "fenced_code"])))
    reader.close()
    return reader.found


def blocks_of(found: list[tuple[str, str]]) -> list[Flowable]:
    """The blocks of the notes, neighbouring items as one list."""
    blocks: list[Flowable] = []
    for kind, text in found:
        marks, _, first = kind.partition(" ")
        if kind == "heading":
            blocks.append(Heading(text, 3, HEADING))
        elif marks in ("dashes", "numbers"):
            item = Prose(text, BODY)
            if blocks and isinstance(blocks[-1], Listed) and blocks[-1].marks == marks and first != "1":
                blocks[-1].items.append(item)
            else:
                blocks.append(Listed([item], marks=marks, first=int(first or 1)))
        else:
            blocks.append(Prose(text, PARAGRAPH))
    return blocks


def sections(blocks: list[Flowable], width: float, most: float = HIGHEST) -> tuple[list[Flowable], list[Flowable], list[Flowable]]:
    """A pair of columns, and what is left, which begins with a heading where that leaves the pair half full: nobody reads on in the next pair."""
    left, right, rest = pair(blocks, width, most)
    reached = len(blocks) - len(rest)
    # Of headings in a row the first one: what is before it ends in no heading.
    first = (i for i in range(reached, 0, -1) if rest and isinstance(blocks[i], Heading) and not isinstance(blocks[i - 1], Heading))
    whole = next(first, 0)
    if high(blocks[:whole], width) < most:
        return left, right, rest
    return (*pair(blocks[:whole], width, most)[:2], blocks[whole:])


def pair(blocks: list[Flowable], width: float, most: float = HIGHEST) -> tuple[list[Flowable], list[Flowable], list[Flowable]]:
    """Two columns as low and as level as can be, and what is left when both are as high as they may be."""
    height = min(max(high(blocks, width) / 2 - 8, 40), most)
    while True:
        left, rest = taken(blocks, width, height)
        right, rest = taken(rest, width, height)
        if not rest or height >= most and left:
            return left, right, rest
        height += STEP


def taken(blocks: list[Flowable], width: float, height: float) -> tuple[list[Flowable], list[Flowable]]:
    """What fits into this height, and the rest; a heading stays with what it heads."""
    fit: list[Flowable] = []
    rest = list(blocks)
    while rest and high([*fit, rest[0]], width) <= height:
        fit.append(rest.pop(0))
    if rest and not isinstance(rest[0], Heading):
        used = high(fit, width) + max(fit[-1].getSpaceAfter(), rest[0].getSpaceBefore()) if fit else 0
        rest[0].wrap(width, 1e6)
        parts = rest[0].split(width, height - used)
        if len(parts) > 1:
            fit.append(parts[0])
            rest[:1] = parts[1:]
    while rest and fit and isinstance(fit[-1], Heading):
        rest.insert(0, fit.pop())
    return fit, rest
