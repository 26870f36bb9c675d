"""What of the site's styles a kind of page can wear, so that it loads no more than that before it is seen.

Nothing built is looked at, only what pages are made from: the templates that ask for the same sheet with all that they take
in, the blocks around every page, the scripts that any of these name, and the few modules that write an element themselves.
A rule stays where each of its classes is a word in one of those, or begins with one that is put together there (`kw-grade--`
before a value). What a template loads besides, further down its page, stays out: what is above it is seen without waiting for
that, nor for what is below. So a class that a script sets counts as worn, and a page of another kit looks the same. Whatever a maker's own
templates, styles and scripts say counts everywhere, so that a change of hers makes no page anew that has nothing of it.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from kitwright import cache
from kitwright.archive import glossary, text
from kitwright.archive.rules import cut, selectors
from kitwright.kit.theme import ASSETS, OVERRIDES, TEMPLATES, Theme
from kitwright.telling.templates import dynamic_in, named_in, sandbox

HEAD = "styles"
"""What the head of a template says that has a sheet of its own: the sheet's name."""
WRITERS = (text, glossary)
"""Modules that write elements with a class."""
_HEAD = re.compile(rf"\A---\n(?:.*\n)*?{HEAD}: *([\w-]+)\n(?:.*\n)*?---\n")
_SCRIPT = re.compile(r"[\w-]+\.js\b")
_LINK = re.compile(r'<link rel="stylesheet" href="[^"]*look/([\w-]+\.css)"')
_WORD = re.compile(r"[\w-]+")
_CLASS = re.compile(r"\.(-?[A-Za-z_][\w-]*)")
_FRAMES = re.compile(r"md-|no-js\Z")
"""Classes of the frame around pages, which every page has."""


def sheets(theme: Theme, styles: Mapping[str, str], scripts: Sequence[str], joined: Mapping[str, Sequence[str]]) -> dict[str, bytes]:
    """The sheet of each kind of page that asks for one of its own, by its name.

    Args:
        theme: the program's.
        styles: the site's whole style sheet by the names of its sources, in their order.
        scripts: what every page loads, by the names of their sources.
        joined: scripts that are made of others.
    """
    parts = {part: _texts(theme, part) for part in (TEMPLATES, OVERRIDES, ASSETS)}
    key = cache.digest(styles, scripts, joined, parts, _hers(theme))
    asking: dict[str, list[str]] = {}
    for name, said in parts[TEMPLATES].items():
        if sheet := _asked_for(said):
            asking.setdefault(sheet, []).append(name)

    def cut_for(templates: list[str]) -> bytes:
        below = _below(theme, templates)
        head, beside = ("\n".join(said for name, said in styles.items() if (name in below) == apart) for apart in (False, True))
        return cut(head, Worn(words(theme, templates, scripts, joined)).may, beside).encode()

    return {name: cache.made("worn", cache.digest(key, name), partial(cut_for, asked)) for name, asked in asking.items()}


def _below(theme: Theme, templates: list[str]) -> frozenset[str]:
    """The sheets that pages of some templates load further down, be those hers or the program's."""
    hers = {name: file.data.decode("utf-8", "replace") for name, file in theme.hers_in(TEMPLATES).items()}
    standing = _texts(theme, TEMPLATES) | hers
    return frozenset.intersection(*(frozenset(_LINK.findall(standing[name])) for name in templates))


def _texts(theme: Theme, part: str) -> dict[str, str]:
    return {
        name: file.read_text(encoding="utf-8") for name, file in theme.programs_in(part).items() if name.endswith((".md", ".html", ".js"))
    }


def heads_stand(theme: Theme) -> bool:
    """Whether templates of hers ask for the same sheets as the program's in whose place they are."""
    ours = _texts(theme, TEMPLATES)
    return all(_asked_for(file.data.decode()) == _asked_for(ours[name]) for name, file in theme.hers_in(TEMPLATES).items() if name in ours)


def _asked_for(said: str) -> str:
    head = _HEAD.match(said)
    return head[1] if head else ""


def _hers(theme: Theme) -> list[str]:
    """What she says in templates, styles and scripts of her own."""
    files = [one for part in (TEMPLATES, ASSETS) for one in theme.hers_in(part).items()]
    return [file.data.decode("utf-8", "replace") for name, file in files if name.endswith((".md", ".html", ".js", ".css"))]


def words(theme: Theme, templates: Iterable[str], scripts: Sequence[str], joined: Mapping[str, Sequence[str]]) -> frozenset[str]:
    """Every word of what some pages are made from.

    Args:
        theme: the program's.
        templates: their templates.
        scripts: what every page loads, by the names of their sources.
        joined: scripts that are made of others.
    """
    taken = _taken_in(theme, templates)
    frame = [file.read_text(encoding="utf-8") for name, file in theme.programs_in(OVERRIDES).items() if name.endswith(".html")]
    written = [inspect.getsource(module) for module in WRITERS]
    texts = [*taken, *frame, *written, *_hers(theme)]
    asked = [name for each in texts for name in _SCRIPT.findall(each)]
    texts += _named(theme, [*scripts, *asked, *(part for name in asked for part in joined.get(name, ()))])
    return frozenset(word for each in texts for word in _WORD.findall(each))


def _taken_in(theme: Theme, templates: Iterable[str]) -> Iterator[str]:
    """The texts of templates, and of all that they include or import; where a name is worked out, it may be any."""
    env, left, seen = sandbox(theme, TEMPLATES), list(templates), set()
    while left:
        name = left.pop()
        if name in seen:
            continue
        seen.add(name)
        said = theme.programs_in(TEMPLATES)[name].read_text(encoding="utf-8")
        tree = env.parse(said)
        left += theme.programs_in(TEMPLATES) if dynamic_in(tree) else named_in(tree)
        yield said


def _named(theme: Theme, scripts: Iterable[str]) -> Iterator[str]:
    """The texts of scripts, and of those that they load."""
    there, left, seen = theme.programs_in(ASSETS), list(scripts), set()
    while left:
        name = left.pop()
        if name in seen or name not in there:
            continue
        seen.add(name)
        said = there[name].read_text(encoding="utf-8")
        left += _SCRIPT.findall(said)
        yield said


class Worn:
    """Which selectors can match where certain words are said."""

    def __init__(self, said: frozenset[str]) -> None:
        self._said = said
        self._begun = tuple(word for word in said if word.endswith("-") and word.strip("-_"))

    def may(self, selector: str) -> bool:
        """Whether a selector may match something: of `:is(a, b)` one is enough, and what stands in `:not` asks for nothing."""
        bare, inner = _parted(selector)
        return all(map(self._class, _CLASS.findall(bare))) and all(any(map(self.may, each)) for each in inner)

    def _class(self, name: str) -> bool:
        return name in self._said or bool(_FRAMES.match(name)) or name.startswith(self._begun)


def _parted(selector: str) -> tuple[str, list[list[str]]]:
    """A selector without its brackets, and the lists of selectors in those that ask for one."""
    bare, inner, depth, start = [], [], 0, 0
    for n, letter in enumerate(selector):
        if letter in "([":
            depth += 1
            if depth == 1:
                bare.append(selector[start:n])
                start = n + 1
        elif letter in ")]":
            depth -= 1
            if depth == 0:
                if letter == ")" and bare[-1].endswith((":is", ":where", ":has")):
                    inner.append(selectors(selector[start:n]))
                start = n + 1
    return "".join([*bare, selector[start:]]), inner
