"""What a page may not hold, and what each has to say: the content policy, and who may see it."""

from __future__ import annotations

import re
from html.parser import HTMLParser

from kitwright.archive.audience import Audience
from kitwright.errors import UserError
from kitwright.kit.theme import OVERRIDES, Theme

DATA = ("application/json", "application/ld+json")
"""Types of a script block that is data: no browser runs it, so no policy has anything to say (HTML Living Standard, 4.12.1, data block)."""


class Unpublishable(UserError):
    """A page that can't be published as it is."""


class _Watch(HTMLParser):
    """Finds what the content policy of the pages forbids."""

    def __init__(self) -> None:
        super().__init__()
        self.fault: Unpublishable | None = None
        self.line = 1
        """Where that stands."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "script" and "src" not in said and said.get("type") not in DATA:
            self._note(Unpublishable("site.script"))
        if tag == "style" or "style" in said:
            self._note(Unpublishable("site.style", tag=tag))
        if any(name.startswith("on") for name in said):
            self._note(Unpublishable("site.script", tag=tag))
        for name in ("src", "srcset", "data", "poster"):
            if re.match(r"\s*(?:[a-z]+:)?//", said.get(name) or "", re.IGNORECASE):
                self._note(Unpublishable("site.foreign", address=said[name]))

    def _note(self, fault: Unpublishable) -> None:
        if self.fault is None:
            self.fault, self.line = fault, self.getpos()[0]


def fault_of(text: str) -> Unpublishable | None:
    """What a page does that its content policy forbids; None when it is sound."""
    found = first_fault(text)
    return found[1] if found else None


def first_fault(text: str) -> tuple[int, Unpublishable] | None:
    """The first thing in a text that the content policy forbids, with its line."""
    watch = _Watch()
    watch.feed(text)
    return (watch.line, watch.fault) if watch.fault else None


class _Head(HTMLParser):
    """Reads what a page says of itself before it loads anything."""

    def __init__(self) -> None:
        super().__init__()
        self.policies: list[str] = []
        self.robots = ""
        self._loads = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "meta" and said.get("http-equiv", "").lower() == "content-security-policy" and not self._loads:
            self.policies.append(said.get("content", ""))
        if tag == "meta" and said.get("name", "").lower() == "robots":
            self.robots = said.get("content", "")
        self._loads |= tag in ("script", "style", "img", "link", "iframe", "object")


SECRET, AHEAD = 'class="kw-secret', 'kw-ahead">'
"""Mark what says that a page is not public, and what for which moment to come it was made."""


def lost_of(text: str, policy: str, audience: Audience, ahead: bool = False) -> str | None:
    """What every page of a site has to say and this one doesn't, as the code of an error; None when all of it is there.

    Args:
        text: the page.
        policy: the content policy.
        audience: for whom the site is.
        ahead: whether it was made for a moment to come.
    """
    head = _Head()
    head.feed(text.partition("<body")[0])
    if policy not in head.policies:
        return "theme.policy-lost"
    if audience != "public" and ("noindex" not in head.robots or SECRET not in text):
        return "theme.secret-lost"
    if ahead and AHEAD not in text:
        return "theme.ahead-lost"
    return None


def policy_of(theme: Theme) -> str:
    """The content policy, which the program's own page says."""
    said = re.search(
        r'http-equiv="Content-Security-Policy" content="([^"]+)"', (theme.program / OVERRIDES / "main.html").read_text(encoding="utf-8")
    )
    assert said, "the program's pages have no content policy"
    return said[1]
