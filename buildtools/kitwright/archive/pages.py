"""The content tree: plain Markdown pages with their pictures beside them, and a plain `mkdocs.yml`."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml
from jinja2 import Environment
from markupsafe import Markup

from kitwright.archive.audience import Audience
from kitwright.archive.gallery import PAGE as GALLERY
from kitwright.archive.make import Made
from kitwright.archive.text import notes_markdown, slug
from kitwright.archive.theme import OVERRIDES, SETTINGS, assets, environment
from kitwright.archive.views import KitView, by_tag, by_year
from kitwright.kit.model import Club

DOCS, LOOK = "docs", "look"
"""The pages, and the folder below them that holds styles, scripts and fonts."""
RECENT = 6
"""Kits on the home page below the newest."""
NAV = (("Home", "index.md"), ("All kits", "archive.md"), ("By tag", "tags.md"), ("Words", "words.md"), ("Take care", "care.md"))


@dataclass(frozen=True)
class Tree:
    """Where a content tree was written."""

    settings: Path
    """Its `mkdocs.yml`."""
    sources: dict[str, str]
    """Page in the tree → the kit that it comes from, to say whose notes are meant."""


def write_tree(folder: Path, theme: Path, club: Club, made: list[Made], address: str | None, audience: Audience = "public") -> Tree:
    """Write the whole content tree into an empty folder.

    Args:
        folder: where.
        theme: the theme's folder.
        club: who publishes.
        made: every kit, oldest first.
        address: where the site will stand, if known.
        audience: for whom it is; every template may ask.
    """
    docs, env = folder / DOCS, environment(theme)
    cards = [m.card for m in made]
    shared: dict[str, Any] = {"club": club, "cards": cards, "audience": audience}
    _page(docs / "index.md", env, "home.md", "", shared, newest=made[-1].view, recent=cards[-2:-RECENT - 2:-1])
    _page(docs / "archive.md", env, "archive.md", "All kits", shared, years=by_year(cards))
    _page(docs / "tags.md", env, "tags.md", "Kits by tag", shared, tags=by_tag(cards))
    _page(docs / "words.md", env, "words.md", "Words at the bench", shared)
    _page(docs / "care.md", env, "care.md", "Take care", shared)
    sources = {}
    for i, one in enumerate(made):
        beside = {"before": cards[i - 1] if i else None, "after": cards[i + 1] if i + 1 < len(cards) else None}
        page, view = docs / one.card.page, one.view
        if isinstance(view, KitView):
            _page(page, env, "kit.md", view.card.title, shared, kit=view, notes=notes_markdown(view.notes),
                  description=view.card.summary, gallery=one.gallery, **beside)
            if one.gallery and one.gallery.has_page:
                _page(page.parent / GALLERY, env, "gallery.md", f"Arrangements of {view.card.title}", shared, kit=view,
                      gallery=one.gallery, description=one.gallery.counts)
                sources[one.card.page.replace(page.name, GALLERY)] = one.card.id
        else:
            _page(page, env, "past.md", view.card.title, shared, kit=view, description=view.card.summary, **beside)
        sources[one.card.page] = one.card.id
        for name, data in one.files.items():
            _write(page.parent / name, data)
    for name, data in assets(theme).items():
        _write(docs / LOOK / name, data)
    shutil.copytree(theme / OVERRIDES, folder / OVERRIDES)
    _write(folder / SETTINGS, settings(theme, club, address, audience).encode())
    return Tree(folder / SETTINGS, sources)


def settings(theme: Path, club: Club, address: str | None, audience: Audience = "public") -> str:
    """The plain settings with what belongs to the club filled in."""
    said = yaml.safe_load((theme / SETTINGS).read_text(encoding="utf-8"))
    said |= {"site_name": club.name, "site_description": " ".join(club.tagline.split()),
             "nav": [{title: page} for title, page in NAV]}
    # Material's own blocks ask for this: what is not public says so on every page.
    said["extra"] |= {"audience": audience}
    if address:
        said["site_url"] = address.rstrip("/") + "/"
    return yaml.safe_dump(said, allow_unicode=True, sort_keys=False, width=120)


def _page(file: Path, env: Environment, template: str, title: str, shared: dict[str, Any],
          description: str = "", **values: Any) -> None:
    head: dict[str, Any] = {"title": title} if title else {}
    if description:
        head["description"] = " ".join(description.split())
    up = "../" * (len(file.parts) - file.parts.index(DOCS) - 2)
    text = env.get_template(template).render(up=Markup(up), slug=slug, **shared, **values)
    extra, text = _own_head(text)
    front = yaml.safe_dump(head | extra, allow_unicode=True, sort_keys=False, width=1000)
    _write(file, f"---\n{front}---\n{text}".encode())


def _own_head(text: str) -> tuple[dict[str, Any], str]:
    """What a template itself says in its head, such as what it hides."""
    if not text.startswith("---\n"):
        return {}, text
    head, _, rest = text[4:].partition("\n---\n")
    return yaml.safe_load(head) or {}, rest


def _write(file: Path, data: bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
