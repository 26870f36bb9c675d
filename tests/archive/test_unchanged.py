"""Where nothing changed, nothing is run, and whatever did change is seen."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND, left_in, tree_of, write_small
from click.testing import CliRunner
from kitwright.archive import build
from kitwright.archive.build import build_archive
from kitwright.archive.unchanged import Asked, as_it_stands
from kitwright.cli import cli
from kitwright.files import real

NOW = dt.datetime(2031, 6, 1, 12, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def once(tmp_path_factory) -> Path:
    """An archive of one old printable, built at a moment."""
    root = write_small(tmp_path_factory.mktemp("once"))
    for kit in (FIRST, SECOND):
        shutil.rmtree(root / "kits" / kit)
    build_archive(root, root / "site", as_of=NOW, now=NOW)
    return root


@pytest.fixture
def root(once: Path):
    """The same; whatever a test does to it is undone by the next build of what it was."""
    held = once.parent / "held"
    shutil.copytree(once, held, copy_function=os.link)
    yield once
    shutil.rmtree(once)
    held.rename(once)


def asked(root: Path, **more) -> Asked:
    return Asked(root, real(root / "site"), **{"audience": "public", "as_of": NOW, "now": NOW, **more})


def rewrite(file: Path, text: str) -> None:
    """As editors do: another file takes its place."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.unlink(missing_ok=True)
    file.write_text(text, encoding="utf-8")


def test_where_nothing_changed_the_report_is_the_same(root: Path):
    files = [f for f in (root / "site").rglob("*") if f.is_file()]
    report = as_it_stands(asked(root))
    assert report is not None and not report.fresh and (report.kits, report.kept) == (1, None)
    assert (report.files, report.pages) == (len(files), sum(f.suffix == ".html" for f in files))
    assert report.size == sum(f.stat().st_size for f in files) and report.index == real(root / "site") / "index.html"
    # What its owner and a desktop leave there is none of it.
    (root / "site" / ".gitignore").write_text("*\n")
    (root / "site" / "look" / ".DS_Store").write_text("x")
    again = as_it_stands(asked(root))
    assert again is not None and replace(again, seconds=report.seconds) == report


def page(root: Path) -> Path:
    return root / "site" / "words.html"


CHANGES: dict[str, Callable[[Path], object]] = {
    "a kit": lambda root: rewrite(root / "kits" / OLD / "kit.yaml", (root / "kits" / OLD / "kit.yaml").read_text() + "# more\n"),
    "a kit more": lambda root: rewrite(root / "kits" / "2031-05-new" / "kit.yaml", "past: yes\n"),
    "a printable": lambda root: rewrite(root / "kits" / OLD / "old boats.pdf", "x"),
    "the club": lambda root: rewrite(root / "kits" / "club.yaml", (root / "kits" / "club.yaml").read_text() + "# more\n"),
    "somebody on file": lambda root: rewrite(root / "kits" / "people" / "ada-bell" / "person.yaml", "name: Ada Bell\n"),
    "a template of hers": lambda root: rewrite(root / "theme" / "templates" / "words.md", "# Words\n"),
    "a page that was edited": lambda root: rewrite(page(root), "edited"),
    "a page that was touched": lambda root: (
        shutil.copy(page(root), page(root).with_suffix(".x")),
        os.replace(page(root).with_suffix(".x"), page(root)),
    ),
    "a page that is gone": lambda root: page(root).unlink(),
    "a file that is nobody's": lambda root: rewrite(root / "site" / "more.html", "x"),
    "a site that is gone": lambda root: shutil.rmtree(root / "site"),
    "what was kept is gone": lambda root: shutil.rmtree(root / ".made"),
    "an exchange that was cut short": lambda root: (root / ".site-old").mkdir(),
}


@pytest.mark.parametrize("what", CHANGES)
def test_whatever_changed_is_seen(what: str, root: Path):
    assert as_it_stands(asked(root))
    CHANGES[what](root)
    assert as_it_stands(asked(root)) is None


def test_what_is_asked_for_counts_too(root: Path, monkeypatch):
    assert as_it_stands(asked(root, audience="team")) is None
    assert as_it_stands(asked(root, address="https://cards.example/")) is None
    assert as_it_stands(asked(root, as_of=None)) is None
    assert as_it_stands(asked(root, as_of=NOW - dt.timedelta(days=900))) is None, "it was not due then"
    assert as_it_stands(asked(root, now=NOW + dt.timedelta(hours=1))) is None, "a site of a typed moment says so"
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    assert as_it_stands(asked(root)) is None


def test_kitwrights_own_code_counts(root: Path, monkeypatch):
    monkeypatch.setattr("kitwright.cache.digests.code", lambda: "another")
    assert as_it_stands(asked(root)) is None


def test_the_command_says_that_nothing_had_changed(root: Path, monkeypatch):
    monkeypatch.setattr("kitwright.cli.build.now", lambda: NOW)
    monkeypatch.setattr("kitwright.archive.build.build_archive", None)
    done = CliRunner().invoke(cli, ["--root", str(root), "build"])
    told = " ".join(done.output.split())
    assert done.exit_code == 0 and "Nothing has changed: the site of 1 kit stands as it was built. Open" in told and "Built" not in told


def test_a_build_that_was_killed_before_it_noted_what_stands_there_is_mended_by_the_next(root: Path, monkeypatch):
    change(root)
    monkeypatch.setattr(build, "note", stopped)
    with pytest.raises(KeyboardInterrupt):
        build.build_archive(root, root / "site", as_of=NOW, now=NOW)
    monkeypatch.undo()
    assert as_it_stands(asked(root)) is None
    build.build_archive(root, root / "site", as_of=NOW, now=NOW)
    assert as_it_stands(asked(root)) and tree_of(root / "site") == made_elsewhere(root)


def test_two_builds_at_once_come_to_the_same_site(root: Path):
    change(root)
    went: list[object] = []
    both = [threading.Thread(target=lambda: went.append(build.build_archive(root, root / "site", as_of=NOW, now=NOW))) for _ in range(2)]
    for one in both:
        one.start()
    for one in both:
        one.join()
    assert len(went) == 2 and tree_of(root / "site") == made_elsewhere(root)
    assert left_in(root) in ([], [".site-before"])
    assert as_it_stands(asked(root))


def change(root: Path) -> None:
    rewrite(root / "kits" / "club.yaml", (root / "kits" / "club.yaml").read_text().replace("An archive that", "A shelf that"))


def stopped(*given: object) -> None:
    raise KeyboardInterrupt


def made_elsewhere(root: Path) -> dict[str, bytes]:
    """The site as it is made from nothing."""
    with tempfile.TemporaryDirectory(dir=root.parent) as folder:
        build.build_archive(root, Path(folder) / "site", as_of=NOW, now=NOW, keep=Path(folder) / "kept")
        return tree_of(Path(folder) / "site")


def test_nothing_large_is_loaded_to_see_it():
    asks = "import sys, kitwright.cli.build; print(*sys.modules)"
    loaded = set(subprocess.run([sys.executable, "-c", asks], capture_output=True, text=True, check=True).stdout.split())
    assert not loaded & {"mkdocs", "reportlab", "numpy", "PIL", "fontTools", "jinja2", "highspy", "pypdfium2"}
