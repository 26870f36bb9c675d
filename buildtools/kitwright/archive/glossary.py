"""Trade words of a page lead to the glossary where they are first used, once a page, and never in headings, links or controls."""

from __future__ import annotations

import re
from functools import lru_cache

from markdown.extensions.toc import slugify
from markupsafe import Markup

from kitwright.telling.glossary import written

HEADING = re.compile(r"^### (.+?)(?: *\{ *#([\w-]+) *\})?$", re.MULTILINE)
"""An entry of the page of words, and its name where that is said."""
_TAG = re.compile(r"""<!--.*?-->|<(/?)([a-zA-Z][\w-]*)((?:"[^"]*"|'[^']*'|[^'">])*)>""", re.DOTALL)
_UNIT = re.compile(r'\bdata-kw="(in|mm)"')
_LEFT_OUT = frozenset(
    "a form h1 h2 h3 h4 h5 h6 button summary code pre script style svg title select option label th nav b figcaption".split()
)
"""Nothing in these becomes a link."""
_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_UNITS = ("in", "mm")


def terms_of(words: str) -> dict[str, str]:
    """Every term of the page of words as it may be written elsewhere, in lower case, with the name of its entry."""
    found: dict[str, str] = {}
    for heading, name in HEADING.findall(words):
        for term in heading.split(","):
            for form in written(term.strip().casefold()):
                found.setdefault(form, name or slugify(heading, "-"))
    return found


@lru_cache(maxsize=4)
def _pattern(words: str) -> tuple[re.Pattern[str] | None, dict[str, str]]:
    terms = terms_of(words)
    longest_first = sorted(terms, key=len, reverse=True)
    return re.compile(rf"(?<![\w&#-])(?:{'|'.join(map(re.escape, longest_first))})(?![\w-])", re.IGNORECASE) if terms else None, terms


def glossed(text: str, words: str, up: str) -> Markup:
    """A part of a page in which trade words lead to the glossary.

    Args:
        text: HTML, with lines of Markdown perhaps.
        words: the page of words, as Markdown.
        up: the way to the top of the site.
    """
    pattern, terms = _pattern(str(words))
    return Markup(_Glossing(pattern, terms, up).over(str(text))) if pattern else Markup(text)


class _Glossing:
    def __init__(self, pattern: re.Pattern[str], terms: dict[str, str], up: str) -> None:
        self.pattern, self.terms, self.up = pattern, terms, up
        self.open: list[tuple[str, str]] = []
        """Elements that are open, each with the unit in which its text is said alone, if it is."""
        self.used: set[tuple[str, str]] = set()
        """Entries that were led to, in each unit: what is said in both stands twice, and one of the two is seen."""

    def over(self, text: str) -> str:
        done, at = [], 0
        for tag in _TAG.finditer(text):
            done.append(self.words(text[at : tag.start()]))
            done.append(tag[0])
            self.passed(tag)
            at = tag.end()
        return "".join([*done, self.words(text[at:])])

    def passed(self, tag: re.Match[str]) -> None:
        name = (tag[2] or "").lower()
        if not name or name in _VOID or tag[3].endswith("/"):
            return
        if not tag[1]:
            unit = _UNIT.search(tag[3])
            self.open.append((name, unit[1] if unit else ""))
        elif any(name == other for other, _ in self.open):
            while self.open.pop()[0] != name:
                pass

    def words(self, text: str) -> str:
        if not text.strip() or any(name in _LEFT_OUT for name, _ in self.open):
            return text
        unit = next((unit for _, unit in reversed(self.open) if unit), "")
        units = (unit,) if unit else _UNITS
        # A line of Markdown that is a heading stays one.
        return "".join(line if line.lstrip().startswith("#") else self.line(line, units) for line in text.splitlines(keepends=True))

    def line(self, line: str, units: tuple[str, ...]) -> str:
        def led(found: re.Match[str]) -> str:
            entry = self.terms[found[0].casefold()]
            if any((entry, unit) in self.used for unit in units):
                return found[0]
            self.used.update((entry, unit) for unit in units)
            return f'<a class="kw-word" href="{self.up}words.html#{entry}">{found[0]}</a>'

        return self.pattern.sub(led, line)
