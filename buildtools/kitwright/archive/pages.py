"""The content tree: plain Markdown pages with their pictures beside them, and a plain `mkdocs.yml`."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml
from jinja2 import Environment
from markupsafe import Markup

from kitwright.archive.asked import PAGE as ASKED
from kitwright.archive.atom import stamp_text
from kitwright.archive.audience import Audience
from kitwright.archive.corrections import PAGE as ERRATA
from kitwright.archive.feeds import FEED, KITS_FILE, changed_at, feed_xml, kits_json
from kitwright.archive.gallery import PAGE as GALLERY
from kitwright.archive.gather import Archive
from kitwright.archive.make import Made
from kitwright.archive.makers import PAGE as PEOPLE
from kitwright.archive.makers import people_view
from kitwright.archive.mycopy import PAGE as MY_COPY
from kitwright.archive.mycopy import copy_view
from kitwright.archive.team import PAGE as TEAM
from kitwright.archive.text import notes_view, slug
from kitwright.archive.theme import OVERRIDES, SETTINGS, assets, environment
from kitwright.archive.views import KitView, by_tag, by_year
from kitwright.archive.your_paper import PAGE as YOURS
from kitwright.kit.model import Club
from kitwright.release.people import Person
from kitwright.sources import all_known

NUMBERS = "numbers.md"
"""The page of every number from outside; linked from the foot of each page and from the post."""
DOCS, LOOK = "docs", "look"
"""The pages, and the folder below them that holds styles, scripts and fonts."""
RECENT = 6
"""Kits on the home page below the newest."""
SAY_THEIR_STATE = ("kit.md", "replaced.md")
"""Templates that tell a kit's revision themselves; every other page of a kit has it at its foot."""
NAV = (("Home", "index.md"), ("All kits", "archive.md"), ("By tag", "tags.md"), ("Words", "words.md"), ("Take care", "care.md"))


@dataclass(frozen=True)
class Tree:
    """Where a content tree was written."""

    settings: Path
    """Its `mkdocs.yml`."""
    sources: dict[str, str]
    """Page in the tree → the kit that it comes from, to say whose notes are meant."""
    links: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """Page in the tree → every address that its notes lead to."""


def write_tree(folder: Path, theme: Path, archive: Archive, made: list[Made], address: str | None) -> Tree:
    """Write the whole content tree into an empty folder.

    Args:
        folder: where.
        theme: the theme's folder.
        archive: what is built, and for whom; every template may ask `audience`.
        made: every kit, oldest first.
        address: where the site will stand, if known.
    """
    docs, env, club = folder / DOCS, environment(theme), archive.club
    cards = [m.card for m in made]
    shared: dict[str, Any] = {"club": club, "cards": cards, "audience": archive.audience}
    changed = changed_at(archive) if archive.audience == "public" else {}
    newest_change = {"changed": stamp_text(max(changed.values()))} if changed else {}
    copy = copy_view(archive, cards)
    shared["copies"] = copy is not None
    write_page(docs / "index.md", env, "home.md", "", shared, newest=made[-1].view, recent=cards[-2 : -RECENT - 2 : -1], head=newest_change)
    write_page(docs / "archive.md", env, "archive.md", "All kits", shared, years=by_year(cards), head=newest_change)
    write_page(docs / "tags.md", env, "tags.md", "Kits by tag", shared, tags=by_tag(cards), head=newest_change)
    write_page(docs / "words.md", env, "words.md", "Words at the bench", shared)
    write_page(docs / "care.md", env, "care.md", "Take care", shared)
    write_page(docs / NUMBERS, env, NUMBERS, "Where our numbers come from", shared, known=all_known())
    shared["people"], further = _across(docs, env, shared, made, archive.people)
    if copy:
        write_page(docs / MY_COPY, env, MY_COPY, "Is my copy current?", shared, copy=copy)
        further.insert([page for _, page in further].index(ERRATA) + 1, ("My copy", MY_COPY))
    sources, links = {}, {}
    for i, one in enumerate(made):
        beside = {"before": cards[i - 1] if i else None, "after": cards[i + 1] if i + 1 < len(cards) else None}
        page, view = docs / one.card.page, one.view
        beside["head"] = {"changed": stamp_text(changed[one.card.id])} if one.card.id in changed else {}
        if isinstance(view, KitView):
            notes = notes_view(view.notes)
            links[one.card.page] = notes.links
            write_page(
                page,
                env,
                "kit.md",
                view.card.title,
                shared,
                kit=view,
                notes=notes.text,
                description=view.card.summary,
                gallery=one.gallery,
                told=one.after,
                yours=one.yours,
                made=one.making,
                **beside,
            )
            if one.gallery and one.gallery.has_page:
                write_page(
                    page.parent / GALLERY,
                    env,
                    "gallery.md",
                    f"Arrangements of {view.card.title}",
                    shared,
                    kit=view,
                    gallery=one.gallery,
                    description=one.gallery.counts,
                )
                sources[one.card.page.replace(page.name, GALLERY)] = one.card.id
            if one.yours:
                write_page(
                    page.parent / YOURS,
                    env,
                    "your-paper.md",
                    f"{view.card.title} on your paper",
                    shared,
                    kit=view,
                    yours=one.yours,
                    description=f"{view.card.title} for any number of cards and from other sheets, such as A4, Letter and 12 × 12 in.",
                )
            _beside(page.parent, env, shared, one)
            for old in view.state.older if view.state else ():
                write_page(
                    page.parent / old.folder / "index.md",
                    env,
                    "replaced.md",
                    f"Revision {old.number} of {view.card.title}",
                    shared,
                    kit=view,
                    old=old,
                )
        else:
            write_page(page, env, "past.md", view.card.title, shared, kit=view, description=view.card.summary, **beside)
        sources[one.card.page] = one.card.id
        for name, data in one.files.items():
            write(page.parent / name, data)
    for name, data in assets(theme).items():
        write(docs / LOOK / name, data)
    shutil.copytree(theme / OVERRIDES, folder / OVERRIDES)
    feed = feed_xml(archive, address) if address else None
    if feed:
        write(docs / FEED, feed)
    if archive.audience == "public":
        write(docs / KITS_FILE, kits_json(archive))
    write(folder / SETTINGS, settings(theme, club, address, archive.audience, further, feed=FEED if feed else "").encode())
    return Tree(folder / SETTINGS, sources, links)


def _across(
    docs: Path, env: Environment, shared: dict[str, Any], made: list[Made], known: Mapping[str, Person]
) -> tuple[frozenset[str], list[tuple[str, str]]]:
    """Write the pages that gather what several kits tell; who has a place on the page of people, and the pages for the menu."""
    told = [(m.card, m.after) for m in reversed(made) if m.after]
    errata = sorted((e for _, after in told for e in after.errata), key=lambda e: (e.at, e.kit, e.number), reverse=True)
    write_page(docs / ERRATA, env, "errata.md", "Corrections", shared, kit=None, errata=errata)
    menu = [("Corrections", ERRATA)]
    asked = [(card, after) for card, after in told if after.asked]
    if asked:
        write_page(docs / ASKED, env, "asked.md", "Asked and answered", shared, kits=asked)
        menu.append(("Asked", ASKED))
    people, portraits = people_view(shared["club"], known, [part for _, after in told for part in after.parts])
    if people.groups:
        write_page(docs / PEOPLE, env, "people.md", "Who makes the kits", shared, view=people)
        menu.append(("People", PEOPLE))
    for name, data in portraits.items():
        write(docs / name, data)
    teams = [(card, after.team) for card, after in told if after.team]
    if teams:
        write_page(docs / TEAM, env, "teamhome.md", "For the team", shared, kits=teams)
        menu.insert(0, ("Team", TEAM))
    return people.keys, menu


def _beside(folder: Path, env: Environment, shared: dict[str, Any], one: Made) -> None:
    """Write the further pages of one kit: its corrections, and the team's own page."""
    title = one.card.title
    if one.after and one.after.errata:
        write_page(folder / ERRATA, env, "errata.md", f"Corrections to {title}", shared, kit=one.view, errata=one.after.errata)
    if one.after and one.after.team:
        write_page(
            folder / TEAM,
            env,
            "team.md",
            f"{title}: for the team",
            shared,
            kit=one.view,
            team=one.after.team,
            gallery=one.gallery,
            made=one.making,
        )


def settings(
    theme: Path,
    club: Club,
    address: str | None,
    audience: Audience = "public",
    further: list[tuple[str, str]] | None = None,
    feed: str = "",
    nav: tuple[tuple[str, str], ...] = NAV,
) -> str:
    """The plain settings with what belongs to the club filled in, and further pages in the menu."""
    said = yaml.safe_load((theme / SETTINGS).read_text(encoding="utf-8"))
    said |= {
        "site_name": club.name,
        "site_description": " ".join(club.tagline.split()),
        "nav": [{title: page} for title, page in (*nav, *(further or ()))],
    }
    # Material's own blocks ask for this: what is not public says so on every page.
    said["extra"] |= {"audience": audience, "feed": feed, "data": KITS_FILE if audience == "public" else ""}
    if address:
        said["site_url"] = address.rstrip("/") + "/"
    return yaml.safe_dump(said, allow_unicode=True, sort_keys=False, width=120)


def write_page(
    file: Path,
    env: Environment,
    template: str,
    title: str,
    shared: dict[str, Any],
    description: str = "",
    head: dict[str, Any] | None = None,
    **values: Any,
) -> None:
    """Fill one page's template and write it below `docs`, with its head."""
    head = ({"title": title} if title else {}) | (head or {})
    if description:
        head["description"] = " ".join(description.split())
    state = getattr(values.get("kit"), "state", None)
    if state and template not in SAY_THEIR_STATE:
        head["state"] = f"{state.line}, code {state.code}"
    up = "../" * (len(file.parts) - file.parts.index(DOCS) - 2)
    text = env.get_template(template).render(up=Markup(up), slug=slug, **shared, **values)
    extra, text = _own_head(text)
    front = yaml.safe_dump(head | extra, allow_unicode=True, sort_keys=False, width=1000)
    write(file, f"---\n{front}---\n{text}".encode())


def _own_head(text: str) -> tuple[dict[str, Any], str]:
    """What a template itself says in its head, such as what it hides."""
    if not text.startswith("---\n"):
        return {}, text
    head, _, rest = text[4:].partition("\n---\n")
    return yaml.safe_load(head) or {}, rest


def write(file: Path, data: bytes | Path) -> None:
    """Write one file of the tree, with the folders that it lies in, or copy it there from where it lies."""
    file.parent.mkdir(parents=True, exist_ok=True)
    if isinstance(data, Path):
        shutil.copyfile(data, file)
    else:
        file.write_bytes(data)
