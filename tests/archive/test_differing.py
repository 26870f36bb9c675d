"""Only pages that differ are made, and the site is the very bytes of a whole build."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from archive.small import CLUB, FIRST, OLD, SECOND, tree_of
from kitwright import cache
from kitwright.archive import site as making
from kitwright.archive.finished import ids_in
from kitwright.archive.gather import Archive
from kitwright.archive.listing import listed, listing_of
from kitwright.archive.make import Made
from kitwright.archive.pages import write_tree
from kitwright.archive.placing import Placing
from kitwright.archive.site import make_pages, run_mkdocs
from kitwright.errors import UserError
from kitwright.kit.read import read_club
from kitwright.kit.theme import PROGRAM, read_theme

ADDRESS = "https://cards.example/club"
PAGES = 14
"""Of two kits."""


@dataclass
class Bench:
    """A site that is made again and again, and once more from nothing each time."""

    root: Path
    made: list[Made]
    times: int = 0
    stood: Placing | None = None
    filled: int = 0
    """How many pages were filled in last."""

    def write(self, name: str, text: str) -> None:
        (self.root / name).parent.mkdir(parents=True, exist_ok=True)
        (self.root / name).write_text(text, encoding="utf-8")

    def changed(self, name: str, old: str, new: str) -> None:
        text = (self.root / name if (self.root / name).exists() else PROGRAM.parent / name).read_text(encoding="utf-8")
        assert old in text
        self.write(name, text.replace(old, new))

    def make(self, key: str = "site") -> tuple[int, Placing]:
        """How many pages were made, and the site."""
        self.times += 1
        folder = self.root / f"made-{self.times}"
        (folder / "site").mkdir(parents=True)
        club, theme = read_club(self.root / "kits"), read_theme(self.root)
        archive = Archive(club, tuple(m.entry for m in self.made), tuple(m.kit for m in self.made), self.root / "kits")
        listings = [listing_of(m, m.kit, club, {}, None, "public", cache.digest(m.kit.id, club.name)) for m in self.made]
        old = self.stood if key else None
        placing = Placing(folder / "site", old and old.folder, old and old.files)
        with cache.using(self.root / ".made" if key else None):
            tree = write_tree(folder / "tree", theme, archive, list(map(listed, self.made, listings)), ADDRESS, key)
            if key:
                self.filled = len(list(tree.docs.rglob("*.md")))
            count = make_pages(tree, placing, 0, self.root / "kits", theme, archive, key)
        self.last = tree, theme
        if key:
            self.stood = placing
        return count, placing

    def warm(self) -> tuple[int, Placing]:
        """Made again; and held against what is made from nothing."""
        count, placing = self.make()
        one, other = tree_of(placing.folder), tree_of(self.make("")[1].folder)
        assert sorted(one) == sorted(other) and [name for name in one if one[name] != other[name]] == []
        return count, placing

    def refused(self) -> UserError:
        """Why it can't be made; the same as from nothing."""
        told = []
        for key in ("site", ""):
            with pytest.raises(UserError) as caught:
                self.make(key)
            told.append(caught.value)
        assert (str(told[0]), told[0].place) == (str(told[1]), told[1].place)
        return told[0]


@pytest.fixture(scope="module")
def begun(drawn: dict[str, Made], tmp_path_factory) -> Bench:
    """Two kits, made once."""
    one = Bench(tmp_path_factory.mktemp("begun"), [drawn[name] for name in (OLD, FIRST)])
    one.write("kits/club.yaml", CLUB)
    assert one.make()[0] == PAGES
    return one


@pytest.fixture
def bench(begun: Bench, tmp_path: Path) -> Bench:
    """The same, for one test alone."""
    shutil.copytree(begun.root, tmp_path / "own")
    stood = Placing(tmp_path / "own" / "made-1" / "site")
    stood.files = {name: replace(was, time=os.lstat(stood.folder / name).st_mtime_ns) for name, was in begun.stood.files.items()}
    return Bench(tmp_path / "own", list(begun.made), begun.times, stood)


def fail(*given, **more):
    raise AssertionError("the page generator was run")


def test_what_is_made_is_what_the_page_generator_makes_by_itself(bench: Bench):
    placing = bench.stood
    assert bench.make()[0] == 0
    tree, theme = bench.last
    tree.complete()
    with making._environment(NO_MKDOCS_2_WARNING="1", SOURCE_DATE_EPOCH="0"):
        assert run_mkdocs(tree, bench.root / "bare", theme) == []
    ours, bare = tree_of(placing.folder), tree_of(bench.root / "bare")
    same = [name for name in bare if name in ours]
    assert [name for name in same if bare[name] != ours[name]] == [] and {"404.html", "sitemap.xml", "sitemap.xml.gz", "feed.xml"} <= {
        *same
    }
    assert all(making._OF_THE_GENERATOR.fullmatch(name) for name in bare.keys() - ours.keys())
    assert ours.keys() <= bare.keys()


def test_where_nothing_differs_nothing_is_made_and_every_file_is_the_old_one(bench: Bench, monkeypatch):
    first = bench.stood
    monkeypatch.setattr(making, "run_mkdocs", fail)
    count, placing = bench.make()
    assert (bench.filled, count) == (1, 0) and placing.linked == len(placing.files) == len(first.files)
    assert all(os.path.samefile(first.folder / name, placing.folder / name) for name in placing.files)
    # Without the old site every page is kept all the same.
    bench.stood = None
    count, placing = bench.make()
    assert (count, placing.linked) == (0, 0) and tree_of(placing.folder) == tree_of(first.folder)


# Of what can't be told whether it is the same, a page is filled in each time: that of all codes.
CHANGES: dict[str, tuple[Callable[[Bench], object], int, int]] = {
    "a template": (lambda bench: bench.changed("theme/templates/care.md", "# ", "# All "), 2, 1),
    "a template that others include": (lambda bench: bench.changed("theme/templates/standing.html", "<p>", '<p data-own="x">'), 2, 1),
    "a style": (lambda bench: bench.changed("theme/assets/site.css", "{", "{ "), 1, 0),
    "a block": (lambda bench: bench.changed("theme/overrides/partials/copyright.html", "as a feed", "as our feed"), 1, PAGES),
    "a setting": (lambda bench: bench.write("theme/mkdocs.yml", "theme: {features: [navigation.tabs]}\n"), 1, PAGES),
    "the club's name": (lambda bench: bench.changed("kits/club.yaml", "name: The <Test>", "name: Our <Test>"), PAGES, PAGES),
    "a kit more, with pages of its own": (lambda bench: bench.made.append(bench.spare), PAGES, PAGES),
}


@pytest.mark.parametrize("what", CHANGES)
def test_what_depends_on_a_change_is_made_again_and_nothing_else(what: str, bench: Bench, drawn: dict[str, Made]):
    bench.spare = drawn[SECOND]
    change, filled, pages = CHANGES[what]
    change(bench)
    count, placing = bench.warm()
    assert (bench.filled, count) == (filled, pages) and placing.linked >= 20


def test_a_page_that_joins_the_menu_or_leaves_it_makes_all_anew(bench: Bench):
    (other,) = [one for one in bench.made if one.kit.id == FIRST]
    bench.made.remove(other)
    assert bench.make()[0] == 10 and "mycopy.md" not in bench.last[0].menu
    bench.made.append(other)
    count, _ = bench.warm()
    assert count == PAGES and "mycopy.md" in bench.last[0].menu


def test_a_link_that_breaks_since_its_target_vanished_is_told_as_ever(bench: Bench):
    bench.write(
        "theme/templates/care.md",
        f"# Care\n\n[A kit](kits/{FIRST}/index.md), [words](words.md#the-kit), [old](kits/{OLD}/index.md#top)\n\n<i id=top>x</i>\n",
    )
    error = bench.refused()
    assert error.place and error.place.file.name == "care.md" and "#top" in str(error)
    bench.changed("theme/templates/care.md", "#top", "")
    assert bench.make()[0] == 1
    # A place that is gone from another page, which alone is made.
    bench.changed("theme/templates/words.md", "## The kit", "## The kits")
    error = bench.refused()
    assert error.place and error.place.file.name == "care.md" and "words.md#the-kit" in str(error)
    bench.write("theme/templates/words.md", (PROGRAM / "templates" / "words.md").read_text(encoding="utf-8"))
    assert bench.make()[0] == 0
    # A page that is gone.
    bench.made.pop()
    error = bench.refused()
    assert error.place and error.place.file.name == "care.md" and FIRST in str(error)


def test_what_was_edited_in_the_old_site_is_mended(bench: Bench):
    first = bench.stood
    whole = tree_of(first.folder)
    (first.folder / "words.html").write_text("edited", encoding="utf-8")
    os.utime(first.folder / "care.html", (1, 1))
    (first.folder / "look" / "site.css").unlink()
    (first.folder / "more.txt").write_text("mine", encoding="utf-8")
    count, placing = bench.make()
    assert count == 0 and placing.linked == len(whole) - 3 and tree_of(placing.folder) == whole
    assert (first.folder / "words.html").read_text() == "edited", "no file of the old site is written to"


def test_where_no_links_can_be_files_are_copied(bench: Bench, monkeypatch):
    first = bench.stood

    def link(*given, **more):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", link)
    count, placing = bench.make()
    assert (count, placing.linked) == (0, 0) and tree_of(placing.folder) == tree_of(first.folder)


def test_what_is_kept_and_damaged_is_made_again(bench: Bench):
    first = bench.stood
    bench.stood = None
    lost = [file for file in (bench.root / ".made" / "bytes").rglob("*") if file.is_file() and b"Glossary \xc2\xb7" in file.read_bytes()]
    for file in lost:
        file.write_bytes(b"x" * file.stat().st_size)
    count, placing = bench.make()
    assert lost and count == 1 and tree_of(placing.folder) == tree_of(first.folder)


def test_places_of_a_page_are_found():
    assert ids_in('<h2 id="a">x</h2><a id="b &amp; c" href="#id">') == {"a", "b &amp; c"}
