"""A change of several files: whole or not at all, whoever wrote its record."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import shutil
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright import files
from kitwright.errors import UserError
from kitwright.files import OURS
from kitwright.release import atomic
from kitwright.release.atomic import PLAN, READY, change, finish
from release.killing import every_stop

KIT = "2031-04-aster"


def kits_in(root: Path) -> Path:
    """A folder of kits with something outside that must stay."""
    kits = root / "kits"
    (kits / KIT / "published" / "r1").mkdir(parents=True)
    (kits / "people" / "ada-bell").mkdir(parents=True)
    (kits / "people" / "ada-bell" / "person.yaml").write_text("name: Ada Bell\n")
    (kits / KIT / "kit.yaml").write_text("title: Aster\n")
    (kits / KIT / "published" / "r1" / "release.yaml").write_text("revision: 1\n")
    (kits / "club.yaml").write_text("name: Club\n")
    (root / "outside").mkdir()
    (root / "outside" / "diary.md").write_text("dear diary\n")
    return kits


def everything(folder: Path) -> dict[str, bytes | str]:
    return {
        f.relative_to(folder).as_posix(): os.readlink(f) if f.is_symlink() else f.read_bytes()
        for f in sorted(folder.rglob("*"))
        if f.is_symlink() or f.is_file()
    }


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def record(kits: Path, written=(), removed=(), **odd) -> Path:
    """Plant the record of a half-done change, as a stranger would."""
    ready = kits / READY
    ready.mkdir()
    entries = []
    for i, (name, data) in enumerate(written):
        (ready / str(i)).write_bytes(data)
        try:
            was = sha((kits / name).read_bytes())
        except (OSError, ValueError):
            was = None
        entries.append([str(i), name, was, sha(data)])
    (ready / PLAN).write_text(json.dumps({"format": atomic.FORMAT, "written": entries, "removed": list(removed)} | odd))
    return ready


# --- a change of our own ------------------------------------------------------------------------------


def test_files_are_written_removed_and_renamed_as_one(tmp_path):
    kits = kits_in(tmp_path)
    (kits / KIT / "ada.studio").write_bytes(b"cut")
    change(
        kits,
        {
            kits / KIT / "kit.yaml": b"title: New\n",
            kits / "releases.yaml": b"{}\n",
            kits / KIT / "published" / "r2" / KIT / "kit.yaml": b"x",
            kits / KIT / "a maker.studio": b"cut",
        },
        [kits / "people" / "ada-bell", kits / KIT / "ada.studio", kits / KIT / "never-there.md"],
    )
    assert everything(kits) == {
        f"{KIT}/kit.yaml": b"title: New\n",
        "releases.yaml": b"{}\n",
        f"{KIT}/published/r2/{KIT}/kit.yaml": b"x",
        f"{KIT}/a maker.studio": b"cut",
        f"{KIT}/published/r1/release.yaml": b"revision: 1\n",
        "club.yaml": b"name: Club\n",
    }
    assert not (kits / "people" / "ada-bell").exists() and finish(kits) is False


def test_every_stop_leaves_all_or_nothing(tmp_path, monkeypatch):
    work, before, after = tmp_path / "work", None, None

    def fresh():
        shutil.rmtree(work, ignore_errors=True)
        kits_in(work)

    fresh()
    kits = work / "kits"
    before = everything(kits)

    def act():
        change(kits, {kits / KIT / "kit.yaml": b"title: New\n", kits / KIT / "notes.md": b"n"}, [kits / "people" / "ada-bell"])

    act()
    after, outcomes, stops = everything(kits), set(), 0
    for _ in every_stop(act, monkeypatch, fresh):
        stops += 1
        finish(kits)
        now = everything(kits)
        assert now in (before, after), f"stop {stops}"
        outcomes.add(now == after)
    assert outcomes == {True, False} and stops > 20


def test_everything_is_on_the_disk_before_the_record_counts(tmp_path, monkeypatch):
    kits, done = kits_in(tmp_path), []
    monkeypatch.setattr(files.os, "fsync", lambda opened: done.append(Path(os.readlink(f"/proc/self/fd/{opened}"))))
    real = os.rename
    monkeypatch.setattr(atomic.os, "rename", lambda a, b: (done.append("decided"), real(a, b)))
    change(kits, {kits / "club.yaml": b"name: Other\n"}, [kits / "people" / "ada-bell"])
    first = done[: done.index("decided")]
    assert {f.name for f in first} >= {"0", PLAN, "change"}
    # And what it did, before the record of it goes.
    assert kits in done[done.index("decided") :] and kits / "people" in done


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO])
def test_a_disk_that_gives_out_while_it_is_prepared_changes_nothing(tmp_path, monkeypatch, code: int):
    kits = kits_in(tmp_path)
    before = everything(kits)

    def fail(*given):
        raise OSError(code, os.strerror(code), str(kits / READY))

    with monkeypatch.context() as patch:
        patch.setattr(atomic.os, "rename", fail)
        with pytest.raises(UserError, match=os.strerror(code)):
            change(kits, {kits / "club.yaml": b"name: Other\n"})
    assert everything(kits) == before and not list(kits.glob(".*"))


def test_a_disk_that_gives_out_while_it_is_done_is_taken_up_again(tmp_path, monkeypatch):
    kits = kits_in(tmp_path)

    def fail(file, data):
        raise OSError(errno.ENOSPC, "No space left on device", str(file))

    with monkeypatch.context() as patch:
        patch.setattr(atomic, "write_file", fail)
        with pytest.raises(UserError, match="can't be finished yet") as caught:
            change(kits, {kits / "club.yaml": b"name: Other\n"})
    assert caught.value.place.file == kits / "club.yaml" and "next command" in caught.value.remedy
    assert finish(kits) is True and (kits / "club.yaml").read_bytes() == b"name: Other\n" and not (kits / READY).exists()


@pytest.mark.parametrize(
    "path", ["kits/../outside/diary.md", "outside/diary.md", "kits/.hidden.md", "kits/run.sh", "kits/strange/kit.yaml", "kits/people"]
)
def test_a_change_that_no_record_may_tell_is_refused_at_once(tmp_path, path: str):
    kits = kits_in(tmp_path)
    before = everything(tmp_path)
    with pytest.raises(UserError, match="nothing was changed|lies outside"):
        change(kits, {tmp_path / path: b"x"})
    assert everything(tmp_path) == before


def test_a_change_is_finished_by_one_command_at_a_time(tmp_path, monkeypatch):
    kits, held_now, done = kits_in(tmp_path), threading.Event(), threading.Event()
    monkeypatch.setattr(files, "PATIENCE", 0)

    def other() -> None:
        with files.held(kits):
            held_now.set()
            done.wait(30)

    thread = threading.Thread(target=other)
    thread.start()
    held_now.wait(30)
    try:
        assert finish(kits) is False  # nothing to do needs no turn
        record(kits, [("club.yaml", b"new\n")])
        with pytest.raises(UserError, match="another kitwright command is at work"):
            finish(kits)
        assert (kits / "club.yaml").read_text() == "name: Club\n"
    finally:
        done.set()
        thread.join()
    assert finish(kits) is True and (kits / "club.yaml").read_text() == "new\n"


# --- a record from anywhere -----------------------------------------------------------------------------


def refused(kits: Path) -> str:
    """Finishing is refused and changes nothing anywhere; what is said."""
    before = everything(kits.parent)
    with pytest.raises(UserError) as caught:
        finish(kits)
    assert everything(kits.parent) == before
    error = caught.value
    assert error.place.file.parent.name == READY and READY in error.remedy and error.remedy.endswith("Nothing was changed")
    return error.problem


OUT = [
    "../outside/diary.md",
    "/etc/hosts",
    f"{KIT}/../../outside/diary.md",
    "C:/x.md",
    "a\\..\\b.md",
    "",
    ".",
    "..",
    "//x.md",
    "club.yaml/",
    f"{KIT}//kit.yaml",
    "club.yaml\0.md",
    "club.yaml ",
    " club.yaml",
    f"{KIT}/./kit.yaml",
    ".gitignore",
    f"{KIT}/.git/config",
    ".change-ready/plan.json",
    "a\nb.md",
    "x" * 300 + ".md",
    "run.sh",
    "Makefile",
    f"{KIT}/x.py",
    "new-folder/kit.yaml",
]


@pytest.mark.parametrize("name", OUT)
def test_no_path_of_a_record_leads_anywhere_else(tmp_path, name: str):
    kits = kits_in(tmp_path)
    record(kits, [(name, b"evil\n")])
    assert "half-done change" in refused(kits)


@pytest.mark.parametrize(
    "name",
    [
        "../outside/diary.md",
        "../outside",
        "/etc",
        ".",
        "",
        KIT,
        f"{KIT}/published",
        f"{KIT}/published/r1",
        f"{KIT}/Published",
        "people",
        ".git",
        f"{KIT}/..",
        "club.yaml",
        f"{KIT}/kit.yaml",
        f"{KIT}/published/r1/release.yaml",
        "releases.yaml",
    ],
)
def test_nothing_else_is_removed(tmp_path, name: str):
    kits = kits_in(tmp_path)
    (kits / KIT / "Published").mkdir()
    record(kits, (), [name])
    refused(kits)


@pytest.mark.parametrize("written", [True, False])
@pytest.mark.parametrize("link", ["file", "folder"])
def test_no_path_leads_through_a_link(tmp_path, link: str, written: bool):
    kits = kits_in(tmp_path)
    (kits / KIT / "out").symlink_to(tmp_path / "outside")
    (kits / KIT / "diary.md").symlink_to(tmp_path / "outside" / "diary.md")
    name = f"{KIT}/diary.md" if link == "file" else f"{KIT}/out/diary.md"
    record(kits, [(name, b"evil\n")] if written else (), () if written else [name])
    assert "link" in refused(kits)


def test_the_record_itself_is_no_link_and_holds_nothing_else(tmp_path):
    kits = kits_in(tmp_path)
    ready = record(kits, [("club.yaml", b"evil\n")])
    elsewhere = tmp_path / "outside" / "record"
    ready.rename(elsewhere)
    ready.symlink_to(elsewhere)
    refused(kits)
    ready.unlink()
    ready.write_text("a file")
    refused(kits)
    ready.unlink()
    elsewhere.rename(ready)
    (ready / "0").unlink()
    (ready / "0").symlink_to(tmp_path / "outside" / "diary.md")
    refused(kits)
    (ready / "0").unlink()
    (ready / "0").mkdir()
    refused(kits)


BROKEN = [
    "",
    "{",
    "[]",
    "null",
    "7",
    '"x"',
    '{"format": 2}',
    '{"written": [], "removed": []}',
    '{"format": 1, "written": [], "removed": []}',
    '{"format": 2, "written": {}, "removed": []}',
    '{"format": 2, "written": [["0", "club.yaml"]], "removed": []}',
    '{"format": 2, "written": [[0, "club.yaml", null, "x"]], "removed": []}',
    '{"format": 2, "written": [], "removed": [1]}',
    '{"format": 2, "written": [], "removed": [], "more": 1}',
    "[" * 100_000,
    '{"format": 2, "written": [], "removed": [["club.yaml"]]}',
    "\ud800",
    '{"format": 2, "written": [["0", "a.md", null, "x"]], "removed": []',
]


@pytest.mark.parametrize("text", BROKEN)
def test_a_broken_record_is_one_clear_error(tmp_path, text: str):
    kits = kits_in(tmp_path)
    ready = record(kits, [("club.yaml", b"new\n")])
    (ready / PLAN).write_bytes(text.encode("utf-8", "surrogatepass"))
    assert "empty, cut off or not in" in refused(kits)


def test_a_record_whose_files_are_others_is_refused(tmp_path):
    kits = kits_in(tmp_path)
    ready = record(kits, [("club.yaml", b"new\n"), (f"{KIT}/kit.yaml", b"newer\n")])
    (ready / "1").write_bytes(b"new")
    assert "damaged" in refused(kits)
    (ready / "1").unlink()
    assert "not the ones" in refused(kits)
    (ready / "1").write_bytes(b"newer\n")
    (ready / "2").write_bytes(b"")
    assert "not the ones" in refused(kits)
    (ready / "2").unlink()
    (kits / KIT / "kit.yaml").write_text("title: mended by hand since\n")
    assert f"{KIT}/kit.yaml was changed since" in refused(kits)
    (kits / KIT / "kit.yaml").write_bytes(b"newer\n")  # done already
    assert finish(kits) is True and (kits / "club.yaml").read_bytes() == b"new\n"


def test_a_record_may_not_write_what_it_removes_nor_one_file_twice(tmp_path):
    kits = kits_in(tmp_path)
    ready = record(kits, [("people/ada-bell/person.yaml", b"x")], ["people/ada-bell"])
    assert "both writes and removes" in refused(kits)
    shutil.rmtree(ready)
    record(kits, [("club.yaml", b"x"), ("club.yaml", b"y")])
    assert "not the ones" in refused(kits)


def test_only_clearing_up_is_left_where_there_is_no_plan(tmp_path):
    """The plan goes first; a stranger's folder of other things in its place is told and kept."""
    kits = kits_in(tmp_path)
    before = everything(kits)
    ready = record(kits, [("club.yaml", b"new\n")])
    (ready / PLAN).unlink()
    assert finish(kits) is True and everything(kits) == before and not ready.exists()
    ready.mkdir()
    assert finish(kits) is True and not ready.exists()
    ready.mkdir()
    (ready / "wedding.jpg").write_bytes(b"x")
    assert "wedding.jpg" in refused(kits)


_NAMES = st.one_of(
    st.sampled_from(OUT),
    st.sampled_from(["club.yaml", f"{KIT}/kit.yaml", f"{KIT}/new.md", "people/ada-bell", f"{KIT}/out/diary.md", f"{KIT}/published/r1"]),
    st.lists(
        st.sampled_from(["..", ".", "outside", "diary.md", KIT, "kit.yaml", "people", "ada-bell", "", "out", "/", "%2e%2e"]), max_size=5
    ).map("/".join),
    st.text(max_size=12),
)


@given(written=st.lists(_NAMES, max_size=3), removed=st.lists(_NAMES, max_size=3), cut=st.integers(0, 40))
def test_whatever_a_record_says_nothing_outside_changes_and_a_refusal_changes_nothing(tmp_path_factory, written, removed, cut):
    root = tmp_path_factory.mktemp("stranger")
    kits = kits_in(root)
    (kits / KIT / "out").symlink_to(root / "outside")
    names = [n for n in written if "\0" not in n and not any("\ud800" <= c <= "\udfff" for c in n)]
    ready = record(kits, [(n, b"evil\n") for n in names], removed)
    if cut < 5:
        data = (ready / PLAN).read_bytes()
        (ready / PLAN).write_bytes(data[: len(data) * cut // 5])
    before, outside = everything(kits), everything(root / "outside")
    try:
        finish(kits)
    except UserError as error:
        assert everything(kits) == before and str(error)
    else:
        now = everything(kits)
        assert (
            now[f"{KIT}/published/r1/release.yaml"] == b"revision: 1\n"
            and f"{KIT}/out" in now
            and not any(OURS in n or READY in n for n in now)
        )
    assert everything(root / "outside") == outside
    shutil.rmtree(root)
