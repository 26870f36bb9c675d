"""Have the page generator make the pages that differ, and take all others as they were made before."""

from __future__ import annotations

import gzip
import html
import io
import logging
import os
import posixpath
import re
import shutil
from collections.abc import Callable, Container, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path, PurePosixPath
from types import SimpleNamespace
from urllib.parse import quote, unquote, urljoin

from jinja2 import Environment

from kitwright import cache
from kitwright.archive import blocks
from kitwright.archive.epoch import EPOCH, TURN, typed_epoch
from kitwright.archive.finished import Finished, Ledger, astray, finished, kept, remember, remembered
from kitwright.archive.gather import Archive
from kitwright.archive.joined import lean
from kitwright.archive.pages import Tree, write
from kitwright.archive.placing import Placing
from kitwright.archive.policy import Unpublishable, fault_of, lost_of, policy_of
from kitwright.cache import Blob, Lost
from kitwright.errors import Place, UserError
from kitwright.kit.theme import OVERRIDES, SETTINGS, TEMPLATES, Theme
from kitwright.telling.templates import faults_told

NO_ROBOTS = "User-agent: *\nDisallow: /\n"
"""Asks search engines to stay away (RFC 9309). It guards nothing: a password does."""
SITEMAP = "sitemap.xml"


def make_pages(tree: Tree, placing: Placing, moment: int, kits: Path, theme: Theme, archive: Archive, key: str = "") -> int:
    """Put every page of a site in its place, and what the page generator adds to them; how many pages were made for it.

    A page is taken as it was made before, where it is made from the same text in the same frame, and whatever it leads to
    still stands. The result is that of making all of them, in every byte.

    Args:
        tree: the content tree.
        placing: the site in the making.
        moment: the time that the site claims to be built at, in seconds since 1970.
        kits: the folder of kits, to name the notes that a warning is about.
        theme: the theme that the tree was written with, to name a file of hers.
        archive: what it shows, and for whom.
        key: under which its pages are remembered; without one they are not.

    Raises:
        Unpublishable: a link leads nowhere, or a page holds a script or a style of its own.
        UserError: a block of hers can't be filled in, or lost what every page has to say, or her settings can't be used.
    """
    with TURN, _environment(NO_MKDOCS_2_WARNING="1", **{EPOCH: typed_epoch() or str(moment)}):
        return _Making(tree, placing, kits, theme, archive, key).all()


class _Making:
    def __init__(self, tree: Tree, placing: Placing, kits: Path, theme: Theme, archive: Archive, key: str) -> None:
        self.tree, self.placing, self.kits, self.theme, self.archive, self.key = tree, placing, kits, theme, archive, key
        self.moment = int(os.environ[EPOCH])
        self.frame = cache.digest(tree.frame, self.moment if tree.dated else 0)
        self.ledger = remembered(key, self.frame) if key else Ledger(self.frame)
        self.names = {page.path: html_of(page.path) for page in tree.pages}
        """The file of each page, by its path in the tree."""
        self.there = frozenset((*self.names.values(), *tree.files))
        """Every file of the site that a page can lead to."""
        self.pages: dict[str, Finished] = {}
        """What is done, by the page's file."""
        self.now: set[str] = set()
        """Pages that were made now, by their files."""
        self.faults: dict[str, UserError] = {}
        """What is wrong with pages that were made now."""
        self.runs = 0
        self.made = 0
        self.policy = policy_of(theme)
        self.kit_of = {self.names[page.path]: page.kit for page in tree.pages}

    def all(self) -> int:
        for name, content in self.tree.files.items():
            if _HIDDEN.match(name):
                continue
            try:
                self.placing.put(name, content)
            except Lost:
                self.placing.put(name, self.tree.again(name))
            if name.endswith(".html"):
                self._look_at(name, (self.placing.folder / name).read_text(encoding="utf-8"))
        missing = {path for path in self.names if not self._as_before(path)}
        shell = self._shell_as_before()
        if missing or not shell:
            missing |= self.tree.together if missing else set()
            missing |= set(self.names) if self.tree.dated else set()
            self._make([path for path in self.names if path in missing], not shell or self.tree.dated)
        self._mend()
        self._write_map()
        if self.archive.audience != "public":
            self.placing.put("robots.txt", NO_ROBOTS.encode())
        self._lost_links()
        for name in sorted(self.faults, key=lambda name: PurePosixPath(name).parts):
            raise self.faults[name]
        self.ledger.pages = self.placing.pages = self.pages
        if self.key:
            remember(self.key, self.ledger)
        return self.made

    # --- as they were made before ---

    def _as_before(self, path: str) -> bool:
        name = self.names[path]
        was = self.ledger.pages.get(name)
        if was is None or was.source != self.tree.sources[path] or not was.leads <= self.there:
            return False
        if not self._placed(name, was.html):
            return False
        self.pages[name] = was
        return True

    def _shell_as_before(self) -> bool:
        return self.ledger.shell is not None and all(self._placed(name, blob) for name, blob in self.ledger.shell.items())

    def _placed(self, name: str, blob: Blob) -> bool:
        try:
            self.placing.put(name, blob)
        except Lost:
            return False
        return True

    # --- made now ---

    def _make(self, wanted: list[str], shell: bool) -> None:
        """Have pages made, and take them over; `shell`: with what the page generator adds to them."""
        folder = self._generated(wanted)
        for path in wanted:
            name = self.names[path]
            page = (folder / name).read_bytes()
            text = page.decode()
            self._look_at(name, text)
            self.now.add(name)
            self.pages[name] = finished(self.tree.sources[path], kept(page), text, name, self.there, self.tree.address)
            self.placing.put(name, page)
        self.made += len(wanted)
        if shell:
            self.ledger.shell = {}
            for name in self._added(folder):
                data = (folder / name).read_bytes()
                if name.endswith(".html"):
                    self._look_at(name, data.decode())
                self.ledger.shell[name] = kept(data)
                self.placing.put(name, data)
        shutil.rmtree(folder)

    def _added(self, folder: Path) -> list[str]:
        """What the page generator made of its own accord, but for what nobody needs."""
        passed = () if self.tree.dated and self.tree.address else (SITEMAP, f"{SITEMAP}.gz")
        names = [file.relative_to(folder).as_posix() for file in sorted(folder.rglob("*")) if file.is_file()]
        idle = _OF_THE_GENERATOR if lean(self.theme) else _IDLE
        return [name for name in names if not (name in self.there or name in passed or idle.fullmatch(name))]

    def _generated(self, wanted: list[str]) -> Path:
        """Run the page generator over some pages; the folder of what it made.

        Raises:
            Unpublishable: it warned of something, such as a link that leads nowhere.
        """
        for everything in (False, True):
            self.runs += 1
            folder = self.placing.folder.parent / f"made-{self.runs}"
            self._lay(wanted, everything, folder)
            heard = run_mkdocs(self.tree, folder, self.theme, dirty=len(wanted) < len(self.names))
            if not heard:
                return folder
            shutil.rmtree(folder)
        # With every file in sight, it says what it would say of the whole site.
        raise _told(heard[0], self.tree, self.kits, self.theme)

    def _lay(self, wanted: list[str], everything: bool, folder: Path) -> None:
        """Lay out the pages that are to be made, and stand-ins of what they lead to: empty, and older than what was made of them."""
        docs, tree, now = self.tree.docs, self.tree, frozenset(wanted)
        seen = set(tree.menu)
        for path in wanted:
            file = docs / path
            if not file.is_file() or not file.stat().st_size:
                write(file, tree.fill(path))
            seen |= {target for target in named_in(file.read_text(encoding="utf-8"), path) if target in self.names or target in tree.files}
        if everything:
            seen = {*self.names, *tree.files}
        for path, name in self.names.items():
            if path in now:
                continue
            if path not in seen:
                (docs / path).unlink(missing_ok=True)
                continue
            write(docs / path, b"")
            os.utime(docs / path, (0, 0))
            write(folder / name, b"")
        for name in seen:
            if name in tree.files and not (docs / name).exists():
                write(docs / name, b"")

    # --- looked over ---

    def _look_at(self, name: str, text: str) -> None:
        """Note what is wrong with a page that was made now."""
        fault, lost_code = fault_of(text), lost_of(text, self.policy, self.archive.audience, self.archive.ahead)
        if fault:
            kit = self.kit_of.get(name)
            mine = _of_hers(self.theme, TEMPLATES, OVERRIDES)
            place = mine or (Place(self.kits / kit / "notes.md") if kit else Place(Path(name)))
            told = UserError("theme.against-the-policy", place=mine, fault=fault.code, values=fault.values) if mine else fault.at(place)
            self.faults[name] = told
        elif lost_code:
            place = _of_hers(self.theme, OVERRIDES) or Place(Path(name))
            self.faults[name] = UserError(lost_code, place=place, page=name, policy=self.policy)

    def _mend(self) -> None:
        """Where a page leads to a place that is not there any more, let the page generator say whether that matters."""
        paths = {name: path for path, name in self.names.items()}
        lost = {name: gone for name in self.pages if (gone := set(astray(self.pages, name)))}
        # Pages that were made together were looked at together.
        doubtful = {name for name, gone in lost.items() if not (name in self.now and all(file in self.now for file, _ in gone))}
        if doubtful:
            wanted = doubtful | {file for name in doubtful for file, _ in lost[name]}
            self._make([path for name, path in paths.items() if name in wanted], False)
        for name in lost:
            page = self.pages[name]
            stray = frozenset(astray(self.pages, name))
            self.pages[name] = replace(page, spots=page.spots - stray, loose=page.loose | stray)

    def _lost_links(self) -> None:
        """Refuse addresses in the notes of a kit that lead nowhere.

        Raises:
            Unpublishable: one of them.
        """
        for page in self.tree.pages:
            for link in page.links:
                fault = lost(self.placing.files, lambda name: self.pages[name].ids if name in self.pages else frozenset(), page.path, link)
                if fault:
                    raise fault.at(_where(self.kits / page.kit / "notes.md", link))

    # --- over all pages ---

    def _write_map(self) -> None:
        """The map of a public site: the program's own block, filled in with all pages."""
        address, block = self.tree.address, self.theme.program / OVERRIDES / SITEMAP
        if not address or self.tree.dated:
            return
        pages = [
            SimpleNamespace(
                page=SimpleNamespace(
                    canonical_url=urljoin(address, quote(self.names[path])), is_link=False, meta={"changed": self.tree.changed.get(path)}
                )
            )
            for path in sorted(self.names, key=order)
        ]
        text = Environment(autoescape=False).from_string(block.read_text(encoding="utf-8")).render(pages=pages).encode()
        self.placing.put(SITEMAP, text)
        day = datetime.fromtimestamp(self.moment, UTC).replace(hour=0, minute=0, second=0)
        packed = io.BytesIO()
        with gzip.GzipFile(SITEMAP, "wb", fileobj=packed, mtime=int(day.timestamp())) as stream:
            stream.write(text)
        self.placing.put(f"{SITEMAP}.gz", packed.getvalue())


def html_of(path: str) -> str:
    """The file of a page of the tree."""
    return path.removesuffix(".md") + ".html"


def order(path: str) -> tuple[tuple[str, ...], bool, str]:
    """Sorts paths of pages as the page generator lists them."""
    *folders, name = path.split("/")
    return tuple(folders), name != "index.md", name


_HIDDEN = re.compile(r"(?:.*/)?\.|templates/")
"""What the page generator leaves out."""
_IDLE = re.compile(r"assets/.*\.map|assets/javascripts/(?:lunr|workers)/.*|assets/images/favicon\.png")
"""What no page asks for."""
_OF_THE_GENERATOR = re.compile(r"assets/.*")
"""What no page asks for that has the generator's styles and scripts among ours."""
_NAMED = re.compile(
    r"""\]\(\s*(?:<([^>\n]+)>|([^)\s]+))|\b(?:href|src)=["']?([^"'\s>]+)|^ {0,3}\[[^\]\n]+\]:\s*<?([^\s>]+)""", re.MULTILINE
)


def named_in(text: str, path: str) -> Iterator[str]:
    """What a page's Markdown may lead to, as a path in the tree; rather too much, since what is missing is only looked for again."""
    folder = posixpath.dirname(path)
    for found in _NAMED.finditer(text):
        address = html.unescape(next(filter(None, found.groups()), "")).partition("#")[0].partition("?")[0]
        if address and ":" not in address.partition("/")[0]:
            yield posixpath.normpath(posixpath.join(folder, unquote(address)))


def run_mkdocs(tree: Tree, site: Path, theme: Theme, *, dirty: bool = False) -> list[str]:
    """Run the page generator over a content tree; what it warned of.

    Args:
        tree: the content tree.
        site: a folder for the site.
        theme: the theme that the tree was written with, to name a file of hers.
        dirty: leave each page as it lies in that folder, where it is newer than its text.

    Raises:
        UserError: a block of hers can't be filled in, or her settings can't be used.
    """
    home = tree.settings.parent / OVERRIDES
    mine = {f"{home}/{name}": file for name, file in theme.hers_in(OVERRIDES).items()}
    # Imported late: the theme prints a notice on import unless told not to.
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    with _heard() as heard, faults_told(mine):
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
        config.theme.get_env = partial(blocks.environment, made, home, mine)  # type: ignore[method-assign]  # an instance's own
        config.plugins.on_startup(command="build", dirty=False)
        try:
            build(config, dirty=dirty)
        finally:
            config.plugins.on_shutdown()
    return heard


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
        # The build itself warns of nothing but of leaving pages as they are.
        if (record.levelno, record.funcName) != (logging.WARNING, "build"):
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


def _of_hers(theme: Theme, *parts: str) -> Place | None:
    """Where a fault of a page comes from: her block around all pages, or else another of hers, or her settings."""
    mine = {file.name: file for part in parts for file in theme.hers_in(part).values()}
    first = mine.get(f"{OVERRIDES}/main.html") or next(iter(mine.values()), None) or theme.hers(SETTINGS)
    return first.place() if first else None


def lost(there: Container[str], ids_of: Callable[[str], Container[str]], page: str, link: str) -> UserError | None:
    """Why an address in the notes of a page leads nowhere in the site; None where it leads somewhere, or to another site.

    Args:
        there: every file of the site, by its name.
        ids_of: the places of a page, by the name of its file.
        page: where the page stands in the tree.
        link: the address.
    """
    if re.match(r"[a-z][a-z0-9+.-]*:", link, re.IGNORECASE):
        return None
    path, _, place = link.partition("#")
    target = (
        posixpath.normpath(posixpath.join(posixpath.dirname(page), re.sub(r"\.md$", ".html", unquote(path)))) if path else html_of(page)
    )
    if target not in there:
        return Unpublishable("site.link-to-nowhere", link=link)
    if place and target.endswith(".html") and html.escape(unquote(place)) not in ids_of(target):
        return Unpublishable("site.link-to-no-place", link=link, spot=place)
    return None


def _where(notes: Path, link: str) -> Place:
    """The line of the notes on which an address stands, as far as it can be found."""
    try:
        lines = notes.read_text(encoding="utf-8").split("\n")
    except (OSError, ValueError):
        lines = []
    return Place(notes, next((n for n, line in enumerate(lines, 1) if link in line or unquote(link) in line), None))
