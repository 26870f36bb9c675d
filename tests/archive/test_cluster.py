"""`build --on`: kits made by real workers of a real scheduler, on this machine, and what is told where that can't be."""

import contextlib
import os
import shutil
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
from click.testing import CliRunner
from distributed import Client
from kitwright import cache
from kitwright.archive import cluster, workers
from kitwright.cli import cli
from kitwright.errors import UserError
from making import BATCH, make_archive

BUILDTOOLS = Path(kitwright.__file__).parents[1]


@dataclass
class Cluster:
    address: str
    workers: list[subprocess.Popen]


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
    address = f"tcp://127.0.0.1:{port}"
    processes = [start("scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard")]
    processes += [start("worker", address, "--nthreads", "1", "--no-nanny", "--no-dashboard", "--name", str(n)) for n in range(count)]
    try:
        with Client(address, timeout=60, set_as_default=False) as client:
            if count:
                client.wait_for_workers(count, timeout=60)
        yield Cluster(address, processes[1:])
    finally:
        for each in processes:
            each.kill()
        for each in processes:
            each.wait()


@pytest.fixture(scope="module")
def two() -> Iterator[Cluster]:
    with running(2) as found:
        yield found


def archive(root: Path, count: int) -> Path:
    for n in range(1, count + 1):
        kit = make_archive(root / f"made-{n}", BATCH, "Cut [[count of A]].\n", name=f"2020-0{n}-strips-{n}")
        shutil.copytree(kit.parent, root / "kits", dirs_exist_ok=True)
    return root


def files(site: Path) -> dict[str, bytes]:
    return {f.relative_to(site).as_posix(): f.read_bytes() for f in site.rglob("*") if f.is_file()}


def test_a_cluster_makes_the_same_bytes_as_this_machine(two, tmp_path):
    root = archive(tmp_path / "here", 2)
    for words, place in ((("--on", two.address), "there"), ((), "site")):
        asked = ["--root", str(root), "build", "--as-of", "2026-01-01 10:00", "--out", str(tmp_path / place), *words]
        result = CliRunner().invoke(cli, asked)
        assert result.exit_code == 0, result.output
        shutil.rmtree(root / cache.FOLDER)
    assert files(tmp_path / "there") == files(tmp_path / "site")


def busy_until_killed(asked: tuple[str, int]) -> tuple[int, int]:
    """Waits in the first process that is asked for number 0, and answers in every other."""
    mark, number = Path(asked[0]), asked[1]
    if number == 0:
        with contextlib.suppress(FileExistsError):
            with open(mark, "x") as stream:
                stream.write(str(os.getpid()))
            time.sleep(600)
    return number, os.getpid()


def test_what_a_lost_worker_had_in_hand_is_done_by_another(tmp_path):
    mark = tmp_path / "begun"
    with running(2) as both, Client(both.address, set_as_default=False) as client:
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
    assert lost not in {by for number, by in found if number == 0} and lost in {each.pid for each in both.workers}


def told(root: Path, address: str) -> str:
    with pytest.raises(UserError) as told, cache.using(root / cache.FOLDER), cluster.executor_at(address, root):
        pass
    return told.value.code


def test_what_stands_in_the_way_is_told_before_anything_is_made(two, tmp_path, monkeypatch):
    root = archive(tmp_path, 1)
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
    root = archive(tmp_path, 1)
    with running(0) as none:
        result = CliRunner().invoke(cli, ["--root", str(root), "build", "--on", none.address])
    assert result.exit_code == 2 and "has no workers" in result.output and not (root / "site").exists()
