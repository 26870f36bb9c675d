"""Run MkDocs over a content tree, then finish what it leaves to do."""

from __future__ import annotations

import html
import json
import logging
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

import nh3

from kitwright.archive.audience import Audience
from kitwright.archive.pages import Tree
from kitwright.errors import Place, UserError

NO_ROBOTS = "User-agent: *\nDisallow: /\n"
"""Asks search engines to stay away (RFC 9309). It guards nothing: a password does."""


class Unpublishable(UserError):
    """A page that can't be published as it is."""


def run_mkdocs(tree: Tree, site: Path, moment: int, kits: Path) -> None:
    """Build the site from its content tree; warnings stop it.

    Args:
        tree: the content tree.
        site: an empty folder for the site.
        moment: the time that the site claims to be built at, in seconds since 1970.
        kits: the folder of kits, to name the notes that a warning is about.

    Raises:
        Unpublishable: MkDocs warned of something, such as a link that leads nowhere.
    """
    with _environment(NO_MKDOCS_2_WARNING="1", SOURCE_DATE_EPOCH=os.environ.get("SOURCE_DATE_EPOCH", str(moment))):
        # Imported late: the theme prints a notice on import unless told not to.
        from mkdocs.commands.build import build
        from mkdocs.config import load_config

        with _heard() as heard:
            # Not strict here: warnings are heard above, and told in our own words.
            config = load_config(str(tree.settings), site_dir=str(site), strict=False)
            config.plugins.on_startup(command="build", dirty=False)
            try:
                build(config)
            finally:
                config.plugins.on_shutdown()
    if heard:
        raise _told(heard[0], tree, kits)


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


def _told(warning: str, tree: Tree, kits: Path) -> Unpublishable:
    """MkDocs' warning, put down to the kit whose notes caused it."""
    for page in (page for page in tree.pages if page.kit):
        if page.path in warning:
            words = warning.replace(f"Doc file '{page.path}'", "this page").replace(f"'{page.path}'", "this page")
            return Unpublishable("site.page-not-made", place=Place(kits / page.kit / "notes.md"), why=words)
    return Unpublishable("site.pages-not-made", why=warning)


def finish(site: Path, tree: Tree, address: str | None, kits: Path, audience: Audience = "public") -> None:
    """What is left to do after MkDocs: search from a folder, no idle files, no page that breaks the content policy.

    Args:
        site: the site's folder.
        tree: the content tree that it was built from.
        address: where it will stand, if known.
        kits: the folder of kits, to name the notes of a page that can't be published.
        audience: for whom it is.

    Raises:
        Unpublishable: a page holds a script or a style of its own.
    """
    index = safe_index((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    (site / "search" / "search_index.json").write_text(index, encoding="utf-8", newline="\n")
    # From a folder a page may not fetch, but it may load a script: the theme then looks for this name.
    (site / "search" / "search_index.js").write_text(f"var __index = {index}", encoding="utf-8", newline="\n")
    if not address:
        for name in ("sitemap.xml", "sitemap.xml.gz"):
            (site / name).unlink(missing_ok=True)
    if audience != "public":
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
    kit_of = {page.path: page.kit for page in tree.pages}
    for file in sorted(site.rglob("*.html")):
        fault = fault_of(file.read_text(encoding="utf-8"))
        if fault:
            kit = kit_of.get(file.relative_to(site).with_suffix(".md").as_posix())
            raise fault.at(Place(kits / kit / "notes.md") if kit else Place(file.relative_to(site)))


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
        self.fault = self.fault or fault


def fault_of(text: str) -> Unpublishable | None:
    """What a page does that its content policy forbids; None when it is sound."""
    watch = _Watch()
    watch.feed(text)
    return watch.fault
