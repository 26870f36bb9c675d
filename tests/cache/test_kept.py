"""What is kept between runs: found again, never served damaged, bounded, safe for many, and only slower when it is gone."""

import os
import pickle
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path

import kitwright.cache as cache
import pytest
from kitwright.cache import kept, secret
from kitwright.cache.kept import Blob, Lost, Store
from kitwright.errors import UserError


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setattr(secret, "home", lambda: tmp_path / "home" / "secret")
    monkeypatch.delenv(secret.HANDED, raising=False)
    secret.own_secret.cache_clear()
    yield tmp_path / ".made"
    secret.own_secret.cache_clear()


def files(folder: Path) -> list[Path]:
    return sorted(f for f in folder.rglob("*") if f.is_file() and f.parent != folder)


def test_what_was_made_is_found_again_by_another_process(folder):
    with cache.using(folder) as first:
        assert cache.value("plan", "k", lambda: {"sheets": 3}) == {"sheets": 3}
        assert cache.made("picture", "k", lambda: b"drawn") == b"drawn"
    with cache.using(folder) as second:
        assert cache.value("plan", "k", lambda: pytest.fail("made again")) == {"sheets": 3}
        assert cache.made("picture", "k", lambda: pytest.fail("made again")) == b"drawn"
    assert first.made == {"plan": 1, "picture": 1} and second.made == {} and second.found == {"plan": 1, "picture": 1}


def test_kind_key_and_code_tell_entries_apart(folder, monkeypatch):
    with cache.using(folder):
        assert [cache.value(kind, key, f"{kind} {key}".__str__) for kind in "ab" for key in "xy"] == ["a x", "a y", "b x", "b y"]
        assert cache.value("a", "x", lambda: "again") == "a x"
        monkeypatch.setattr("kitwright.cache.digests.code", lambda: "another program")
        assert cache.value("a", "x", lambda: "again") == "again"


def test_without_a_folder_everything_is_made_each_time():
    with cache.using(None) as store:
        assert [cache.value("plan", "k", n.__int__) for n in (1, 2)] == [1, 2]
        blob = cache.keep(b"paper")
        assert cache.read(blob) == b"paper" and cache.relied(blob) and not cache.relied(Blob("0" * 64, 1))
        with pytest.raises(Lost):
            cache.read(Blob("0" * 64, 1))
    assert store.made == {"plan": 2}


def damages():
    yield "cut short", lambda data: data[: len(data) // 2]
    yield "empty", lambda data: b""
    yield "one bit", lambda data: data[:-1] + bytes([data[-1] ^ 1])
    yield "first bit", lambda data: bytes([data[0] ^ 128]) + data[1:]
    yield "more", lambda data: data + b"x"
    yield "another's", lambda data: pickle.dumps("not ours")


@pytest.mark.parametrize("damage", [pytest.param(damage, id=name) for name, damage in damages()])
def test_a_damaged_entry_is_made_again_and_never_served(folder, damage):
    with cache.using(folder):
        blob = cache.keep(b"some paper")
        cache.value("plan", "k", lambda: "right")
        cache.made("picture", "k", lambda: b"right picture")
    for file in files(folder):
        file.write_bytes(damage(file.read_bytes()))
    with cache.using(folder) as store:
        with pytest.raises(Lost):
            cache.read(blob)
        assert cache.value("plan", "k", lambda: "made again") == "made again"
        assert cache.made("picture", "k", lambda: b"right picture") == b"right picture"
        assert cache.read(cache.keep(b"some paper")) == b"some paper"
    assert store.made == {"plan": 1, "picture": 1}
    with cache.using(folder):
        assert cache.value("plan", "k", lambda: "not again") == "made again"


def test_bytes_of_the_right_length_but_wrong_are_kept_anew_once_they_were_read(folder):
    with cache.using(folder):
        blob = cache.keep(b"right")
        files(folder)[0].write_bytes(b"wrong")
        with pytest.raises(Lost):
            cache.read(blob)
        assert cache.read(cache.keep(b"right")) == b"right"


def test_an_entry_that_lies_in_the_place_of_another_is_not_served(folder):
    with cache.using(folder):
        cache.value("plan", "one", lambda: "one")
        (one,) = files(folder)
        cache.value("plan", "two", lambda: "two")
        (two,) = [f for f in files(folder) if f != one]
        two.write_bytes(one.read_bytes())
        assert cache.value("plan", "two", lambda: "two again") == "two again"


def test_a_stranger_s_entries_are_not_so_much_as_read(folder, tmp_path, monkeypatch):
    """Reading Python's own values can run code; an archive may come with a folder of them."""
    trap = tmp_path / "sprung"

    class Trap:
        def __reduce__(self):
            return Path.touch, (trap,)

    theirs = Store(folder, b"their secret, not hers")
    theirs.note("plan", "k", Trap())
    assert pickle.loads(files(folder)[0].read_bytes()[32:]) is None and trap.exists(), "the trap is a trap"
    trap.unlink()
    with cache.using(folder):
        assert cache.value("plan", "k", lambda: "hers") == "hers"
    assert not trap.exists()


def test_the_secret_lies_outside_and_is_nobody_else_s_to_read(folder, tmp_path):
    with cache.using(folder) as store:
        cache.value("plan", "k", lambda: 1)
    assert len(store.secret) == secret.SIZE and secret.home().read_bytes() == store.secret
    assert not secret.home().is_relative_to(folder) and (os.name == "nt" or secret.home().stat().st_mode & 0o077 == 0)
    assert [f.name for f in secret.home().parent.iterdir()] == ["secret"]
    assert all(store.secret not in f.read_bytes() for f in files(folder)) and store.secret.hex() not in repr(store) + repr(cache.handle())


def test_a_secret_that_was_cut_short_is_replaced(folder):
    secret.home().parent.mkdir()
    secret.home().write_bytes(b"short")
    assert len(secret.own_secret()) == secret.SIZE and secret.home().read_bytes() == secret.own_secret()


def test_where_no_secret_can_be_kept_helpers_have_it_from_this_process(folder, tmp_path, monkeypatch):
    (tmp_path / "home").write_text("a file, no folder")
    monkeypatch.setenv(secret.HANDED, "")
    mine = secret.own_secret()
    assert os.environ[secret.HANDED] == mine.hex()
    secret.own_secret.cache_clear()
    assert secret.own_secret() == mine


def test_a_helper_uses_what_it_is_handed(folder):
    with cache.using(folder):
        cache.value("plan", "k", lambda: "ours")
        given = pickle.loads(pickle.dumps(cache.handle()))
    with cache.taken_up(given):
        assert cache.value("plan", "k", lambda: pytest.fail("made again")) == "ours"


def test_the_folder_says_that_it_need_not_be_kept(folder):
    """Cache Directory Tagging Specification (Bryan Ford): the file and its first line; and git passes it by."""
    with cache.using(folder):
        cache.keep(b"x")
    assert (folder / "CACHEDIR.TAG").read_bytes().startswith(b"Signature: 8a477f597d28d172789f06886806bc55")
    assert (folder / ".gitignore").read_bytes() == b"*\n"


def test_it_may_vanish_at_any_time(folder):
    with cache.using(folder):
        blob = cache.keep(b"x")
        cache.value("plan", "k", lambda: 1)
        shutil.rmtree(folder)
        assert not cache.relied(blob)
        with pytest.raises(Lost):
            cache.read(blob)
        assert cache.value("plan", "k", lambda: 2) == 2
        assert cache.read(cache.keep(b"x")) == b"x"


def test_where_no_folder_can_be_it_is_only_slower(folder):
    folder.write_text("a file stands in its place")
    with cache.using(folder):
        assert [cache.value("plan", "k", n.__int__) for n in (1, 2)] == [1, 2]
        assert cache.made("picture", "k", lambda: b"x") == b"x"
        with pytest.raises(OSError):
            cache.keep(b"x")


def test_many_at_once_put_and_read_whole_bytes(folder):
    wrong: list[object] = []
    with cache.using(folder) as store:

        def work(of: int) -> None:
            for n in range(60):
                data = bytes([n]) * 5000
                blob = store.keep(data)
                try:
                    if store.read(blob) != data:
                        wrong.append((of, n))
                except Lost as error:
                    wrong.append(error)
                store.note("plan", str(n), data)
                if store.known("plan", str(n)) != data:
                    wrong.append((of, n))

        threads = [threading.Thread(target=work, args=(n,)) for n in range(4)]
        for each in threads:
            each.start()
        for each in threads:
            each.join()
    assert not wrong and not [f for f in files(folder) if f.name.startswith(".new-")]


def test_killed_in_the_middle_it_serves_nothing_half(folder, tmp_path):
    """A process that writes without end is killed; what it left is whole or is not served."""
    script = (
        "import sys, os; from pathlib import Path; from kitwright.cache.kept import Store\n"
        "store = Store(Path(sys.argv[1]), b'secret'); n = 0\n"
        "store.note('plan', '0', '0' * 100000)\n"
        "print('begun', flush=True)\n"
        "while True: store.note('plan', str(n % 40), str(n % 40) * 100000); n += 1\n"
    )
    for _ in range(3):
        child = subprocess.Popen([sys.executable, "-c", script, str(folder)], stdout=subprocess.PIPE)
        child.stdout.readline()
        time.sleep(0.03)
        child.kill()
        child.wait()
        child.stdout.close()
    store = Store(folder, b"secret")
    assert {store.known("plan", str(n)) in (None, str(n) * 100000) for n in range(40)} == {True}
    assert any(store.known("plan", str(n)) for n in range(40))
    # What it left half is no entry, and goes like anything that nobody uses.
    store.bound(0, now=time.time() + kept.RECENT + 60)
    assert files(folder) == []


def test_a_command_that_refuses_leaves_no_folder_that_was_not_there(folder):
    with pytest.raises(UserError), cache.using(folder):
        cache.value("plan", "k", lambda: 1)
        assert folder.is_dir()
        raise UserError("kits.none")
    assert not folder.exists()
    with cache.using(folder):
        cache.value("plan", "k", lambda: 1)
    with pytest.raises(UserError), cache.using(folder):
        cache.value("plan", "other", lambda: 1)
        raise UserError("kits.none")
    with cache.using(folder):
        assert cache.value("plan", "k", lambda: 2) == cache.value("plan", "other", lambda: 2) == 1


def aged(file: Path, seconds: float) -> None:
    at = time.time() - seconds
    os.utime(file, (at, at))


def test_it_is_bounded_and_what_was_used_longest_ago_goes_first(folder):
    with cache.using(folder) as store:
        blobs = [cache.keep(bytes([n]) * 1000) for n in range(10)]
        for n, blob in enumerate(blobs):
            aged(store._of_blob(blob), kept.RECENT * (20 - n))
        cache.read(blobs[0])  # used again: it stays
        store.bound(4000)
        there = [n for n, blob in enumerate(blobs) if cache.relied(blob)]
    assert there == [0, 7, 8, 9]


def test_what_is_in_use_stays_though_it_is_too_much_and_what_nobody_used_for_long_goes(folder):
    with cache.using(folder) as store:
        blobs = [cache.keep(bytes([n]) * 1000) for n in range(3)]
        aged(store._of_blob(blobs[0]), kept.STALE + 60)
        store.bound(0)
        assert [cache.relied(blob) for blob in blobs] == [False, True, True]


def test_a_process_that_added_much_looks_at_the_bound(folder, monkeypatch):
    """Also where it opens the folder anew for every kit."""
    monkeypatch.setattr(kept, "WRITTEN", 5000)
    looked: list[bool] = []
    monkeypatch.setattr(Store, "bound", lambda self: looked.append(True))
    for n in range(12):
        with cache.using(folder):
            cache.keep(bytes([n]) * 1000)
    assert len(looked) == 2
