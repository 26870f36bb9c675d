"""What a built page says, part by part: a part begins at each heading that has an address of its own."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass, field

_TAG = re.compile(r"<!--.*?-->|<(/?)([a-zA-Z][a-zA-Z0-9-]*)((?:\"[^\"]*\"|'[^']*'|[^>\"'])*)>|([^<]+)|<", re.DOTALL)
_EMPTY = frozenset("area base br col embed hr img input link meta source track wbr".split())
_WITHIN = frozenset("a abbr b bdi bdo cite code em i kbd mark q s small span strong sub sup time u var".split())
"""Elements within a line: they part no words."""
_SILENT = frozenset(("script", "style", "svg", "template", "head"))
_HEADING = re.compile(r"h[1-6]")
_ID = re.compile(r"""\sid\s*=\s*(?:"([^"]*)"|'([^']*)')""", re.IGNORECASE)
LEFT_OUT = re.compile(r"\sdata-search-exclude\b", re.IGNORECASE)
"""Marks what is said for the eye alone: an element so marked is read past, a heading with all that stands below it."""
_ARTICLE = re.compile(r"<article\b[^>]*>(.*)</article>", re.DOTALL)
_KEPT_OUT = '<meta name="kw-search" content="none">'
"""By this a page of hers keeps itself out, as its template's head asks."""


@dataclass
class Part:
    """A heading and what stands below it."""

    anchor: str
    """Its place in the page; empty for what stands above all headings with one."""
    heading: str = ""
    said: list[str] = field(default_factory=list)
    """Its text, a run for each stretch that no block interrupts."""
    level: int = 0
    ids: set[str] = field(default_factory=set)
    """Addresses within it that no heading has."""


def parts_of(page: str) -> list[Part]:
    """What a page says, in its order; nothing of its frame, and nothing where it keeps itself out.

    Args:
        page: the built page as HTML.
    """
    article = _ARTICLE.search(page)
    if article is None or _KEPT_OUT in page[: article.start()]:
        return []
    reader = _Reader()
    reader.read(article[1])
    return reader.parts


class _Reader:
    """Walks over a page that was built here. Whatever is odd about the HTML of a stranger, it ends: each tag is looked at once."""

    def __init__(self) -> None:
        self.parts = [Part("")]
        self._run: list[str] = []
        self._open: list[tuple[str, str]] = []
        """Elements that are open, with their addresses."""
        self._silent_from: int | None = None
        """How deep the silence began."""
        self._heading: Part | None = None
        self._passed: int | None = None
        """The level of a heading that is read past with all below it."""

    def read(self, text: str) -> None:
        for found in _TAG.finditer(text):
            words, name = found[4], found[2]
            if words is not None:
                if self._silent_from is None:
                    self._run.append(words)
            elif name:
                self._tag(name.lower(), bool(found[1]), found[3])
        self._end_run()

    def _tag(self, name: str, closes: bool, attributes: str) -> None:
        if name not in _WITHIN:
            self._end_run()
        if closes:
            if any(name == one for one, _ in self._open):
                while self._open.pop()[0] != name:
                    pass
            if self._silent_from is not None and len(self._open) < self._silent_from:
                self._silent_from = None
            if _HEADING.fullmatch(name):
                self._heading = None
            return
        if name in _EMPTY:
            return
        found = _ID.search(attributes)
        address = html.unescape(found[1] or found[2] or "") if found else ""
        if address and not _HEADING.fullmatch(name):
            self.parts[-1].ids.add(address)
        self._open.append((name, address))
        if self._silent_from is not None:
            return
        left_out = bool(LEFT_OUT.search(attributes))
        if _HEADING.fullmatch(name):
            level = int(name[1])
            if self._passed is not None and level <= self._passed:
                self._passed = None
            if left_out and self._passed is None:
                self._passed = level
            anchor = address or self._around()
            if anchor and self._passed is None:
                self._heading = Part(anchor, level=level)
                self.parts.append(self._heading)
        elif name in _SILENT or left_out:
            self._silent_from = len(self._open)

    def _around(self) -> str:
        """The address of what a heading without one stands in, unless an earlier heading has taken it."""
        near = next((address for _, address in reversed(self._open) if address), "")
        return "" if any(part.anchor == near for part in self.parts) else near

    def _end_run(self) -> None:
        if not self._run:
            return
        said = " ".join(html.unescape("".join(self._run)).replace("¶", "").split())
        self._run = []
        if not said or self._passed is not None:
            return
        if self._heading is not None:
            self._heading.heading = f"{self._heading.heading} {said}".strip()
        else:
            self.parts[-1].said.append(said)
