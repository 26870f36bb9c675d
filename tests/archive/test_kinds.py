"""Every kind of page is registered in one place, and a new one is a module and a template: menu, map, search and site follow."""

from __future__ import annotations

import html
import re
import shutil
from collections import Counter
from pathlib import Path

import pytest
from archive.finding import Index
from archive.small import FIRST
from kitwright.archive import kinds, make, workers
from kitwright.archive.build import build_archive
from kitwright.archive.helpers import FILTERS, HELPERS
from kitwright.archive.page import Kind, Page, Site, page_beside
from kitwright.kit.theme import PROGRAM
from kitwright.release.errata import draft
from kitwright.work import working
from making import BATCH
from PIL import Image
from release.bench import LIVING, archive, at, edit, kit_in, people_in, publish_erratum, release

ARCHIVE = Path(make.__file__).parent
TEMPLATES = PROGRAM / "templates"


def test_every_page_template_is_of_one_kind_and_named_nowhere_else():
    registered = Counter(kind.template for kind in kinds.KINDS)
    shared = {template for template, n in registered.items() if n > 1}
    assert shared == {"errata.md"}, "the corrections of all kits, and of one, are told alike"
    included = {
        name for file in TEMPLATES.iterdir() for name in re.findall(r'{% (?:include|import) "(.*?)"', file.read_text(encoding="utf-8"))
    }
    on_a_disk = {"proposals.html"}  # a maker's own page, beside the archive
    assert {file.name for file in TEMPLATES.iterdir()} == set(registered) | included | on_a_disk
    for template in registered:
        named = [file for file in ARCHIVE.rglob("*.py") if f'"{template}"' in file.read_text(encoding="utf-8")]
        assert [file.parent.name for file in named] == ["kinds"], template


def test_every_kind_that_the_small_archive_has_stands_in_its_site(small_site: Path):
    there = {file.relative_to(small_site).as_posix() for file in small_site.rglob("*.html")}
    for name in (
        "index",
        "archive",
        "tags",
        "words",
        "care",
        "numbers",
        "errata",
        *(f"kits/{FIRST}/{name}" for name in ("index", "your-paper")),
    ):
        assert f"{name}.html" in there
    page = (small_site / "words.html").read_text(encoding="utf-8")
    menu, foot = (
        re.findall(r'<a href="[^"]*"[^>]*>(.*?)</a>', page.split(f'<ul class="{name}__list">')[1].split("</ul>")[0])
        for name in ("kw-menu", "kw-foot")
    )
    assert menu == [kind.menu for kind in kinds.KINDS if kind.menu in menu] == foot and menu[:2] == ["Home", "All kits"]
    assert {"Glossary", "Safety", "Is my copy current?", "Where our numbers come from"} <= {*menu}


def test_a_menu_leads_to_nothing_that_is_still_empty(small_site: Path):
    """Corrections stand at their address from the first day, for who is sent there; a page of tags only when there is one."""
    pages = {name: (small_site / f"{name}.html").read_text(encoding="utf-8") for name in ("words", "mycopy", "errata")}
    assert "Corrections" not in pages["words"] and "None so far" in pages["errata"] and 'href="errata.html"' in pages["mycopy"]
    bare = Site(archive=None, made=())
    assert not list(kinds.overview.BY_TAG.pages(bare)) and not next(iter(kinds.errata.ALL.pages(bare))).in_menu


def _glossary(site: Site):
    yield Page("spare.md", "Spare parts", {"said": "One & two"}, description="What is left.")


def _of_kit(site: Site):
    for one in site.kits:
        yield page_beside(one, "spare.md", f"Spare parts of {one.kit.spec.title}", {"said": one.kit.id})


@pytest.fixture
def with_spare(small, monkeypatch):
    """The small archive with two kinds of page more, by one template, and nothing else said anywhere."""
    root = small
    shutil.copytree(TEMPLATES.parent, root / "theme")
    template = "---\nhide: [toc]\n---\n# Spare\n\n<p>{{ said }} {% if one is defined %}{{ one.kit.month|month }}{% endif %}</p>\n"
    (root / "theme" / "templates" / "spare.md").write_text(template, encoding="utf-8")
    more = (Kind("spare.md", _glossary, menu="Spare"), Kind("spare.md", _of_kit, search=0))
    monkeypatch.setattr("kitwright.archive.pages.KINDS", (*kinds.KINDS, *more))
    return root


def test_a_new_kind_is_in_the_menu_the_map_the_search_and_the_site(with_spare):
    site = with_spare / "site"
    build_archive(with_spare, site, address="https://cards.example/")
    page = (site / "spare.html").read_text(encoding="utf-8")
    assert "<p>One &amp; two </p>" in page and '<meta name="description" content="What is left.">' in page
    assert "<title>Spare parts" in page and re.search(
        r'<li><a href="spare\.html">Spare</a>', (site / "index.html").read_text(encoding="utf-8")
    )
    assert "April 2031" in (site / f"kits/{FIRST}/spare.html").read_text(encoding="utf-8")
    mapped = re.findall("<loc>(.*?)</loc>", (site / "sitemap.xml").read_text(encoding="utf-8"))
    assert {"https://cards.example/spare.html", f"https://cards.example/kits/{FIRST}/spare.html"} <= {
        html.unescape(each) for each in mapped
    }
    found = {address.partition("#")[0] for address in Index(site).addresses}
    assert "spare.html" in found and f"kits/{FIRST}/spare.html" not in found


def test_a_kind_for_the_team_is_not_in_the_public_site(with_spare, monkeypatch):
    monkeypatch.setattr("kitwright.archive.pages.KINDS", (*kinds.KINDS, Kind("spare.md", _glossary, audiences=("team",), menu="Spare")))
    build_archive(with_spare, with_spare / "site")
    assert not (with_spare / "site" / "spare.html").exists() and "Spare" not in (with_spare / "site" / "index.html").read_text(
        encoding="utf-8"
    )


# --- read once, worked out once -----------------------------------------------------------------------------


def test_a_state_is_worked_out_once_in_a_build(tmp_path, monkeypatch, quick):
    """From reading to the last page: the kit as it is, each revision, and each card made otherwise, once each."""
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING)
    people = people_in(kits)
    for picture in kits.rglob("*.jpg"):
        Image.new("RGB", (40, 30)).save(picture, "JPEG")
    release(kit_in(kits), people, at("2030-01-04 12:00"))
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, people), at("2030-01-09 12:00"), "", None, True, kits, people)
    monkeypatch.setattr(workers, "cpu_count", lambda: 1)
    seen: Counter[str] = Counter()
    work_out = working._work_out
    monkeypatch.setattr(
        working,
        "_work_out",
        lambda kit, planner: [seen.update([repr((kit.document.file, kit.spec, kit.papers, kit.notes))]), work_out(kit, planner)][1],
    )
    then = at("2030-03-01 12:00")
    build_archive(tmp_path, tmp_path / "site", as_of=then, now=then, address="https://cards.example/")
    again = {state: n for state, n in seen.items() if n > 1}
    assert len(seen) >= 2 and not again, f"{len(again)} of {len(seen)} states: {sorted(again.values())}"


def test_whatever_templates_may_call_is_called():
    """No filter, helper or macro is left without a use."""
    texts = {file.name: file.read_text(encoding="utf-8") for file in TEMPLATES.iterdir()}
    every = "\n".join(texts.values())
    assert [name for name in FILTERS if not re.search(rf"(?:\||{{% filter)\s*{name}\b", every)] == []
    assert [name for name in HELPERS if not re.search(rf"(?<![\w.\"'|]){name}\b", every)] == []
    macros = [(file, name) for file, text in texts.items() for name in re.findall(r"{% macro (\w+)\(", text)]
    assert [one for one in macros if len(re.findall(rf"(?<!macro )\b{one[1]}\(", every)) == 0] == []
