"""Run MkDocs over a content tree, then finish what it leaves to do."""

from __future__ import annotations

import html
import json
import logging
import os
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import nh3
from jinja2 import Environment

from kitwright.archive.audience import Audience
from kitwright.archive.gather import Archive
from kitwright.archive.pages import Tree
from kitwright.errors import Place, UserError
from kitwright.kit.theme import OVERRIDES, SETTINGS, TEMPLATES, Theme
from kitwright.telling.templates import confined, faults_told

NO_ROBOTS = "User-agent: *\nDisallow: /\n"
"""Asks search engines to stay away (RFC 9309). It guards nothing: a password does."""


class Unpublishable(UserError):
    """A page that can't be published as it is."""


def run_mkdocs(tree: Tree, site: Path, moment: int, kits: Path, theme: Theme) -> None:
    """Build the site from its content tree; warnings stop it.

    Args:
        tree: the content tree.
        site: an empty folder for the site.
        moment: the time that the site claims to be built at, in seconds since 1970.
        kits: the folder of kits, to name the notes that a warning is about.
        theme: the theme that the tree was written with, to name a file of hers.

    Raises:
        Unpublishable: MkDocs warned of something, such as a link that leads nowhere.
        UserError: a block of hers can't be filled in, or her settings can't be used.
    """
    blocks = {f"{tree.settings.parent / OVERRIDES}/{name}": file for name, file in theme.hers_in(OVERRIDES).items()}
    with _environment(NO_MKDOCS_2_WARNING="1", SOURCE_DATE_EPOCH=os.environ.get("SOURCE_DATE_EPOCH", str(moment))):
        # Imported late: the theme prints a notice on import unless told not to.
        from mkdocs.commands.build import build
        from mkdocs.config import load_config
        from mkdocs.exceptions import MkDocsException

        with _heard() as heard, faults_told(blocks):
            # Not strict here: warnings are heard above, and told in our own words.
            try:
                config = load_config(str(tree.settings), site_dir=str(site), strict=False)
            except MkDocsException:
                settings = theme.hers(SETTINGS)
                if settings is None:
                    raise
                raise UserError("theme.settings-refused", place=settings.place(), why=" ".join(heard)) from None
            made = config.theme.get_env
            # Blocks may come from a stranger, as templates may.
            config.theme.get_env = partial(_confined, made)  # type: ignore[method-assign]  # an instance's own
            config.plugins.on_startup(command="build", dirty=False)
            try:
                build(config)
            finally:
                config.plugins.on_shutdown()
    if heard:
        raise _told(heard[0], tree, kits, theme)


def _confined(made: Callable[[], Environment]) -> Environment:
    return confined(made())


@contextmanager
def _environment(**values: str) -> Iterator[None]:
    before = {name: os.environ.get(name) for name in values}
    os.environ.update(values)
    try:
        yield
    finally:
        for name, value in before.items():
            os.environ.pop(name, None)
            if value is not None:
                os.environ[name] = value


class _Ear(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.heard.append(record.getMessage())


@contextmanager
def _heard() -> Iterator[list[str]]:
    """Collect MkDocs' warnings instead of printing them."""
    logger, ear = logging.getLogger("mkdocs"), _Ear()
    before = logger.propagate
    logger.propagate = False
    logger.addHandler(ear)
    try:
        yield ear.heard
    finally:
        logger.removeHandler(ear)
        logger.propagate = before


_LEADS = re.compile(r"""\]\(([^)\s]+)|(?:href|src)=["']([^"']+)""")


def _told(warning: str, tree: Tree, kits: Path, theme: Theme) -> UserError:
    """MkDocs' warning, put down to the template of hers, or the kit, that caused it."""
    for page in (page for page in tree.pages if page.path in warning):
        words = warning.replace(f"Doc file '{page.path}'", "this page").replace(f"'{page.path}'", "this page")
        mine = _leading(theme, tree.templates.get(page.path, ""), warning)
        if mine:
            return UserError("theme.page-not-made", place=mine, why=words)
        if page.kit:
            return Unpublishable("site.page-not-made", place=Place(kits / page.kit / "notes.md"), why=words)
    return Unpublishable("site.pages-not-made", why=warning)


def _leading(theme: Theme, template: str, warning: str) -> Place | None:
    """Where in her templates the link stands that a warning is about; else the template of the page, if it is hers."""
    for file in theme.hers_in(TEMPLATES).values():
        for n, line in enumerate(file.text.split("\n"), 1):
            if any(f"'{target}'" in warning for found in _LEADS.findall(line) for target in found if target):
                return file.place(n)
    own = theme.hers(f"{TEMPLATES}/{template}")
    return own.place() if own else None


def finish(site: Path, tree: Tree, address: str | None, kits: Path, archive: Archive, theme: Theme) -> None:
    """What is left to do after MkDocs: search from a folder, no idle files, no page that breaks the content policy.

    Args:
        site: the site's folder.
        tree: the content tree that it was built from.
        address: where it will stand, if known.
        kits: the folder of kits, to name the notes of a page that can't be published.
        archive: what it shows, and for whom.
        theme: the theme that it was built with, to name a file of hers.

    Raises:
        Unpublishable: a page holds a script or a style of its own.
        UserError: a block of hers lost what every page has to say.
    """
    index = safe_index((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    (site / "search" / "search_index.json").write_text(index, encoding="utf-8", newline="\n")
    # From a folder a page may not fetch, but it may load a script: the theme then looks for this name.
    (site / "search" / "search_index.js").write_text(f"var __index = {index}", encoding="utf-8", newline="\n")
    if not address:
        for name in ("sitemap.xml", "sitemap.xml.gz"):
            (site / name).unlink(missing_ok=True)
    if archive.audience != "public":
        (site / "robots.txt").write_text(NO_ROBOTS, encoding="utf-8", newline="\n")
    for pattern in ("assets/**/*.map", "assets/javascripts/lunr/**/*", "assets/images/favicon.png"):
        for file in sorted(site.glob(pattern)):
            if file.is_file():
                file.unlink()
    for folder in sorted((f for f in site.rglob("*") if f.is_dir()), reverse=True):
        if not any(folder.iterdir()):
            folder.rmdir()
    for page in tree.pages:
        for link in page.links:
            fault = lost(site, page.path, link)
            if fault:
                raise fault.at(_where(kits / page.kit / "notes.md", link))
    kit_of, policy = {page.path: page.kit for page in tree.pages}, policy_of(theme)
    for file in sorted(site.rglob("*.html")):
        text, at = file.read_text(encoding="utf-8"), file.relative_to(site)
        fault, lost_code = fault_of(text), lost_of(text, policy, archive.audience, archive.ahead)
        if fault:
            kit = kit_of.get(at.with_suffix(".md").as_posix())
            mine = _of_hers(theme, TEMPLATES, OVERRIDES)
            if mine:
                raise UserError("theme.against-the-policy", place=mine, fault=fault.code, values=fault.values)
            raise fault.at(Place(kits / kit / "notes.md") if kit else Place(at))
        if lost_code:
            raise UserError(lost_code, place=_of_hers(theme, OVERRIDES) or Place(at), page=at.as_posix(), policy=policy)


def _of_hers(theme: Theme, *parts: str) -> Place | None:
    """Where a fault of a page comes from: her block around all pages, or else another of hers, or her settings."""
    mine = {file.name: file for part in parts for file in theme.hers_in(part).values()}
    first = mine.get(f"{OVERRIDES}/main.html") or next(iter(mine.values()), None) or theme.hers(SETTINGS)
    return first.place() if first else None


_FOUND = ("p", "code", "pre", "li", "ol", "ul", "sub", "sup")
"""Tags that the search index holds; results are shown as HTML."""
_OTHER = re.compile(rf"<(?!/?(?:{'|'.join(_FOUND)})>)")


def safe_index(index: str) -> str:
    """The search index with nothing in it that a list of results would take for more than words.

    Of a page that has words before its heading, Material takes the title as it was typed.
    """
    data = json.loads(index)
    for one in data["docs"]:
        if _OTHER.search(one["title"]):
            one["title"] = html.escape(one["title"], quote=False)
        if _OTHER.search(one["text"]):
            one["text"] = nh3.clean(one["text"], tags=set(_FOUND), attributes={})
    return json.dumps(data, separators=(",", ":"))


def lost(site: Path, page: str, link: str) -> UserError | None:
    """Why an address in the notes of a page leads nowhere in the site; None where it leads somewhere, or to another site."""
    if re.match(r"[a-z][a-z0-9+.-]*:", link, re.IGNORECASE):
        return None
    path, _, place = link.partition("#")
    own = (site / page).with_suffix(".html")
    target = (own.parent / re.sub(r"\.md$", ".html", unquote(path))).resolve() if path else own
    if not target.is_relative_to(site.resolve()) or not target.is_file():
        return Unpublishable("site.link-to-nowhere", link=link)
    if place and target.suffix == ".html" and f'id="{html.escape(unquote(place))}"' not in target.read_text(encoding="utf-8"):
        return Unpublishable("site.link-to-no-place", link=link, spot=place)
    return None


def _where(notes: Path, link: str) -> Place:
    """The line of the notes on which an address stands, as far as it can be found."""
    try:
        lines = notes.read_text(encoding="utf-8").split("\n")
    except (OSError, ValueError):
        lines = []
    return Place(notes, next((n for n, line in enumerate(lines, 1) if link in line or unquote(link) in line), None))


class _Watch(HTMLParser):
    """Finds what the content policy of the pages forbids."""

    def __init__(self) -> None:
        super().__init__()
        self.fault: Unpublishable | None = None
        self.line = 1
        """Where that stands."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "script" and "src" not in said and said.get("type") != "application/json":
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
