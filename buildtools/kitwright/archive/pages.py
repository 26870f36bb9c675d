"""The content tree: plain Markdown pages with what lies beside them, and a plain `mkdocs.yml`.

No kind of page is known here: `kinds` has them all.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import quote

import yaml
from jinja2 import Environment
from markupsafe import Markup

from kitwright.archive.atom import FEED, feed_xml, stamp_text
from kitwright.archive.data import KITS_FILE, kits_data, kits_text
from kitwright.archive.dress import HIGH, Dress, Shared, card_of, dress_of, shared_picture
from kitwright.archive.gather import Archive
from kitwright.archive.kinds import KINDS
from kitwright.archive.make import Made
from kitwright.archive.page import Kind, Page, Site
from kitwright.archive.settings import settings
from kitwright.archive.theme import assets, environment, put_overrides
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
    """Where a content tree was written."""

    settings: Path
    """Its `mkdocs.yml`."""
    pages: tuple[Page, ...]
    templates: Mapping[str, str] = field(default_factory=dict)
    """By which template each page was filled in, by its path."""


def write_tree(folder: Path, theme: Theme, archive: Archive, made: Sequence[Made], address: str | None) -> Tree:
    """Write the whole content tree into an empty folder.

    Args:
        folder: where.
        theme: the program's theme, with hers over it.
        archive: what is built, and for whom.
        made: every kit, oldest first.
        address: where the site will stand, if known.
    """
    docs, env, site = folder / DOCS, environment(theme), Site(archive, tuple(made))
    mine = {str(file.path): file for file in theme.hers_in(TEMPLATES).values()}
    there = [(kind, page) for kind in KINDS if archive.audience in kind.audiences for page in kind.pages(site)]
    shared = shared_by_all(site, {page.path for _, page in there})
    dress, picture = dress_of(archive.club), shared_picture(archive.club, archive.folder)
    cards = {one.kit.id: card for one in site.made if (card := card_of(one))} if archive.audience == "public" and address else {}
    usual = picture[0] if picture else cards.get(site.made[-1].kit.id) if site.made else None
    for kind, page in there:
        goes_with = (cards.get(page.kit) or usual) if cards else None
        with faults_told(mine, partial(_with_ours_alone, theme, kind, page, shared)):
            write(docs / page.path, filled(env, kind, page, shared, theme, goes_with).encode())
        for name, data in page.files.items():
            write((docs / page.path).parent / name, data)
    looks = dress.files | assets(theme, archive.club.palette) | ({Path(picture[0].path).name: picture[1]} if picture and cards else {})
    for name, data in looks.items():
        write(docs / LOOK / name, data)
    put_overrides(theme, folder / OVERRIDES)
    feed = feed_xml(archive, address) if address else None
    if feed:
        write(docs / FEED, feed)
    if archive.audience == "public":
        write(docs / KITS_FILE, kits_text(kits_data(archive.sources, archive.club, archive.people, archive.at, archive.old)).encode())
    menu = {kind.menu: page.path for kind, page in there if kind.menu and page.in_menu}
    write(folder / SETTINGS, _settings(theme, archive, address, menu, FEED if feed else "", dress).encode())
    return Tree(folder / SETTINGS, tuple(page for _, page in there), {page.path: kind.template for kind, page in there})


def _settings(theme: Theme, archive: Archive, address: str | None, menu: Mapping[str, str], feed: str, dress: Dress) -> str:
    """The plain settings with the menu and what belongs to the club filled in."""
    club, audience = archive.club, archive.audience
    said = settings(theme)
    said |= {
        "site_name": club.name,
        "site_description": " ".join(club.tagline.split()),
        "nav": [{title: page} for title, page in menu.items()],
    }
    # Material's own blocks ask for this: what is not public says so on every page.
    said["extra"] |= {"audience": audience, "feed": feed, "data": KITS_FILE if audience == "public" else "", "ahead": _ahead(archive)}
    # What is not public leads to what is, by its whole address: where it stands itself, only its host knows.
    said["extra"]["public"] = public_address(club, ARCHIVE_PAGE) if audience != "public" else None
    said["extra"]["links"] = [{"name": link.name, "address": link.address} for link in archive.club.links]
    said["extra"]["logo"] = {"width": HIGH, "height": HIGH, "ground": "", "kind": ""}
    if said["theme"].get("logo") == f"{LOOK}/{OUR_MARK}":
        # A theme of her own may name another.
        said["theme"] |= {"logo": f"{LOOK}/{dress.logo}", "favicon": f"{LOOK}/{dress.icon}"}
        said["extra"]["logo"] = {"width": dress.width, "height": HIGH, "ground": dress.ground, "kind": dress.icon_kind}
    if address:
        said["site_url"] = address.rstrip("/") + "/"
    return yaml.safe_dump(said, allow_unicode=True, sort_keys=False, width=120)


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
        "made": site.made,
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
    text = env.get_template(kind.template).render(up=up, **shared, **page.values)
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
    if kind.search != 1:
        head["search"] = {"boost": kind.search} if kind.search else {"exclude": True}
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


def write(file: Path, data: bytes | Path) -> None:
    """Write one file of the tree, with the folders that it lies in, or copy it there from where it lies."""
    file.parent.mkdir(parents=True, exist_ok=True)
    if isinstance(data, Path):
        shutil.copyfile(data, file)
    else:
        file.write_bytes(data)
