"""Writing: a file whole, a folder at one stroke, one command at a time, and what killed commands leave."""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import file_faults
import pytest
from kitwright import files
from kitwright.archive.ics import write_calendar
from kitwright.cutfiles.folder import write as write_cutfiles
from kitwright.errors import UserError
from kitwright.files import OURS, clear, held, mend, nearest, put_folder, sweep, trouble, undisturbed, workshop, write_file
from making import BATCH, ID, make_archive


def names(folder: Path) -> list[str]:
    return sorted(f.name for f in folder.iterdir())


def folder_of(path: Path, **texts: str) -> Path:
    path.mkdir()
    for name, text in texts.items():
        (path / name).write_text(text)
    return path


# --- a file -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("failing", ["write", "fsync", "replace"])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EROFS, errno.EACCES])
def test_a_file_that_can_not_be_written_stays_as_it_was(tmp_path, monkeypatch, failing: str, code: int):
    file = tmp_path / "club.yaml"
    file.write_text("old")

    def fail(*given):
        raise OSError(code, os.strerror(code))

    if failing == "write":
        monkeypatch.setattr(files, "open", lambda *given, **more: _Failing(code), raising=False)
    else:
        monkeypatch.setattr(files.os, failing, fail)
    with pytest.raises(OSError) as caught:
        write_file(file, b"new")
    assert caught.value.filename == str(file) and caught.value.errno == code
    monkeypatch.undo()
    assert file.read_text() == "old" and names(tmp_path) == ["club.yaml"]


class _Failing:
    def __init__(self, code: int) -> None:
        self.code = code

    def __enter__(self):
        return self

    def __exit__(self, *given) -> None:
        pass

    def write(self, data) -> None:
        raise OSError(self.code, os.strerror(self.code))


def test_rights_stay_and_a_link_is_replaced_not_followed(tmp_path):
    secret, link = tmp_path / "private.yaml", tmp_path / "link.yaml"
    secret.write_text("old")
    secret.chmod(0o600)
    write_file(secret, b"new")
    assert secret.read_text() == "new" and secret.stat().st_mode & 0o777 == 0o600
    link.symlink_to(secret)
    write_file(link, b"other")
    assert secret.read_text() == "new" and link.read_text() == "other" and not link.is_symlink()


def test_a_fresh_file_has_the_rights_that_any_file_gets(tmp_path):
    write_file(tmp_path / "a", b"x")
    (tmp_path / "b").write_bytes(b"x")
    assert (tmp_path / "a").stat().st_mode == (tmp_path / "b").stat().st_mode


def test_a_file_is_synced_before_it_counts(tmp_path, monkeypatch):
    done = []
    monkeypatch.setattr(files.os, "fsync", lambda opened: done.append(os.readlink(f"/proc/self/fd/{opened}")))
    real = os.replace
    monkeypatch.setattr(files.os, "replace", lambda a, b: (done.append("replace"), real(a, b)))
    write_file(tmp_path / "a", b"x")
    assert done[0].startswith(str(tmp_path / OURS)) and done[1:] == ["replace", str(tmp_path)]


@pytest.mark.parametrize("odd", ["file", "file/x", "photos", "loop", "fifo", "nowhere/x", "x" * 300, ""])
def test_no_odd_place_is_written_over_by_a_calendar_or_by_cut_files(tmp_path, odd: str):
    (tmp_path / "file").write_text("mine")
    folder_of(tmp_path / "photos", wedding="x")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    os.mkfifo(tmp_path / "fifo")
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(UserError) as caught:
        write_cutfiles(tmp_path / odd, {"contents.txt": b"x"} if odd != "nowhere/x" else {"x" * 300: b"x"})
    assert caught.value.place.file and sorted(tmp_path.rglob("*")) == before
    if odd != "loop":  # a link is replaced
        with pytest.raises(UserError) as caught:
            write_calendar(tmp_path / odd, "BEGIN:VCALENDAR")
        assert caught.value.place.file == tmp_path / odd and sorted(tmp_path.rglob("*")) == before


# --- leftovers --------------------------------------------------------------------------------------


def test_what_a_killed_command_left_is_cleared_and_what_is_in_use_stays(tmp_path):
    left = folder_of(tmp_path / f"{OURS}0123abcd", page="secret")
    (tmp_path / f"{OURS}89abcdef").write_text("half")
    folder_of(tmp_path / ".site-new-abcd_123")
    mine = folder_of(tmp_path / f"{OURS}mine", page="kept")  # not a name of ours
    away = folder_of(tmp_path / "away", page="kept")
    (tmp_path / f"{OURS}00000000").symlink_to(away)
    (left / "link").symlink_to(away)
    with workshop(tmp_path) as shop:
        assert shop.is_dir() and (shop / ".gitignore").read_text() == "*\n"
        sweep(tmp_path)
        assert shop.is_dir()
        assert names(tmp_path) == sorted([shop.name, mine.name, "away", f"{OURS}00000000"])
    assert not shop.exists() and names(away) == ["page"]


def test_a_workshop_that_was_killed_is_cleared_by_the_next(tmp_path):
    pid = os.fork()
    if pid == 0:
        with workshop(tmp_path):
            os.kill(os.getpid(), signal.SIGKILL)
    os.waitpid(pid, 0)
    assert len(names(tmp_path)) == 1
    with workshop(tmp_path) as shop:
        assert names(tmp_path) == [shop.name]


def test_where_the_system_knows_no_locks_a_leftover_is_one_after_a_day(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "LOCKS", False)
    young, old = folder_of(tmp_path / f"{OURS}00000001"), folder_of(tmp_path / f"{OURS}00000002")
    os.utime(old, (0, time.time() - files.OLD - 60))
    with workshop(tmp_path), held(tmp_path):
        write_file(tmp_path / "a", b"x")
        assert young.exists() and not old.exists()
    assert names(tmp_path) == [young.name, "a"]


def test_a_copy_of_a_read_only_folder_is_removed(tmp_path):
    inner = folder_of(folder_of(tmp_path / "a") / "b", page="x")
    inner.chmod(0o500)
    assert clear(tmp_path / "a") and not (tmp_path / "a").exists() and clear(tmp_path / "a")


# --- a folder ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("at_once", [True, False])
def test_a_folder_is_put_in_place_and_the_old_one_stands_aside(tmp_path, monkeypatch, at_once: bool):
    if not at_once:
        monkeypatch.setattr(files, "_exchange", lambda one, other: False)
    with workshop(tmp_path) as shop:
        new = folder_of(shop / "site", page="new")
        assert put_folder(new, tmp_path / "a" / "site") is False
        newer = folder_of(shop / "site", page="newer")
        assert put_folder(newer, tmp_path / "a" / "site", small=True) is True
        assert (tmp_path / "a" / "site" / "page").read_text() == "newer" and (newer / "page").read_text() == "new"
    assert names(tmp_path) == ["a"] and names(tmp_path / "a") == ["site"]


def test_a_swap_cut_short_is_mended(tmp_path, monkeypatch):
    """On a system that needs two renames for it, and was killed between them."""
    monkeypatch.setattr(files, "_exchange", lambda one, other: False)
    home, new, real = folder_of(tmp_path / "site", page="old"), folder_of(tmp_path / "new", page="new"), os.rename

    def killed(a, b):
        if Path(a) == new:
            os._exit(9)
        real(a, b)

    pid = os.fork()
    if pid == 0:
        files.os.rename = killed
        put_folder(new, home)
    os.waitpid(pid, 0)
    assert not home.exists()
    assert mend(home) is None and (home / "page").read_text() == "old" and names(tmp_path) == ["new", "site"]


def test_two_who_put_a_folder_in_one_place_leave_one_of_the_two_whole(tmp_path):
    home = tmp_path / "site"

    def put(word: str) -> None:
        for _ in range(20):
            with workshop(tmp_path) as shop:
                new = folder_of(shop / "site", **{f"page{i}": word for i in range(5)})
                put_folder(new, home)

    both = [threading.Thread(target=put, args=(word,)) for word in ("one", "two")]
    for each in both:
        each.start()
    for each in both:
        each.join()
    assert len({f.read_text() for f in home.iterdir()}) == 1 and len(names(home)) == 5 and names(tmp_path) == ["site"]


@pytest.mark.parametrize("stands", [True, False])
def test_a_folder_is_carried_to_another_disk(tmp_path, monkeypatch, stands: bool):
    """What looks like one disk may be two, where a folder is mounted."""
    (tmp_path / "mounted").mkdir()
    home = folder_of(tmp_path / "mounted" / "site", page="old") if stands else tmp_path / "mounted" / "site"
    rename, exchange = os.rename, files._exchange

    def apart(a, b) -> None:
        if ("mounted" in Path(a).parts) != ("mounted" in Path(b).parts):
            raise OSError(errno.EXDEV, "Invalid cross-device link", str(a))

    monkeypatch.setattr(files.os, "rename", lambda a, b: (apart(a, b), rename(a, b)))
    monkeypatch.setattr(files, "_exchange", lambda a, b: apart(a, b) or exchange(a, b))
    with workshop(tmp_path) as shop:
        assert put_folder(folder_of(shop / "site", page="new"), home) is stands
    assert (home / "page").read_text() == "new" and names(tmp_path) == ["mounted"] and names(tmp_path / "mounted") == ["site"]


def test_the_nearest_folder_that_is_there(tmp_path):
    assert nearest(tmp_path / "a" / "b") == tmp_path == nearest(tmp_path)


# --- one at a time ----------------------------------------------------------------------------------


def test_a_folder_is_held_by_one_and_read_by_many(tmp_path):
    seen, inside = [], threading.Event()

    def other(shared: bool) -> None:
        try:
            with held(tmp_path, shared=shared, patience=0):
                seen.append("in")
        except UserError as error:
            seen.append(error.problem)
        inside.set()

    for mine, theirs, expected in ((False, False, False), (False, True, False), (True, False, False), (True, True, True)):
        seen.clear()
        with held(tmp_path, shared=mine), held(tmp_path):
            thread = threading.Thread(target=other, args=(theirs,))
            thread.start()
            thread.join()
        assert (seen == ["in"]) is expected and (expected or "another kitwright command is at work" in seen[0])
    with held(tmp_path, patience=0):
        pass


def test_one_that_waits_gets_its_turn(tmp_path):
    order = []

    def second() -> None:
        with held(tmp_path):
            order.append("second")

    with held(tmp_path):
        thread = threading.Thread(target=second)
        thread.start()
        time.sleep(0.15)
        order.append("first")
    thread.join()
    assert order == ["first", "second"]


def test_a_lock_goes_with_its_process(tmp_path):
    pid = os.fork()
    if pid == 0:
        with held(tmp_path):
            os._exit(0)
    os.waitpid(pid, 0)
    with held(tmp_path, patience=0):
        pass


@pytest.fixture
def usual_interrupt() -> Iterator[None]:
    """Ctrl-C as Python takes it: tests that a shell put in the background are started with it ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def test_a_wish_to_stop_waits_for_a_stroke_to_end(usual_interrupt):
    done = []
    with pytest.raises(KeyboardInterrupt):
        with undisturbed():
            os.kill(os.getpid(), signal.SIGINT)
            time.sleep(0.01)
            done.append("whole")
    assert done == ["whole"] and signal.getsignal(signal.SIGINT) is signal.default_int_handler


# --- troubles ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT, errno.EMFILE, errno.ENOTDIR])
def test_a_trouble_names_file_reason_and_what_to_do(code: int):
    error = trouble(OSError(code, os.strerror(code), "kits/club.yaml"), "disk.change")
    assert str(error).startswith(f"kits/club.yaml: what was to change can't be written ({os.strerror(code)})\n") and str(error).endswith(
        "; nothing was changed"
    )
    for unfinished in (".kitwright-0123abcd", ".kitwright-0123abcd/a/b.txt"):
        error = trouble(OSError(code, os.strerror(code), f"kits/{unfinished}"), "disk.change")
        assert error.place.file.as_posix() == "kits", "a name that is made up tells nobody anything"
    assert "here" in trouble(OSError("odd"), "disk.change", Path("here")).place.file.as_posix()


# --- the process ------------------------------------------------------------------------------------


@pytest.fixture
def archive(tmp_path) -> Path:
    make_archive(tmp_path, BATCH)
    return tmp_path


def _closed() -> None:
    for number in (0, 1, 2):
        os.close(number)
    sys.stdin = sys.stdout = sys.stderr = None


def _full(*numbers: int):
    def lead() -> None:
        for number in numbers:
            os.dup2(os.open("/dev/full", os.O_WRONLY), number)

    return lead


def _gone() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    os.dup2(writing, 1)


def _ascii() -> None:
    sys.stdout, sys.stderr = (io.TextIOWrapper(io.FileIO(n, "w", closefd=False), "ascii", "strict") for n in (1, 2))


OUTPUTS = {
    "closed": (_closed, 0),
    "full": (_full(1), 2),
    "all full": (_full(1, 2), 2),
    "a reader that went away": (_gone, 0),
    "ascii alone": (_ascii, 0),
}


@pytest.mark.parametrize("output", OUTPUTS)
def test_no_output_stops_work_and_only_lost_words_that_were_the_work_are_a_failure(archive, output: str):
    """Closed and full outputs, a reader that goes away as `head` does, a terminal that knows ASCII only."""
    lead, lost = OUTPUTS[output]
    title = "Größe ½"
    status, said = file_faults.run(["--root", str(archive), "new", "2031-01-fresh", "--title", title], before=lead)
    assert status == 0 and "Traceback" not in said and "Exception ignored" not in said
    assert title in (archive / "kits" / "2031-01-fresh" / "kit.yaml").read_text(encoding="utf-8") and not list(
        (archive / "kits").glob(".*")
    )
    status, printed = file_faults.run(["--root", str(archive), "show", ID], before=lead)
    assert status == lost and "Traceback" not in printed and "Exception ignored" not in printed
    if output == "full":
        assert "could not all be written (No space left on device)" in said and "No space left on device" in printed
    if output == "ascii alone":
        assert "4¼ × 5½" in printed or "×" in printed


@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)])
def test_a_command_that_is_asked_to_stop_ends_in_its_own_way(archive, number: int, status: int):
    """While `new` has its files put on the disk: nothing of it is left."""
    command = ["--root", str(archive), "new", "2031-01-fresh"]

    def at(k: int):
        def before() -> None:
            real, seen = os.fsync, [0]

            def sync(opened: int) -> None:
                seen[0] += 1
                if seen[0] == k:
                    os.kill(os.getpid(), number)
                real(opened)

            os.fsync = sync
            # Tests that were started under `nohup` hand on that a hang-up is to be ignored, and a command heeds that.
            signal.signal(number, signal.SIG_DFL)

        return before

    for k in (1, 3):
        ended, said = file_faults.run(command, before=at(k))
        assert ended == status and "Stopped; nothing is half done." in said and "Traceback" not in said
        assert sorted(f.name for f in (archive / "kits").iterdir()) == [ID, "club.yaml"]
