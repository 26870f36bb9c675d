"""`build --on`: kits made by real workers of a real scheduler, on this machine, and what is told where that can't be."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import kitwright
import pytest
from archive.small import tree_of, write_small
from click.testing import CliRunner
from distributed import Client
from kitwright import cache
from kitwright.archive import cluster, workers
from kitwright.archive.build import build_archive
from kitwright.cli import cli
from kitwright.errors import UserError

BUILDTOOLS = Path(kitwright.__file__).parents[1]


@dataclass
class Cluster:
    """A scheduler and its workers."""

    address: str
    workers: list[subprocess.Popen]

    def join(self) -> None:
        """One worker more, as DEVELOPERS.md has it started."""
        words = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--name", str(len(self.workers)))
        self.workers.append(start("worker", self.address, *words))

    def wait(self, count: int) -> None:
        """Until the scheduler answers and has so many workers."""
        with Client(self.address, timeout=60, set_as_default=False) as client:
            if count:
                client.wait_for_workers(count, timeout=60)


def start(*words: str) -> subprocess.Popen:
    path = os.pathsep.join([str(BUILDTOOLS), str(Path(__file__).parent), str(Path(__file__).parents[1])])
    return subprocess.Popen(
        [sys.executable, "-m", "dask", *words], env={**os.environ, "PYTHONPATH": path}, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )


@contextlib.contextmanager
def running(count: int) -> Iterator[Cluster]:
    """A scheduler and its workers, as DEVELOPERS.md has them started."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    scheduler = start("scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard")
    found = Cluster(f"tcp://127.0.0.1:{port}", [])
    try:
        for _ in range(count):
            found.join()
        found.wait(count)
        yield found
    finally:
        for each in (scheduler, *found.workers):
            each.kill()
        for each in (scheduler, *found.workers):
            each.wait()


@pytest.fixture(scope="module")
def two() -> Iterator[Cluster]:
    with running(2) as found:
        yield found


def test_a_cluster_makes_the_same_bytes_as_this_machine(two, small_site, tmp_path):
    """Two kits that nobody has made in this folder, and what this machine makes of them."""
    root = write_small(tmp_path)
    build_archive(root, root / "site", on=two.address)
    assert tree_of(root / "site") == tree_of(small_site)
    asked = ["--root", str(root), "build", "--as-of", "2031-05-01 10:00", "--out", str(tmp_path / "typed"), "--on", two.address]
    result = CliRunner().invoke(cli, asked)
    assert result.exit_code == 0, result.output


def busy_until_killed(asked: tuple[str, int]) -> tuple[int, int]:
    """Waits in the first process that is asked for number 0, and answers in every other."""
    mark, number = Path(asked[0]), asked[1]
    if number == 0:
        with contextlib.suppress(FileExistsError):
            with open(mark, "x") as stream:
                stream.write(str(os.getpid()))
            time.sleep(600)
    return number, os.getpid()


def test_what_a_lost_worker_had_in_hand_is_done_by_another(two, tmp_path):
    """A third comes, and two are left of them."""
    mark = tmp_path / "begun"
    two.join()
    two.wait(3)
    with Client(two.address, set_as_default=False) as client:
        done = workers.done(
            busy_until_killed, [(str(mark), n) for n in range(4)], 4, client.get_executor(pure=False, retries=cluster.AGAIN)
        )
        found = [next(done)]
        while not (mark.exists() and mark.read_text()):
            time.sleep(0.05)
        lost = int(mark.read_text())
        os.kill(lost, signal.SIGKILL)
        found += list(done)
    assert sorted(number for number, _ in found) == [0, 1, 2, 3]
    assert lost not in {by for number, by in found if number == 0} and lost in {each.pid for each in two.workers}


def told(root: Path, address: str) -> str:
    with pytest.raises(UserError) as told, cache.using(root / cache.FOLDER), cluster.executor_at(address, root):
        pass
    return told.value.code


def test_what_stands_in_the_way_is_told_before_anything_is_made(two, tmp_path, monkeypatch):
    root = write_small(tmp_path)
    monkeypatch.setattr(cluster, "PATIENCE", 1)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        nobody = f"tcp://127.0.0.1:{free.getsockname()[1]}"
        assert told(root, nobody) == "cluster.none-there"
    assert told(root, "no address at all") == "cluster.none-there"
    assert told(tmp_path / "not-seen-there", two.address) == "cluster.elsewhere"
    monkeypatch.setattr("kitwright.cache.code", lambda: "another program")
    assert told(root, two.address) == "cluster.another-program"
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert told(root, two.address) == "cluster.no-engine"


def test_a_cluster_without_workers_is_told(tmp_path):
    root = write_small(tmp_path)
    with running(0) as none:
        result = CliRunner().invoke(cli, ["--root", str(root), "build", "--on", none.address])
    assert result.exit_code == 2 and "has no workers" in result.output and not (root / "site").exists()
