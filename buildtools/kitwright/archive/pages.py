"""The content tree: plain Markdown pages with what lies beside them, and a plain `mkdocs.yml`.

No kind of page is known here: `kinds` has them all.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import dataclass
from functools import cached_property, partial
from pathlib import Path
from typing import Any
from urllib.parse import quote

import yaml
from jinja2 import Environment
from markupsafe import Markup

from kitwright import cache
from kitwright.archive import webfonts
from kitwright.archive.atom import FEED, feed_xml, stamp_text
from kitwright.archive.blocks import reach
from kitwright.archive.content import Content, put
from kitwright.archive.data import KITS_FILE, kits_text, of_archive
from kitwright.archive.dress import HIGH, Dress, Shared, dress_of, shared_picture
from kitwright.archive.filled import Asked, Closures, Filled, Unknown, club_of, remember, remembered, valued
from kitwright.archive.gather import Archive
from kitwright.archive.joined import Joined, joined
from kitwright.archive.kinds import KINDS
from kitwright.archive.listing import Listed
from kitwright.archive.make import Made
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.settings import settings
from kitwright.archive.theme import assets, environment, put_overrides
from kitwright.archive.watched import Span, Watched, instant
from kitwright.cache import Lost
from kitwright.errors import UserError
from kitwright.kit.clock import zone
from kitwright.kit.project import ARCHIVE_PAGE, public_address
from kitwright.kit.theme import OUR_MARK, OVERRIDES, SETTINGS, TEMPLATES, OwnFile, Theme
from kitwright.telling.moments import when_text
from kitwright.telling.templates import faults_told

DOCS, LOOK = "docs", "look"
"""The pages, and the folder below them that holds styles, scripts and fonts."""


@dataclass(frozen=True)
class Tree:
    """A content tree: what the page generator gets of it was written, the rest lies where it lies."""

    settings: Path
    """Its `mkdocs.yml`."""
    pages: tuple[Page, ...]
    templates: Mapping[str, str]
    """By which template each page was filled in, by its path."""
    sources: Mapping[str, str]
    """The digest of each page's Markdown, by its path."""
    files: Mapping[str, Content]
    """Whatever else belongs to the site as it is, by its name there."""
    frame: str
    """Digest of what all pages share: the settings with the menu, the blocks, and what these show of other pages."""
    together: frozenset[str]
    """Pages that show something of themselves on every other, so that they are always made with these."""
    dated: bool
    """Whether every page may show something of every other, or of the day: then all are made, or none."""
    menu: tuple[str, ...]
    """The pages that the menu leads to, by their paths."""
    address: str
    """Where the site will stand; empty where that is not known."""
    changed: Mapping[str, str]
    """When pages last changed, by their paths, as far as that is known."""
    offered: tuple[str, ...]
    """The pages that an empty search leads to, by their paths."""
    codes: tuple[str, ...]
    """Those that look up a printable's code, likewise."""
    search: Mapping[str, float]
    """How much each page weighs in the search, by its path."""
    fill: Callable[[str], bytes]
    """The Markdown of a page, by its path."""
    again: Callable[[str], Content]
    """Makes a file again that was lost, by its name in the site."""

    @property
    def docs(self) -> Path:
        """Where its pages are written."""
        return self.settings.parent / DOCS

    def complete(self) -> Path:
        """Write whatever is not yet there, so that the page generator could make the whole site of it; the folder."""
        for page in self.pages:
            if not (self.docs / page.path).is_file():
                write(self.docs / page.path, self.fill(page.path))
        for name, content in self.files.items():
            (self.docs / name).parent.mkdir(parents=True, exist_ok=True)
            try:
                put(content, self.docs / name)
            except Lost:
                put(self.again(name), self.docs / name)
        return self.settings.parent


def write_tree(folder: Path, theme: Theme, archive: Archive, made: Sequence[Made | Listed], address: str | None, key: str = "") -> Tree:
    """Write what the page generator gets of a content tree into an empty folder: settings, blocks, and the pages' Markdown.

    Args:
        folder: where.
        theme: the program's theme, with hers over it.
        archive: what is built, and for whom.
        made: every kit, oldest first.
        address: where the site will stand, if known.
        key: under which it is remembered how pages were filled in; without one, all of them are.
    """
    docs, site = folder / DOCS, Site(archive, tuple(made))
    there = {page.path: (kind, page) for kind in KINDS if archive.audience in kind.audiences for page in kind.pages(site)}
    dress, picture = dress_of(archive.club), shared_picture(archive.club, archive.folder)
    public = archive.audience == "public"
    cards = {one.id: card for one in site.kits if (card := one.listing.picture)} if public and address else {}
    usual = picture[0] if picture else cards.get(site.kits[-1].id) if site.kits else None

    pictures = {path: (cards.get(page.kit) or usual) if cards else None for path, (_, page) in there.items()}
    filling = _Filling(docs, theme, site, there, pictures, key)

    def again(name: str) -> Content:
        """What lies beside a page is made with its kit."""
        for _, page in there.values():
            beside = page.path.rpartition("/")[0]
            if (
                page.again
                and page.kit
                and name.startswith(f"{beside}/")
                and name.removeprefix(f"{beside}/") in {**page.files, **page.given}
            ):
                page.again()
                return {**page.files, **page.given}[name.removeprefix(f"{beside}/")]
        raise Lost(name)

    files: dict[str, Content] = {}
    for _, page in there.values():
        beside = page.path.rpartition("/")[0]
        files |= {f"{beside}/{name}" if beside else name: data for name, data in page.files.items()}
    looks = dress.files | assets(theme, archive.club.palette) | ({Path(picture[0].path).name: picture[1]} if picture and cards else {})
    usual_settings = settings(theme)
    together = joined(theme, usual_settings["extra_css"], usual_settings.get("extra_javascript", ()), looks.__getitem__, f"{LOOK}/")
    files |= {f"{LOOK}/{name}": data for name, data in (looks | together.files).items()}
    feed = feed_xml((entry for one in site.kits for entry in one.listing.feed), archive.club, address) if address else None
    if feed:
        files[FEED] = feed
    if archive.audience == "public":
        files[KITS_FILE] = kits_text(of_archive(archive.club, [said for one in site.kits if (said := one.listing.data)])).encode()
    menu = {kind.menu: page.path for kind, page in there.values() if kind.menu and page.in_menu}
    settings_text = _settings(usual_settings, theme, together, archive, address, menu, FEED if feed else "", dress)
    write(folder / SETTINGS, settings_text.encode())
    blocks = put_overrides(theme, folder / OVERRIDES)
    pages = {path: filling.filled(path) for path in there}
    filling.end()
    sources = {path: page.source for path, page in pages.items()}
    heads = {path: pages[path].head for path in menu.values()}
    changed = {path: page.changed for path, page in pages.items() if page.changed}
    reaches = reach(theme)
    at_once = frozenset(menu.values()) if theme.hers_in(OVERRIDES) or any(map(_SHOWN_IN_MENUS.search, heads.values())) else frozenset()
    shown = sources if reaches == "all" else {path: sources[path] for path in menu.values()} if reaches == "menu" else {}
    frame = cache.digest(settings_text, blocks, shown, {path: heads[path] for path in sorted(at_once)})
    return Tree(
        folder / SETTINGS,
        tuple(page for _, page in there.values()),
        {path: kind.template for path, (kind, _) in there.items()},
        sources,
        files,
        frame,
        at_once,
        reaches == "all",
        tuple(menu.values()),
        _top(address),
        changed,
        tuple(path for path, (kind, _) in there.items() if kind.offered),
        tuple(path for path, (kind, _) in there.items() if kind.codes),
        {path: kind.search for path, (kind, _) in there.items()},
        filling.fill,
        again,
    )


class _Filling:
    """Pages on their way from templates to Markdown; one that was filled in from the very same before is not filled in again."""

    def __init__(
        self, docs: Path, theme: Theme, site: Site, there: Mapping[str, tuple[Kind, Page]], pictures: Mapping[str, Shared | None], key: str
    ) -> None:
        self.docs, self.theme, self.there, self.pictures, self.key = docs, theme, there, pictures, key
        self.env, self.as_of = environment(theme), site.archive.as_of
        self.span = self.as_of.span if isinstance(self.as_of, Watched) else Span()
        self.mine = {str(file.path): file for file in theme.hers_in(TEMPLATES).values()}
        self.asked = {"stands": Asked(there.keys()), "people": Asked(site.named)}
        self.shared = shared_by_all(site, self.asked["stands"]) | {"people": self.asked["people"]}
        self.before = remembered(key) if key else {}
        self.now: dict[str, Filled] = {}
        self.closures = Closures(theme, self.env)
        self.common = (site.archive.audience, club_of(site.archive.folder)) if key else ()
        self.every = site.kits if key else ()

    def fill(self, path: str) -> bytes:
        """The Markdown of a page."""
        kind, page = self.there[path]
        with faults_told(self.mine, partial(_with_ours_alone, self.theme, kind, page, self.shared)):
            return filled(self.env, kind, page, self.shared, self.theme, self.pictures[path]).encode()

    def filled(self, path: str) -> Filled:
        """A page as it was filled in before, if that is all the same; else it is filled in now, and written."""
        key, was = self._key(path) if self.key else "", self.before.get(path)
        if was is not None and key and was.key == key and self._holds(was):
            self.now[path] = was
            self.span.meet(was.span)
            return was
        for asked in self.asked.values():
            asked.answers()
        if isinstance(self.as_of, Watched):
            self.as_of.span = Span()
        data = self.fill(path)
        write(self.docs / path, data)
        span = self.as_of.span if isinstance(self.as_of, Watched) else Span()
        self.span.meet(span)
        answers = {name: asked.answers() for name, asked in self.asked.items()}
        head = data.partition(b"\n---\n")[0]
        changed = str(yaml.safe_load(head)["changed"]) if b"\nchanged:" in head else ""
        found = Filled(key, cache.digest(data), head, changed, answers, span)
        if key:
            self.now[path] = found
        return found

    def _holds(self, was: Filled) -> bool:
        """Whether what was asked for a page would be answered alike, of names and of the moment."""
        if self.as_of is not None and not was.span.holds(instant(self.as_of)):
            return False
        return all(was.asked[name].hold(asked) for name, asked in self.asked.items())

    def _key(self, path: str) -> str:
        """A digest of all that a page is filled in from, answers aside; empty where nobody can tell."""
        kind, page = self.there[path]
        if page.kit and not page.key:
            return ""
        closure, every = self.closures.of(kind.template)
        own = (path, page.title, page.description, page.state, page.changed, page.key, kind.search, kind.tells_state)
        try:
            return cache.digest(self.common, closure, self._everything if every else "", own, self.pictures[path], valued(page.values))
        except (Unknown, TypeError):
            return ""

    @cached_property
    def _everything(self) -> object:
        return valued(self.every)

    def end(self) -> None:
        """Remember how pages were filled in, and for which moments all of it holds."""
        if isinstance(self.as_of, Watched):
            self.as_of.span = self.span
        if self.key and self.now != self.before:
            remember(self.key, self.now)


_SHOWN_IN_MENUS = re.compile(rb"^(?:icon|status|subtitle|encrypted)\s*:", re.MULTILINE)
"""What the head of a page can say that stands in menus."""


def _settings(
    said: dict[str, Any],
    theme: Theme,
    together: Joined,
    archive: Archive,
    address: str | None,
    menu: Mapping[str, str],
    feed: str,
    dress: Dress,
) -> str:
    """The plain settings with the menu, what pages load, and what belongs to the club filled in."""
    club, audience = archive.club, archive.audience
    said |= {"extra_css": together.styles[1:] if together.lean else together.styles, "extra_javascript": together.scripts}
    said |= {
        "site_name": club.name,
        "site_description": " ".join(club.tagline.split()),
        "nav": [{title: page} for title, page in menu.items()],
    }
    # Material's own blocks ask for this: what is not public says so on every page.
    said["extra"] |= {"audience": audience, "feed": feed, "data": KITS_FILE if audience == "public" else "", "ahead": _ahead(archive)}
    # What is not public leads to what is, by its whole address: where it stands itself, only its host knows.
    # A frame of hers may lack our head, and what that loads.
    said["extra"] |= {"styles": {"": together.styles[0], **together.own}} if together.lean else {}
    said["extra"] |= {"whole_script": together.takes_in.removesuffix(".js")}
    said["extra"] |= {"lean": together.lean, "head": "main.html" not in theme.hers_in(OVERRIDES)}
    said["extra"] |= {"fonts": " ".join(webfonts.early_names())}
    said["extra"]["public"] = public_address(club, ARCHIVE_PAGE) if audience != "public" else None
    said["extra"]["links"] = [{"name": link.name, "address": link.address} for link in archive.club.links]
    said["extra"]["logo"] = {"width": HIGH, "height": HIGH, "ground": "", "kind": ""}
    if said["theme"].get("logo") == f"{LOOK}/{OUR_MARK}":
        # A theme of her own may name another.
        said["theme"] |= {"logo": f"{LOOK}/{dress.logo}", "favicon": f"{LOOK}/{dress.icon}"}
        said["extra"]["logo"] = {"width": dress.width, "height": HIGH, "ground": dress.ground, "kind": dress.icon_kind}
    if address:
        said["site_url"] = _top(address)
    return yaml.safe_dump(said, allow_unicode=True, sort_keys=False, width=120)


def _top(address: str | None) -> str:
    return address.rstrip("/") + "/" if address else ""


def _ahead(archive: Archive) -> dict[str, str]:
    """The moment that a site was made ahead for, to be read by scripts and by readers; nothing for a site of what is due by now."""
    if not archive.ahead or archive.as_of is None:
        return {}
    local = archive.as_of.astimezone(zone(archive.club.time_zone))
    return {"at": stamp_text(archive.as_of), "local": when_text(local)}


def shared_by_all(site: Site, stands: Set[str]) -> dict[str, object]:
    """What every template may read, beside `up`, the way to the top of the site."""
    return {
        "club": site.archive.club,
        "audience": site.archive.audience,
        "made": site.kits if site.archive.audience != "members" else (),
        "people": site.named,
        # Which pages there are: a template links only to what stands.
        "stands": stands,
    }


def filled(
    env: Environment, kind: Kind, page: Page, shared: Mapping[str, object], theme: Theme | None = None, picture: Shared | None = None
) -> str:
    """A page's text, with its head; `picture` goes with a link to it.

    Raises:
        UserError: the head of a template of hers can't be read.
    """
    up = Markup("../" * page.path.count("/"))
    text = env.get_template(kind.template).render(up=up, **shared, **{**page.values, **page.more()})
    extra, text = own_head(text, theme.hers(f"{TEMPLATES}/{kind.template}") if theme else None)
    front = yaml.safe_dump(_head(kind, page, picture) | extra, allow_unicode=True, sort_keys=False, width=1000)
    return f"---\n{front}---\n{text}"


def _with_ours_alone(theme: Theme, kind: Kind, page: Page, shared: Mapping[str, object]) -> None:
    """Fill a page in without anything of hers."""
    filled(environment(Theme(theme.program)), kind, page, shared)


def _head(kind: Kind, page: Page, picture: Shared | None) -> dict[str, Any]:
    """What a page says of itself to MkDocs and to our own blocks over Material."""
    head: dict[str, Any] = {"title": page.title} if page.title else {}
    if page.changed:
        head["changed"] = stamp_text(page.changed)
    if picture:
        head["picture"] = {**vars(picture), "path": quote(picture.path)}
    if page.description:
        head["description"] = " ".join(page.description.split())
    if page.state and not kind.tells_state:
        head["state"] = f"{page.state.line}, code {page.state.code}"
    return head


def own_head(text: str, hers: OwnFile | None) -> tuple[dict[str, Any], str]:
    """What a template itself says in its head, such as what it hides, and the rest.

    Args:
        text: the page as it was filled in.
        hers: the template, if it is her own.

    Raises:
        UserError: it is hers, and its head can't be read.
    """
    if not text.startswith("---\n"):
        return {}, text
    head, end, rest = text[4:].partition("\n---\n")
    try:
        said = yaml.safe_load(head)
    except yaml.YAMLError as error:
        if hers is None:
            raise
        mark = getattr(error, "problem_mark", None)
        raise UserError(
            "theme.head-unreadable", place=hers.place(mark.line + 2 if mark else 1), why=getattr(error, "problem", "")
        ) from None
    if hers is not None and (not end or not isinstance(said or {}, dict)):
        raise UserError("theme.head-none" if end else "theme.head-open", place=hers.place(1))
    if hers is not None and "template" in (said or {}):
        # The frame around every page holds what each has to say.
        raise UserError(
            "theme.head-frame", place=hers.place(next((n for n, line in enumerate(text.split("\n"), 1) if line.startswith("template")), 1))
        )
    return said or {}, rest


def write(file: Path, data: bytes) -> None:
    """Write one file of the tree, with the folders that it lies in."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
