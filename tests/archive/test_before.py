"""The site before is kept where it differs, and `back` puts it in place: old or new, never none."""

from __future__ import annotations

import datetime as dt
import shutil
import threading
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND, tree_of, write_small
from click.testing import CliRunner
from kitwright import files
from kitwright.archive import before, build, built
from kitwright.archive.build import MARKER, build_archive
from kitwright.archive.placing import Placing
from kitwright.cli import cli
from kitwright.errors import UserError
from release.killing import every_stop

NOW = dt.datetime(2031, 6, 1, 12, tzinfo=dt.UTC)


class Bench:
    """An archive whose site is one page, with the words that are asked for."""

    def __init__(self, root: Path) -> None:
        self.root, self.site, self.home = root, root / "site", root / ".site-before"
        self.words = "one"

    def build(self, words: str, out: str = "site", as_of: dt.datetime = NOW, now: dt.datetime = NOW, **more) -> Path | None:
        self.words = words
        return build_archive(self.root, self.root / out, as_of=as_of, now=now, **more).kept

    def shown(self) -> str:
        return (self.site / "index.html").read_text()

    def kept(self) -> str | None:
        page = self.home / "site" / "index.html"
        return page.read_text() if page.exists() else None

    def type(self, *words: str, status: int = 0) -> str:
        done = CliRunner().invoke(cli, ["--root", str(self.root), *words])
        assert done.exit_code == status and (done.exception is None or isinstance(done.exception, SystemExit)), done.output
        return " ".join(done.output.split())


@pytest.fixture
def bench(tmp_path: Path, monkeypatch) -> Bench:
    root = write_small(tmp_path)
    for kit in (FIRST, SECOND):
        shutil.rmtree(root / "kits" / kit)
    one = Bench(root)

    def site(shop: Path, archive, *more):
        site = Placing(shop / "site")
        site.folder.mkdir()
        site.put(MARKER, build.MARKS[archive.audience].encode())
        site.put("index.html", one.words.encode())
        return site, 1

    monkeypatch.setattr(build, "_write_site", site)
    return one


def test_the_site_before_is_kept_and_typed_twice_the_newer_one_is_back(bench: Bench):
    assert bench.build("one") is None and not bench.home.exists()
    assert bench.build("two") == bench.home and (bench.shown(), bench.kept()) == ("two", "one")
    said = bench.type("back")
    assert (bench.shown(), bench.kept()) == ("one", "two")
    assert "Put back the site built" in said and "1 kit, in place of the one built" in said and "until you upload site/ again" in said
    bench.type("back")
    assert (bench.shown(), bench.kept()) == ("two", "one")
    assert (bench.home / ".gitignore").read_text() == "*\n" and sorted(f.name for f in bench.home.iterdir()) == [".gitignore", "site"]


def test_builds_that_change_nothing_leave_the_useful_one(bench: Bench):
    bench.build("one")
    bench.build("two")
    for hour in range(3):
        later = NOW + dt.timedelta(hours=hour)
        assert bench.build("two", as_of=later, now=later) is None and bench.kept() == "one"


def test_a_site_of_an_earlier_kitwright_is_kept_and_its_like_is_not(bench: Bench):
    for words, kept in (("two", "one"), ("one", None)):
        bench.build("one")
        shutil.rmtree(bench.home, ignore_errors=True)
        (bench.site / built.RECORD).unlink()
        bench.build(words)
        assert bench.kept() == kept


def test_what_nobody_could_have_seen_is_not_kept(bench: Bench):
    """A site made ahead, the author's own preview, and what is for the team or members; nor do they push the kept one out."""
    bench.build("one")
    bench.build("two")
    ahead = NOW + dt.timedelta(days=1)
    for n in range(2):
        bench.build(f"ahead {n}", "tomorrow", as_of=ahead)
        bench.build(f"team {n}", "site-team", audience="team")
        bench.words = f"preview {n}"
        build_archive(bench.root, bench.root / "own")
    assert [f.name for f in bench.root.iterdir() if f.name.endswith("-before")] == [".site-before"] and bench.kept() == "one"
    # Once its moment has come, it was what everybody saw.
    assert bench.build("after", "tomorrow", as_of=ahead, now=ahead) == bench.root / ".tomorrow-before"


def test_with_none_before_there_is_one_clear_error(bench: Bench):
    for _ in range(2):
        said = bench.type("back", status=2)
        assert "no site from before the one in site/ is kept here" in said and "kitwright build --as-of" in said
        bench.build("one")
    assert bench.shown() == "one"


def test_back_never_replaces_somebody_elses_files_nor_follows_a_link(bench: Bench, tmp_path_factory):
    bench.build("one")
    bench.build("two")
    shutil.rmtree(bench.site)
    bench.site.mkdir()
    (bench.site / "wedding.jpg").write_bytes(b"x")
    bench.type("back", status=2)
    assert tree_of(bench.site) == {"wedding.jpg": b"x"} and bench.kept() == "one"
    shutil.rmtree(bench.site)
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    bench.home.rename(elsewhere / "kept")
    bench.home.symlink_to(elsewhere / "kept")
    bench.type("back", status=2)
    bench.build("one")
    with pytest.raises(UserError, match="this is no folder"):
        bench.build("two")
    assert bench.shown() == "one" and (elsewhere / "kept" / "site" / "index.html").read_text() == "one"


def test_a_lost_site_comes_back(bench: Bench):
    bench.build("one")
    bench.build("two")
    shutil.rmtree(bench.site)
    assert bench.type("back").startswith("Put back the site built") and bench.shown() == "one" and bench.kept() is None


def test_the_owners_git_files_stay_with_the_folder(bench: Bench):
    bench.build("one")
    bench.build("two")
    (bench.site / ".gitignore").write_text("*\n!.gitignore\n")
    bench.type("back")
    assert (bench.site / ".gitignore").read_text() == "*\n!.gitignore\n" and bench.shown() == "one"


def test_back_waits_for_a_build_that_is_at_work(bench: Bench, monkeypatch):
    bench.build("one")
    bench.build("two")
    monkeypatch.setattr(files, "PATIENCE", 0.05)
    held, go = threading.Event(), threading.Event()

    def hold() -> None:
        with files.held(bench.root / "kits", shared=True):
            held.set()
            go.wait(20)

    building = threading.Thread(target=hold)
    building.start()
    held.wait(20)
    try:
        assert "another kitwright command is at work" in bench.type("back", status=2)
    finally:
        go.set()
        building.join()
    assert (bench.shown(), bench.kept()) == ("two", "one")


def test_what_differs_between_the_two_is_told(bench: Bench):
    def say(folder: Path, kits: dict[str, int | None]) -> None:
        (folder / built.RECORD).write_bytes(built.record_text(kits, built.files_of(folder)))

    bench.build("one")
    bench.build("two")
    say(bench.home / "site", {OLD: None, FIRST: 1})
    say(bench.site, {OLD: None, FIRST: 2, SECOND: 0})
    said = bench.type("back")
    assert f"No longer in it: {SECOND}." in said and f"In another state: {FIRST} (revision 1, was revision 2)." in said


def test_an_earlier_moment_is_told_as_what_it_is(bench: Bench):
    (bench.root / "kits" / OLD / "kit.yaml").write_text((bench.root / "kits" / OLD / "kit.yaml").read_text() + "reveal: 2020-05-01\n")
    (bench.root / "kits" / OLD).rename(bench.root / "kits" / "2020-05-old-boats")
    assert "Nothing released is taken back" in bench.type("build", "--as-of", "2026-01-01 10:00")
    assert "Nothing released" not in bench.type("build")


@pytest.mark.parametrize("exchange", [True, False])
@pytest.mark.parametrize("act", ["build", "back"])
def test_stopped_anywhere_the_old_or_the_new_one_stands(bench: Bench, monkeypatch, exchange: bool, act: str):
    """Where two folders change places at one stroke, and where they can't: then the next command puts the old one back."""
    if not exchange:
        monkeypatch.setattr(files, "_exchange", lambda one, other: False)
    bench.build("one")
    bench.build("two")
    start = bench.root.parent / f"start-{bench.root.name}"
    shutil.copytree(bench.root, start)

    def fresh() -> None:
        shutil.rmtree(bench.root)
        shutil.copytree(start, bench.root)

    def build_it() -> None:
        new = bench.root / f"{files.OURS}00000000"
        shutil.copytree(start / "site", new)
        (new / "index.html").write_text("three")
        (new / built.RECORD).write_bytes(built.record_text({}, built.files_of(new)))
        build.swap(new, bench.site, bench.root, "public", NOW)

    ends = set()
    for n in every_stop(build_it if act == "build" else lambda: before.back(bench.site), monkeypatch, fresh):
        build.check_target(bench.site, bench.root)
        ends.add((bench.shown(), bench.kept()))
        assert bench.shown() in (("two", "three") if act == "build" else ("two", "one")), n
        if act == "back":
            # Neither is lost.
            assert {bench.shown(), bench.kept()} == {"one", "two"}, n
    assert ("three", "two") in ends or ("one", "two") in ends
