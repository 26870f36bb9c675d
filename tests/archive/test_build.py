"""Building: whole or not at all, and always the same bytes."""

from __future__ import annotations

import os
import re
import select
import signal
import threading
import time
from concurrent.futures.process import BrokenProcessPool
from fractions import Fraction
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND, left_in, taken_over, tree_of, write_small
from click.testing import CliRunner
from kitwright import files
from kitwright.archive import build, workers
from kitwright.archive.build import MARKER, BuildRefused, build_archive
from kitwright.archive.placing import Placing
from kitwright.cli import cli
from kitwright.errors import UserError


def test_the_same_kits_give_the_same_bytes(small_site: Path, tmp_path: Path, monkeypatch):
    """Drawn anew, by several processes at once, in another folder, another time zone and another working folder."""
    root = write_small(tmp_path / "elsewhere")
    monkeypatch.setattr(workers, "cpu_count", lambda: 2)
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


def test_with_an_address_there_is_a_map_of_the_site_and_it_keeps_its_bytes(small: Path):
    found = []
    for name in ("a", "b"):
        build_archive(small, small / name, address="https://cards.example/kits")
        found.append(tree_of(small / name))
    assert found[0] == found[1] and "sitemap.xml.gz" in found[0]
    assert f"https://cards.example/kits/kits/{FIRST}/index.html" in found[0]["sitemap.xml"].decode()
    # Not found: the page is served for any address, so it needs the whole path.
    assert '"/kits/look/styles.css"' in found[0]["404.html"].decode()


def test_without_an_address_nothing_on_the_page_for_what_is_not_found_begins_at_the_top_of_a_host(small_site: Path):
    """It is served however deep below whatever folder the site was put in, so a path of any kind would lead elsewhere."""
    lost = (small_site / "404.html").read_text(encoding="utf-8")
    assert re.findall(r"""\s(?:href|src|srcset|action)=["']([^"']*)""", lost) == [] and "url(" not in lost
    assert "trimmed away" in lost and "<title>No such page" in lost and "given for" not in lost


def test_the_report_says_what_was_built(small: Path):
    said = []
    report = build_archive(small, small / "site", lambda *a: said.append(a))
    files = tree_of(small / "site")
    assert (report.kits, report.files, report.size) == (3, len(files), sum(map(len, files.values())))
    assert report.index == small / "site" / "index.html" and report.index.is_file()
    assert said[0][0] == "Reading the kits" and said[-1] == ("Writing the pages", 1, 1)
    assert left_in(small) == []


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


BREAKS = {
    "not YAML": lambda kits: change(kits / FIRST / "kit.yaml", "cards: 3", "cards: [3"),
    "an error in a kit": lambda kits: change(kits / SECOND / "kit.yaml", "3 strips of 1-1/2", "3 strips of 2-1/2"),
    "a citation of nothing": lambda kits: change(kits / FIRST / "notes.md", "[[size of A]]", "[[size of Q]]"),
    "a link that leads nowhere": lambda kits: change(kits / FIRST / "notes.md", "../../words.md", "nowhere.md"),
    "a link to no place": lambda kits: change(kits / FIRST / "notes.md", "../../words.md", "../../words.md#nowhere"),
    "a link out of the site": lambda kits: change(kits / FIRST / "notes.md", "../../words.md", "../../../club.yaml"),
    "a picture that is not there in the notes": lambda kits: change(kits / FIRST / "notes.md", "one%20card.png", "two.png"),
    "a picture in the notes that is none": lambda kits: (
        (kits / FIRST / "photos" / "more.jpg").write_text("x") and change(kits / FIRST / "notes.md", "one%20card.png", "more.jpg")
    ),
    "a photo that is none": lambda kits: (kits / FIRST / "photos" / "one card.png").write_text("x"),
    "a printable that is gone": lambda kits: (kits / OLD / "old boats.pdf").unlink(),
    "no club": lambda kits: (kits / "club.yaml").unlink(),
}


@pytest.fixture(scope="module")
def built(tmp_path_factory, kept: Path) -> Path:
    """A small archive with its site."""
    root = taken_over(write_small(tmp_path_factory.mktemp("built")), kept)
    build_archive(root, root / "site")
    return root


@pytest.mark.parametrize("name", BREAKS)
def test_a_failed_build_leaves_the_old_site_untouched(name: str, tmp_path: Path, built: Path, kept: Path, quick):
    root = taken_over(write_small(tmp_path), kept)
    BREAKS[name](root / "kits")
    before = tree_of(built / "site")
    with pytest.raises(UserError) as caught:
        build_archive(root, built / "site")
    assert tree_of(built / "site") == before
    assert left_in(built) == []
    error = caught.value
    place = error.findings[0].place if isinstance(error, BuildRefused) else error.place
    assert place and place.file, "says where"
    if "notes" in name or "link" in name or "citation" in name:
        assert place.file.parts[-2:] == (FIRST, "notes.md") and place.line


def test_errors_in_kits_are_refused_with_their_findings(small: Path):
    BREAKS["an error in a kit"](small / "kits")
    with pytest.raises(BuildRefused) as caught:
        build_archive(small, small / "site")
    assert caught.value.findings and all(f.level == "error" and f.place.file.parent.name == SECOND for f in caught.value.findings)
    assert not (small / "site").exists()


@pytest.mark.parametrize("stop", [KeyboardInterrupt, OSError(28, "No space left on device")])
@pytest.mark.parametrize("where", ["make_pages", "write_tree"])
def test_an_interrupted_build_leaves_the_old_site_untouched(where: str, stop, built: Path, monkeypatch):
    def fail(*args):
        raise stop

    before = tree_of(built / "site")
    monkeypatch.setattr(build, where, fail)
    with pytest.raises(
        UserError if isinstance(stop, OSError) else stop, match="No space left on device" if isinstance(stop, OSError) else None
    ):
        build_archive(built, built / "site")
    assert tree_of(built / "site") == before and left_in(built) == []


def test_a_swap_that_fails_half_way_puts_the_old_site_back(built: Path, monkeypatch):
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
        build_archive(built, built / "site")
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


@pytest.mark.parametrize(
    "make", [lambda root: root / "kits", lambda root: root / "kits" / "site", lambda root: root, lambda root: root / "kits" / "club.yaml"]
)
def test_a_target_that_would_cost_the_kits_is_refused(small: Path, make):
    before = tree_of(small)
    with pytest.raises(UserError):
        build_archive(small, make(small))
    assert tree_of(small) == before


@pytest.mark.parametrize(
    "odd", ["file", "file/x", "photos", "to photos", "loop", "fifo", "site/x", "tomorrow/x", "broken marker", "..", "kits/../kits"]
)
def test_no_odd_place_is_written_over(small: Path, odd: str):
    (small / "file").write_text("mine")
    (small / "photos").mkdir()
    (small / "photos" / "wedding.jpg").write_bytes(b"x")
    (small / "to photos").symlink_to(small / "photos")
    (small / "loop").symlink_to(small / "loop")
    os.mkfifo(small / "fifo")
    (small / "tomorrow").mkdir()
    (small / "tomorrow" / MARKER).write_bytes(b"\xff\xfe odd")
    (small / "broken marker").mkdir()
    (small / "broken marker" / MARKER).mkdir()
    before = sorted(small.rglob("*"))
    with pytest.raises(UserError) as caught:
        build_archive(small, small / odd)
    assert caught.value.place.file and caught.value.remedy and sorted(small.rglob("*")) == before


def test_a_folder_above_the_kits_is_no_target_even_with_the_mark_of_a_site(small: Path):
    """As a stranger might put it there."""
    (small / MARKER).write_text(build.MARKS["public"])
    before = tree_of(small)
    for out in (small, small.parent, Path("/")):
        with pytest.raises(UserError, match="your kits lie in it"):
            build_archive(small, out)
    assert tree_of(small) == before


@pytest.mark.parametrize("out", ["site", "site-team", "elsewhere/deep/tomorrow"])
def test_any_build_clears_what_killed_ones_left_a_failing_one_too(small: Path, out: str, monkeypatch, tmp_path_factory):
    temporary = tmp_path_factory.mktemp("temporary")
    monkeypatch.setattr(build.tempfile, "tempdir", str(temporary))
    left = [
        small / f"{files.OURS}00112233",
        small / ".site-team-new-ab_12cd3",
        temporary / f"{files.OURS}44556677",
        small / "kits" / f"{files.OURS}8899aabb",
        small / "kits" / FIRST / ".published-new",
    ]
    for folder in left:
        folder.mkdir()
        (folder / "upcoming.html").write_text("still to come")
    BREAKS["no club"](small / "kits")
    with pytest.raises(UserError):
        build_archive(small, small / out, audience="team" if out == "site-team" else "public")
    assert [f for f in left if f.exists()] == [] and not (small / "elsewhere").exists()


@pytest.fixture
def during(monkeypatch) -> list:
    """A build of no drawing and one page; what is put into the list is called while it is at work."""
    acts: list = []

    def site(shop: Path, *more):
        site = Placing(shop / "site")
        site.folder.mkdir()
        site.put(MARKER, build.MARKS["public"].encode())
        site.put("index.html", b"new")
        for act in acts:
            act()
        return site, 1

    monkeypatch.setattr(build, "_write_site", site)
    return acts


def test_what_was_put_there_meanwhile_is_not_lost(small: Path, during: list):
    out = small / "site"

    def put() -> None:
        out.mkdir()
        (out / "wedding.jpg").write_bytes(b"x")

    during.append(put)
    with pytest.raises(UserError, match="wedding.jpg"):
        build_archive(small, out)
    assert tree_of(out) == {"wedding.jpg": b"x"} and not list(small.glob(f"{files.OURS}*"))


def test_the_kits_stay_as_they_are_while_a_build_reads_them(small: Path, during: list):
    """Another build may read them too; a command that writes them waits."""
    found = []

    def others() -> None:
        for shared in (True, False):
            try:
                with files.held(small / "kits", shared=shared, patience=0):
                    found.append(shared)
            except UserError:
                pass

    def act() -> None:
        thread = threading.Thread(target=others)
        thread.start()
        thread.join()

    during.append(act)
    build_archive(small, small / "site")
    assert found == [True]
    others()
    assert found == [True, True, False]


def test_a_site_keeps_its_rights_and_a_new_one_can_be_read_by_a_web_host(small: Path, during: list):
    out = small / "site"
    build_archive(small, out)
    assert out.stat().st_mode == (small / "kits").stat().st_mode
    out.chmod(0o751)
    build_archive(small, out)
    assert out.stat().st_mode & 0o777 == 0o751


def test_a_helping_process_ends_with_the_main_one(tmp_path: Path):
    """However that ends: here by a kill, while the helper would go on for long."""
    from multiprocessing import get_context

    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        helper = get_context("fork").Process(target=_help, args=(writing,), daemon=False)
        helper.start()
        os.close(writing)
        os.kill(os.getpid(), signal.SIGKILL)
    os.close(writing)
    os.waitpid(pid, 0)
    with os.fdopen(reading, "rb") as stream:
        assert select.select([stream], [], [], 30)[0], "the helper goes on"
        assert stream.read() == b""


def _help(writing: int) -> None:
    workers.helping()
    time.sleep(60)


def test_a_helping_process_that_is_ended_from_outside_is_told(tmp_path: Path, monkeypatch):
    small = write_small(tmp_path)

    class Broken:
        def __init__(self, *given) -> None:
            raise BrokenProcessPool

    monkeypatch.setattr(workers, "ProcessPoolExecutor", Broken)
    monkeypatch.setattr(workers, "cpu_count", lambda: 2)
    with pytest.raises(UserError, match="ended from outside"):
        build_archive(small, small / "site")
    assert not (small / "site").exists() and not left_in(small)


def test_a_site_that_is_a_link_out_is_not_followed_unless_it_was_asked_for(small: Path, tmp_path_factory):
    other = tmp_path_factory.mktemp("other")
    (other / MARKER).write_text(build.MARKS["public"])
    (other / "index.html").write_text("another archive")
    (small / "site").symlink_to(other)
    done = CliRunner().invoke(cli, ["--root", str(small), "build"])
    assert done.exit_code == 2 and "a link that leads elsewhere" in done.output and (other / "index.html").read_text() == "another archive"


def test_schemas_that_can_not_be_renewed_do_not_fail_a_build(small: Path, monkeypatch):
    monkeypatch.setattr(
        "kitwright.archive.build.build_archive",
        lambda *given, **more: build.BuildReport(1, 1, 1, 1, Fraction(0), small / "site" / "index.html"),
    )
    monkeypatch.setattr(
        "kitwright.archive.schemas.write_file", lambda file, data: (_ for _ in ()).throw(OSError(30, "Read-only file system", str(file)))
    )
    done = CliRunner().invoke(cli, ["--root", str(small), "build"])
    assert (
        done.exit_code == 0
        and "warning: the schema for editors can't be written (Read-only file system)" in done.output
        and "Built 1 kit" in done.output
    )


def test_a_build_for_members_with_nothing_for_them_says_what_would_be(small: Path, monkeypatch):
    for fresh in (True, False):
        report = build.BuildReport(0, 1, 1, 1, Fraction(0), small / "site-members" / "index.html", fresh=fresh)
        monkeypatch.setattr("kitwright.archive.build.build_archive", lambda *given, report=report, **more: report)
        done = CliRunner().invoke(cli, ["--root", str(small), "build", "--for", "members"])
        assert done.exit_code == 0 and "Nothing for members yet" in done.output and " 0 kits" not in done.output


def test_a_file_is_no_target(small: Path):
    (small / "site").write_text("mine")
    with pytest.raises(UserError, match="this is a file"):
        build_archive(small, small / "site")
    assert (small / "site").read_text() == "mine"


def test_the_owners_git_files_outlive_a_build_and_old_pages_do_not(small: Path):
    site = small / "site"
    site.mkdir()
    (site / ".gitignore").write_text("*\n!.gitignore\n")
    for _ in range(2):
        build_archive(small, site)
        assert (site / ".gitignore").read_text() == "*\n!.gitignore\n"
        assert not (site / "gone.html").exists()
        (site / "gone.html").write_text("from a kit that is no more")


def test_no_kits_at_all_is_one_clear_error(tmp_path: Path):
    (tmp_path / "kits").mkdir()
    with pytest.raises(UserError):
        build_archive(tmp_path, tmp_path / "site")
    assert not (tmp_path / "site").exists()


def test_the_archives_own_environment_is_left_as_it_was(small: Path, monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    monkeypatch.delenv("NO_MKDOCS_2_WARNING", raising=False)
    build_archive(small, small / "site")
    assert "SOURCE_DATE_EPOCH" not in os.environ and "NO_MKDOCS_2_WARNING" not in os.environ


def test_a_build_prints_nothing(small: Path, capfd):
    build_archive(small, small / "site")
    assert capfd.readouterr() == ("", "")
