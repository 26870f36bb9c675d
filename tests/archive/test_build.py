"""Building: whole or not at all, and always the same bytes."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND, tree_of, write_small

from kitwright import files
from kitwright.archive import build
from kitwright.archive.build import MARKER, Refused, build_archive
from kitwright.archive.make import Kept
from kitwright.errors import UserError


def test_the_same_kits_give_the_same_bytes(small_site: Path, tmp_path: Path, monkeypatch):
    """Drawn anew, in another folder, another time zone and another working folder."""
    root = write_small(tmp_path / "elsewhere")
    monkeypatch.setenv("TZ", "Pacific/Auckland")
    time.tzset()
    monkeypatch.chdir(tmp_path)
    try:
        build_archive(root, tmp_path / "out")
    finally:
        monkeypatch.undo()
        time.tzset()
    one, other = tree_of(small_site), tree_of(tmp_path / "out")
    assert sorted(one) == sorted(other)
    assert [name for name in one if one[name] != other[name]] == []


def test_with_an_address_there_is_a_map_of_the_site_and_it_keeps_its_bytes(small: Path, kept: Kept):
    found = []
    for name in ("a", "b"):
        build_archive(small, small / name, kept=kept, address="https://cards.example/kits")
        found.append(tree_of(small / name))
    assert found[0] == found[1] and "sitemap.xml.gz" in found[0]
    assert f"https://cards.example/kits/kits/{FIRST}/index.html" in found[0]["sitemap.xml"].decode()
    # Not found: the page is served for any address, so it needs the whole path.
    assert '"/kits/look/site.css"' in found[0]["404.html"].decode()


def test_the_report_says_what_was_built(small: Path, kept: Kept):
    said = []
    report = build_archive(small, small / "site", lambda *a: said.append(a), kept=kept)
    files = tree_of(small / "site")
    assert (report.kits, report.files, report.size) == (3, len(files), sum(map(len, files.values())))
    assert report.index == small / "site" / "index.html" and report.index.is_file()
    assert said[0][0] == "Reading the kits" and said[-1] == ("Writing the pages", 1, 1)
    assert list(small.glob(".*")) == []


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


BREAKS = {
    "not YAML": lambda kits: change(kits / FIRST / "kit.yaml", "cards: 3", "cards: [3"),
    "an error in a kit": lambda kits: change(kits / SECOND / "kit.yaml", "3 strips of 1-1/2", "3 strips of 2-1/2"),
    "a citation of nothing": lambda kits: change(kits / FIRST / "notes.md", "[[size of A]]", "[[size of Q]]"),
    "a link that leads nowhere": lambda kits: change(kits / FIRST / "notes.md", "../../words.md", "nowhere.md"),
    "a script in the notes": lambda kits: change(kits / FIRST / "notes.md", "A list:", "<script>alert(1)</script>"),
    "a style in the notes": lambda kits: change(kits / FIRST / "notes.md", "A list:", '<p style="color:red">A list:</p>'),
    "a picture from elsewhere": lambda kits: change(kits / FIRST / "notes.md", "photos/one%20card.png", "https://elsewhere.example/a.png"),
    "a printable that is gone": lambda kits: (kits / OLD / "old boats.pdf").unlink(),
    "no club": lambda kits: (kits / "club.yaml").unlink(),
}


@pytest.fixture(scope="module")
def built(tmp_path_factory, kept: Kept) -> Path:
    """A small archive with its site."""
    root = write_small(tmp_path_factory.mktemp("built"))
    build_archive(root, root / "site", kept=kept)
    return root


@pytest.mark.parametrize("name", BREAKS)
def test_a_failed_build_leaves_the_old_site_untouched(name: str, tmp_path: Path, built: Path, kept: Kept):
    root = write_small(tmp_path)
    BREAKS[name](root / "kits")
    before = tree_of(built / "site")
    with pytest.raises(UserError) as caught:
        build_archive(root, built / "site", kept=dict(kept))
    assert tree_of(built / "site") == before
    assert list(built.glob(".*")) == []
    error = caught.value
    place = error.findings[0].place if isinstance(error, Refused) else error.place
    assert place and place.file, "says where"
    if "notes" in name or "link" in name or "citation" in name or "elsewhere" in name:
        assert place.file.parts[-2:] == (FIRST, "notes.md")


def test_errors_in_kits_are_refused_with_their_findings(small: Path, kept: Kept):
    BREAKS["an error in a kit"](small / "kits")
    with pytest.raises(Refused) as caught:
        build_archive(small, small / "site", kept=kept)
    assert caught.value.findings and all(f.level == "error" and f.place.file.parent.name == SECOND for f in caught.value.findings)
    assert not (small / "site").exists()


@pytest.mark.parametrize("stop", [KeyboardInterrupt, OSError(28, "No space left on device")])
@pytest.mark.parametrize("where", ["run_mkdocs", "finish"])
def test_an_interrupted_build_leaves_the_old_site_untouched(where: str, stop, built: Path, kept: Kept, monkeypatch):
    def fail(*args):
        raise stop
    before = tree_of(built / "site")
    monkeypatch.setattr(build, where, fail)
    with pytest.raises(UserError if isinstance(stop, OSError) else stop, match="No space left on device" if isinstance(stop, OSError) else None):
        build_archive(built, built / "site", kept=kept)
    assert tree_of(built / "site") == before and list(built.glob(".*")) == []


def test_a_swap_that_fails_half_way_puts_the_old_site_back(built: Path, kept: Kept, monkeypatch):
    before, rename, calls = tree_of(built / "site"), os.rename, []

    def second_fails(a, b):
        calls.append(a)
        if len(calls) == 2:
            raise PermissionError(13, "Permission denied")
        rename(a, b)
    # As on a system where two folders can't change places at one stroke.
    monkeypatch.setattr(files, "_exchange", lambda one, other: False)
    monkeypatch.setattr(files.os, "rename", second_fails)
    with pytest.raises(UserError, match="could not take the place"):
        build_archive(built, built / "site", kept=kept)
    assert len(calls) == 3 and tree_of(built / "site") == before


def test_a_machine_that_stopped_between_the_two_renames_finds_its_site_again(small: Path, small_site: Path):
    """Even when the next build fails."""
    site = small / "site"
    site.mkdir()
    (site / MARKER).write_text("")
    (site / "index.html").write_text("yesterday")
    site.rename(small / ".site-old")
    (small / "kits" / "club.yaml").unlink()
    with pytest.raises(UserError):
        build_archive(small, site)
    assert (site / "index.html").read_text() == "yesterday" and not (small / ".site-old").exists()


def test_a_folder_of_other_files_is_never_replaced(small: Path):
    out = small / "photos"
    out.mkdir()
    (out / "wedding.jpg").write_bytes(b"x")
    with pytest.raises(UserError, match="wedding.jpg"):
        build_archive(small, out)
    assert tree_of(out) == {"wedding.jpg": b"x"}


@pytest.mark.parametrize("make", [lambda root: root / "kits", lambda root: root / "kits" / "site", lambda root: root,
                                  lambda root: root / "kits" / "club.yaml"])
def test_a_target_that_would_cost_the_kits_is_refused(small: Path, make):
    before = tree_of(small)
    with pytest.raises(UserError):
        build_archive(small, make(small))
    assert tree_of(small) == before


def test_a_file_is_no_target(small: Path):
    (small / "site").write_text("mine")
    with pytest.raises(UserError, match="this is a file"):
        build_archive(small, small / "site")
    assert (small / "site").read_text() == "mine"


def test_the_owners_git_files_outlive_a_build_and_old_pages_do_not(small: Path, kept: Kept):
    site = small / "site"
    site.mkdir()
    (site / ".gitignore").write_text("*\n!.gitignore\n")
    for _ in range(2):
        build_archive(small, site, kept=kept)
        assert (site / ".gitignore").read_text() == "*\n!.gitignore\n"
        assert not (site / "gone.html").exists()
        (site / "gone.html").write_text("from a kit that is no more")


def test_no_kits_at_all_is_one_clear_error(tmp_path: Path):
    (tmp_path / "kits").mkdir()
    with pytest.raises(UserError):
        build_archive(tmp_path, tmp_path / "site")
    assert not (tmp_path / "site").exists()


def test_the_archives_own_environment_is_left_as_it_was(small: Path, kept: Kept, monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    monkeypatch.delenv("NO_MKDOCS_2_WARNING", raising=False)
    build_archive(small, small / "site", kept=kept)
    assert "SOURCE_DATE_EPOCH" not in os.environ and "NO_MKDOCS_2_WARNING" not in os.environ


def test_a_build_prints_nothing(small: Path, kept: Kept, capfd):
    build_archive(small, small / "site", kept=kept)
    assert capfd.readouterr() == ("", "")
